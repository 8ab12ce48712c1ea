#![allow(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    reason = "a test may stop at the first surprise"
)]
//! The preview, asked over its own socket. What a browser makes of it is in `tests/browser/preview.mjs`.

mod support;

use std::fs;
use std::net::TcpStream;
use std::path::PathBuf;
use std::time::{Duration, Instant};

use compasario::preview::{self, Built, Settings, Stop};

use support::{PATIENCE, Preview, mark};

#[test]
fn pages_are_served_with_a_script_and_nothing_is_kept_by_the_browser() {
    let preview = Preview::start("one");
    let (head, body) = preview.get("/");
    assert!(head.starts_with("HTTP/1.1 200 OK"), "{head}");
    for line in [
        "Content-Type: text/html; charset=utf-8",
        "Cache-Control: no-store",
        "X-Content-Type-Options: nosniff",
    ] {
        assert!(head.contains(line), "{head}");
    }
    assert!(
        body.starts_with("<html><body><p>one</p><script src=\"/.compasario/preview.js\" data-page=\"index.html\""),
        "{body}"
    );
    assert!(body.ends_with("</script>\n</body></html>"), "{body}");
    assert!(preview.get("/.compasario/preview.js").1.contains("EventSource"));
    let (head, body) = preview.send(&format!("HEAD / HTTP/1.1\r\nHost: {}\r\n\r\n", preview.host));
    assert!(head.starts_with("HTTP/1.1 200 OK") && body.is_empty());
}

#[test]
fn addresses() {
    let preview = Preview::start("one");
    for (path, status) in [
        ("/index.html", "200 OK"),
        ("/palos/", "200 OK"),
        ("/palos", "301 Moved Permanently"),
        ("/a%20b/sole%C3%A1.html", "200 OK"),
        ("/a%20b", "301 Moved Permanently"),
        ("/nowhere.html", "404 Not Found"),
        ("/../page.txt", "404 Not Found"),
        ("/..%2fpage.txt", "404 Not Found"),
        ("/%2e%2e/page.txt", "404 Not Found"),
        ("/page.txt", "404 Not Found"),
        ("//etc/passwd", "404 Not Found"),
        ("/%ff", "400 Bad Request"),
        ("/?x=1", "200 OK"),
    ] {
        assert_eq!(preview.status(path), status, "{path}");
    }
    assert!(preview.get("/a%20b").0.contains("Location: /a%20b/\r\n"));
}

#[test]
fn only_this_machine_is_answered_and_only_with_pages() {
    let preview = Preview::start("one");
    let with_host = |host: &str| preview.send(&format!("GET / HTTP/1.1\r\nHost: {host}\r\n\r\n")).0;
    assert!(with_host("course.example").starts_with("HTTP/1.1 403"));
    assert!(with_host("localhost:1").starts_with("HTTP/1.1 200"));
    let changes = preview
        .send("GET /.compasario/changes HTTP/1.1\r\nHost: course.example\r\n\r\n")
        .0;
    assert!(changes.starts_with("HTTP/1.1 403"), "{changes}");
    let (head, _) = preview.send(&format!("POST / HTTP/1.1\r\nHost: {}\r\n\r\n", preview.host));
    assert!(head.starts_with("HTTP/1.1 405") && head.contains("Allow: GET, HEAD"));
    assert!(preview.send("nonsense\r\n\r\n").0.starts_with("HTTP/1.1 400"));
    let port: u16 = preview.host.split(':').nth(1).unwrap().parse().unwrap();
    let others = std::net::UdpSocket::bind("0.0.0.0:0").and_then(|socket| {
        socket.connect("192.0.2.1:9")?;
        socket.local_addr()
    });
    if let Ok(outer) = others.map(|address| address.ip()).map_err(drop) {
        assert!(
            outer.is_loopback() || TcpStream::connect((outer, port)).is_err(),
            "it listens on {outer}"
        );
    }
}

#[test]
fn recordings_are_served_in_parts_from_where_they_are() {
    let preview = Preview::start("one");
    let part = |range: &str| {
        let request = format!(
            "GET /recordings/take.ogg HTTP/1.1\r\nHost: {}\r\nRange: {range}\r\n\r\n",
            preview.host
        );
        preview.send(&request)
    };
    let (head, body) = part("bytes=65-67");
    assert!(
        head.starts_with("HTTP/1.1 206") && head.contains("Content-Range: bytes 65-67/200"),
        "{head}"
    );
    assert!(
        head.contains("Content-Type: audio/ogg") && head.contains("Accept-Ranges: bytes"),
        "{head}"
    );
    assert_eq!(body, "ABC");
    assert!(part("bytes=900-").0.starts_with("HTTP/1.1 416"));
}

