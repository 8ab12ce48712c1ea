//! Pieces: spans small enough to learn, cut where the music itself has seams, and chained forward and backward.
//!
//! Skilled players start and stop at the seams of a piece, and remember the beginnings of its sections best (Williamon
//! & Valentine 2002, doi 10.1006/cogp.2001.0759; Chaffin & Imreh 1997): observed, not proven as a method.

use super::score::{Bar, Event, Ground, Kind, Pulses};

/// From and up to, in pulses of a bar.
pub type Span = (Pulses, Pulses);

/// A place where a bar may be cut, and how much speaks for it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Seam {
    at: Pulses,
    weight: i32,
}

const CHORD_CHANGES: i32 = 4;
const HAND_CHANGES: i32 = 3;
const GROUP_BEGINS: i32 = 2;

/// Cuts a stretch of a bar into pieces, in order, without gap or overlap.
///
/// `groups` are moments at which a group of counts begins.
pub fn pieces(bar: &Bar, ground: &Ground, groups: &[Pulses], stretch: Span) -> Vec<Span> {
    let (from, to) = stretch;
    if to <= from {
        return Vec::new();
    }
    let inside = |at: &Pulses| *at > from && *at < to;
    let starts: Vec<Pulses> = if ground.counts.is_empty() {
        bar.events
            .iter()
            .filter(|event| event.kind != Kind::Hand)
            .map(|event| event.at)
            .collect()
    } else {
        ground.counts.iter().map(|count| count.at).collect()
    };
    let mut seams = vec![Seam { at: from, weight: 0 }];
    for at in starts.into_iter().filter(inside) {
        if seams.last().is_some_and(|last| last.at < at) {
            let weight = weight(bar, groups, at);
            seams.push(Seam { at, weight });
        }
    }
    seams.push(Seam { at: to, weight: 0 });
    best_cuts(&seams)
}

fn weight(bar: &Bar, groups: &[Pulses], at: Pulses) -> i32 {
    let chord = bar.chords.iter().any(|chord| chord.at == at);
    let (before, after): (Vec<&Event>, Vec<&Event>) = bar
        .events
        .iter()
        .filter(|event| family(event.kind) != Family::None)
        .partition(|event| event.at < at);
    let hand = match (before.last(), after.first()) {
        (Some(before), Some(after)) => family(before.kind) != family(after.kind),
        _ => false,
    };
    let mut weight = 0;
    if chord {
        weight += CHORD_CHANGES;
    }
    if hand {
        weight += HAND_CHANGES;
    }
    if groups.contains(&at) {
        weight += GROUP_BEGINS;
    }
    weight
}

/// What the right hand is about, roughly.
#[derive(PartialEq, Eq)]
enum Family {
    Strums,
    Notes,
    Rolls,
    None,
}

fn family(kind: Kind) -> Family {
    match kind {
        Kind::Down | Kind::Up => Family::Strums,
        Kind::Pluck | Kind::PullOff | Kind::HammerOn | Kind::Picado | Kind::Tremolo | Kind::Roll => Family::Notes,
        Kind::Rasgueado | Kind::Alzapua => Family::Rolls,
        Kind::Golpe | Kind::Damp | Kind::Rest | Kind::Hand => Family::None,
    }
}

/// What a piece of this length costs: three pulses are best, more than six are for when nothing else is left.
fn unwieldy(length: Pulses) -> i32 {
    match length.ceil().to_integer() {
        ..=1 => 5,
        2 => 2,
        3 => 0,
        4 => 1,
        5 => 4,
        6 => 7,
        longer => 7 + 6 * i32::try_from(longer - 6).unwrap_or(i32::MAX / 16).min(1_000_000),
    }
}

/// The cuts with the most weight at their seams and the least unwieldiness; of equals the longest first piece.
fn best_cuts(seams: &[Seam]) -> Vec<Span> {
    // best[i]: what the seams from i to the end are worth, and where the piece that begins at i ends.
    let mut best: Vec<(i32, usize)> = vec![(0, 0); seams.len()];
    for (begin, seam) in seams.iter().enumerate().rev().skip(1) {
        let ends = seams.iter().enumerate().skip(begin + 1);
        let worth = ends.map(|(end, other)| {
            let rest = best.get(end).map_or(0, |(worth, _)| *worth);
            (other.weight - unwieldy(other.at - seam.at) + rest, end)
        });
        if let (Some(found), Some(place)) = (worth.max(), best.get_mut(begin)) {
            *place = found;
        }
    }
    let mut spans = Vec::new();
    let mut begin = 0;
    while begin + 1 < seams.len() {
        let end = best.get(begin).map_or(0, |(_, end)| *end).max(begin + 1);
        if let (Some(from), Some(to)) = (seams.get(begin), seams.get(end)) {
            spans.push((from.at, to.at));
        }
        begin = end;
    }
    spans
}

/// Pieces strung together: first and second, first to third, and so on.
pub fn forward(pieces: &[Span]) -> Vec<Span> {
    let first = pieces.first();
    let longer = pieces.iter().skip(1);
    longer.filter_map(|piece| Some((first?.0, piece.1))).collect()
}

/// Pieces strung together from the end: the last two, the last three, and so on.
pub fn backward(pieces: &[Span]) -> Vec<Span> {
    let last = pieces.last();
    let longer = pieces.iter().rev().skip(1);
    longer.filter_map(|piece| Some((piece.0, last?.1))).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn whole(pulses: i64) -> Pulses {
        Pulses::from_integer(pulses)
    }

    fn cut(weights: &[(i64, i32)]) -> Vec<(i64, i64)> {
        let seam = |(at, weight): &(i64, i32)| Seam {
            at: whole(*at),
            weight: *weight,
        };
        let seams: Vec<Seam> = weights.iter().map(seam).collect();
        let spans = best_cuts(&seams);
        spans
            .iter()
            .map(|(from, to)| (from.to_integer(), to.to_integer()))
            .collect()
    }

    #[test]
    fn cuts_fall_where_most_speaks_for_them() {
        // Twelve counts with chord changes on the fourth and the tenth, a group on the seventh.
        let mut seams: Vec<(i64, i32)> = (0..=12).map(|at| (at, 0)).collect();
        seams[3].1 = 4;
        seams[6].1 = 2;
        seams[9].1 = 4;
        assert_eq!(cut(&seams), [(0, 3), (3, 6), (6, 9), (9, 12)]);
    }

    #[test]
    fn a_short_stretch_stays_whole() {
        assert_eq!(cut(&[(0, 0), (1, 0), (2, 0)]), [(0, 2)]);
        assert_eq!(cut(&[(0, 0), (1, 0)]), [(0, 1)]);
    }

    #[test]
    fn long_counts_are_pieces_of_their_own() {
        // A siguiriya: 2 2 3 3 2 pulses.
        assert_eq!(
            cut(&[(0, 0), (2, 0), (4, 4), (7, 4), (10, 4), (12, 0)]),
            [(0, 4), (4, 7), (7, 10), (10, 12)]
        );
    }

    #[test]
    fn chains_grow_from_both_ends() {
        let pieces = [(whole(0), whole(3)), (whole(3), whole(6)), (whole(6), whole(12))];
        assert_eq!(forward(&pieces), [(whole(0), whole(6)), (whole(0), whole(12))]);
        assert_eq!(backward(&pieces), [(whole(3), whole(12)), (whole(0), whole(12))]);
    }
}
