use super::Page;
use super::element::{Element, el, text};
use super::lengths::Value;
use super::moments::{Moment, Written};
use crate::music::hand::Finger;
use crate::music::key::Key;
use crate::music::pitch::NoteName;
use crate::music::spelling;
use crate::music::stroke::Stroke;
use crate::practice::score::{Event, Kind, Sound};

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Staff {
    Notes,
    Tablature,
}

/// Where in a row of tied values, and under which bracket, a note stands.
pub(super) struct At<'a> {
    pub value: &'a Value,
    /// First and last of the values that a moment is written as.
    pub first: bool,
    pub last: bool,
    pub opens: bool,
    pub closes: bool,
    /// In divisions.
    pub duration: i64,
}

/// A pitch by its letter and octave (C4 is the middle C), as the key writes it.
pub(super) fn spelled(pitch: u8, key: Option<Key>) -> (NoteName, i64) {
    let name = key.map_or_else(|| spelling::plain(pitch % 12), |key| spelling::spell(pitch % 12, key));
    let natural = i64::from(pitch) - i64::from(name.alter);
    (name, natural.div_euclid(12) - 1)
}

/// One value of a moment on one staff: a chord is several notes.
pub(super) fn notes(page: &Page, staff: Staff, moment: &Moment, written: &Written, at: &At) -> Vec<Element> {
    match written {
        Written::Notes(sounds) => {
            let note = |(index, (event, sound)): (usize, &(usize, Sound))| {
                let notations = notations(page, staff, moment, at, Some((*event, *sound)), index == 0);
                note(
                    staff,
                    at,
                    pitch(page, *sound),
                    Shape::new(index > 0, Some(at)),
                    notations,
                )
            };
            sounds.iter().enumerate().map(note).collect()
        }
        Written::Open | Written::Golpe if at.first || *written == Written::Open => {
            let notations = notations(page, staff, moment, at, None, true);
            let head = if *written == Written::Open { "slash" } else { "x" };
            let ties = (*written == Written::Open).then_some(at);
            let shape = Shape {
                head: Some(head),
                ..Shape::new(false, ties)
            };
            vec![note(staff, at, unpitched(staff), shape, notations)]
        }
        Written::Rest | Written::Golpe | Written::Open => {
            let notations = notations(page, staff, moment, at, None, true);
            vec![note(staff, at, el("rest"), Shape::new(false, None), notations)]
        }
    }
}

/// Of a note: is it in a chord with the one before, is it tied, what head has it.
struct Shape<'a> {
    chord: bool,
    ties: Option<&'a At<'a>>,
    head: Option<&'static str>,
}

impl<'a> Shape<'a> {
    fn new(chord: bool, ties: Option<&'a At<'a>>) -> Self {
        Self {
            chord,
            ties,
            head: None,
        }
    }

    fn tied(&self) -> Vec<&'static str> {
        let Some(at) = self.ties else { return Vec::new() };
        let stop = (!at.first).then_some("stop");
        stop.into_iter().chain((!at.last).then_some("start")).collect()
    }
}

fn note(staff: Staff, at: &At, what: Element, shape: Shape, notations: Vec<Element>) -> Element {
    let value = at.value;
    let number = if staff == Staff::Notes { 1 } else { 2 };
    let tied = shape.tied();
    let mut note = el("note");
    if staff == Staff::Tablature {
        note = note.attr("dynamics", 0);
    }
    note = note
        .with_all(shape.chord.then(|| el("chord")))
        .with(what)
        .with(text("duration", at.duration))
        .with_all(tied.iter().map(|way| el("tie").attr("type", way)))
        .with(text("voice", number))
        .with_all(value.name.map(|name| text("type", name)))
        .with_all((0..value.dots).map(|_| el("dot")))
        .with_all(value.tuplet.map(|(actual, normal)| {
            el("time-modification")
                .with(text("actual-notes", actual))
                .with(text("normal-notes", normal))
        }))
        .with_all(shape.head.map(|head| text("notehead", head)))
        .with(text("staff", number));
    let bracket = |way: &'static str| el("tuplet").attr("type", way).attr("number", 1);
    let brackets = (!shape.chord)
        .then(|| {
            let opens = at.opens.then(|| bracket("start").attr("bracket", "yes"));
            opens.into_iter().chain(at.closes.then(|| bracket("stop")))
        })
        .into_iter()
        .flatten();
    let all = el("notations")
        .with_all(tied.iter().map(|way| el("tied").attr("type", way)))
        .with_all(brackets)
        .with_all(notations);
    if all.is_empty() { note } else { note.with(all) }
}

fn pitch(page: &Page, sound: Sound) -> Element {
    let (name, octave) = spelled(sound.pitch, page.lesson.key.as_ref().map(|key| key.value));
    el("pitch")
        .with(text("step", name.letter))
        .with_all((name.alter != 0).then(|| text("alter", name.alter)))
        .with(text("octave", octave))
}

/// On the middle line of the guitar staff.
fn unpitched(staff: Staff) -> Element {
    match staff {
        Staff::Notes => el("unpitched")
            .with(text("display-step", "B"))
            .with(text("display-octave", 3)),
        Staff::Tablature => el("unpitched"),
    }
}

