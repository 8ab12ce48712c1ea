use unicode_normalization::UnicodeNormalization;

use super::HeadLine;
use super::lines::Line;
use super::report::Report;
use super::stamps::{StampStyle, read_stamp};
use crate::text::{Span, fold};

/// What may stand in a head: the folded name as written, and what it is called here.
const NAMES: &[(&str, &str)] = &[
    ("title", "title"),
    ("titulo", "title"),
    ("lesson", "lesson"),
    ("leccion", "lesson"),
    ("palo", "palo"),
    ("key", "key"),
    ("tono", "key"),
    ("tonalidad", "key"),
    ("tempo", "tempo"),
    ("velocidad", "tempo"),
    ("tuning", "tuning"),
    ("afinacion", "tuning"),
    ("capo", "capo"),
    ("cejilla", "capo"),
    ("language", "language"),
    ("idioma", "language"),
    ("order", "order"),
    ("orden", "order"),
    ("needs", "needs"),
    ("requiere", "needs"),
    ("recording", "recording"),
    ("grabacion", "recording"),
    ("people", "people"),
    ("personas", "people"),
    ("reviewed", "reviewed"),
    ("revisado", "reviewed"),
    ("revisada", "reviewed"),
    ("meter", "meter"),
    ("count", "meter"),
    ("compas", "meter"),
    ("accents", "accents"),
    ("acentos", "accents"),
    ("private", "private"),
    ("privado", "private"),
    ("privada", "private"),
];

/// Names that may stand in a head more than once.
const REPEATABLE: &[&str] = &["needs", "people", "private"];

/// The head of a note and how many lines it takes.
#[derive(Debug, Clone, Default)]
pub(super) struct Head {
    pub(super) lines: Vec<HeadLine>,
    pub(super) taken: usize,
}

/// The value of a head line by its English name.
pub(super) fn value<'a>(head: &'a [HeadLine], name: &str) -> Option<&'a str> {
    head.iter()
        .find(|line| line.name == name)
        .map(|line| line.value.as_str())
}

/// Reads the `name: value` lines at the very top. They end at the first line that is timed, blank, or no head line.
pub(super) fn read_head(lines: &[Line<'_>], report: &mut Report<'_>) -> Head {
    let mut head = Head::default();
    let fenced = lines.first().is_some_and(|line| line.text.trim_end() == "---");
    let skip = usize::from(fenced);
    for (index, line) in lines.iter().enumerate().skip(skip) {
        if fenced && line.text.trim_end() == "---" {
            head.taken = index + 1;
            break;
        }
        let Some(pair) = pair(line) else { break };
        match known(pair.name) {
            Some(_) if holds_another_pair(pair.value) => break,
            Some(name) => keep(&mut head, name, &pair, line, report),
            None if is_slip(lines, index, pair.name) => unknown(&pair, line, report),
            None => break,
        }
        head.taken = index + 1;
    }
    head
}

/// A line that reads `name: value`.
struct Pair<'a> {
    name: &'a str,
    value: &'a str,
}

fn pair<'a>(line: &Line<'a>) -> Option<Pair<'a>> {
    let timed = [StampStyle::Square, StampStyle::Round, StampStyle::Bare];
    if line.is_blank() || timed.into_iter().any(|style| read_stamp(line.text, style).is_some()) {
        return None;
    }
    let (name, value) = line.text.split_once(':')?;
    let name = name.trim();
    let letters = name
        .chars()
        .all(|letter| letter.is_alphabetic() || matches!(letter, ' ' | '\u{300}'..='\u{36f}'));
    let words = name.split_whitespace().count();
    (letters && (1..=2).contains(&words)).then_some(Pair {
        name,
        value: value.trim(),
    })
}

fn known(name: &str) -> Option<&'static str> {
    let folded = fold(name).text;
    NAMES
        .iter()
        .find(|(written, _)| *written == folded)
        .map(|(_, name)| *name)
}

/// `Meter: 12. Accents: 3 6 8 10 12.` is a sentence of a note, not a head line.
fn holds_another_pair(value: &str) -> bool {
    value.split(['.', ',', ';']).skip(1).any(|part| {
        let name = part.split_once(':').map(|(name, _)| name.trim());
        name.is_some_and(|name| known(name).is_some())
    })
}

/// An unknown name is a slip of the pen when it stands among head lines and is like one of them, or between two.
fn is_slip(lines: &[Line<'_>], index: usize, name: &str) -> bool {
    let is_head = |line: Option<&Line<'_>>| line.and_then(pair).is_some_and(|pair| known(pair.name).is_some());
    let above = index.checked_sub(1).is_some_and(|above| is_head(lines.get(above)));
    let below = is_head(lines.get(index + 1));
    (above && below) || ((above || below) && nearest(name).is_some())
}

fn nearest(name: &str) -> Option<&'static str> {
    let folded = fold(name).text;
    let distances = NAMES
        .iter()
        .map(|(written, _)| (strsim::damerau_levenshtein(&folded, written), *written));
    let (distance, written) = distances.min()?;
    (distance * 3 <= folded.chars().count()).then_some(written)
}

