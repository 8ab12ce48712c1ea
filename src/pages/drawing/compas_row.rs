//! A compás as a row of posts on the ground it takes: a tall post where it is leant on, a low one where it is not.

use super::svg::{Frame, Svg};
use crate::music::position::Position;
use crate::pages::compas::Compas;

/// What is marked on the row.
#[derive(Debug, Clone, Default)]
pub struct CompasRow {
    /// The counts shown, as said; empty for one round.
    pub counts: Vec<i64>,
    /// Counts that a variation takes the place of; empty when the row only shows the compás.
    pub taken: Vec<i64>,
    /// Counts that it runs on into, of the same round.
    pub runs_on: Vec<i64>,
    /// Counts that it runs on into, of the next round.
    pub next_round: Vec<i64>,
}

const TALL: f64 = 27.0;
const LOW: f64 = 8.0;
/// From the left edge of a count to the middle of its post.
const POST: f64 = 8.0;

/// Draws the row. Without a naming it is an ornament beside words that say the same.
pub fn compas_row(compas: &Compas, marks: &CompasRow, naming: Option<super::Naming>) -> String {
    let round = if marks.counts.is_empty() {
        compas.round()
    } else {
        marks.counts.clone()
    };
    let pulses: i64 = round.iter().map(|count| compas.length(*count)).sum();
    let unit = if pulses > 8 { 26.0 } else { 36.0 };
    let marking = !marks.taken.is_empty();
    let mut svg = Svg::default();
    let mut x = 1.0;
    for count in &round {
        let width = compas.length(*count) as f64 * unit;
        let taken = marks.taken.contains(count);
        let runs_on = marks.runs_on.contains(count);
        post(&mut svg, compas, *count, (x, width), marking && !taken && !runs_on);
        if taken {
            take(&mut svg, "d-taken", x, width);
        } else if runs_on {
            take(&mut svg, "d-runs-on", x, width);
        }
        x += width;
    }
    if !marks.next_round.is_empty() {
        svg.line("d-round-end", (x + 1.0, 2.0), (x + 1.0, TALL + 27.0));
        x += 5.0;
        for count in &marks.next_round {
            let width = compas.length(*count) as f64 * unit;
            post(&mut svg, compas, *count, (x, width), false);
            take(&mut svg, "d-runs-on", x, width);
            x += width;
        }
    }
    let (width, height) = (x + 3.0, TALL + 29.0);
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

/// The mark of a count that a variation takes, or runs on into.
fn take(svg: &mut Svg, class: &str, x: f64, width: f64) {
    svg.rect(class, (x + 1.0, TALL + 23.0), (width - 1.0, 4.0), 0.0);
}

/// A count: its post where it begins, and the ground that it lasts.
fn post(svg: &mut Svg, compas: &Compas, count: i64, at: (f64, f64), quiet: bool) {
    let (x, width) = at;
    let ground = TALL + 2.0;
    svg.line("d-ground", (x + 2.0, ground), (x + width - 1.0, ground));
    let accent = compas.is_accent(Position::count(count));
    let (height, half) = if accent { (TALL, 3.5) } else { (LOW, 1.5) };
    let class = if quiet { "d-post-quiet" } else { "d-post" };
    svg.rect(class, (x + POST - half, ground - height), (half * 2.0, height), 0.0);
    let parts = compas
        .accents
        .iter()
        .filter(|accent| accent.whole() == compas.in_round(count) && *accent.fraction().numer() != 0);
    for part in parts {
        let inside = x + POST + super::axis::ratio(part.fraction()) * width;
        svg.rect(class, (inside - 3.5, ground - TALL), (7.0, TALL), 0.0);
    }
    let class = match (accent, quiet) {
        (true, false) => "d-row-count-strong",
        _ => "d-row-count",
    };
    svg.text(class, (x + POST, TALL + 18.0), &count.to_string());
}

/// A clapping part over the same row: a full spot for a strong clap, a ring for a light one.
pub fn palmas_row(compas: &Compas, claps: &[Position], strong: &[Position], naming: super::Naming) -> String {
    let round = compas.round();
    let pulses: i64 = round.iter().map(|count| compas.length(*count)).sum();
    let unit = if pulses > 8 { 26.0 } else { 36.0 };
    let mut svg = Svg::default();
    let mut x = 1.0;
    for count in &round {
        let width = compas.length(*count) as f64 * unit;
        svg.line("d-ground", (x + 2.0, 22.0), (x + width - 1.0, 22.0));
        for clap in claps.iter().filter(|clap| clap.whole() == *count) {
            let at = x + POST + super::axis::ratio(clap.fraction()) * width;
            let (class, radius) = if strong.contains(clap) {
                ("d-clap", 6.0)
            } else {
                ("d-clap-soft", 4.0)
            };
            svg.circle(class, (at, 12.0), radius);
        }
        svg.text("d-row-count", (x + POST, 38.0), &count.to_string());
        x += width;
    }
    svg.finish(&Frame {
        id: naming.id,
        class: "compas-row",
        width: x + 10.0,
        height: 42.0,
        title: naming.title,
        about: naming.about,
    })
}
