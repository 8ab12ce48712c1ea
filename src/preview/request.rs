use std::io::{self, Read};

/// Bytes of a request's head that are read at most.
const LONGEST_HEAD: usize = 16 * 1024;
/// Lines of a request's head that are read at most.
const MOST_HEADERS: usize = 100;

/// The first lines of a request.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub(super) struct Request {
    pub(super) method: String,
    /// Decoded, beginning with `/`, without the question.
    pub(super) path: String,
    /// What stands after `?`, as it is.
    pub(super) question: String,
    pub(super) host: String,
    pub(super) range: Option<String>,
}

/// Reads a request. None when what comes is no request; an error when nothing comes.
pub(super) fn read_request(stream: &mut impl Read) -> io::Result<Option<Request>> {
    let mut head = Vec::new();
    let mut piece = [0; 2048];
    loop {
        let count = stream.read(&mut piece)?;
        head.extend_from_slice(piece.get(..count).unwrap_or(&[]));
        match parse(&head) {
            Parsed::Request(request) => return Ok(Some(request)),
            Parsed::Nonsense => return Ok(None),
            Parsed::Unfinished if count == 0 || head.len() > LONGEST_HEAD => return Ok(None),
            Parsed::Unfinished => {}
        }
    }
}

enum Parsed {
    Request(Request),
    Unfinished,
    Nonsense,
}

fn parse(head: &[u8]) -> Parsed {
    let mut headers = [httparse::EMPTY_HEADER; MOST_HEADERS];
    let mut request = httparse::Request::new(&mut headers);
    match request.parse(head) {
        Ok(httparse::Status::Complete(_)) => {}
        Ok(httparse::Status::Partial) => return Parsed::Unfinished,
        Err(_) => return Parsed::Nonsense,
    }
    let header = |name: &str| {
        let found = request
            .headers
            .iter()
            .find(|header| header.name.eq_ignore_ascii_case(name));
        found
            .and_then(|header| std::str::from_utf8(header.value).ok())
            .map(str::to_owned)
    };
    let target = request.path.unwrap_or("");
    let (path, question) = target.split_once('?').unwrap_or((target, ""));
    match decoded(path) {
        Some(path) if path.starts_with('/') => Parsed::Request(Request {
            method: request.method.unwrap_or("").to_owned(),
            path,
            question: question.to_owned(),
            host: header("host").unwrap_or_default(),
            range: header("range"),
        }),
        _ => Parsed::Nonsense,
    }
}

/// `%C3%A1` and the like resolved. None when that makes no text.
pub(super) fn decoded(text: &str) -> Option<String> {
    let mut bytes = Vec::new();
    let mut rest = text.bytes();
    while let Some(byte) = rest.next() {
        if byte == b'%' {
            let mut digit = || rest.next().and_then(|byte| char::from(byte).to_digit(16));
            let (high, low) = (digit()?, digit()?);
            bytes.push(u8::try_from(high * 16 + low).ok()?);
        } else {
            bytes.push(byte);
        }
    }
    String::from_utf8(bytes).ok().filter(|text| !text.contains('\0'))
}

impl Request {
    /// The value of `name=...` in the question, decoded.
    pub(super) fn asked(&self, name: &str) -> Option<String> {
        let pairs = self.question.split('&').filter_map(|pair| pair.split_once('='));
        pairs
            .filter(|(key, _)| *key == name)
            .find_map(|(_, value)| decoded(value))
    }

    /// The request names this machine: a page elsewhere that points a name of its own here does not.
    pub(super) fn is_for_this_machine(&self) -> bool {
        let name = match self.host.strip_prefix('[') {
            Some(rest) => rest.split(']').next().unwrap_or(""),
            None => self.host.split(':').next().unwrap_or(""),
        };
        ["127.0.0.1", "localhost", "::1"].contains(&name)
    }
}

#[cfg(test)]
mod tests {
    use super::{decoded, read_request};

    fn check(text: &str) -> Option<(String, String, bool)> {
        let request = read_request(&mut text.as_bytes()).ok()??;
        let local = request.is_for_this_machine();
        Some((request.method, request.path, local))
    }

    #[test]
    fn requests() {
        let ask = |line: &str, host: &str| check(&format!("{line} HTTP/1.1\r\nHost: {host}\r\n\r\n"));
        let found = |path: &str, local| Some(("GET".to_owned(), path.to_owned(), local));
        assert_eq!(
            ask("GET /a%20b/sole%C3%A1.html?x=1", "127.0.0.1:8000"),
            found("/a b/soleá.html", true)
        );
        assert_eq!(ask("GET /", "localhost"), found("/", true));
        assert_eq!(ask("GET /", "[::1]:8000"), found("/", true));
        assert_eq!(ask("GET /", "course.example:8000"), found("/", false));
        assert_eq!(ask("GET /", "127.0.0.1.example"), found("/", false));
        assert_eq!(ask("GET /%ff", "localhost"), None);
        assert_eq!(ask("GET http://elsewhere/", "localhost"), None);
        assert_eq!(check("nonsense"), None);
        assert_eq!(check(&format!("GET /{} HTTP/1.1\r\n\r\n", "a".repeat(40_000))), None);
    }

    #[test]
    fn what_is_asked_can_be_decoded() {
        assert_eq!(decoded("%41%c3%b1"), Some("Añ".to_owned()));
        for text in ["%", "%4", "%zz", "%00", "%c3"] {
            assert_eq!(decoded(text), None, "{text}");
        }
    }
}