fn keep(head: &mut Head, name: &str, pair: &Pair<'_>, line: &Line<'_>, report: &mut Report<'_>) {
    let span = Span::new(line.start, line.end());
    if pair.value.is_empty() {
        report.warn("head-line-empty", span, "", &[("name", &pair.name)]);
        return;
    }
    let first = head.lines.iter().find(|other| other.name == name);
    if let Some(first) = first.filter(|_| !REPEATABLE.contains(&name)) {
        let (first, second) = (&first.value, &pair.value);
        report.warn(
            "head-line-twice",
            span,
            "",
            &[("name", &pair.name), ("first", first), ("second", second)],
        );
        return;
    }
    head.lines.push(HeadLine {
        name: name.to_owned(),
        value: pair.value.nfc().collect(),
        place: report.place(span),
    });
}

/// The names of head lines, for who mistypes one.
const KNOWN: &str = "title, lesson, palo, key, tempo, tuning, capo, language, order, needs, recording, people, reviewed, \
                     meter, accents, private";

fn unknown(pair: &Pair<'_>, line: &Line<'_>, report: &mut Report<'_>) {
    let begin = line.start + (line.text.len() - line.text.trim_start().len());
    let span = Span::new(begin, begin + pair.name.len());
    let near = nearest(pair.name);
    let case = if near.is_some() { "near" } else { "" };
    let near = near.unwrap_or("");
    report.warn(
        "head-name-unknown",
        span,
        case,
        &[("name", &pair.name), ("near", &near), ("names", &KNOWN)],
    );
}

#[cfg(test)]
mod tests {
    use super::read_head;
    use crate::findings::Words;
    use crate::intake::lines::lines;
    use crate::intake::report::Report;
    use crate::text::{FileId, Language, SourceText};

    fn check(text: &str, expected: &[(&str, &str)], taken: usize, findings: &[&str]) {
        let source = SourceText::new(FileId(0), "n.txt", text);
        let mut report = Report::new(&source, Words::of(Language::English));
        let head = read_head(&lines(text), &mut report);
        let found: Vec<_> = head
            .lines
            .iter()
            .map(|line| (line.name.as_str(), line.value.as_str()))
            .collect();
        assert_eq!((found.as_slice(), head.taken), (expected, taken), "{text}");
        let rules: Vec<_> = report
            .findings
            .iter()
            .map(|finding| format!("{} {}", finding.rule, finding.help))
            .collect();
        assert_eq!(rules.len(), findings.len(), "{text}: {rules:?}");
        for (rule, part) in rules.iter().zip(findings) {
            assert!(rule.contains(part), "{rule} / {part}");
        }
    }

    #[test]
    fn heads() {
        check(
            "title: Soleá\nPalo: solea\n\n1: i dn",
            &[("title", "Soleá"), ("palo", "solea")],
            2,
            &[],
        );
        check(
            "Título: Uno\nCejilla : 2\nafinacio\u{301}n: re",
            &[("title", "Uno"), ("capo", "2"), ("tuning", "re")],
            3,
            &[],
        );
        check(
            "compás: 12\nacentos: 3 6 8 10 12\n[0:01] x",
            &[("meter", "12"), ("accents", "3 6 8 10 12")],
            2,
            &[],
        );
        check("---\ntitle: A\n---\n1: i dn", &[("title", "A")], 3, &[]);
        check("Meter: 12. Accents: 3 6 8 10 12.\n1: i dn", &[], 0, &[]);
        check("[0:00] title: x", &[], 0, &[]);
        check("1: i dn\n2: i up", &[], 0, &[]);
        check("title: A\n1: i dn", &[("title", "A")], 1, &[]);
        check("title: A\ncore: 1-12", &[("title", "A")], 1, &[]);
        check("Teacher: hello\ntitle: A", &[], 0, &[]);
        check("needs: a\nneeds: b", &[("needs", "a"), ("needs", "b")], 2, &[]);
    }

    #[test]
    fn slips_in_a_head_are_found() {
        check(
            "tilte: A\npalo: solea\n",
            &[("palo", "solea")],
            2,
            &["head-name-unknown Did you mean \"title\"?"],
        );
        check(
            "title: A\ntemp: 90\n",
            &[("title", "A")],
            2,
            &["Did you mean \"tempo\"?"],
        );
        check(
            "title: A\nmood: sad\npalo: solea",
            &[("title", "A"), ("palo", "solea")],
            3,
            &["A head line is one of"],
        );
        check("title: A\ntitle: B", &[("title", "A")], 2, &["head-line-twice"]);
        check("title:\npalo: solea", &[("palo", "solea")], 2, &["head-line-empty"]);
    }
}
