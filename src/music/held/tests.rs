use super::*;
use crate::music::chord::{ChordShape, Fingered};
use crate::music::left_hand::Change;
use crate::music::position::Position;

fn chord(name: &str, shape: &str, fingers: &[(u8, u8, u8, u8)]) -> Chord {
    let fingered = |(finger, string, to_string, fret): &(u8, u8, u8, u8)| Fingered {
        finger: *finger,
        string: *string,
        fret: *fret,
        to_string: *to_string,
    };
    Chord {
        name: ChordName::parse(name).expect("a name"),
        shape: ChordShape::parse(shape),
        fingers: fingers.iter().map(fingered).collect(),
        place: Place::default(),
        shape_place: None,
        fingers_place: None,
        implied: None,
    }
}

fn lesson() -> Lesson {
    Lesson {
        chords: vec![
            chord("A", "x02220", &[(2, 4, 4, 2), (3, 3, 3, 2), (4, 2, 2, 2)]),
            chord(
                "Bb",
                "x13331",
                &[(1, 5, 1, 1), (2, 4, 4, 3), (3, 3, 3, 3), (4, 2, 2, 3)],
            ),
            chord("Am", "x02210", &[]),
        ],
        ..Lesson::default()
    }
}

/// `A` a change, `p s5 f3 3` a note with finger 3, `put 1 s3 f1`, `keep 3`, `lift`, `lift 1`, `slide 1 f3`.
fn tell(words: &str) -> (Vec<String>, Vec<String>) {
    let lesson = lesson();
    let mut changes = Vec::new();
    let mut events = Vec::new();
    let mut strokes = Vec::new();
    let place = Place::default();
    let mut order = Vec::new();
    for word in words.split(", ") {
        let parts: Vec<&str> = word.split(' ').collect();
        let number = |letter: char| {
            parts
                .iter()
                .find_map(|part| part.strip_prefix(letter)?.parse::<u8>().ok())
        };
        let finger = parts.iter().skip(1).find_map(|part| part.parse::<u8>().ok());
        let (string, fret, at) = (number('s'), number('f'), Position::count(1));
        let action = match parts[0] {
            "put" => Some(LeftAction::Put),
            "keep" => Some(LeftAction::Keep),
            "lift" => Some(LeftAction::Lift),
            "slide" => Some(LeftAction::Slide),
            _ => None,
        };
        if let Some(action) = action {
            events.push(LeftEvent {
                at,
                action,
                finger,
                string,
                fret,
                place,
                implied: None,
            });
            order.push((1, events.len() - 1));
        } else if parts[0] == "p" {
            let mut stroke = Stroke::new(at, Action::Pluck, place);
            (stroke.strings, stroke.fret, stroke.left) = (string.into_iter().collect(), fret, finger);
            strokes.push(stroke);
            order.push((2, strokes.len() - 1));
        } else {
            let chord = ChordName::parse(parts[0]).expect("a name");
            changes.push(Change {
                at,
                chord,
                place,
                implied: None,
            });
            order.push((0, changes.len() - 1));
        }
    }
    let happenings: Vec<Timed> = order
        .iter()
        .enumerate()
        .map(|(at, (kind, index))| Timed {
            at: Pulses::from_integer(at as i64),
            pattern: 0,
            what: match kind {
                0 => Happening::Change(&changes[*index]),
                1 => Happening::Left(&events[*index]),
                _ => Happening::Stroke(&strokes[*index]),
            },
        })
        .collect();
    let told = follow(&lesson, &happenings, &[]);
    let finger = |finger: Option<u8>| finger.map(|finger| format!("{finger}:")).unwrap_or_default();
    let hold = |hold: &Hold| {
        let barre = if hold.to_string > hold.string {
            format!("-{}", hold.to_string)
        } else {
            String::new()
        };
        format!("{}s{}{barre}f{}", finger(hold.finger), hold.string, hold.fret)
    };
    let clash = |clash: &Clash| {
        format!(
            "{} in the way of {}s{}f{}",
            hold(&clash.hold),
            finger(clash.need.finger),
            clash.need.string,
            clash.need.fret
        )
    };
    (
        told.end().iter().map(hold).collect(),
        told.clashes.iter().map(clash).collect(),
    )
}

#[test]
fn what_is_held_in_the_end() {
    let table: [(&str, &[&str]); 11] = [
        ("A", &["4:s2f2", "3:s3f2", "2:s4f2"]),
        ("Bb", &["1:s1-5f1", "4:s2f3", "3:s3f3", "2:s4f3"]),
        ("Bb, A", &["4:s2f2", "3:s3f2", "2:s4f2"]),
        ("Bb, lift 1", &["4:s2f3", "3:s3f3", "2:s4f3"]),
        ("Bb, lift", &[]),
        ("Am", &["s2f1", "s3f2", "s4f2"]),
        ("p s5 f3 3", &["3:s5f3"]),
        ("p s5 f3 3, p s5 f1 1", &["1:s5f1"]),
        ("p s5 f1 1, p s5 f3 3", &["1:s5f1", "3:s5f3"]),
        ("put 1 s3 f1, slide 1 f3", &["1:s3f3"]),
        ("p s5 f3 3, keep 3, lift 3", &[]),
    ];
    for (words, holds) in table {
        assert_eq!(tell(words).0, holds, "{words}");
    }
}

#[test]
fn what_is_kept_stands_in_the_way() {
    let table: [(&str, &[&str]); 9] = [
        // The finger that holds the C is needed in the A.
        ("A, p s5 f3 3, keep 3, A", &["3:s5f3 in the way of 3:s3f2"]),
        ("A, p s5 f3 3, keep 3, lift 3, A", &[]),
        // Nobody said that it stays.
        ("A, p s5 f3 3, A", &[]),
        // The string is wanted open.
        ("p s5 f3 1, keep 1, Am", &["1:s5f3 in the way of s5f0"]),
        // The kept finger already is where the chord wants it; from then on it is the chord's.
        ("p s4 f2 2, keep 2, A", &[]),
        ("p s4 f2 2, keep 2, A, Bb", &[]),
        // Open strings under a chord that is held.
        ("Bb, p s5 f0", &["1:s1-5f1 in the way of s5f0"]),
        ("Bb, lift 1, p s5 f0", &[]),
        ("A, p s5 f0", &[]),
    ];
    for (words, clashes) in table {
        assert_eq!(tell(words).1, clashes, "{words}");
    }
}
