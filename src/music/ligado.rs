//! Notes that the left hand sounds by itself, and what each needs: a sounding note on the same string, a higher one to
//! pull off from, a lower one to hammer on to, another finger for each (common practice, no source).

use super::fretboard::Guitar;
use super::hand::{Fret, GuitarString};
use super::held::chord_named;
use super::left_hand::LeftEvent;
use super::lesson::Lesson;
use super::pattern::{Pattern, Role};
use super::stroke::{Action, Stroke};

/// A ligado that cannot sound as it is told.
#[derive(Debug, Clone, PartialEq)]
pub struct Fault<'a> {
    /// The ligado.
    pub stroke: &'a Stroke,
    /// The note before it on its string; on another one where its own has nothing to pull.
    pub before: &'a Stroke,
    pub string: GuitarString,
    /// Frets before and of the ligado.
    pub frets: (Fret, Fret),
    pub what: FaultKind,
}

#[derive(Debug, Clone, Copy, PartialEq)]
pub enum FaultKind {
    /// A pull-off has to come from a higher fret.
    PullsUp,
    /// A hammer-on has to go to a higher fret.
    HammersDown,
    /// One finger stops both notes: there is none left behind, or none to fall.
    SameFinger,
    /// The two frets are further apart than two fingers reach, in millimetres.
    TooWide(f64),
    /// The note before it stands on another string, and nothing is known to be down on its own.
    NothingToPull,
    /// The note before it is the open string: there is no lower one on it.
    FromOpen,
}

/// Further than index and little finger reach on one string, in millimetres (see [`super::reach`]).
const WIDEST_MM: f64 = 165.0;

/// The ligados of a pattern that cannot sound as told. Only frets that the text says are held against each other.
pub fn faults<'a>(lesson: &Lesson, pattern: &'a Pattern) -> Vec<Fault<'a>> {
    let guitar = Guitar::of(lesson);
    let mut last: [Option<&'a Stroke>; 7] = [None; 7];
    let mut found = Vec::new();
    let mut ordered: Vec<&Stroke> = pattern.strokes.iter().filter(|stroke| sounds(stroke)).collect();
    ordered.sort_by_key(|stroke| stroke.at);
    // Strings on which something sounded whose fret is not said.
    let mut unknown = [false; 7];
    let mut note_before: Option<&Stroke> = None;
    for stroke in ordered {
        let ([string], Some(_)) = (stroke.strings.as_slice(), stroke.fret) else {
            found.extend(from_open(pattern, &last, stroke));
            forget(&mut last, &mut unknown, stroke);
            note_before = None;
            continue;
        };
        let nothing_down = last.get(usize::from(*string)) == Some(&None)
            && unknown.get(usize::from(*string)) == Some(&false)
            && !may_be_held(lesson, pattern, stroke, *string);
        let across = note_before.filter(|_| stroke.action == Action::PullOff && nothing_down);
        found.extend(across.and_then(|before| nothing_to_pull(before, stroke, *string)));
        note_before = Some(stroke);
        let Some(place) = last.get_mut(usize::from(*string)) else {
            continue;
        };
        let ligado = matches!(stroke.action, Action::PullOff | Action::HammerOn);
        if let (true, Some(before)) = (ligado, *place) {
            found.extend(fault(before, stroke, *string, &guitar));
        }
        *place = Some(stroke);
    }
    found
}

fn sounds(stroke: &Stroke) -> bool {
    !matches!(stroke.action, Action::Golpe | Action::Rest)
}

/// After a strum or a note whose fret is not said, what sounds on its strings is not known.
fn forget(last: &mut [Option<&Stroke>; 7], unknown: &mut [bool; 7], stroke: &Stroke) {
    if stroke.strings.is_empty() {
        (*last, *unknown) = ([None; 7], [true; 7]);
    }
    for string in stroke.strings.iter().map(|string| usize::from(*string)) {
        if let (Some(place), Some(unknown)) = (last.get_mut(string), unknown.get_mut(string)) {
            (*place, *unknown) = (None, true);
        }
    }
}

/// A finger may be down above the note on its string: of the chord that is held, or put there by itself.
fn may_be_held(lesson: &Lesson, pattern: &Pattern, stroke: &Stroke, string: GuitarString) -> bool {
    let above = |fret: Option<Fret>| fret.is_none_or(|fret| Some(fret) > stroke.fret);
    let put =
        |event: &LeftEvent| event.at <= stroke.at && event.string.is_none_or(|own| own == string) && above(event.fret);
    let change_in = |pattern: &'_ Pattern| {
        let before = pattern.changes.iter().filter(|change| change.at <= stroke.at);
        before.max_by_key(|change| change.at).map(|change| change.chord.clone())
    };
    let core = || lesson.patterns.iter().find(|pattern| pattern.role == Role::Core);
    let chord = change_in(pattern).or_else(|| core().and_then(change_in));
    let held = chord.is_some_and(|chord| {
        let shape = chord_named(lesson, &chord).and_then(|chord| chord.shape);
        shape.is_none_or(|shape| shape.fret(string).is_some_and(|fret| Some(fret) > stroke.fret))
    });
    held || pattern.left.iter().any(put)
}

