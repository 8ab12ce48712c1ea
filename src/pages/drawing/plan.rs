//! Where each row lies within a line of the drawing, and where a moment lies across it.

use std::ops::Range;

use super::axis::Column;
use super::scene::{Moment, Scene, is_ligado, letters};
use super::signs::fan_ends;
use super::systems::Need;
use crate::music::stroke::Action;
use crate::pages::labels::show_name;

/// Between two of the six lines.
pub const STRING_GAP: f64 = 12.0;

/// The sheet that a drawing is made for.
#[derive(Debug, Clone, Copy)]
pub struct Sheet {
    pub class: &'static str,
    pub width: f64,
    /// Room on the left for the names of the rows.
    pub gutter: f64,
    /// Rows are named in full, or by two letters.
    pub full_names: bool,
}

/// Made for a telephone: 360 CSS pixels less the page's margins.
pub const NARROW: Sheet = Sheet {
    class: "drawing-narrow",
    width: 328.0,
    gutter: 37.0,
    full_names: false,
};

/// Made for a page or a screen with room.
pub const WIDE: Sheet = Sheet {
    class: "drawing-wide",
    width: 760.0,
    gutter: 92.0,
    full_names: true,
};

impl Sheet {
    pub fn inner(self) -> f64 {
        self.width - self.gutter - 2.0
    }
}

/// Heights of the rows, from the top of a line; a row that the pattern does not need takes no room.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Plan {
    pub chord: Option<f64>,
    pub right: f64,
    pub lane: f64,
    /// Room for accents above the signs of the right hand.
    pub accent: f64,
    pub golpe: Option<f64>,
    pub ligado: f64,
    pub tips: f64,
    pub events: f64,
    pub left: Option<f64>,
    pub strings: f64,
    pub has_strings: bool,
    pub names: f64,
    pub height: f64,
}

impl Plan {
    pub fn of(scene: &Scene) -> Self {
        let mut y = if scene.axis.columns.iter().any(|column| column.count != column.shown) {
            46.0
        } else {
            36.0
        };
        let chord = (!scene.pattern.changes.is_empty()).then(|| {
            y += 22.0;
            y - 3.0
        });
        y += 6.0;
        let accent = if scene.has(|stroke| stroke.accent) { 9.0 } else { 0.0 };
        let right = y;
        let lane = accent + 25.0 + 20.0;
        y += lane * scene.lanes() as f64;
        let golpe = scene.has_golpe().then(|| {
            y += 18.0;
            y - 8.0
        });
        let left_top = y;
        let ligado = y;
        if scene.has(|stroke| is_ligado(stroke.action)) {
            y += 22.0;
        }
        let tips = y;
        if scene.has(|stroke| stroke.left.is_some()) {
            y += 20.0;
        }
        let events = y;
        let lanes = scene.moments.iter().map(|moment| moment.left.len()).max().unwrap_or(0);
        y += 34.0 * lanes as f64;
        let left = scene.has_left().then_some(left_top);
        let has_strings = scene.has_strings();
        let strings = y + 14.0;
        if has_strings {
            y = strings + STRING_GAP * 5.0 + 8.0;
        }
        let names = y;
        if scene.has_names() {
            y += 15.0;
        }
        Self {
            chord,
            right,
            lane,
            accent,
            golpe,
            ligado,
            tips,
            events,
            left,
            strings,
            has_strings,
            names,
            height: y,
        }
    }
}

/// One line of the drawing.
#[derive(Debug)]
pub struct System<'a> {
    pub scene: &'a Scene<'a>,
    pub plan: &'a Plan,
    pub line: Range<usize>,
    /// In pulses from the start of the drawing.
    pub from: f64,
    pub to: f64,
    /// Units a pulse.
    pub pulse: f64,
    pub left: f64,
    pub top: f64,
}

impl System<'_> {
    pub fn x(&self, pulses: f64) -> f64 {
        self.left + (pulses - self.from) * self.pulse
    }

    pub fn columns(&self) -> &[Column] {
        self.scene.axis.columns.get(self.line.clone()).unwrap_or_default()
    }

    pub fn moments(&self) -> Vec<&Moment<'_>> {
        let inside = |moment: &&Moment| moment.pulses >= self.from - 1e-9 && moment.pulses < self.to - 1e-9;
        self.scene.moments.iter().filter(inside).collect()
    }
}

