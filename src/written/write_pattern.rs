//! A pattern written out: its opening, then a line a count.

use std::collections::BTreeMap;

use num_rational::Ratio;

use crate::music::hand::Finger;
use crate::music::left_hand::{Change, LeftAction, LeftEvent};
use crate::music::pattern::{Claim, ClaimAbout, CountSpan, Pattern};
use crate::music::position::Position;
use crate::music::stroke::{Action, Stroke};

use super::spelling::close_mark;
use super::write::{Detail, Line, opening};

/// All that happens at one moment.
#[derive(Default)]
struct Moment<'p> {
    changes: Vec<&'p Change>,
    left: Vec<&'p LeftEvent>,
    strokes: Vec<&'p Stroke>,
}

type Moments<'p> = BTreeMap<Position, Moment<'p>>;

pub fn pattern_lines(pattern: &Pattern, detail: Detail) -> Vec<Line> {
    let mut counts: BTreeMap<i64, Moments> = BTreeMap::new();
    for change in &pattern.changes {
        at(&mut counts, change.at).changes.push(change);
    }
    for event in &pattern.left {
        at(&mut counts, event.at).left.push(event);
    }
    for stroke in &pattern.strokes {
        at(&mut counts, stroke.at).strokes.push(stroke);
    }
    let mut lines = vec![opening(pattern)];
    lines.extend(counts.iter().map(|(count, moments)| count_line(*count, moments)));
    if detail == Detail::All {
        lines.extend(pattern.claims.iter().map(claim_line));
    }
    lines
}

fn at<'m, 'p>(counts: &'m mut BTreeMap<i64, Moments<'p>>, at: Position) -> &'m mut Moment<'p> {
    counts.entry(at.whole()).or_default().entry(at).or_default()
}

fn count_line(count: i64, moments: &Moments) -> Line {
    let marks = || moments.values().flat_map(Moment::marks);
    let shared = marks()
        .next()
        .flatten()
        .filter(|rule| marks().all(|mark| mark == Some(rule)));
    let each = shared.is_none();
    let on_count = moments.get(&Position::count(count));
    let mut text = count.to_string();
    for change in on_count.map_or(&[][..], |moment| &moment.changes) {
        text.push(' ');
        text.push_str(&change_text(change, each));
    }
    let only_chords = moments.len() == 1 && on_count.is_some_and(Moment::only_changes);
    if !only_chords {
        text.push_str(": ");
        text.push_str(&moments_text(count, moments, each));
    }
    Line {
        text,
        implied: shared.map(str::to_owned),
        time: moments.values().flat_map(Moment::times).min(),
    }
}

fn moments_text(count: i64, moments: &Moments, each: bool) -> String {
    let here = Position::count(count);
    let division = division(count, moments);
    let written: Vec<String> = moments
        .iter()
        .filter(|(at, moment)| **at != here || !moment.only_changes())
        .map(|(at, moment)| {
            let mut parts: Vec<String> = Vec::new();
            if division.is_none() && *at != here {
                parts.push(fraction_text(at.fraction()));
            }
            if *at != here {
                parts.extend(moment.changes.iter().map(|change| change_text(change, each)));
            }
            let left = moment.left.iter().map(|event| left_text(event, each));
            let strokes = moment.strokes.iter().map(|stroke| stroke_text(stroke, each));
            let things: Vec<String> = left.chain(strokes).collect();
            if !things.is_empty() {
                parts.push(things.join(" + "));
            }
            parts.join(" ")
        })
        .collect();
    match division {
        Some(word) => format!("{word} {}", written.join(", ")),
        None => written.join(", "),
    }
}

/// The word for a count that is filled evenly with thirds or quarters, each of them struck.
fn division(count: i64, moments: &Moments) -> Option<&'static str> {
    let struck = moments.values().all(|moment| !moment.strokes.is_empty());
    let parts = i64::try_from(moments.len()).ok().filter(|_| struck)?;
    let word = match parts {
        3 => "thirds",
        4 => "quarters",
        _ => return None,
    };
    let even = (0..parts).all(|part| moments.contains_key(&Position::new(count, part, parts)));
    even.then_some(word)
}

fn fraction_text(fraction: Ratio<i64>) -> String {
    if fraction == Ratio::new(1, 2) {
        "&".to_owned()
    } else {
        format!("+{}/{}", fraction.numer(), fraction.denom())
    }
}

impl<'p> Moment<'p> {
    fn only_changes(&self) -> bool {
        self.left.is_empty() && self.strokes.is_empty()
    }

    fn marks(&self) -> impl Iterator<Item = Option<&'p str>> + '_ {
        let changes = self.changes.iter().map(|change| change.implied.as_deref());
        let left = self.left.iter().map(|event| event.implied.as_deref());
        let strokes = self.strokes.iter().map(|stroke| stroke.implied.as_deref());
        changes.chain(left).chain(strokes)
    }

    fn times(&self) -> impl Iterator<Item = crate::text::ClockTime> + '_ {
        let changes = self.changes.iter().map(|change| change.place.time);
        let left = self.left.iter().map(|event| event.place.time);
        let strokes = self.strokes.iter().map(|stroke| stroke.place.time);
        strokes.chain(left).chain(changes).flatten()
    }
}

fn mark(implied: Option<&str>, each: bool) -> String {
    implied.filter(|_| each).map_or(String::new(), close_mark)
}

fn change_text(change: &Change, each: bool) -> String {
    format!("({}){}", change.chord, mark(change.implied.as_deref(), each))
}

