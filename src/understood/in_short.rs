use crate::music::chord::Chord;
use crate::music::hand::Finger;
use crate::music::key::{Key, Mode, Tempo};
use crate::music::lesson::Lesson;
use crate::music::pattern::{Pattern, Role};
use crate::music::position::Position;
use crate::music::stroke::{Action, Stroke};

/// The lesson on half a page.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct InShort {
    pub title: String,
    /// Name and value, what was said only.
    pub facts: Vec<(&'static str, String)>,
    pub patterns: Vec<PatternInShort>,
    pub cautions: Vec<(u32, String)>,
}

/// A pattern, one row a moment.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PatternInShort {
    pub title: String,
    pub rows: Vec<Row>,
}

/// All that happens at one moment.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Row {
    pub at: String,
    /// The chord that the left hand changes to.
    pub chord: String,
    pub strokes: Vec<String>,
    /// Something in the row was not said but follows from what was.
    pub implied: bool,
}

pub(super) fn in_short(lesson: &Lesson) -> InShort {
    let title = lesson.title.as_ref().map(|title| title.value.clone());
    InShort {
        title: title.unwrap_or_else(|| lesson.id.clone()),
        facts: facts(lesson),
        patterns: lesson.patterns.iter().map(pattern).collect(),
        cautions: lesson
            .cautions
            .iter()
            .map(|caution| (caution.place.line, caution.about.clone()))
            .collect(),
    }
}

fn facts(lesson: &Lesson) -> Vec<(&'static str, String)> {
    let mut facts = Vec::new();
    let mut add = |name, value: Option<String>| facts.extend(value.map(|value| (name, value)));
    add("palo", lesson.palo.as_ref().map(|palo| palo.value.clone()));
    add(
        "counts",
        lesson.meter.beats.as_ref().map(|beats| beats.value.to_string()),
    );
    add(
        "begins on",
        lesson.meter.first.as_ref().map(|first| first.value.to_string()),
    );
    let accents: Vec<String> = lesson
        .meter
        .accents
        .iter()
        .map(|accent| accent.value.to_string())
        .collect();
    add("accents", Some(accents.join(" ")).filter(|accents| !accents.is_empty()));
    add("tempo", lesson.tempo.as_ref().map(|tempo| show_tempo(tempo.value)));
    add("key", lesson.key.as_ref().map(|key| show_key(key.value)));
    add("capo", lesson.capo.as_ref().map(|capo| capo.value.to_string()));
    let chords: Vec<String> = lesson.chords.iter().map(show_chord).collect();
    add("chords", Some(chords.join(", ")).filter(|chords| !chords.is_empty()));
    add(
        "rounds",
        lesson.repeats.as_ref().map(|repeats| repeats.value.to_string()),
    );
    facts
}

fn show_tempo(tempo: Tempo) -> String {
    if tempo.low == tempo.high {
        format!("{} a minute", tempo.low)
    } else {
        format!("{} to {} a minute", tempo.low, tempo.high)
    }
}

fn show_key(key: Key) -> String {
    let mode = match key.mode {
        Mode::Phrygian => "phrygian",
        Mode::Major => "major",
        Mode::Minor => "minor",
    };
    format!("{} {mode}", key.tonic)
}

fn show_chord(chord: &Chord) -> String {
    match chord.shape {
        Some(shape) => format!("{} {shape}", chord.name),
        None => chord.name.to_string(),
    }
}

fn pattern(pattern: &Pattern) -> PatternInShort {
    let what = match pattern.role {
        Role::Core => "covers",
        Role::Variation | Role::Falseta | Role::Llamada | Role::Remate | Role::Cierre => "takes the place of",
    };
    let mut title = pattern.name.clone();
    match pattern.span {
        Some(span) => title.push_str(&format!(", {what} {span}")),
        None => title.push_str(", counts not said"),
    }
    if let Some(until) = pattern.runs_on {
        title.push_str(&format!(", runs on to {until}"));
    }
    let mut moments: Vec<Position> = pattern.strokes.iter().map(|stroke| stroke.at).collect();
    moments.extend(pattern.changes.iter().map(|change| change.at));
    moments.sort();
    moments.dedup();
    PatternInShort {
        title,
        rows: moments.into_iter().map(|at| row(pattern, at)).collect(),
    }
}

fn row(pattern: &Pattern, at: Position) -> Row {
    let strokes: Vec<&Stroke> = pattern.strokes.iter().filter(|stroke| stroke.at == at).collect();
    let changes = pattern.changes.iter().filter(|change| change.at == at);
    let chords: Vec<String> = changes.clone().map(|change| change.chord.to_string()).collect();
    let implied =
        strokes.iter().any(|stroke| stroke.implied.is_some()) || changes.clone().any(|change| change.implied.is_some());
    Row {
        at: at.to_string(),
        chord: chords.join(" "),
        strokes: strokes.into_iter().map(show_stroke).collect(),
        implied,
    }
}

fn show_stroke(stroke: &Stroke) -> String {
    let mut words = vec![action(stroke.action).to_owned()];
    let fingers: Vec<String> = stroke
        .fingers
        .iter()
        .copied()
        .map(Finger::letter)
        .map(String::from)
        .collect();
    words.extend(Some(fingers.join(" ")).filter(|fingers| !fingers.is_empty()));
    words.extend(stroke.strings.iter().map(|string| format!("s{string}")));
    words.extend(stroke.fret.map(|fret| format!("f{fret}")));
    words.extend(stroke.note.map(|note| format!("({note})")));
    if stroke.rest_stroke == Some(true) {
        words.push("rest stroke".to_owned());
    }
    if stroke.accent {
        words.push("accented".to_owned());
    }
    words.join(" ")
}

fn action(action: Action) -> &'static str {
    match action {
        Action::Down => "down",
        Action::Up => "up",
        Action::Golpe => "golpe",
        Action::Pluck => "pluck",
        Action::Rasgueado => "rasgueado",
        Action::Roll => "arpeggio",
        Action::PullOff => "pull-off",
        Action::HammerOn => "hammer-on",
        Action::Damp => "damp",
        Action::Tremolo => "tremolo",
        Action::Picado => "picado",
        Action::Alzapua => "alzapúa",
        Action::Rest => "rest",
    }
}
