//! Patterns, chord shapes and compases as pictures, drawn in Rust as SVG.
//!
//! Comes in: a pattern and the compás it is counted on. Goes out: SVG for a telephone and for a page, the key to
//! the signs used, and the same content as rows of words. What was not said is drawn open; nothing is guessed.
//! This room knows no page and no address. Start reading at [`pattern`].

/// A small writer of SVG.
pub mod svg;

/// The one time axis.
pub mod axis;

/// Which counts stand on one line.
mod systems;

/// What is to be drawn, gathered by moment.
mod scene;

/// Where each row lies.
mod plan;

/// The signs of both hands.
mod signs;

/// Count, chord, right hand, golpe, left hand.
mod rows;

/// The six lines.
mod strings;

/// The key to the signs that a drawing uses.
mod key;

/// What a drawing writes: parts of a count, the little finger's letter.
mod key_letters;

/// The same content in words.
mod words;

/// A chord shape lying down, strings as in the six lines.
mod chord_shape;

/// A compás as a row.
mod compas_row;

pub use chord_shape::chord_shape;
pub use compas_row::{CompasRow, compas_row, palmas_row};
pub use key::{KeyItem, key_of_all, sign_of};
pub use rows::part;
pub use words::{Row, rows};

use crate::music::lesson::Lesson;
use crate::music::pattern::Pattern;
use crate::music::position::Position;
use crate::pages::compas::Compas;
use crate::pages::labels::Labels;

use plan::{NARROW, Plan, Sheet, System, WIDE};
use scene::Scene;
use svg::{Frame, Svg};
use systems::Systems;

/// A pattern, drawn.
#[derive(Debug, Clone, PartialEq)]
pub struct Drawing {
    /// For a telephone.
    pub narrow: String,
    /// For a page.
    pub wide: String,
    pub key: Vec<KeyItem>,
    /// Moment by moment, in words.
    pub rows: Vec<Row>,
}

/// What the drawing is called on its page.
#[derive(Debug, Clone, Copy)]
pub struct Naming<'a> {
    /// Unique on the page.
    pub id: &'a str,
    pub title: &'a str,
    pub about: &'a str,
}

/// Draws a pattern; None when there is nothing in it to draw.
pub fn pattern(
    pattern: &Pattern,
    compas: &Compas,
    lesson: &Lesson,
    labels: &Labels,
    naming: Naming,
) -> Option<Drawing> {
    marked(pattern, compas, lesson, labels, (naming, Marks::default()))
}

/// Moments to be pointed at below the drawing.
#[derive(Debug, Clone, Copy, Default)]
pub struct Marks<'a> {
    pub at: &'a [Position],
    /// Filled: as it is. Hollow: as it was. The shape says it without colour.
    pub filled: bool,
}

/// The same, with moments pointed at.
pub fn marked(
    pattern: &Pattern,
    compas: &Compas,
    lesson: &Lesson,
    labels: &Labels,
    (naming, marks): (Naming, Marks),
) -> Option<Drawing> {
    let scene = Scene::new(pattern, compas, lesson, labels);
    if scene.axis.columns.is_empty() || scene.moments.is_empty() {
        return None;
    }
    let plan = Plan::of(&scene);
    let needs = plan::needs(&scene);
    let [narrow, wide] = [NARROW, WIDE].map(|sheet| systems::systems(&scene.axis, &needs, sheet.inner()));
    let carried = key::Carried {
        narrow: carries_on(&scene, &narrow),
        wide: carries_on(&scene, &wide),
    };
    Some(Drawing {
        narrow: sheet(&scene, (NARROW, &plan, &narrow), naming, marks),
        wide: sheet(&scene, (WIDE, &plan, &wide), naming, marks),
        key: key::key(&scene, carried),
        rows: words::rows(&scene),
    })
}

/// Does a line after the first begin under a chord that was said before it?
fn carries_on(scene: &Scene, systems: &Systems) -> bool {
    let starts = systems.lines.iter().skip(1);
    let mut starts = starts.filter_map(|line| scene.axis.columns.get(line.start));
    starts.any(|column| scene.carries_on(column.start))
}