/// "and another pull-off, on the same string", behind the open one: no fret is told, and none could be.
fn from_open<'a>(pattern: &Pattern, last: &[Option<&'a Stroke>; 7], stroke: &'a Stroke) -> Option<Fault<'a>> {
    let [string] = stroke.strings.as_slice() else {
        return None;
    };
    let before = last.get(usize::from(*string)).copied().flatten()?;
    let put = |event: &LeftEvent| {
        let between = before.at <= event.at && event.at <= stroke.at;
        between && event.string.is_none_or(|own| own == *string)
    };
    let open = before.fret == Some(0) && stroke.action == Action::PullOff;
    (open && !pattern.left.iter().any(put)).then_some(Fault {
        stroke,
        before,
        string: *string,
        frets: (0, 0),
        what: FaultKind::FromOpen,
    })
}

/// The note before it is on another string.
fn nothing_to_pull<'a>(before: &'a Stroke, stroke: &'a Stroke, string: GuitarString) -> Option<Fault<'a>> {
    let frets = (before.fret?, stroke.fret?);
    (before.strings != stroke.strings).then_some(Fault {
        stroke,
        before,
        string,
        frets,
        what: FaultKind::NothingToPull,
    })
}

fn fault<'a>(before: &'a Stroke, stroke: &'a Stroke, string: GuitarString, guitar: &Guitar) -> Option<Fault<'a>> {
    let frets = (before.fret?, stroke.fret?);
    let (low, high) = (frets.0.min(frets.1), frets.0.max(frets.1));
    let mm = guitar.between_frets_mm(low, high);
    let what = match stroke.action {
        Action::PullOff if frets.1 >= frets.0 => FaultKind::PullsUp,
        Action::HammerOn if frets.1 <= frets.0 => FaultKind::HammersDown,
        _ if low > 0 && before.left.is_some() && before.left == stroke.left => FaultKind::SameFinger,
        _ if low > 0 && mm > WIDEST_MM => FaultKind::TooWide(mm),
        _ => return None,
    };
    Some(Fault {
        stroke,
        before,
        string,
        frets,
        what,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::music::position::Position;
    use crate::text::Place;

    /// `p s5 f1 l1`, `pull s5 f0`, `hammer s5 f3`, `down`.
    fn told(words: &str) -> Vec<FaultKind> {
        let stroke = |(index, word): (usize, &str)| {
            let parts: Vec<&str> = word.split(' ').collect();
            let action = match parts[0] {
                "pull" => Action::PullOff,
                "hammer" => Action::HammerOn,
                "down" => Action::Down,
                _ => Action::Pluck,
            };
            let number = |letter: char| {
                parts
                    .iter()
                    .find_map(|part| part.strip_prefix(letter)?.parse::<u8>().ok())
            };
            let mut stroke = Stroke::new(Position::count(index as i64), action, Place::default());
            (stroke.strings, stroke.fret, stroke.left) = (number('s').into_iter().collect(), number('f'), number('l'));
            stroke
        };
        let pattern = Pattern {
            name: String::new(),
            role: Role::Core,
            span: None,
            strokes: words.split(", ").enumerate().map(stroke).collect(),
            changes: Vec::new(),
            left: Vec::new(),
            runs_on: None,
            claims: Vec::new(),
            place: Place::default(),
        };
        faults(&Lesson::default(), &pattern)
            .iter()
            .map(|fault| fault.what)
            .collect()
    }

    #[test]
    fn ligados_need_what_they_need() {
        let table: [(&str, &[FaultKind]); 18] = [
            ("p s5 f0, hammer s5 f1, pull s5 f0", &[]),
            ("p s3 f2, pull s3 f1, p s4 f3", &[]),
            ("p s5 f1, pull s5 f3", &[FaultKind::PullsUp]),
            ("p s5 f3, pull s5 f3", &[FaultKind::PullsUp]),
            ("p s5 f3, hammer s5 f1", &[FaultKind::HammersDown]),
            // Another string sounded meanwhile: this one still does.
            ("p s5 f1, p s4 f0, pull s5 f0", &[]),
            ("p s5 f3 l3, pull s5 f1 l3", &[FaultKind::SameFinger]),
            ("p s5 f3 l3, pull s5 f1 l1", &[]),
            // The finger that hammers comes off again.
            ("p s5 f0, hammer s5 f1 l1, pull s5 f0 l1", &[]),
            // After a strum nobody knows what the string sounds.
            ("p s4 f2, down, hammer s4 f2", &[]),
            ("pull s5 f3", &[]),
            // From one string to another there is nothing to pull; after a note there some time before, there may be.
            ("p s5 f3, pull s4 f2", &[FaultKind::NothingToPull]),
            ("p s4 f3, p s5 f3, pull s4 f2", &[]),
            ("down, p s5 f3, pull s4 f2", &[]),
            ("p s5 f3, hammer s4 f2", &[]),
            ("p s5 f0, hammer s5 f12", &[]),
            // No fret is told: from the open string there is none, from a stopped one there may be.
            ("p s4 f0, pull s4", &[FaultKind::FromOpen]),
            ("p s4 f2, pull s4", &[]),
        ];
        for (words, faults) in table {
            assert_eq!(told(words), faults, "{words}");
        }
        assert!(matches!(
            told("p s1 f1, hammer s1 f8").as_slice(),
            [FaultKind::TooWide(_)]
        ));
    }
}
