use std::fs::File;
use std::io::{self, Read, Seek, SeekFrom, Write};
use std::net::{Ipv4Addr, SocketAddr, TcpListener, TcpStream};
use std::sync::Arc;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::thread::{self, JoinHandle};
use std::time::Duration;

use serde::Serialize;

use super::answer::{Answer, Body, CHANGES, answer};
use super::range::asked_range;
use super::request::{Request, read_request};
use super::shown::Shown;
use super::{Notice, Stop};
use crate::failure::Failure;

/// Connections at one time; a browser makes six to a machine, and the stream of changes keeps one of them.
const MOST_CONNECTIONS: usize = 64;
/// How long one who connects may say nothing.
const PATIENCE: Duration = Duration::from_secs(10);
/// How often the stream of changes says that it is still there.
const PULSE: Duration = Duration::from_secs(15);

/// Serves what is shown, on this machine's own address only.
pub(super) struct Server {
    /// `http://127.0.0.1:8000/`
    pub(super) address: String,
    socket: SocketAddr,
    accepting: JoinHandle<()>,
}

impl Server {
    pub(super) fn start(port: u16, shown: Arc<Shown>, stop: Stop) -> Result<Self, Failure> {
        let refused = |error: io::Error| {
            Failure::Refused(match error.kind() {
                io::ErrorKind::AddrInUse => {
                    format!("port {port} is taken; name another with --port, or leave it out to take any free one")
                }
                io::ErrorKind::PermissionDenied => {
                    format!("port {port} may not be used; name one above 1023 with --port")
                }
                _ => format!("port {port} cannot be used: {error}"),
            })
        };
        let listener = TcpListener::bind((Ipv4Addr::LOCALHOST, port)).map_err(refused)?;
        let socket = listener.local_addr().map_err(refused)?;
        Ok(Self {
            address: format!("http://{socket}/"),
            socket,
            accepting: thread::spawn(move || accept(&listener, &shown, &stop)),
        })
    }

    /// Ends when told to stop; waits until nobody is accepted any more.
    pub(super) fn end(self) {
        // A connection of our own, so that whoever waits for one looks up.
        drop(TcpStream::connect_timeout(&self.socket, PATIENCE));
        let _ = self.accepting.join();
    }
}

fn accept(listener: &TcpListener, shown: &Arc<Shown>, stop: &Stop) {
    let count = Arc::new(AtomicUsize::new(0));
    for stream in listener.incoming() {
        if stop.is_told() {
            return;
        }
        let Ok(stream) = stream else { continue };
        if count.load(Ordering::SeqCst) >= MOST_CONNECTIONS {
            continue;
        }
        count.fetch_add(1, Ordering::SeqCst);
        let (shown, stop, count) = (Arc::clone(shown), stop.clone(), Arc::clone(&count));
        thread::spawn(move || {
            // Whoever went away in the middle of an answer did not need it.
            let _ = talk(stream, &shown, &stop);
            count.fetch_sub(1, Ordering::SeqCst);
        });
    }
}

fn talk(mut stream: TcpStream, shown: &Shown, stop: &Stop) -> io::Result<()> {
    stream.set_read_timeout(Some(PATIENCE))?;
    stream.set_write_timeout(Some(PATIENCE))?;
    stream.set_nodelay(true)?;
    let Some(request) = read_request(&mut stream)? else {
        return stream.write_all(b"HTTP/1.1 400 Bad Request\r\nContent-Length: 0\r\nConnection: close\r\n\r\n");
    };
    if request.path == CHANGES && request.is_for_this_machine() {
        return stream_changes(&mut stream, &request, shown, stop);
    }
    send(&mut stream, &request, answer(shown, &request))
}

fn send(stream: &mut TcpStream, request: &Request, answer: Answer) -> io::Result<()> {
    let whole_head = |status: &str, extra: &[(&str, String)], length: u64| {
        let kind = answer.kind;
        let mut head = format!("HTTP/1.1 {status}\r\nContent-Type: {kind}\r\nContent-Length: {length}\r\n");
        for (name, value) in extra {
            head.push_str(&format!("{name}: {value}\r\n"));
        }
        head.push_str("Cache-Control: no-store\r\nX-Content-Type-Options: nosniff\r\nConnection: close\r\n\r\n");
        head
    };
    match &answer.body {
        Body::Bytes(bytes) => {
            let head = whole_head(answer.status, &answer.extra, bytes.len() as u64);
            stream.write_all(head.as_bytes())?;
            if request.method != "HEAD" {
                stream.write_all(bytes)?;
            }
        }
        Body::File(path) => {
            let mut file = File::open(path)?;
            let length = file.metadata()?.len();
            let accepts = ("Accept-Ranges", "bytes".to_owned());
            let (head, first, count) = match asked_range(request.range.as_deref(), length) {
                Ok(Some((first, last))) => {
                    let part = ("Content-Range", format!("bytes {first}-{last}/{length}"));
                    let count = last - first + 1;
                    (whole_head("206 Partial Content", &[accepts, part], count), first, count)
                }
                Ok(None) => (whole_head("200 OK", &[accepts], length), 0, length),
                Err(_) => {
                    let part = ("Content-Range", format!("bytes */{length}"));
                    (whole_head("416 Range Not Satisfiable", &[part], 0), 0, 0)
                }
            };
            stream.write_all(head.as_bytes())?;
            if request.method != "HEAD" {
                file.seek(SeekFrom::Start(first))?;
                io::copy(&mut file.take(count), stream)?;
            }
        }
    }
    stream.flush()
}

/// What is said to a page that is open.
#[derive(Debug, Serialize)]
struct Said<'a> {
    kept: bool,
    notices: &'a [Notice],
}

/// Server-sent events (HTML standard): `again` when the page is another one than it was, `news` with the findings.
fn stream_changes(stream: &mut TcpStream, request: &Request, shown: &Shown, stop: &Stop) -> io::Result<()> {
    let page = request.asked("page").unwrap_or_default();
    let mark = request.asked("mark").unwrap_or_default();
    stream.write_all(
        b"HTTP/1.1 200 OK\r\nContent-Type: text/event-stream\r\nCache-Control: no-store\r\nConnection: close\r\n\r\nretry: 500\n\n",
    )?;
    let mut seen = None;
    while !stop.is_told() {
        let (version, news) = shown.news();
        if shown.mark(&page) != mark {
            stream.write_all(b"event: again\ndata:\n\n")?;
        } else if seen.as_ref() != Some(&news) {
            let said = Said {
                kept: news.kept,
                notices: &news.notices,
            };
            let data = serde_json::to_string(&said).map_err(io::Error::other)?;
            stream.write_all(format!("event: news\ndata: {data}\n\n").as_bytes())?;
            seen = Some(news);
        } else {
            stream.write_all(b": still here\n\n")?;
        }
        stream.flush()?;
        shown.wait_past(version, PULSE);
    }
    Ok(())
}
