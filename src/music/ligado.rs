//! Notes that the left hand sounds by itself, and what each needs: a sounding note on the same string, a higher one to
//! pull off from, a lower one to hammer on to, another finger for each (common practice, no source).

use super::fretboard::Guitar;
use super::hand::{Fret, GuitarString};
use super::pattern::Pattern;
use super::stroke::{Action, Stroke};

/// A ligado that cannot sound as it is told.
#[derive(Debug, Clone, PartialEq)]
pub struct Fault<'a> {
    /// The ligado.
    pub stroke: &'a Stroke,
    /// The note before it on its string.
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
}

/// Further than index and little finger reach on one string, in millimetres (see [`super::reach`]).
const WIDEST_MM: f64 = 165.0;

/// The ligados of a pattern that cannot sound as told. Only frets that the text says are held against each other.
pub fn faults<'a>(pattern: &'a Pattern, guitar: &Guitar) -> Vec<Fault<'a>> {
    let mut last: [Option<&'a Stroke>; 7] = [None; 7];
    let mut found = Vec::new();
    let mut ordered: Vec<&Stroke> = pattern.strokes.iter().collect();
    ordered.sort_by_key(|stroke| stroke.at);
    for stroke in ordered {
        let ([string], Some(_)) = (stroke.strings.as_slice(), stroke.fret) else {
            forget(&mut last, stroke);
            continue;
        };
        let Some(place) = last.get_mut(usize::from(*string)) else {
            continue;
        };
        let ligado = matches!(stroke.action, Action::PullOff | Action::HammerOn);
        if let (true, Some(before)) = (ligado, *place) {
            found.extend(fault(before, stroke, *string, guitar));
        }
        *place = Some(stroke);
    }
    found
}

/// After a strum or a note whose fret is not said, what sounds on its strings is not known.
fn forget(last: &mut [Option<&Stroke>; 7], stroke: &Stroke) {
    match stroke.action {
        Action::Golpe | Action::Rest => {}
        _ if stroke.strings.is_empty() => *last = [None; 7],
        _ => {
            for string in &stroke.strings {
                if let Some(place) = last.get_mut(usize::from(*string)) {
                    *place = None;
                }
            }
        }
    }
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
    use crate::music::pattern::Role;
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
        faults(&pattern, &Guitar::STANDARD)
            .iter()
            .map(|fault| fault.what)
            .collect()
    }

    #[test]
    fn ligados_need_what_they_need() {
        let table: [(&str, &[FaultKind]); 12] = [
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
            ("p s5 f0, hammer s5 f12", &[]),
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
