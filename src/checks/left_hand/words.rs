use crate::music::hand::{Fret, GuitarString, LeftFinger};
use crate::music::held::{Hold, Need};
use crate::music::reach::Fingertip;

/// `string 5 open`, `string 3 fret 2`.
pub(in crate::checks) fn place(string: GuitarString, fret: Fret) -> String {
    if fret == 0 {
        format!("string {string} open")
    } else {
        format!("string {string} fret {fret}")
    }
}

/// `finger 3`, or `a finger` where nobody said which.
pub(in crate::checks) fn finger(finger: Option<LeftFinger>) -> String {
    match finger {
        Some(0) => "the thumb".to_owned(),
        Some(finger) => format!("finger {finger}"),
        None => "a finger".to_owned(),
    }
}

/// `finger 3 on string 5 fret 3`.
pub(in crate::checks) fn tip(tip: &Fingertip) -> String {
    format!("{} on {}", finger(tip.finger), place(tip.string, tip.fret))
}

/// `finger 3 stays on string 5 fret 3`; a barre is named by its fret.
pub(in crate::checks) fn held(hold: &Hold) -> String {
    if hold.to_string > hold.string {
        format!("{} lying across fret {}", finger(hold.finger), hold.fret)
    } else {
        format!("{} on {}", finger(hold.finger), place(hold.string, hold.fret))
    }
}

/// `the A needs string 3 fret 2`, `string 5 is to sound open`.
pub(in crate::checks) fn needed(need: &Need) -> String {
    let place = place(need.string, need.fret);
    match (&need.chord, need.finger) {
        (Some(chord), Some(finger)) => format!("the {chord} needs finger {finger} on {place}"),
        (Some(chord), None) => format!("the {chord} needs {place}"),
        (None, Some(finger)) => format!("finger {finger} is to be on {place}"),
        (None, None) => format!("{place} is to sound"),
    }
}
