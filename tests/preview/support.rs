//! A preview at work, asked over its socket.

use std::fs;
use std::io::{Read, Write};
use std::net::TcpStream;
use std::path::{Path, PathBuf};
use std::sync::mpsc::{Receiver, channel};
use std::thread::JoinHandle;
use std::time::Duration;

use compasario::disk::{CopiedFile, OutputFile, Site};
use compasario::findings::Severity;
use compasario::preview::{self, Built, Notice, Settings, Stop, Told};

/// A preview at work on a folder: its site is one page made of `page.txt`, and breaks when that says so.
pub struct Preview {
    pub directory: tempfile::TempDir,
    pub host: String,
    pub rebuilt: Receiver<(usize, bool)>,
    pub stop: Stop,
    pub thread: Option<JoinHandle<()>>,
}

pub const PATIENCE: Duration = Duration::from_secs(20);

impl Preview {
    pub fn start(text: &str) -> Self {
        let directory = tempfile::tempdir().unwrap();
        fs::write(directory.path().join("page.txt"), text).unwrap();
        fs::write(directory.path().join("take.ogg"), (0..200u8).collect::<Vec<_>>()).unwrap();
        let (stop, folder) = (Stop::new(), directory.path().to_path_buf());
        let (say_address, address) = channel();
        let (say_rebuilt, rebuilt) = channel();
        let heard = stop.clone();
        let thread = std::thread::spawn(move || {
            let settings = Settings {
                notes: folder.clone(),
                port: 0,
            };
            let told = |told: Told<'_>| match told {
                Told::Serving(address) => say_address.send(address.to_owned()).unwrap(),
                Told::Rebuilt { changed, kept, .. } => say_rebuilt.send((changed, kept)).unwrap(),
                Told::Trouble(words) => panic!("{words}"),
            };
            preview::serve(&settings, &heard, &|| build(&folder), &told).unwrap();
        });
        let address = address.recv_timeout(PATIENCE).unwrap();
        rebuilt.recv_timeout(PATIENCE).unwrap();
        Self {
            directory,
            host: address.trim_start_matches("http://").trim_end_matches('/').to_owned(),
            rebuilt,
            stop,
            thread: Some(thread),
        }
    }

    pub fn path(&self) -> PathBuf {
        self.directory.path().join("page.txt")
    }

    /// Sends a request as it is; the head and the body of the answer.
    pub fn send(&self, request: &str) -> (String, String) {
        let mut stream = TcpStream::connect(&self.host).unwrap();
        stream.write_all(request.as_bytes()).unwrap();
        let mut answer = Vec::new();
        stream.read_to_end(&mut answer).unwrap();
        let answer = String::from_utf8_lossy(&answer).into_owned();
        let (head, body) = answer.split_once("\r\n\r\n").unwrap();
        (head.to_owned(), body.to_owned())
    }

    pub fn get(&self, path: &str) -> (String, String) {
        self.send(&format!("GET {path} HTTP/1.1\r\nHost: {}\r\n\r\n", self.host))
    }

    pub fn status(&self, path: &str) -> String {
        self.get(path)
            .0
            .lines()
            .next()
            .unwrap()
            .trim_start_matches("HTTP/1.1 ")
            .to_owned()
    }

    /// The stream of changes for a page, up to its next event with a name.
    pub fn changes(&self, page: &str, mark: &str) -> Changes {
        let mut stream = TcpStream::connect(&self.host).unwrap();
        stream.set_read_timeout(Some(PATIENCE)).unwrap();
        let head = format!(
            "GET /.compasario/changes?page={page}&mark={mark} HTTP/1.1\r\nHost: {}\r\n\r\n",
            self.host
        );
        stream.write_all(head.as_bytes()).unwrap();
        Changes {
            stream,
            text: String::new(),
        }
    }
}

impl Drop for Preview {
    fn drop(&mut self) {
        self.stop.tell();
        if let Some(thread) = self.thread.take() {
            thread.join().unwrap();
        }
    }
}

pub struct Changes {
    stream: TcpStream,
    text: String,
}

impl Changes {
    /// The next event: its name and its data.
    pub fn next(&mut self) -> (String, String) {
        loop {
            while let Some((block, rest)) = self.text.split_once("\n\n") {
                let line = |name: &str| {
                    block
                        .lines()
                        .find_map(|line| line.strip_prefix(name))
                        .map(str::trim)
                        .map(str::to_owned)
                };
                let found = (line("event:"), line("data:"));
                self.text = rest.to_owned();
                if let (Some(event), data) = found {
                    return (event, data.unwrap_or_default());
                }
            }
            let mut piece = [0; 4096];
            let count = self.stream.read(&mut piece).unwrap();
            assert!(count > 0, "the stream ended");
            self.text.push_str(&String::from_utf8_lossy(&piece[..count]));
        }
    }
}

fn build(folder: &Path) -> Built {
    let text = fs::read_to_string(folder.join("page.txt")).unwrap_or_default();
    let notices = match text.contains("odd") || text.contains("broken") {
        true => vec![Notice {
            severity: Severity::Error,
            place: "page.txt:1:1".to_owned(),
            words: text.clone(),
            message: "this is <odd>".to_owned(),
            help: String::new(),
        }],
        false => Vec::new(),
    };
    let page = |path: &str, body: &str| OutputFile {
        path: path.to_owned(),
        bytes: format!("<html><body><p>{body}</p></body></html>").into_bytes(),
    };
    let site = Site {
        files: vec![
            page("index.html", &text),
            page("palos/index.html", "palos"),
            page("a b/soleá.html", "the same"),
        ],
        copies: vec![CopiedFile {
            path: "recordings/take.ogg".to_owned(),
            from: folder.join("take.ogg"),
        }],
        ..Site::default()
    };
    Built {
        site: (!text.contains("broken") && !text.is_empty()).then_some(site),
        notices,
    }
}

/// The mark in a page's script tag.
pub fn mark(page: &str) -> String {
    let after = page.split("data-mark=\"").nth(1).unwrap();
    after.split('"').next().unwrap().to_owned()
}
