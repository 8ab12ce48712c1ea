//! One stroke and what became of it, in a musician's words.

use super::words::Words;
use crate::music::left_hand::{Change, LeftEvent};
use crate::music::position::Counts;
use crate::music::stroke::{Action, Stroke};
use crate::text::Place;

/// The stroke without where and how it was said, and with what makes no sound left out.
pub(super) fn bare(stroke: &Stroke) -> Stroke {
    Stroke {
        place: Place::default(),
        implied: None,
        little_finger_as: None,
        ..stroke.clone()
    }
}

pub(super) fn bare_change(change: &Change) -> Change {
    Change {
        place: Place::default(),
        implied: None,
        ..change.clone()
    }
}

pub(super) fn bare_event(event: &LeftEvent) -> LeftEvent {
    LeftEvent {
        place: Place::default(),
        implied: None,
        ..event.clone()
    }
}

pub(super) fn moved(stroke: &Stroke, by: Counts) -> Stroke {
    Stroke {
        at: stroke.at.plus(by),
        arrival: stroke.arrival.map(|at| at.plus(by)),
        ..stroke.clone()
    }
}

pub(super) fn moved_change(change: &Change, by: Counts) -> Change {
    Change {
        at: change.at.plus(by),
        ..change.clone()
    }
}

pub(super) fn moved_event(event: &LeftEvent, by: Counts) -> LeftEvent {
    LeftEvent {
        at: event.at.plus(by),
        ..event.clone()
    }
}

/// The same stroke at another moment.
pub(super) fn same_elsewhere(was: &Stroke, is: &Stroke) -> bool {
    bare(&moved(was, is.at.0 - was.at.0)) == bare(is)
}

/// Strokes of one moment, each with what it became. Equal ones are left out.
pub(super) fn pairs(mut was: Vec<Stroke>, mut is: Vec<Stroke>) -> Vec<(Option<Stroke>, Option<Stroke>)> {
    was.retain(|stroke| match is.iter().position(|other| other == stroke) {
        Some(at) => {
            is.remove(at);
            false
        }
        None => true,
    });
    let mut found = Vec::new();
    let same_action = |one: &Stroke, two: &Stroke| one.action == two.action;
    // A golpe is a thing of its own: it does not become a strum.
    let either = |one: &Stroke, two: &Stroke| one.action != Action::Golpe && two.action != Action::Golpe;
    for fits in [same_action as fn(&Stroke, &Stroke) -> bool, either] {
        was.retain(|stroke| match is.iter().position(|other| fits(stroke, other)) {
            Some(at) => {
                found.push((Some(stroke.clone()), Some(is.remove(at))));
                false
            }
            None => true,
        });
    }
    found.extend(was.into_iter().map(|stroke| (Some(stroke), None)));
    found.extend(is.into_iter().map(|stroke| (None, Some(stroke))));
    found
}

/// What became of a stroke that is neither new nor gone; never empty for strokes that differ.
pub(super) fn became(was: &Stroke, is: &Stroke, words: Words) -> Vec<String> {
    if was.action != is.action {
        return vec![words.turn("stroke-becomes", &words.stroke(was), &words.stroke(is))];
    }
    let mut found = Vec::new();
    let name = name(is, was, words);
    let say =
        |key: &str, before: &str, after: &str| words.say(key, &[("stroke", &name), ("was", before), ("is", after)]);
    if was.fingers != is.fingers {
        let (before, after) = (words.fingers(&was.fingers), words.fingers(&is.fingers));
        found.push(match (was.fingers.is_empty(), is.fingers.is_empty()) {
            (true, _) => say("finger-new", "", &after),
            (_, true) => say("finger-gone", &before, ""),
            (false, false) => say("finger", &before, &after),
        });
    }
    found.extend(pitch(was, is, &name, words));
    if was.rest_stroke != is.rest_stroke {
        let key = match is.rest_stroke {
            Some(true) => "rest-stroke",
            Some(false) => "free-stroke",
            None => "manner-gone",
        };
        found.push(say(key, "", ""));
    }
    if was.accent != is.accent {
        found.push(say(if is.accent { "accent-new" } else { "accent-gone" }, "", ""));
    }
    let open = |text: Option<String>| text.unwrap_or_else(|| words.plain("not-said"));
    if was.length != is.length {
        let shown = |stroke: &Stroke| open(stroke.length.map(|counts| counts.to_string()));
        found.push(say("lasts", &shown(was), &shown(is)));
    }
    if was.arrival != is.arrival {
        let shown = |stroke: &Stroke| open(stroke.arrival.map(|at| at.to_string()));
        found.push(say("arrives", &shown(was), &shown(is)));
    }
    if was.left != is.left {
        let shown = |stroke: &Stroke| open(stroke.left.map(|finger| words.left(Some(finger))));
        found.push(say("stopped-by", &shown(was), &shown(is)));
    }
    found
}

/// What sounds: "the thumb's G is now G sharp (string 3, fret 1)".
fn pitch(was: &Stroke, is: &Stroke, name: &str, words: Words) -> Option<String> {
    let place = |stroke: &Stroke| words.place(&stroke.strings, stroke.fret);
    let moved = (&was.strings, was.fret) != (&is.strings, is.fret);
    let holes =
        |key: &str, before: &str, after: &str| words.say(key, &[("stroke", name), ("was", before), ("is", after)]);
    match (was.note, is.note) {
        (Some(before), Some(after)) if before != after => {
            let owner = match is.fingers.as_slice() {
                [finger] => words.say("note-owner", &[("finger", &words.right(*finger))]),
                _ => words.plain("note-nobody"),
            };
            let place = place(is);
            let now = words.note(after);
            let now = if moved && !place.is_empty() {
                format!("{now} ({place})")
            } else {
                now
            };
            Some(words.say(
                "note-of",
                &[("owner", &owner), ("was", &words.note(before)), ("is", &now)],
            ))
        }
        _ if moved => {
            let (before, after) = (place(was), place(is));
            Some(match (before.is_empty(), after.is_empty()) {
                (true, _) => holes("string-new", "", &after),
                (_, true) => holes("string-gone", &before, ""),
                (false, false) if was.strings == is.strings => holes("place", &before, &after),
                (false, false) => holes("string", &before, &after),
            })
        }
        (None, Some(note)) => Some(holes("string-new", "", &words.note(note))),
        (Some(note), None) => Some(holes("string-gone", &words.note(note), "")),
        (Some(_), Some(_)) | (None, None) => None,
    }
}

/// What it is called where its own place and note are about to be told: "down with the index".
fn name(is: &Stroke, was: &Stroke, words: Words) -> String {
    let fingers = if is.fingers == was.fingers {
        is.fingers.clone()
    } else {
        Vec::new()
    };
    words.stroke(&Stroke {
        fingers,
        strings: Vec::new(),
        fret: None,
        note: None,
        ..bare(is)
    })
}