fn left_text(event: &LeftEvent, each: bool) -> String {
    let mut text = match event.action {
        LeftAction::Put => "put",
        LeftAction::Lift => "lift",
        LeftAction::Keep => "keep",
        LeftAction::Slide => "slide",
    }
    .to_owned();
    if let Some(finger) = event.finger {
        text.push_str(&format!(" LH{finger}"));
    }
    if let Some(string) = event.string {
        text.push_str(&format!(" s{string}"));
    }
    if let Some(fret) = event.fret {
        text.push_str(&format!(" f{fret}"));
    }
    text + &mark(event.implied.as_deref(), each)
}

/// One stroke: `i down`, `golpe a`, `p s4 f2 E`, `rasg x a m i to 4`.
pub fn stroke_text(stroke: &Stroke, each: bool) -> String {
    let fingers = fingers_text(stroke);
    let placed = !stroke.strings.is_empty() || stroke.fret.is_some();
    let word = action_word(stroke.action, placed);
    let mut parts: Vec<String> = if hand_leads(stroke.action) {
        vec![fingers, word.to_owned()]
    } else {
        vec![word.to_owned(), fingers]
    };
    parts.retain(|part| !part.is_empty());
    parts.extend(stroke.strings.iter().map(|string| format!("s{string}")));
    parts.extend(stroke.fret.map(|fret| format!("f{fret}")));
    parts.extend(stroke.note.map(|note| {
        let announced = if is_single_note(stroke.action) { "" } else { "note " };
        format!("{announced}{note}")
    }));
    parts.extend(stroke.left.map(|finger| format!("LH{finger}")));
    parts.extend(
        stroke
            .rest_stroke
            .map(|rest| if rest { "apoyando" } else { "tirando" }.to_owned()),
    );
    parts.extend(stroke.accent.then(|| ">".to_owned()));
    parts.extend(stroke.length.map(|counts| format!("for {counts}")));
    parts.extend(stroke.arrival.map(|at| format!("to {at}")));
    parts.join(" ") + &mark(stroke.implied.as_deref(), each)
}

fn fingers_text(stroke: &Stroke) -> String {
    let letter = |finger: &Finger| match (finger, &stroke.little_finger_as) {
        (Finger::X, Some(letter)) => letter.clone(),
        _ => finger.letter().to_string(),
    };
    let letters: Vec<String> = stroke.fingers.iter().map(letter).collect();
    letters.join(" ")
}

/// Strums and single notes are said finger first, the techniques of the whole hand name first.
fn hand_leads(action: Action) -> bool {
    matches!(
        action,
        Action::Down | Action::Up | Action::Pluck | Action::PullOff | Action::HammerOn
    )
}

pub fn is_single_note(action: Action) -> bool {
    matches!(
        action,
        Action::Pluck | Action::PullOff | Action::HammerOn | Action::Picado | Action::Tremolo
    )
}

fn action_word(action: Action, placed: bool) -> &'static str {
    match action {
        Action::Down => "down",
        Action::Up => "up",
        Action::Golpe => "golpe",
        Action::Pluck if placed => "",
        Action::Pluck => "pluck",
        Action::Rasgueado => "rasg",
        Action::Roll => "roll",
        Action::PullOff => "pull-off",
        Action::HammerOn => "hammer-on",
        Action::Damp => "damp",
        Action::Tremolo => "tremolo",
        Action::Picado => "picado",
        Action::Alzapua => "alzapua",
        Action::Rest => "rest",
    }
}

fn claim_line(claim: &Claim) -> Line {
    let span = |span: &CountSpan| format!("{}-{}", span.first, span.last);
    let text = match &claim.about {
        ClaimAbout::Covers { span: counts, chord } => {
            let chord = chord.as_ref().map_or(String::new(), |chord| format!(" on {chord}"));
            format!("said {}{chord}", span(counts))
        }
        ClaimAbout::Divided {
            from,
            counts,
            per_count,
            given,
        } => format!("said {per_count} to a count from {from} over {counts}, {given} given"),
        ClaimAbout::Numbered { at, said, given } => format!("said {said} at {at}, {given} given"),
        ClaimAbout::Outside { at, span: counts } => format!("said for {at}, outside {}", span(counts)),
        ClaimAbout::OpenAndFretted { at, string, fret } => format!("said s{string} open and f{fret} at {at}"),
        ClaimAbout::Recited { span: counts, row } => {
            let entries: Vec<String> = row.iter().map(recited_text).collect();
            format!("said aloud {}: {}", span(counts), entries.join(", "))
        }
        ClaimAbout::NamedAgain { row } => {
            let entries: Vec<String> = row.iter().map(|(at, name)| format!("{at} {name}")).collect();
            format!("said names: {}", entries.join(", "))
        }
        ClaimAbout::Passage { span: counts, fingers } => {
            let letters: String = fingers.iter().map(|finger| format!(" {}", finger.letter())).collect();
            format!("said {} all by{letters}", span(counts))
        }
    };
    Line::new(text.trim_end(), claim.place)
}

fn recited_text((at, action): &(Option<Position>, Option<Action>)) -> String {
    let action = action.map(|action| action_word(action, false));
    match (at, action) {
        (Some(at), Some(action)) => format!("{at} {action}"),
        (Some(at), None) => at.to_string(),
        (None, Some(action)) => action.to_owned(),
        (None, None) => "-".to_owned(),
    }
}
