//! One pattern on its lesson's page: what it replaces, its drawing, its shapes, its moments in words.

use serde::Serialize;

use super::addresses::{self, Register};
use super::compas::Compas;
use super::course::{Ready, capital};
use super::drawing::{self, CompasRow, KeyItem, Naming, Row, compas_row};
use super::labels::{Labels, show_name};
use super::pieces::{Heard, Links};
use crate::music::chord::ChordName;
use crate::music::lesson::{Caution, Lesson};
use crate::music::pattern::{CountSpan, Pattern, Role};
use crate::music::position::Position;

#[derive(Debug, Clone, Serialize)]
pub(super) struct PatternView {
    pub index: usize,
    pub anchor: String,
    pub name: String,
    pub role: String,
    /// What it covers or takes the place of, in words.
    pub covers: String,
    /// How far its rhythm lies from the core's, and how it lies on the accents; empty where nothing is to be said.
    pub departure: String,
    pub leaning: String,
    pub heard: Heard,
    /// The compás as a row, the counts taken marked.
    pub ribbon: String,
    pub narrow: String,
    pub wide: String,
    pub key: Vec<KeyItem>,
    pub shapes: Vec<ShapeView>,
    pub rows: Vec<RowView>,
    pub has_chords: bool,
    pub has_left: bool,
    pub has_strings: bool,
    pub has_heard: bool,
    pub cautions: Vec<CautionView>,
}

#[derive(Debug, Clone, Serialize)]
pub(super) struct ShapeView {
    pub name: String,
    pub href: Option<String>,
    pub svg: String,
}

#[derive(Debug, Clone, Serialize)]
pub(super) struct RowView {
    pub count: String,
    pub accent: bool,
    pub chord: String,
    pub right: String,
    pub left: String,
    pub strings: String,
    pub heard: Heard,
}

#[derive(Debug, Clone, Serialize)]
pub(super) struct CautionView {
    pub counts: String,
    pub text: String,
    pub heard: Heard,
}

/// The anchor of each pattern on its lesson's page: by its name; the first holder keeps it.
pub(super) fn anchors<'a>(lesson: &'a Lesson, labels: &'a Labels) -> impl Iterator<Item = String> + 'a {
    let mut register = Register::default();
    let names = lesson.patterns.iter().map(|pattern| name(pattern, labels));
    names.map(move |name| register.give(&format!("pattern-{}", addresses::slug(&name))))
}

/// `prefix` keeps the ids of several lessons on one page apart.
pub(super) fn patterns(ready: &Ready, links: &Links, prefix: &str) -> Vec<PatternView> {
    let lesson = ready.lesson();
    let mut shown: Vec<ChordName> = Vec::new();
    let mut views: Vec<PatternView> = lesson
        .patterns
        .iter()
        .zip(anchors(lesson, ready.labels))
        .enumerate()
        .map(|(index, (pattern, anchor))| {
            let name = name(pattern, ready.labels);
            let mut view = view(ready, links, index, pattern, (name, format!("{prefix}{anchor}")));
            view.shapes = shapes(ready, (links, prefix), pattern, &mut shown);
            view
        })
        .collect();
    for caution in &lesson.cautions {
        if let Some(index) = about(caution, &lesson.patterns)
            && let Some(view) = views.get_mut(index)
        {
            view.cautions.push(caution_view(ready, links, caution));
        }
    }
    views
}

/// The pattern that a caution stands inside of: the last one to begin before it in the same file, if it was said at all
/// before the next begins.
pub(super) fn about(caution: &Caution, patterns: &[Pattern]) -> Option<usize> {
    let place = caution.place;
    let before = patterns.iter().enumerate().filter(|(_, pattern)| {
        let at = pattern.place;
        at.line > 0 && at.file == place.file && at.span.start <= place.span.start
    });
    before
        .max_by_key(|(_, pattern)| pattern.place.span.start)
        .map(|(index, _)| index)
        .filter(|_| place.line > 0)
}

pub(super) fn caution_view(ready: &Ready, links: &Links, caution: &Caution) -> CautionView {
    let counts: Vec<String> = caution.counts.iter().map(Position::to_string).collect();
    CautionView {
        counts: counts.join(", "),
        text: capital(without_its_mark(&caution.about, ready.labels.get("caution"))),
        heard: links.heard(ready, caution.place, true),
    }
}

