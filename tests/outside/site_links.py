#!/usr/bin/env python3
"""Follows every link of a built site, and looks for anything a page would ask for outside its folder.

    site_links.py SITE

Wrong is: a link or a file that is not there, an anchor that no element has, an id that stands twice on a page,
a resource (script, style, picture, sound, font, frame) with an address outside the folder, a path that leaves the
folder or begins with `/` (it would break from file://), an inline event handler, a `javascript:` address.
A link that a reader may follow by hand (`<a href="https://…">`) is no request. Python's standard library only.
"""
import re
import sys
from html.parser import HTMLParser
from pathlib import Path
from urllib.parse import unquote, urlsplit

# What a browser fetches by itself, by element and attribute (HTML Living Standard, "attributes" index).
FETCHED = {
    ("script", "src"), ("img", "src"), ("img", "srcset"), ("source", "src"), ("source", "srcset"), ("audio", "src"),
    ("video", "src"), ("video", "poster"), ("track", "src"), ("iframe", "src"), ("frame", "src"), ("embed", "src"),
    ("object", "data"), ("input", "src"), ("image", "href"), ("use", "href"), ("image", "xlink:href"), ("use", "xlink:href"),
    ("body", "background"), ("form", "action"),
}
# `<link>` fetches for these relations; a canonical or alternate address is only named.
FETCHING_RELATIONS = {"stylesheet", "icon", "preload", "prefetch", "modulepreload", "preconnect", "dns-prefetch", "manifest", "apple-touch-icon"}
CSS_ADDRESS = re.compile(r"""(?:url\(\s*['"]?([^'")]+)['"]?\s*\)|@import\s+['"]([^'"]+)['"])""")
SCRIPT_REQUEST = re.compile(r"\b(fetch|importScripts|XMLHttpRequest|WebSocket|EventSource|sendBeacon)\s*\(|\bimport\s*\(")


class Page(HTMLParser):
    def __init__(self):
        super().__init__(convert_charrefs=True)
        self.ids, self.twice, self.links, self.fetched, self.wrong = set(), [], [], [], []
        self.inside = None
        self.scripts, self.styles = [], []
        self.base = False

    def handle_starttag(self, tag, attrs):
        values = {name: value or "" for name, value in attrs}
        for name, value in values.items():
            if name.startswith("on"):
                self.wrong.append(f"an inline handler {name} on <{tag}>")
            if name == "id":
                if value in self.ids:
                    self.twice.append(value)
                self.ids.add(value)
            if name == "style":
                self.styles.append(value)
            if (tag, name) in FETCHED:
                addresses = [part.split()[0] for part in value.split(",") if part.split()] if name == "srcset" else [value]
                self.fetched.extend(addresses)
        if tag == "base":
            self.wrong.append("<base> changes what every address means")
        if tag == "meta" and values.get("http-equiv", "").lower() == "refresh":
            # A moved page leaves a redirect: its target is a link like any other.
            self.links.append(values.get("content", "").partition("url=")[2].strip("'\" "))
        if tag == "link" and "href" in values:
            relations = set(values.get("rel", "").lower().split())
            (self.fetched if relations & FETCHING_RELATIONS else self.links).append(values["href"])
        if tag in ("a", "area") and "href" in values:
            self.links.append(values["href"])
        self.inside = tag if tag in ("script", "style") and "src" not in values else None
        if tag == "script" and values.get("type") in ("application/json", "application/ld+json"):
            self.inside = None

    def handle_endtag(self, tag):
        self.inside = None

    def handle_data(self, data):
        if self.inside == "script":
            self.scripts.append(data)
        if self.inside == "style":
            self.styles.append(data)


def target(site, page, address):
    """The file an address means, and its anchor; None for an address outside."""
    parts = urlsplit(address)
    if parts.scheme or parts.netloc:
        return None
    path = unquote(parts.path)
    file = page if not path else (page.parent / path).resolve()
    if file.is_dir():
        file = file / "index.html"
    return file, unquote(parts.fragment)


def main():
    site = Path(sys.argv[1]).resolve()
    pages = {path: Page() for path in sorted(site.rglob("*.html"))}
    wrong, followed = [], 0
    for path, page in pages.items():
        page.feed(path.read_text(encoding="utf-8"))
        page.close()

    def say(path, what):
        wrong.append(f"{path.relative_to(site)}: {what}")

    def follow(path, address, is_request):
        nonlocal followed
        address = address.strip()
        if address.startswith(("data:", "blob:")) or (not address and is_request):
            return
        if address.lower().startswith("javascript:"):
            return say(path, f"an address that is a script: {address}")
        found = target(site, path, address)
        if found is None:
            if is_request:
                say(path, f"asks for something outside the folder: {address}")
            elif urlsplit(address).scheme not in ("http", "https", "mailto"):
                say(path, f"an address of a strange kind: {address}")
            return
        followed += 1
        file, anchor = found
        if address.startswith("/"):
            say(path, f"breaks from file://: {address}")
        elif site not in file.parents and file != site:
            say(path, f"leaves the folder: {address}")
        elif not file.is_file():
            say(path, f"leads nowhere: {address}")
        elif anchor and file in pages and anchor not in pages[file].ids and not anchor.startswith("t="):
            say(path, f"no such anchor: {address}")

    for path, page in pages.items():
        for what in page.wrong:
            say(path, what)
        for twice in page.twice:
            say(path, f"the id {twice} stands twice")
        for address in page.fetched:
            follow(path, address, True)
        for address in page.links:
            follow(path, address, False)
        for style in page.styles:
            for match in CSS_ADDRESS.finditer(style):
                follow(path, match.group(1) or match.group(2), True)
        for script in page.scripts:
            for match in SCRIPT_REQUEST.finditer(script):
                say(path, f"a script that may ask for something: {match.group(0)}")
    for path in sorted(site.rglob("*.css")):
        for match in CSS_ADDRESS.finditer(path.read_text(encoding="utf-8")):
            follow(path, match.group(1) or match.group(2), True)
    for path in sorted(site.rglob("*.js")):
        for match in SCRIPT_REQUEST.finditer(path.read_text(encoding="utf-8")):
            say(path, f"a script that may ask for something: {match.group(0)}")
    for line in wrong:
        print(line)
    print(f"{len(pages)} pages, {followed} links followed, {len(wrong)} wrong")
    sys.exit(0 if pages and followed and not wrong else 1)


if __name__ == "__main__":
    main()
