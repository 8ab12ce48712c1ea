use crate::findings::Words;
use crate::music::hand::{Fret, GuitarString, LeftFinger};
use crate::music::held::{Hold, Need};
use crate::music::reach::Fingertip;

/// `string 5 open`, `string 3 fret 2`.
pub(in crate::checks) fn place(words: &Words, string: GuitarString, fret: Fret) -> String {
    let key = if fret == 0 { "string_open" } else { "string_fret" };
    words.phrase(key, &[("string", &string), ("fret", &fret)])
}

/// `finger 3`, or `a finger` where nobody said which.
pub(in crate::checks) fn finger(words: &Words, finger: Option<LeftFinger>) -> String {
    match finger {
        Some(0) => words.phrase("finger_thumb", &[]),
        Some(finger) => words.phrase("finger", &[("finger", &finger)]),
        None => words.phrase("finger_some", &[]),
    }
}

/// `finger 3 on string 5 fret 3`.
pub(in crate::checks) fn tip(words: &Words, tip: &Fingertip) -> String {
    let place = place(words, tip.string, tip.fret);
    words.phrase("tip", &[("finger", &finger(words, tip.finger)), ("place", &place)])
}

/// `finger 3 on string 5 fret 3`; a barre is named by its fret.
pub(in crate::checks) fn held(words: &Words, hold: &Hold) -> String {
    let finger = finger(words, hold.finger);
    if hold.to_string > hold.string {
        words.phrase("lying", &[("finger", &finger), ("fret", &hold.fret)])
    } else {
        let place = place(words, hold.string, hold.fret);
        words.phrase("tip", &[("finger", &finger), ("place", &place)])
    }
}

/// `the A needs string 3 fret 2`, `string 5 open is to sound`.
pub(in crate::checks) fn needed(words: &Words, need: &Need) -> String {
    let place = place(words, need.string, need.fret);
    let finger = finger(words, need.finger);
    let key = match (&need.chord, need.finger) {
        (Some(_), Some(_)) => "needs_chord_finger",
        (Some(_), None) => "needs_chord",
        (None, Some(_)) => "needs_finger",
        (None, None) => "needs_sound",
    };
    let chord = need.chord.as_ref().map(ToString::to_string).unwrap_or_default();
    words.phrase(key, &[("chord", &chord), ("finger", &finger), ("place", &place)])
}
