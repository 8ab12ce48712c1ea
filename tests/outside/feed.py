#!/usr/bin/env python3
"""Holds the feed of a built site against readers from outside: feed.py SITE

feedparser (a reader of feeds) has to find it well formed and of the Atom kind, and every field that RFC 4287 asks for
(section 4.1.1 and 4.1.2: id, title, updated of feed and entry, an author, a link to oneself) has to be there; ids stand
once. The site map has to be well-formed XML that names pages which are there. Needs: pip install feedparser.
"""
import sys
import xml.etree.ElementTree as ElementTree
from pathlib import Path

import feedparser

site = Path(sys.argv[1])
feed = feedparser.parse((site / "feed.xml").read_bytes())
assert not feed.bozo, feed.get("bozo_exception")
assert feed.version == "atom10", feed.version
base = next(link.href for link in feed.feed.links if link.rel == "self").removesuffix("feed.xml")
for thing in [feed.feed, *feed.entries]:
    assert thing.id.startswith(base), thing.id
    assert thing.title and thing.updated_parsed and any(link.rel == "alternate" for link in thing.links)
assert feed.feed.author
ids = [entry.id for entry in feed.entries]
assert len(ids) == len(set(ids)), ids
page = (site / "changes.html").read_text()
for entry in feed.entries:
    assert f'id="{entry.id.split("#")[1]}"' in page, entry.id
places = ElementTree.parse(site / "sitemap.xml").getroot().findall("{http://www.sitemaps.org/schemas/sitemap/0.9}url/{*}loc")
for place in places:
    name = place.text.removeprefix(base) or "index.html"
    assert (site / name).is_file(), name
print(f"{feed.version}, {len(feed.entries)} entries, {len(places)} pages in the site map")
