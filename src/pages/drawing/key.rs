//! The key: each sign that a drawing uses, with what it means.

use serde::Serialize;

use super::key_letters::{little_finger, part_of_count, parts_used, usual_parts};
use super::plan::STRING_GAP;
use super::rows::sign;
use super::scene::{KnownFret, Scene, is_note, is_strum, letters, wants_finger};
use super::signs::{self, Sign};
use super::svg::Svg;
use crate::music::left_hand::LeftAction;
use crate::music::stroke::Action;
use crate::pages::labels::Labels;

/// One entry of the key.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct KeyItem {
    pub svg: String,
    pub words: String,
    /// The sheet that it belongs to, where it is not both.
    pub only: Option<OnlyOn>,
}

/// Lines break in other places on a telephone: what stands at a break is on one sheet and not on the other.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum OnlyOn {
    Narrow,
    Wide,
}

/// On which sheets a chord is carried on from one line to the next.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Carried {
    pub narrow: bool,
    pub wide: bool,
}

const ALL: [Sign; 28] = [
    Sign::Accent,
    Sign::Down,
    Sign::Up,
    Sign::Pluck,
    Sign::Picado,
    Sign::RestStroke,
    Sign::FreeStroke,
    Sign::Rasgueado,
    Sign::Roll,
    Sign::Tremolo,
    Sign::Alzapua,
    Sign::Damp,
    Sign::Rest,
    Sign::StrokeAccent,
    Sign::Golpe,
    Sign::Hammer,
    Sign::PullOff,
    Sign::Fingertip,
    Sign::Lift,
    Sign::Keep,
    Sign::Slide,
    Sign::Shape,
    Sign::WorkedOut,
    Sign::Open,
    Sign::OpenArrival,
    Sign::Implied,
    Sign::Beyond,
    Sign::Held,
];

/// The whole key, for the page that explains how to read a drawing.
pub fn key_of_all(labels: &Labels) -> Vec<KeyItem> {
    let parts = usual_parts().map(|part| part_of_count(part, labels));
    let signs = ALL.iter().map(|sign| item(*sign, labels));
    parts
        .into_iter()
        .chain(signs)
        .chain([little_finger("x", labels)])
        .collect()
}

/// The sign of one action.
pub fn sign_of(action: Action, labels: &Labels) -> KeyItem {
    item(sign(action), labels)
}

/// The signs of one drawing, in the order of the whole key.
pub fn key(scene: &Scene, carried: Carried) -> Vec<KeyItem> {
    let labels = scene.labels;
    let parts = parts_used(scene).into_iter().map(|part| part_of_count(part, labels));
    let signs = ALL.iter().filter(|sign| uses(scene, **sign));
    let signs = signs.map(|sign| in_short(*sign, labels));
    let held = held(carried, labels);
    let letter = scene.little_finger().map(|letter| little_finger(&letter, labels));
    parts.chain(signs).chain(held).chain(letter).collect()
}

fn in_short(sign: Sign, labels: &Labels) -> KeyItem {
    KeyItem {
        words: labels.get(short(sign)).to_owned(),
        ..item(sign, labels)
    }
}

fn held(carried: Carried, labels: &Labels) -> Option<KeyItem> {
    let only = match carried {
        Carried {
            narrow: false,
            wide: false,
        } => return None,
        Carried {
            narrow: true,
            wide: true,
        } => None,
        Carried { narrow: true, .. } => Some(OnlyOn::Narrow),
        Carried { .. } => Some(OnlyOn::Wide),
    };
    Some(KeyItem {
        only,
        ..in_short(Sign::Held, labels)
    })
}

