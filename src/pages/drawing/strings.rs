//! The six lines: string 1 on top, frets on them, the held shape just before the moment it is needed.

use super::plan::{Plan, STRING_GAP, System};
use super::rows::open_stroke;
use super::scene::{KnownFret, Moment, is_ligado, is_note, is_strum};
use super::svg::{Svg, number};
use crate::music::stroke::{Action, Stroke};
use crate::pages::labels::show_name;

pub fn lines(svg: &mut Svg, system: &System, plan: &Plan) {
    let from = system.x(system.from) - 20.0;
    let to = system.x(system.to) - 13.0;
    for string in 1..=6 {
        let y = string_y(system, plan, string);
        svg.line("d-string", (from, y), (to, y));
        svg.text("d-string-number", (from - 6.0, y + 3.2), &string.to_string());
    }
}

fn string_y(system: &System, plan: &Plan, string: u8) -> f64 {
    system.top + plan.strings + STRING_GAP * f64::from(string.clamp(1, 6) - 1)
}

pub fn notes(svg: &mut Svg, system: &System, plan: &Plan) {
    for moment in system.moments() {
        shape(svg, system, plan, moment);
    }
    for moment in system.moments() {
        for (index, stroke) in &moment.strokes {
            match stroke.action {
                Action::Damp if system.scene.has_strings() => {
                    let x = system.x(moment.pulses);
                    open_stroke(svg, *index, stroke);
                    let top = string_y(system, plan, 1) - 3.0;
                    svg.rect("d-damped", (x - 3.0, top), (6.0, STRING_GAP * 5.0 + 6.0), 2.0);
                    svg.close();
                }
                _ if is_note(stroke) => {
                    open_stroke(svg, *index, stroke);
                    note(svg, system, plan, moment, stroke);
                    svg.close();
                }
                _ => {}
            }
        }
    }
}

/// The frets of a chord where it is taken, drawn ahead of the beat: the left hand is there first.
fn shape(svg: &mut Svg, system: &System, plan: &Plan, moment: &Moment) {
    let Some(change) = moment.change else { return };
    let Some(shape) = system.scene.shape(&change.chord) else {
        return;
    };
    let x = system.x(moment.pulses) - 11.0;
    let top = string_y(system, plan, 1);
    svg.rect("d-shape", (x - 5.5, top - 6.0), (11.0, STRING_GAP * 5.0 + 12.0), 3.0);
    for string in 1..=6 {
        let words = shape.fret(string).map_or("×".to_owned(), |fret| fret.to_string());
        svg.text("d-shape-fret", (x, string_y(system, plan, string) + 3.4), &words);
    }
}

fn note(svg: &mut Svg, system: &System, plan: &Plan, moment: &Moment, stroke: &Stroke) {
    let x = system.x(moment.pulses);
    let name_at = (x, system.top + plan.names + 11.0);
    if let Some(note) = stroke.note {
        svg.text("d-note", name_at, &show_name(&note.to_string()));
    }
    if stroke.strings.is_empty() {
        if !is_strum(stroke.action) {
            unknown_string(svg, system, plan, x, stroke);
        }
        return;
    }
    if is_strum(stroke.action) || stroke.action == Action::Alzapua || stroke.action == Action::Roll {
        reach(svg, system, plan, x, stroke);
        return;
    }
    for string in &stroke.strings {
        let y = string_y(system, plan, *string);
        if is_ligado(stroke.action) {
            slur(svg, system, moment, *string, (x, y));
        }
        match system.scene.fret(stroke, *string, moment.pulses) {
            KnownFret::Said(fret) => fret_number(svg, "d-fret", x, y, fret),
            KnownFret::WorkedOut(fret) => fret_number(svg, "d-fret d-ours", x, y, fret),
            KnownFret::Open => {
                svg.circle("d-open d-plate", (x, y), 6.0);
                svg.text("d-open-mark", (x, y + 3.6), "?");
            }
        }
    }
}

fn fret_number(svg: &mut Svg, class: &str, x: f64, y: f64, fret: u8) {
    let half = if fret > 9 { 8.5 } else { 5.5 };
    svg.rect("d-plate", (x - half, y - 6.0), (half * 2.0, 12.0), 2.0);
    svg.text(class, (x, y + 4.3), &fret.to_string());
}

/// The fret, the note or nothing is said, but not the string: a hollow mark that lies on no string.
fn unknown_string(svg: &mut Svg, system: &System, plan: &Plan, x: f64, stroke: &Stroke) {
    let top = string_y(system, plan, 1);
    svg.rect(
        "d-open d-plate",
        (x - 6.0, top - 2.0),
        (12.0, STRING_GAP * 5.0 + 4.0),
        6.0,
    );
    let words = stroke.fret.map_or("?".to_owned(), |fret| fret.to_string());
    svg.text("d-open-mark", (x, top + STRING_GAP * 2.5 + 4.0), &words);
}

/// The strings that a strum goes over, where they are said: from the first it meets to the last.
fn reach(svg: &mut Svg, system: &System, plan: &Plan, x: f64, stroke: &Stroke) {
    let (Some(high), Some(low)) = (stroke.strings.iter().min(), stroke.strings.iter().max()) else {
        return;
    };
    let (top, foot) = (string_y(system, plan, *high), string_y(system, plan, *low));
    svg.line("d-reach", (x, top - 3.0), (x, foot + 3.0));
    for string in &stroke.strings {
        svg.circle("d-sign", (x, string_y(system, plan, *string)), 3.2);
    }
}

/// A ligado's arc from the note before it on the same string; a short one where that note is not drawn.
fn slur(svg: &mut Svg, system: &System, moment: &Moment, string: u8, to: (f64, f64)) {
    let on_string = |earlier: &&Moment| {
        earlier.pulses < moment.pulses - 1e-9
            && earlier.pulses >= system.from - 1e-9
            && earlier
                .strokes
                .iter()
                .any(|(_, stroke)| is_note(stroke) && stroke.strings.contains(&string))
    };
    let from = system
        .scene
        .moments
        .iter()
        .rfind(on_string)
        .map(|earlier| system.x(earlier.pulses));
    let x = from.unwrap_or(to.0 - 18.0);
    let d = format!(
        "M{} {}Q{} {} {} {}",
        number(x + 3.0),
        number(to.1 - 6.5),
        number((x + to.0) / 2.0),
        number(to.1 - 14.5),
        number(to.0 - 3.0),
        number(to.1 - 6.5)
    );
    svg.path("d-slur", &d);
}
