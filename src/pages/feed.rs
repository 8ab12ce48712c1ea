//! The feed (Atom, RFC 4287) and the site map (the sitemaps.org protocol 0.9, from memory). Both want whole addresses.

use std::collections::BTreeSet;
use std::io;

use quick_xml::Writer;
use quick_xml::events::{BytesDecl, BytesText, Event};

use super::addresses;
use super::changes::RevisionView;
use super::course::Course;
use crate::failure::Failure;

/// As many revisions stand in the feed; the page has them all.
const MOST: usize = 30;

/// A site map may hold no more.
const MOST_PAGES: usize = 50_000;

type Xml = Writer<Vec<u8>>;

fn written(write: impl FnOnce(&mut Xml) -> io::Result<()>) -> Result<Vec<u8>, Failure> {
    let mut xml = Writer::new_with_indent(Vec::new(), b' ', 1);
    let declared = xml.write_event(Event::Decl(BytesDecl::new("1.0", Some("utf-8"), None)));
    declared
        .and_then(|()| write(&mut xml))
        .map_err(|error| Failure::Template(error.to_string()))?;
    let mut bytes = xml.into_inner();
    bytes.push(b'\n');
    Ok(bytes)
}

fn text(xml: &mut Xml, name: &str, text: &str) -> io::Result<()> {
    xml.create_element(name)
        .write_text_content(BytesText::new(text))
        .map(drop)
}

fn link(xml: &mut Xml, rel: &str, kind: &str, href: &str) -> io::Result<()> {
    let link = xml
        .create_element("link")
        .with_attribute(("rel", rel))
        .with_attribute(("type", kind));
    link.with_attribute(("href", href)).write_empty().map(drop)
}

/// A day as Atom wants a moment: its beginning, by the clock of Greenwich.
fn moment(date: &str) -> String {
    format!("{date}T00:00:00Z")
}

/// The latest revisions first. Without one there is nothing to date the feed by: then it begins with the epoch.
pub(super) fn feed(course: &Course, base: &str, revisions: &[RevisionView]) -> Result<Vec<u8>, Failure> {
    let labels = course.labels;
    let page = format!("{base}{}", addresses::CHANGES);
    let updated = revisions
        .iter()
        .map(|revision| revision.date.as_str())
        .max()
        .unwrap_or("1970-01-01");
    written(|xml| {
        let feed = xml
            .create_element("feed")
            .with_attribute(("xmlns", "http://www.w3.org/2005/Atom"));
        feed.with_attribute(("xml:lang", labels.language))
            .write_inner_content(|xml| {
                text(
                    xml,
                    "title",
                    &format!("{}: {}", course.title, labels.get("changes_title")),
                )?;
                text(xml, "id", &page)?;
                link(
                    xml,
                    "self",
                    "application/atom+xml",
                    &format!("{base}{}", addresses::FEED),
                )?;
                link(xml, "alternate", "text/html", &page)?;
                text(xml, "updated", &moment(updated))?;
                xml.create_element("author")
                    .write_inner_content(|xml| text(xml, "name", &course.title))?;
                for revision in revisions.iter().take(MOST) {
                    xml.create_element("entry")
                        .write_inner_content(|xml| entry(xml, course, base, revision))?;
                }
                Ok(())
            })?;
        Ok(())
    })
}

fn entry(xml: &mut Xml, course: &Course, base: &str, revision: &RevisionView) -> io::Result<()> {
    let labels = course.labels;
    let address = format!("{base}{}#{}", addresses::CHANGES, revision.anchor);
    text(xml, "title", &labels.number("feed_entry", revision.lessons.len()))?;
    text(xml, "id", &address)?;
    link(xml, "alternate", "text/html", &address)?;
    text(xml, "updated", &moment(&revision.date))?;
    let mut lines = Vec::new();
    for lesson in &revision.lessons {
        lines.push(format!("{} {}", lesson.fate, lesson.link.text));
        lines.extend(lesson.music.iter().map(|line| format!("  {line}")));
    }
    let content = xml.create_element("content").with_attribute(("type", "text"));
    content.write_text_content(BytesText::new(&lines.join("\n"))).map(drop)
}

/// Every page of the site but those that lead on to others and those to send away.
pub(super) fn site_map(base: &str, pages: &BTreeSet<String>) -> Result<Vec<u8>, Failure> {
    let pages = pages
        .iter()
        .filter(|page| page.ends_with(".html") && !page.starts_with("to-send/"));
    written(|xml| {
        let set = xml
            .create_element("urlset")
            .with_attribute(("xmlns", "http://www.sitemaps.org/schemas/sitemap/0.9"));
        set.write_inner_content(|xml| {
            for page in pages.take(MOST_PAGES) {
                let page = if page == addresses::HOME { "" } else { page };
                let url = xml.create_element("url");
                url.write_inner_content(|xml| text(xml, "loc", &format!("{base}{page}")))?;
            }
            Ok(())
        })?;
        Ok(())
    })
}