fn uses(scene: &Scene, wanted: Sign) -> bool {
    let left = |action: LeftAction| {
        scene
            .moments
            .iter()
            .any(|moment| moment.left.iter().any(|event| event.action == action))
    };
    match wanted {
        Sign::Accent => scene.axis.columns.iter().any(|column| {
            !scene.axis.free
                && scene
                    .compas
                    .accents
                    .iter()
                    .any(|accent| accent.whole() == column.in_round)
        }),
        Sign::RestStroke => scene.has(|stroke| stroke.rest_stroke == Some(true)),
        Sign::FreeStroke => scene.has(|stroke| stroke.rest_stroke == Some(false)),
        Sign::StrokeAccent => scene.has(|stroke| stroke.accent),
        Sign::Fingertip => scene.has(|stroke| stroke.left.is_some()) || left(LeftAction::Put),
        Sign::Lift => left(LeftAction::Lift),
        Sign::Keep => left(LeftAction::Keep),
        Sign::Slide => left(LeftAction::Slide),
        Sign::Shape => scene
            .moments
            .iter()
            .any(|moment| moment.change.is_some_and(|change| scene.shape(&change.chord).is_some())),
        Sign::WorkedOut => frets(scene).any(|fret| matches!(fret, KnownFret::WorkedOut(_))),
        Sign::Open => {
            let no_finger = scene.has(|stroke| wants_finger(stroke.action) && letters(stroke).is_empty());
            let no_string =
                scene.has(|stroke| is_note(stroke) && stroke.strings.is_empty() && !is_strum(stroke.action));
            no_finger || no_string || frets(scene).any(|fret| fret == KnownFret::Open)
        }
        Sign::OpenArrival => scene.has(|stroke| stroke.action == Action::Rasgueado && stroke.arrival.is_none()),
        Sign::Implied => scene.has(|stroke| stroke.implied.is_some()),
        Sign::Beyond => scene.axis.columns.iter().any(|column| column.beyond),
        // It hangs on where the lines break, not on the pattern.
        Sign::Held => false,
        of_action => scene.has(|stroke| sign(stroke.action) == of_action),
    }
}

fn frets<'a>(scene: &'a Scene) -> impl Iterator<Item = KnownFret> + 'a {
    scene.moments.iter().flat_map(move |moment| {
        let notes = moment
            .strokes
            .iter()
            .filter(|(_, stroke)| is_note(stroke) && !is_strum(stroke.action));
        notes.flat_map(move |(_, stroke)| {
            stroke
                .strings
                .iter()
                .map(move |string| scene.fret(stroke, *string, moment.pulses))
        })
    })
}

fn item(sign: Sign, labels: &Labels) -> KeyItem {
    let mut svg = Svg::default();
    let (x, width) = match sign {
        Sign::Rasgueado => (8.0, 50.0),
        Sign::Alzapua | Sign::Rest | Sign::Keep | Sign::Slide | Sign::Lift => (12.0, 36.0),
        _ => (14.0, 28.0),
    };
    draw(&mut svg, sign, x);
    KeyItem {
        svg: svg.finish_silent("drawing-sign", width, 30.0),
        words: labels.get(label(sign)).to_owned(),
        only: None,
    }
}

fn draw(svg: &mut Svg, sign: Sign, x: f64) {
    match sign {
        Sign::Accent => {
            svg.text("d-count-strong", (x, 17.0), "3");
            svg.rect("d-bar", (x - 8.0, 21.0), (16.0, 4.5), 0.0);
        }
        Sign::RestStroke => {
            svg.circle("d-sign", (x, 14.0), 5.2);
            signs::rest_stroke(svg, x, 14.0);
        }
        Sign::FreeStroke => {
            svg.circle("d-sign", (x, 16.0), 5.2);
            signs::free_stroke(svg, x, 16.0);
        }
        Sign::Rasgueado => signs::fan(svg, "d-ray", x, 3.0, 27.0, &signs::fan_ends(&[])),
        Sign::Rest => signs::rest(svg, x, x + 20.0, 18.0),
        Sign::StrokeAccent => signs::stroke_accent(svg, x, 15.0),
        Sign::Golpe => signs::golpe(svg, x, 15.0),
        Sign::Hammer | Sign::PullOff => signs::ligado(svg, sign, x - 2.0, 13.0),
        Sign::Fingertip => signs::fingertip(svg, x, 15.0, Some(3)),
        Sign::Lift | Sign::Keep | Sign::Slide => {
            signs::fingertip(svg, x, if sign == Sign::Lift { 10.0 } else { 14.0 }, Some(3));
            signs::after_fingertip(svg, sign, x, 4.0);
        }
        Sign::Shape => {
            svg.rect("d-shape", (x - 6.0, 2.0), (12.0, 26.0), 3.0);
            for (index, fret) in ["0", "2"].iter().enumerate() {
                svg.text("d-shape-fret", (x, 12.5 + STRING_GAP * index as f64), fret);
            }
        }
        Sign::WorkedOut => svg.text("d-fret d-ours", (x, 19.0), "2"),
        Sign::Open => signs::open(svg, x, 15.0, 6.5),
        Sign::OpenArrival => {
            svg.line("d-lasts-open", (x - 12.0, 15.0), (x + 2.0, 15.0));
            signs::open(svg, x + 7.0, 15.0, 5.0);
        }
        Sign::Implied => {
            svg.text("d-finger", (x, 17.0), "i");
            signs::implied(svg, x, 22.0);
        }
        Sign::Beyond => {
            svg.rect("d-beyond", (x - 11.0, 3.0), (22.0, 24.0), 3.0);
            svg.text("d-count", (x, 20.0), "1");
        }
        Sign::Held => svg.text("d-held from", (x - 12.0, 19.0), "(A)"),
        of_hand => signs::right(svg, of_hand, x, 3.0, 27.0),
    }
}