/// The mark or word that made it a caution ("!", "Ojo:") stands on the page already.
fn without_its_mark<'t>(about: &'t str, label: &str) -> &'t str {
    let about = about.trim_start_matches(['!', '¡', ' ', '-', ':']).trim();
    let word = label.trim_end_matches(':');
    let said = about.get(..word.len()).filter(|said| said.eq_ignore_ascii_case(word));
    let behind = said.and_then(|said| about.get(said.len()..)?.strip_prefix([':', ',', '!']));
    behind.map_or(about, str::trim_start)
}

fn view(
    ready: &Ready,
    links: &Links,
    index: usize,
    pattern: &Pattern,
    (name, anchor): (String, String),
) -> PatternView {
    let labels = ready.labels;
    let covers = covers(ready, pattern);
    let about = format!("{covers} {}", labels.get("drawing_about"));
    let naming = Naming {
        id: &anchor,
        title: &name,
        about: about.trim(),
    };
    let drawing = drawing::pattern(pattern, &ready.compas, ready.lesson(), labels, naming);
    let (narrow, wide, key, rows) = match drawing {
        Some(drawing) => (drawing.narrow, drawing.wide, drawing.key, drawing.rows),
        None => Default::default(),
    };
    let rows: Vec<RowView> = rows.into_iter().map(|row| row_view(ready, links, row)).collect();
    PatternView {
        index,
        role: Some(labels.get(role(pattern.role)).to_owned())
            .filter(|role| *role != name)
            .unwrap_or_default(),
        covers,
        departure: String::new(),
        leaning: String::new(),
        heard: links.heard(ready, pattern.place, true),
        ribbon: ribbon(ready, pattern),
        shapes: Vec::new(),
        has_chords: rows.iter().any(|row| !row.chord.is_empty()),
        has_left: rows.iter().any(|row| !row.left.is_empty()),
        has_strings: rows.iter().any(|row| !row.strings.is_empty()),
        has_heard: rows.iter().any(|row| row.heard != Heard::default()),
        anchor,
        name,
        narrow,
        wide,
        key,
        rows,
        cautions: Vec::new(),
    }
}

fn row_view(ready: &Ready, links: &Links, row: Row) -> RowView {
    let heard = row.places.iter().map(|place| links.heard(ready, *place, true));
    let heard = heard
        .max_by_key(|heard| (heard.words.is_some(), heard.time.is_some()))
        .unwrap_or_default();
    RowView {
        count: row.count,
        accent: row.accent,
        chord: row.chord,
        right: row.right,
        left: row.left,
        strings: row.strings,
        heard,
    }
}

pub(super) fn name(pattern: &Pattern, labels: &Labels) -> String {
    let said = pattern.name.trim();
    if said.is_empty() || (said.eq_ignore_ascii_case("core") && pattern.role == Role::Core) {
        labels.get(role(pattern.role)).to_owned()
    } else {
        capital(said)
    }
}

fn role(role: Role) -> &'static str {
    match role {
        Role::Core => "role_core",
        Role::Variation => "role_variation",
        Role::Falseta => "role_falseta",
        Role::Llamada => "role_llamada",
        Role::Remate => "role_remate",
        Role::Cierre => "role_cierre",
    }
}

/// What the pattern covers, takes the place of, and runs on into.
fn covers(ready: &Ready, pattern: &Pattern) -> String {
    let labels = ready.labels;
    let Some(span) = pattern.span else {
        return labels.get("covers_open").to_owned();
    };
    let (first, last) = (span.first.to_string(), span.last.to_string());
    let holes = [("first", first.as_str()), ("last", last.as_str())];
    let key = match (ready.compas.free, pattern.role == Role::Core, span.first == span.last) {
        (true, _, _) => "covers_events",
        (_, true, _) => "covers_counts",
        (_, false, true) => "replaces_count",
        (_, false, false) => "replaces_counts",
    };
    let mut words = labels.fill(key, &holes);
    if let Some(until) = pattern.runs_on {
        let count = ready.compas.in_round(until.whole()).to_string();
        let (_, next_round) = runs_on(&ready.compas, span, until);
        let key = if next_round.is_empty() {
            "runs_on"
        } else {
            "runs_on_next"
        };
        words.push(' ');
        words.push_str(&labels.fill(key, &[("count", &count)]));
    }
    words
}