#[test]
fn a_saved_note_is_shown_at_once() {
    let preview = Preview::start("one");
    let first = mark(&preview.get("/").1);
    let (mut home, mut other) = (
        preview.changes("index.html", &first),
        preview.changes("a%20b/sole%C3%A1.html", &mark(&preview.get("/a%20b/sole%C3%A1.html").1)),
    );
    assert_eq!(
        home.next(),
        ("news".to_owned(), "{\"kept\":false,\"notices\":[]}".to_owned())
    );
    assert_eq!(other.next().0, "news");
    let begin = Instant::now();
    fs::write(preview.path(), "two").unwrap();
    assert_eq!(home.next().0, "again");
    println!("{:?} from saving to telling", begin.elapsed());
    assert_eq!(preview.rebuilt.recv_timeout(PATIENCE), Ok((1, false)));
    assert!(preview.get("/").1.contains("two"));
    assert_ne!(mark(&preview.get("/").1), first);
    // The other page is as it was, so it is not shown again; it learns of what is found.
    fs::write(preview.path(), "odd").unwrap();
    let (event, data) = other.next();
    assert_eq!(event, "news");
    assert!(data.contains("this is <odd>"), "{data}");
}

/// Editors save to another file and rename it; some remove the file first.
#[test]
fn every_way_of_saving_is_noticed() {
    let preview = Preview::start("one");
    let rebuilt = || preview.rebuilt.recv_timeout(PATIENCE).unwrap();
    fs::write(preview.directory.path().join("new.tmp"), "two").unwrap();
    fs::rename(preview.directory.path().join("new.tmp"), preview.path()).unwrap();
    rebuilt();
    while !preview.get("/").1.contains("two") {
        rebuilt();
    }
    fs::remove_file(preview.path()).unwrap();
    fs::write(preview.path(), "three").unwrap();
    while !preview.get("/").1.contains("three") {
        rebuilt();
    }
    fs::create_dir(preview.directory.path().join("deeper")).unwrap();
    rebuilt();
    fs::write(preview.directory.path().join("deeper/other.txt"), "x").unwrap();
    rebuilt();
}

#[test]
fn reading_the_notes_sets_off_no_build() {
    let preview = Preview::start("one");
    for _ in 0..5 {
        fs::read(preview.path()).unwrap();
        fs::read_dir(preview.directory.path()).unwrap().count();
    }
    assert!(preview.rebuilt.recv_timeout(Duration::from_millis(700)).is_err());
}

#[test]
fn a_broken_note_keeps_the_last_good_page_up() {
    let preview = Preview::start("one");
    let before = preview.get("/").1;
    let mut changes = preview.changes("index.html", &mark(&before));
    changes.next();
    fs::write(preview.path(), "broken").unwrap();
    let (event, data) = changes.next();
    assert_eq!(event, "news");
    assert!(data.starts_with("{\"kept\":true,"), "{data}");
    assert_eq!(preview.get("/").1, before);
    fs::write(preview.path(), "whole").unwrap();
    assert_eq!(changes.next().0, "again");
    assert!(preview.get("/").1.contains("whole"));
}

#[test]
fn with_nothing_to_show_it_says_so_and_waits() {
    let preview = Preview::start("broken");
    let (head, body) = preview.get("/");
    assert!(
        head.starts_with("HTTP/1.1 404") && body.contains("There is nothing to show yet"),
        "{body}"
    );
    let mut changes = preview.changes("index.html", &mark(&body));
    changes.next();
    fs::write(preview.path(), "one").unwrap();
    assert_eq!(changes.next().0, "again");
    assert!(preview.get("/").1.contains("one"));
}

#[test]
fn it_ends_at_once_with_pages_open() {
    let mut preview = Preview::start("one");
    let mut changes = preview.changes("index.html", "x");
    changes.next();
    let begin = Instant::now();
    preview.stop.tell();
    preview.thread.take().unwrap().join().unwrap();
    assert!(begin.elapsed() < Duration::from_secs(2), "{:?}", begin.elapsed());
    assert!(TcpStream::connect(&preview.host).is_err());
}

#[test]
fn what_cannot_be_served_is_said() {
    let directory = tempfile::tempdir().unwrap();
    let serve = |notes: PathBuf, port| {
        let settings = Settings { notes, port };
        let stop = Stop::new();
        stop.tell();
        preview::serve(&settings, &stop, &Built::default, &|_| ()).map_err(|failure| failure.to_string())
    };
    assert!(
        serve(directory.path().join("none"), 0)
            .unwrap_err()
            .contains("there is no such folder")
    );
    let taken = std::net::TcpListener::bind("127.0.0.1:0").unwrap();
    let port = taken.local_addr().unwrap().port();
    let message = serve(directory.path().to_path_buf(), port).unwrap_err();
    assert_eq!(
        message,
        format!("port {port} is taken; name another with --port, or leave it out to take any free one")
    );
    assert_eq!(serve(directory.path().to_path_buf(), 0), Ok(()));
}