/// The label that explains a sign.
fn label(sign: Sign) -> &'static str {
    match sign {
        Sign::Accent => "sign_accent",
        Sign::Down => "sign_down",
        Sign::Up => "sign_up",
        Sign::Pluck => "sign_pluck",
        Sign::Picado => "sign_picado",
        Sign::RestStroke => "sign_rest_stroke",
        Sign::FreeStroke => "sign_free_stroke",
        Sign::Rasgueado => "sign_rasgueado",
        Sign::Roll => "sign_roll",
        Sign::Tremolo => "sign_tremolo",
        Sign::Alzapua => "sign_alzapua",
        Sign::Damp => "sign_damp",
        Sign::Rest => "sign_rest",
        Sign::StrokeAccent => "sign_stroke_accent",
        Sign::Golpe => "sign_golpe",
        Sign::Hammer => "sign_hammer",
        Sign::PullOff => "sign_pull_off",
        Sign::Fingertip => "sign_fingertip",
        Sign::Lift => "sign_lift",
        Sign::Keep => "sign_keep",
        Sign::Slide => "sign_slide",
        Sign::Shape => "sign_shape",
        Sign::WorkedOut => "sign_worked_out",
        Sign::Open => "sign_open",
        Sign::OpenArrival => "sign_open_arrival",
        Sign::Implied => "sign_implied",
        Sign::Beyond => "sign_beyond",
        Sign::Held => "sign_held",
    }
}

/// The label that names a sign in a drawing's own key.
fn short(sign: Sign) -> &'static str {
    match sign {
        Sign::Accent => "key_accent",
        Sign::Down => "key_down",
        Sign::Up => "key_up",
        Sign::Pluck => "key_pluck",
        Sign::Picado => "key_picado",
        Sign::RestStroke => "key_rest_stroke",
        Sign::FreeStroke => "key_free_stroke",
        Sign::Rasgueado => "key_rasgueado",
        Sign::Roll => "key_roll",
        Sign::Tremolo => "key_tremolo",
        Sign::Alzapua => "key_alzapua",
        Sign::Damp => "key_damp",
        Sign::Rest => "key_rest",
        Sign::StrokeAccent => "key_stroke_accent",
        Sign::Golpe => "key_golpe",
        Sign::Hammer => "key_hammer",
        Sign::PullOff => "key_pull_off",
        Sign::Fingertip => "key_fingertip",
        Sign::Lift => "key_lift",
        Sign::Keep => "key_keep",
        Sign::Slide => "key_slide",
        Sign::Shape => "key_shape",
        Sign::WorkedOut => "key_worked_out",
        Sign::Open => "key_open",
        Sign::OpenArrival => "key_open_arrival",
        Sign::Implied => "key_implied",
        Sign::Beyond => "key_beyond",
        Sign::Held => "key_held",
    }
}
