//! The shortest closed walk that plays every allowed join at least once.
//!
//! Places are versions of the compás, ways are allowed joins. Walking every way of a directed graph at least once and
//! coming home is the directed route-inspection problem: what has to be walked twice is a cheapest flow from the
//! places that more ways enter than leave to those that more leave than enter; with that added, every place is left as
//! often as it is entered and one round over everything exists (Edmonds & Johnson 1973, doi 10.1007/BF01580113).
//!
//! Where not every version leads back to every other no single closed walk exists. Then there is one circuit for each
//! set of versions that lead back to one another; the joins between the sets go one way only and are said to.

use serde::{Deserialize, Serialize};

use super::flow::{self, Arc};

/// A join that may be played: `to` right after `from`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub struct Way {
    pub from: usize,
    pub to: usize,
    /// Times round the compás that `to` takes; 1 for all but a falseta of several compases.
    pub length: u32,
}

/// A closed walk: after the last stop comes the first.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Circuit {
    pub stops: Vec<usize>,
    /// Times round the compás.
    pub length: u64,
    /// Joins that are played more often than once, because there is no other way on.
    pub repeated: u64,
}

/// Every way of a graph, either on a circuit or one-way.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
pub struct Circuits {
    /// In the order of their first stop.
    pub circuits: Vec<Circuit>,
    /// Ways from which no way leads back: on no circuit.
    pub one_way: Vec<Way>,
    /// Places on no circuit at all.
    pub apart: Vec<usize>,
}

/// Covers all ways between `places` places.
pub fn circuits(places: usize, ways: &[Way]) -> Circuits {
    let mut ways: Vec<Way> = ways
        .iter()
        .copied()
        .filter(|way| way.from < places && way.to < places)
        .collect();
    ways.sort();
    ways.dedup_by_key(|way| (way.from, way.to));
    let together = led_back(places, &ways);
    let same = |way: &Way| together.get(way.from) == together.get(way.to);
    let (inside, one_way): (Vec<Way>, Vec<Way>) = ways.iter().partition(|way| same(way));
    let mut covered = Circuits {
        one_way,
        ..Circuits::default()
    };
    for group in 0..places {
        let members: Vec<usize> = (0..places)
            .filter(|place| together.get(*place) == Some(&group))
            .collect();
        let within: Vec<Way> = inside
            .iter()
            .copied()
            .filter(|way| members.contains(&way.from))
            .collect();
        match (members.first(), one_circuit(places, &within)) {
            (Some(_), Some(circuit)) => covered.circuits.push(circuit),
            (Some(_), None) => covered.apart.extend(members),
            (None, _) => {}
        }
    }
    covered
}

/// For each place the lowest place that it leads to and that leads back to it.
fn led_back(places: usize, ways: &[Way]) -> Vec<usize> {
    let reach: Vec<Vec<bool>> = (0..places).map(|from| reachable(places, ways, from)).collect();
    let leads = |from: usize, to: usize| reach.get(from).and_then(|row| row.get(to)).copied().unwrap_or(false);
    let lowest = |place: usize| (0..=place).find(|other| leads(place, *other) && leads(*other, place));
    (0..places).map(|place| lowest(place).unwrap_or(place)).collect()
}

fn reachable(places: usize, ways: &[Way], from: usize) -> Vec<bool> {
    let mut seen = vec![false; places];
    let mut open = vec![from];
    while let Some(place) = open.pop() {
        if let Some(mark) = seen.get_mut(place).filter(|mark| !**mark) {
            *mark = true;
            open.extend(ways.iter().filter(|way| way.from == place).map(|way| way.to));
        }
    }
    seen
}

/// The shortest closed walk over all of these ways, which lead back to one another. None when there are none.
fn one_circuit(places: usize, ways: &[Way]) -> Option<Circuit> {
    let start = ways.iter().map(|way| way.from).min()?;
    let arcs: Vec<Arc> = ways
        .iter()
        .map(|way| Arc {
            from: way.from,
            to: way.to,
            cost: way.length,
        })
        .collect();
    let mut balance = vec![0_i64; places];
    for way in ways {
        *balance.get_mut(way.to)? += 1;
        *balance.get_mut(way.from)? -= 1;
    }
    let again = flow::cheapest(places, &arcs, &balance)?;
    let times: Vec<u64> = again.iter().map(|again| again + 1).collect();
    let length = ways
        .iter()
        .zip(&times)
        .map(|(way, times)| u64::from(way.length) * times);
    Some(Circuit {
        length: length.sum(),
        repeated: again.iter().sum(),
        stops: one_round(ways, times, start)?,
    })
}

/// Hierholzer's walk: every way as often as its number says, home at the end; the home stop is not written twice.
fn one_round(ways: &[Way], mut times: Vec<u64>, start: usize) -> Option<Vec<usize>> {
    let all: u64 = times.iter().sum();
    let mut walk = Vec::new();
    let mut stack = vec![start];
    while let Some(place) = stack.last().copied() {
        let mut open = ways
            .iter()
            .zip(&mut times)
            .filter(|(way, left)| way.from == place && **left > 0);
        match open.next() {
            Some((way, left)) => {
                *left -= 1;
                stack.push(way.to);
            }
            None => {
                walk.push(place);
                stack.pop();
            }
        }
    }
    walk.reverse();
    walk.pop();
    (walk.len() as u64 == all).then_some(walk)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn ways(pairs: &[(usize, usize)]) -> Vec<Way> {
        let way = |(from, to): &(usize, usize)| Way {
            from: *from,
            to: *to,
            length: 1,
        };
        pairs.iter().map(way).collect()
    }

    #[test]
    fn a_balanced_graph_is_walked_once() {
        let covered = circuits(2, &ways(&[(0, 0), (0, 1), (1, 0), (1, 1)]));
        assert_eq!(covered.circuits.len(), 1);
        assert_eq!(covered.circuits[0].length, 4);
        assert_eq!(covered.circuits[0].repeated, 0);
    }

    #[test]
    fn a_forbidden_join_costs_a_repeat() {
        // 1 may not be followed by 2, and 2 is entered less often than it is left: back over 1, 0, 2 once more.
        let covered = circuits(3, &ways(&[(0, 1), (0, 2), (1, 0), (2, 0), (2, 1)]));
        assert_eq!(covered.circuits[0].length, 7);
        assert_eq!(covered.circuits[0].repeated, 2);
    }

    #[test]
    fn what_does_not_lead_back_is_told_apart() {
        let covered = circuits(4, &ways(&[(0, 1), (1, 0), (1, 2), (2, 2), (2, 3)]));
        let lengths: Vec<u64> = covered.circuits.iter().map(|circuit| circuit.length).collect();
        assert_eq!(lengths, [2, 1]);
        assert_eq!(covered.one_way, ways(&[(1, 2), (2, 3)]));
        assert_eq!(covered.apart, [3]);
    }

    #[test]
    fn nothing_gives_nothing() {
        assert_eq!(circuits(0, &[]), Circuits::default());
        assert_eq!(circuits(1, &[]).apart, [0]);
    }
}