fn sheet(scene: &Scene, (sheet, plan, systems): (Sheet, &Plan, &Systems), naming: Naming, marks: Marks) -> String {
    let mut svg = Svg::default();
    let mut top = 0.0;
    for line in &systems.lines {
        let columns = scene.axis.columns.get(line.clone()).unwrap_or_default();
        let (Some(first), Some(last)) = (columns.first(), columns.last()) else {
            continue;
        };
        let system = System {
            scene,
            plan,
            line: line.clone(),
            from: first.start,
            to: last.start + last.length,
            pulse: systems.pulse,
            left: sheet.gutter,
            top,
        };
        draw_system(&mut svg, &system, sheet);
        point_at(&mut svg, &system, marks);
        top += plan.height + 22.0;
    }
    let id = format!("{}-{}", naming.id, if sheet.full_names { "w" } else { "n" });
    svg.finish(&Frame {
        id: &id,
        class: sheet.class,
        width: sheet.width,
        height: top - if marks.at.is_empty() { 14.0 } else { 6.0 },
        title: naming.title,
        about: naming.about,
    })
}

fn draw_system(svg: &mut Svg, system: &System, sheet: Sheet) {
    let plan = system.plan;
    rows::counts(svg, system);
    if plan.has_strings {
        strings::lines(svg, system, plan);
    }
    names(svg, system, sheet);
    if let Some(chord) = plan.chord {
        rows::chords(svg, system, system.top + chord);
    }
    rows::right_hand(svg, system, plan);
    if let Some(golpe) = plan.golpe {
        rows::golpes(svg, system, system.top + golpe);
    }
    if plan.left.is_some() {
        rows::left_hand(svg, system, plan);
    }
    if plan.has_strings {
        strings::notes(svg, system, plan);
    }
    let end = system.x(system.to) - 13.0;
    if system.to >= system.scene.axis.end() - 1e-9 {
        svg.line("d-end", (end, system.top + 4.0), (end, system.top + plan.height));
    }
}

/// A square on its point below each marked moment: filled, or hollow.
fn point_at(svg: &mut Svg, system: &System, marks: Marks) {
    let class = if marks.filled { "d-mark-is" } else { "d-mark-was" };
    let pulses = |at: &Position| system.scene.axis.pulses(system.scene.compas, *at);
    for pulses in marks.at.iter().filter_map(pulses) {
        if pulses < system.from - 1e-9 || pulses >= system.to - 1e-9 {
            continue;
        }
        let (x, y) = (system.x(pulses), system.top + system.plan.height);
        svg.line("d-mark-line", (x, system.top + 26.0), (x, y));
        let d = format!("M{} {}l6 6l-6 6l-6 -6z", svg::number(x), svg::number(y));
        svg.path(class, &d);
    }
}

/// The names of the rows, at the left of each line.
fn names(svg: &mut Svg, system: &System, sheet: Sheet) {
    let labels = system.scene.labels;
    let plan = system.plan;
    let name = |full: &str, short: &str| labels.get(if sheet.full_names { full } else { short }).to_owned();
    let x = if sheet.full_names { 60.0 } else { 0.0 };
    let class = if sheet.full_names {
        "d-row-name to"
    } else {
        "d-row-name from"
    };
    let mut put = |y: f64, words: String| {
        if !words.is_empty() {
            svg.text(class, (x, system.top + y), &words);
        }
    };
    if sheet.full_names {
        put(
            20.0,
            name(
                if system.scene.axis.free {
                    "row_event"
                } else {
                    "row_count"
                },
                "row_count",
            ),
        );
        if let Some(chord) = plan.chord {
            put(chord - 7.0, name("row_chord", "row_chord"));
        }
    }
    if system.scene.lanes() > 0 {
        put(plan.right + plan.accent + 16.0, name("row_right", "row_right_short"));
    }
    if let Some(golpe) = plan.golpe.filter(|_| sheet.full_names) {
        put(golpe + 4.0, name("row_golpe", "row_golpe"));
    }
    if let Some(left) = plan.left {
        put(left + 13.0, name("row_left", "row_left_short"));
    }
    if plan.has_strings && sheet.full_names {
        put(plan.strings + STRINGS_MIDDLE, name("row_strings", "row_strings"));
    }
}

const STRINGS_MIDDLE: f64 = plan::STRING_GAP * 2.5 + 3.0;
