//! A compás as a row of posts: tall and dark where it is leant on, low where it is not, as wide as the count is long.

use super::svg::{Frame, Svg};
use crate::music::position::Position;
use crate::pages::compas::Compas;

/// What is marked on the row.
#[derive(Debug, Clone, Default)]
pub struct CompasRow {
    /// Counts that a variation takes the place of; empty when the row only shows the compás.
    pub taken: Vec<i64>,
    /// Counts of the next round that it runs on into.
    pub runs_on: Vec<i64>,
}

const TALL: f64 = 26.0;
const LOW: f64 = 9.0;

/// Draws the row. With `silent`, it is an ornament beside words that say the same.
pub fn compas_row(compas: &Compas, marks: &CompasRow, naming: Option<super::Naming>) -> String {
    let round = compas.round();
    let pulses: i64 = round.iter().map(|count| compas.length(*count)).sum();
    let unit = if pulses > 8 { 26.0 } else { 34.0 };
    let marking = !marks.taken.is_empty();
    let mut svg = Svg::default();
    let mut x = 2.0;
    for count in &round {
        let width = compas.length(*count) as f64 * unit;
        post(
            &mut svg,
            compas,
            *count,
            (x, width),
            marking && !marks.taken.contains(count),
        );
        if marks.taken.contains(count) {
            svg.rect("d-taken", (x, TALL + 22.0), (width, 4.0), 0.0);
        }
        x += width;
    }
    if !marks.runs_on.is_empty() {
        let from = x + 8.0;
        svg.line("d-round-end", (x + 3.0, 2.0), (x + 3.0, TALL + 26.0));
        x = from;
        for count in &marks.runs_on {
            let width = compas.length(*count) as f64 * unit;
            post(&mut svg, compas, *count, (x, width), false);
            svg.rect("d-taken", (x, TALL + 22.0), (width, 4.0), 0.0);
            x += width;
        }
    }
    let (width, height) = (x + 4.0, TALL + 30.0);
    match naming {
        Some(naming) => svg.finish(&Frame {
            id: naming.id,
            class: "compas-row",
            width,
            height,
            title: naming.title,
            about: naming.about,
        }),
        None => svg.finish_silent("compas-row", width, height),
    }
}

fn post(svg: &mut Svg, compas: &Compas, count: i64, at: (f64, f64), quiet: bool) {
    let (x, width) = at;
    let accent = compas.is_accent(Position::count(count));
    let height = if accent { TALL } else { LOW };
    let class = match (accent, quiet) {
        (true, false) => "d-post-strong",
        (true, true) => "d-post-strong d-quiet",
        (false, false) => "d-post",
        (false, true) => "d-post d-quiet",
    };
    svg.rect(class, (x + 1.5, TALL - height + 2.0), (width - 3.0, height), 1.5);
    for accent in compas
        .accents
        .iter()
        .filter(|accent| accent.whole() == count && *accent.fraction().numer() != 0)
    {
        let inside = x + super::axis::ratio(accent.fraction()) * width;
        svg.rect("d-post-strong", (inside - 2.5, 2.0), (5.0, TALL), 1.0);
    }
    let class = match (accent, quiet) {
        (_, true) => "d-row-count d-quiet",
        (true, false) => "d-row-count-strong",
        (false, false) => "d-row-count",
    };
    svg.text(class, (x + width / 2.0, TALL + 17.0), &count.to_string());
}