/// The compás with the counts that a variation takes; none for a core, which takes all.
fn ribbon(ready: &Ready, pattern: &Pattern) -> String {
    let compas = &ready.compas;
    let Some(span) = pattern
        .span
        .filter(|_| pattern.role != Role::Core && !compas.free && compas.counts > 1)
    else {
        return String::new();
    };
    let covered: Vec<i64> = if span.first <= span.last {
        (span.first..=span.last).take(64).collect()
    } else {
        (span.first..=compas.counts).chain(1..=span.last).take(64).collect()
    };
    let counts = rounds_of(compas, span);
    if covered.len() >= counts.len() {
        return String::new();
    }
    let until = pattern.runs_on;
    let (runs_on, next_round) = until.map(|until| runs_on(compas, span, until)).unwrap_or_default();
    let taken = covered;
    let marks = CompasRow {
        counts,
        taken,
        runs_on,
        next_round,
    };
    compas_row(compas, &marks, None)
}

/// The counts of the round or rounds that a span lies in, as said: 7 to 12 for a span in the second six.
fn rounds_of(compas: &Compas, span: CountSpan) -> Vec<i64> {
    let first = (span.first - 1).div_euclid(compas.counts) * compas.counts + 1;
    let last = (span.last - 1).div_euclid(compas.counts) * compas.counts + compas.counts;
    if compas.first > 1 || span.first > span.last || last - first > 48 {
        return compas.round();
    }
    (first..=last).collect()
}

/// The counts that a pattern runs on into: those of the same round, and those of the next.
fn runs_on(compas: &Compas, span: CountSpan, until: Position) -> (Vec<i64>, Vec<i64>) {
    let beyond: Vec<i64> = (span.last + 1..=until.whole()).take(12).collect();
    let first = compas.in_round(compas.first.max(1));
    let new_round = beyond
        .iter()
        .position(|count| compas.in_round(*count) == first)
        .unwrap_or(beyond.len());
    let (same, next) = beyond.split_at(new_round.min(beyond.len()));
    let numbered = |counts: &[i64]| counts.iter().map(|count| compas.in_round(*count)).collect();
    // Within its round a count has the number that the row above shows it by.
    (
        if compas.first > 1 {
            numbered(same)
        } else {
            same.to_vec()
        },
        numbered(next),
    )
}

/// The chords of a pattern that no pattern above it has shown, in the order they come.
fn shapes(
    ready: &Ready,
    (links, prefix): (&Links, &str),
    pattern: &Pattern,
    shown: &mut Vec<ChordName>,
) -> Vec<ShapeView> {
    let mut views = Vec::new();
    for change in &pattern.changes {
        let chord = ready.lesson().chords.iter().find(|chord| chord.name == change.chord);
        let Some(chord) = chord.filter(|chord| !shown.contains(&chord.name)) else {
            continue;
        };
        shown.push(chord.name.clone());
        let name = chord.name.to_string();
        let anchor = addresses::chord_anchor(&name);
        views.push(ShapeView {
            svg: drawing::chord_shape(chord, &format!("{prefix}shape-{}", shown.len()), ready.labels),
            href: links.to("", &addresses::chord(&anchor)).href,
            name: show_name(&name),
        });
    }
    views
}

#[cfg(test)]
mod tests {
    use super::without_its_mark;

    #[test]
    fn a_caution_does_not_say_its_word_twice() {
        let shown = [
            ("ojo: la palma tarde", "Ojo:", "la palma tarde"),
            ("Ojo, que llega tarde", "Ojo:", "que llega tarde"),
            ("! 9 into 10", "Mind:", "9 into 10"),
            ("Mind the C", "Mind:", "Mind the C"),
            ("Cuidado con el 8", "Ojo:", "Cuidado con el 8"),
        ];
        for (about, label, text) in shown {
            assert_eq!(without_its_mark(about, label), text, "{about}");
        }
    }
}