/// What is said of a note beside its pitch and length; only where the note is struck, not where it is held.
fn notations(
    page: &Page,
    staff: Staff,
    moment: &Moment,
    at: &At,
    note: Option<(usize, Sound)>,
    top: bool,
) -> Vec<Element> {
    if !at.first {
        return Vec::new();
    }
    let mut technical = el("technical");
    let mut others = Vec::new();
    match (staff, note) {
        (Staff::Tablature, Some((event, sound))) => {
            technical = technical
                .with(text("string", sound.string))
                .with(text("fret", sound.fret))
                .with_all(ligados(page, event, sound.string));
            if top {
                technical = technical.with_all(moment.strokes.iter().filter_map(|(_, event)| arrow(event)));
            }
        }
        (Staff::Tablature, None) => {
            technical = technical.with_all(moment.strokes.iter().filter_map(|(_, event)| arrow(event)));
        }
        (Staff::Notes, note) => {
            if let Some((event, _)) = note {
                technical = technical.with_all(left_finger(page, event));
            }
            if top {
                for (_, event) in &moment.strokes {
                    technical = technical
                        .with_all(plucks(page, event))
                        .with_all(said(event).map(|word| text("other-technical", word)));
                }
                technical = technical.with_all(moment.golpe.then(|| el("golpe")));
                let accent = moment.strokes.iter().any(|(_, event)| event.accent);
                others.extend(accent.then(|| el("articulations").with(el("accent"))));
                let tremolo = moment.strokes.iter().any(|(_, event)| event.kind == Kind::Tremolo);
                let sign = || el("ornaments").with(text("tremolo", 0).attr("type", "unmeasured"));
                others.extend(tremolo.then(sign));
            }
            let swept = moment.strokes.iter().find_map(|(_, event)| towards(event));
            let several = matches!(moment.written(), Written::Notes(notes) if notes.len() > 1);
            others.extend(
                swept
                    .filter(|_| several)
                    .map(|way| el("arpeggiate").attr("direction", way)),
            );
        }
    }
    if !technical.is_empty() {
        others.insert(0, technical);
    }
    others
}

/// Up the page when the hand meets the lowest string first.
fn towards(event: &Event) -> Option<&'static str> {
    let swept = matches!(
        event.kind,
        Kind::Down | Kind::Up | Kind::Rasgueado | Kind::Roll | Kind::Alzapua
    );
    let up = match event.kind {
        Kind::Down => false,
        Kind::Up => true,
        _ => event.strikes.first()?.up,
    };
    swept.then_some(if up { "down" } else { "up" })
}

fn arrow(event: &Event) -> Option<Element> {
    let strum = matches!(event.kind, Kind::Down | Kind::Up | Kind::Rasgueado);
    let way = towards(event).filter(|_| strum)?;
    Some(
        el("arrow")
            .with(text("arrow-direction", way))
            .with(text("arrow-style", "single")),
    )
}

/// The word for what the standard has no sign for.
fn said(event: &Event) -> Option<&'static str> {
    match event.kind {
        Kind::Rasgueado => Some("rasgueado"),
        Kind::Alzapua => Some("alzapúa"),
        Kind::Picado => Some("picado"),
        Kind::Damp => Some("apagado"),
        _ => match event.rest_stroke {
            Some(true) => Some("apoyando"),
            Some(false) => Some("tirando"),
            None => None,
        },
    }
}

fn plucks(page: &Page, event: &Event) -> Vec<Element> {
    let stroke = stroke(page, event);
    let little = stroke.and_then(|stroke| stroke.little_finger_as.as_deref());
    let letter = |finger: &Finger| match (finger, little) {
        (Finger::X, Some(said)) => said.to_owned(),
        _ => finger.letter().to_string(),
    };
    event
        .fingers
        .iter()
        .map(|finger| text("pluck", letter(finger)))
        .collect()
}

fn left_finger(page: &Page, event: usize) -> Option<Element> {
    let event = page.score.events.get(event)?;
    let finger = stroke(page, event)?.left.filter(|_| event.sounds.len() == 1)?;
    Some(text("fingering", finger))
}

fn stroke<'a>(page: &Page<'a>, event: &Event) -> Option<&'a Stroke> {
    let drawn = event.drawn?;
    page.lesson.patterns.get(drawn.pattern)?.strokes.get(drawn.stroke)
}

/// Where a hammer-on or pull-off begins and ends; numbered by its string.
fn ligados(page: &Page, event: usize, string: u8) -> Vec<Element> {
    let here = page.ligados.iter().filter(|ligado| ligado.string == string);
    let mut signs = Vec::new();
    for ligado in here {
        let (name, letter) = if ligado.pulled {
            ("pull-off", "P")
        } else {
            ("hammer-on", "H")
        };
        if ligado.to == event {
            signs.push(el(name).attr("type", "stop").attr("number", string));
        }
        if ligado.from == event {
            signs.push(text(name, letter).attr("type", "start").attr("number", string));
        }
    }
    signs
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::music::key::Mode;

    /// Scientific pitch by MIDI number (MTS): 60 is C4; the open strings E2 A2 D3 G3 B3 E4.
    #[test]
    fn pitches_by_letter_and_octave() {
        let key = |tonic: &str| {
            let tonic = NoteName::parse(tonic).unwrap();
            Some(Key {
                tonic,
                mode: Mode::Phrygian,
            })
        };
        let table = [
            (60, None, "C4"),
            (40, None, "E2"),
            (59, None, "B3"),
            (64, None, "E4"),
            (58, key("F#"), "A#3"),
            (58, key("A"), "Bb3"),
            // The leading third of G sharp is B sharp, which lies below the C of its sound.
            (60, key("G#"), "B#3"),
        ];
        for (pitch, key, expected) in table {
            let (name, octave) = spelled(pitch, key);
            assert_eq!(format!("{name}{octave}"), expected);
        }
    }
}