/// The room that each thing needs before the next in its row.
pub fn needs(scene: &Scene) -> Vec<Need> {
    let end = scene.axis.end();
    let mut needs = count_needs(scene);
    for (index, moment) in scene.moments.iter().enumerate() {
        let following = scene.moments.get(index + 1..).unwrap_or_default();
        let next = following
            .iter()
            .map(|later| later.pulses)
            .find(|pulses| *pulses > moment.pulses + 1e-9);
        let room = moment
            .strokes
            .iter()
            .map(|(_, stroke)| stroke_room(scene, moment, stroke))
            .fold(20.0, f64::max);
        needs.push(Need {
            start: moment.pulses,
            room,
            next: next.unwrap_or(end),
        });
        let before = scene.moments.get(..index).unwrap_or_default().iter().rev();
        let before = before
            .map(|earlier| earlier.pulses)
            .find(|pulses| *pulses < moment.pulses - 1e-9);
        let reach = moment
            .strokes
            .iter()
            .map(|(_, stroke)| reach_back(stroke))
            .fold(0.0, f64::max);
        if let Some(start) = before.filter(|_| reach > 11.0) {
            needs.push(Need {
                start,
                room: reach + 9.0,
                next: moment.pulses,
            });
        }
        if let Some(change) = moment.change {
            let next = following
                .iter()
                .filter(|later| later.change.is_some())
                .map(|later| later.pulses)
                .next();
            let room = 9.0 + 8.5 * show_name(&change.chord.to_string()).chars().count() as f64;
            needs.push(Need {
                start: moment.pulses,
                room,
                next: next.unwrap_or(end),
            });
        }
        if moment
            .left
            .iter()
            .any(|event| event.string.is_some() || event.fret.is_some())
        {
            let next = following
                .iter()
                .filter(|later| !later.left.is_empty())
                .map(|later| later.pulses)
                .next();
            needs.push(Need {
                start: moment.pulses,
                room: 34.0,
                next: next.unwrap_or(end),
            });
        }
    }
    needs
}

/// The numbers of the counts must not run into each other, nor into an accented "and" between them.
fn count_needs(scene: &Scene) -> Vec<Need> {
    let mut marks: Vec<(f64, f64)> = Vec::new();
    for column in &scene.axis.columns {
        let digits = column.shown.to_string().len() as f64;
        marks.push((column.start, 14.0 + 7.0 * digits));
        let parts = scene
            .compas
            .accents
            .iter()
            .filter(|at| at.whole() == column.in_round && *at.fraction().numer() != 0);
        marks.extend(parts.map(|at| (column.start + super::axis::ratio(at.fraction()) * column.length, 22.0)));
    }
    marks.sort_by(|a, b| a.0.total_cmp(&b.0));
    let next = |index: usize| marks.get(index + 1).map_or(scene.axis.end(), |mark| mark.0);
    let need = |(index, (start, room)): (usize, &(f64, f64))| Need {
        start: *start,
        room: *room,
        next: next(index),
    };
    marks.iter().enumerate().map(need).collect()
}

/// How far a stroke's letters reach to the left of its moment: several fingers together stand in its middle.
fn reach_back(stroke: &crate::music::stroke::Stroke) -> f64 {
    let written: usize = letters(stroke).iter().map(|letter| letter.chars().count()).sum();
    match stroke.action {
        Action::Rasgueado | Action::Golpe => 0.0,
        _ => 9.5 * written as f64 / 2.0,
    }
}

fn stroke_room(scene: &Scene, moment: &Moment, stroke: &crate::music::stroke::Stroke) -> f64 {
    let letters = letters(stroke);
    let written: usize = letters.iter().map(|letter| letter.chars().count()).sum();
    match stroke.action {
        Action::Rasgueado => {
            let spread = fan_ends(&letters).last().copied().unwrap_or(0.0);
            // The next sign reaches a little to the left of its moment.
            spread + 13.0
        }
        Action::Golpe => 26.0_f64.max(16.0 + 9.0 * written as f64),
        Action::Rest => 40.0,
        Action::Damp | Action::Alzapua | Action::Tremolo => 24.0,
        _ if moment.change.is_some_and(|change| scene.shape(&change.chord).is_some()) => 24.0,
        _ => 22.0_f64.max(9.0 + 9.5 * written as f64),
    }
}
