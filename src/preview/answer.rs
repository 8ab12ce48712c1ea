use std::path::PathBuf;
use std::sync::Arc;

use super::request::Request;
use super::shown::{Shown, Up};

/// Where the preview's own things are; no page of a site begins so.
const OWN: &str = "/.compasario/";
/// The stream of what changes.
pub(super) const CHANGES: &str = "/.compasario/changes";
const SCRIPT: &str = include_str!("../../templates/preview/preview.js");

/// What is answered.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Answer {
    pub(super) status: &'static str,
    pub(super) kind: &'static str,
    /// Further lines of the head.
    pub(super) extra: Vec<(&'static str, String)>,
    pub(super) body: Body,
}

#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Body {
    Bytes(Arc<Vec<u8>>),
    File(PathBuf),
}

/// Endings, and what a browser calls the files that have them.
const KINDS: &[(&str, &str)] = &[
    ("html", "text/html; charset=utf-8"),
    ("css", "text/css; charset=utf-8"),
    ("js", "text/javascript; charset=utf-8"),
    ("json", "application/json"),
    ("svg", "image/svg+xml"),
    ("xml", "application/xml"),
    ("txt", "text/plain; charset=utf-8"),
    ("png", "image/png"),
    ("jpg", "image/jpeg"),
    ("webp", "image/webp"),
    ("ico", "image/x-icon"),
    ("vtt", "text/vtt; charset=utf-8"),
    ("ics", "text/calendar; charset=utf-8"),
    ("mid", "audio/midi"),
    ("musicxml", "application/vnd.recordare.musicxml+xml"),
    ("mp3", "audio/mpeg"),
    ("ogg", "audio/ogg"),
    ("oga", "audio/ogg"),
    ("opus", "audio/ogg"),
    ("wav", "audio/wav"),
    ("flac", "audio/flac"),
    ("m4a", "audio/mp4"),
    ("mp4", "video/mp4"),
    ("webm", "video/webm"),
];

/// Answers a request from what is up.
pub(super) fn answer(shown: &Shown, request: &Request) -> Answer {
    if !request.is_for_this_machine() {
        return plain("403 Forbidden", "This preview answers only this machine.");
    }
    if !matches!(request.method.as_str(), "GET" | "HEAD") {
        let mut refused = plain("405 Method Not Allowed", "This preview only shows pages.");
        refused.extra.push(("Allow", "GET, HEAD".to_owned()));
        return refused;
    }
    if request.path == format!("{OWN}preview.js") {
        return bytes("200 OK", "text/javascript; charset=utf-8", SCRIPT.as_bytes().to_vec());
    }
    let path = request.path.trim_start_matches('/');
    let page = if path.is_empty() || path.ends_with('/') {
        format!("{path}index.html")
    } else {
        path.to_owned()
    };
    match shown.find(&page) {
        Some(Up::Bytes(found)) if kind(&page).starts_with("text/html") => {
            bytes("200 OK", kind(&page), with_script(&found, &shown.mark(&page), &page))
        }
        Some(Up::Bytes(found)) => Answer {
            status: "200 OK",
            kind: kind(&page),
            extra: Vec::new(),
            body: Body::Bytes(found),
        },
        Some(Up::File(path)) => Answer {
            status: "200 OK",
            kind: kind(&page),
            extra: Vec::new(),
            body: Body::File(path),
        },
        None if shown.is_folder(path) => moved(path),
        None => missing(shown, &page),
    }
}

fn kind(path: &str) -> &'static str {
    let ending = path.rsplit_once('.').map_or("", |(_, ending)| ending).to_lowercase();
    let known = KINDS.iter().find(|(known, _)| *known == ending);
    known.map_or("application/octet-stream", |(_, kind)| kind)
}

/// A folder's address ends in `/`, or the links of its page lead astray.
fn moved(path: &str) -> Answer {
    let mut moved = plain("301 Moved Permanently", "");
    let encoded: String = path.bytes().map(encoded).collect();
    moved.extra.push(("Location", format!("/{encoded}/")));
    moved
}

fn encoded(byte: u8) -> String {
    if byte.is_ascii_alphanumeric() || b"-._~/".contains(&byte) {
        char::from(byte).to_string()
    } else {
        format!("%{byte:02X}")
    }
}

/// A page that is not there yet shows itself as soon as it is.
fn missing(shown: &Shown, page: &str) -> Answer {
    let words = if shown.is_empty() {
        "There is nothing to show yet. This page shows itself as soon as a note can be read."
    } else {
        "There is no such page in the course. If it comes, it shows itself here."
    };
    let html = format!(
        "<!doctype html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n\
         <meta name=\"color-scheme\" content=\"light dark\">\n<title>Preview</title>\n</head>\n\
         <body style=\"font: 1.1rem/1.5 serif; max-width: 34rem; margin: 15vh auto; padding: 0 1rem\">\n\
         <p>{words}</p>\n<p><a href=\"/\">The first page</a></p>\n</body>\n</html>\n"
    );
    let body = with_script(html.as_bytes(), &shown.mark(page), page);
    bytes("404 Not Found", "text/html; charset=utf-8", body)
}

/// A page with the script that shows changes: only as it is sent, never in a file.
fn with_script(page: &[u8], mark: &str, path: &str) -> Vec<u8> {
    let path: String = path.bytes().map(encoded).collect();
    let tag = format!("<script src=\"{OWN}preview.js\" data-page=\"{path}\" data-mark=\"{mark}\"></script>\n");
    let end = page
        .windows(7)
        .rposition(|bytes| bytes == b"</body>")
        .unwrap_or(page.len());
    let (before, after) = page.split_at(end);
    [before, tag.as_bytes(), after].concat()
}

fn plain(status: &'static str, words: &str) -> Answer {
    bytes(status, "text/plain; charset=utf-8", format!("{words}\n").into_bytes())
}

fn bytes(status: &'static str, kind: &'static str, body: Vec<u8>) -> Answer {
    Answer {
        status,
        kind,
        extra: Vec::new(),
        body: Body::Bytes(Arc::new(body)),
    }
}
