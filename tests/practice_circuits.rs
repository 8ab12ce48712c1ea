//! Circuits against something outside: NetworkX's optimum on 500 random graphs, and trying everything on small ones.
#![allow(clippy::unwrap_used, reason = "a test may panic")]

use std::collections::{BTreeMap, BTreeSet, VecDeque};

use compasario::practice::circuit::{Circuits, Way, circuits};
use proptest::prelude::*;
use serde::Deserialize;

/// One graph of tests/outside/route_inspection.json; made by the script beside it with NetworkX.
#[derive(Deserialize)]
struct Graph {
    size: usize,
    /// Times round the compás that each version takes.
    lengths: Vec<u32>,
    /// A row a version; `x` where the version of that column may follow.
    joins: Vec<String>,
    /// Members that lead back to one another, and the length of their shortest circuit.
    circuits: Vec<(Vec<usize>, u64)>,
}

#[derive(Deserialize)]
struct Graphs {
    graphs: Vec<Graph>,
}

fn ways(graph: &Graph) -> Vec<Way> {
    let mut ways = Vec::new();
    for (from, row) in graph.joins.iter().enumerate() {
        for (to, mark) in row.chars().enumerate() {
            if mark == 'x' {
                let length = graph.lengths[to];
                ways.push(Way { from, to, length });
            }
        }
    }
    ways
}

/// Closed, over allowed joins only, each allowed join on a circuit or said to be one-way, lengths as stated.
fn assert_sound(places: usize, ways: &[Way], covered: &Circuits) {
    let allowed: BTreeMap<(usize, usize), u32> = ways.iter().map(|way| ((way.from, way.to), way.length)).collect();
    let mut played = BTreeSet::new();
    let mut visited = BTreeSet::new();
    for circuit in &covered.circuits {
        let mut length = 0;
        for (index, from) in circuit.stops.iter().enumerate() {
            let to = circuit.stops[(index + 1) % circuit.stops.len()];
            length += u64::from(*allowed.get(&(*from, to)).expect("only allowed joins are played"));
            played.insert((*from, to));
            visited.insert(*from);
        }
        assert_eq!(length, circuit.length);
    }
    let one_way: BTreeSet<(usize, usize)> = covered.one_way.iter().map(|way| (way.from, way.to)).collect();
    assert!(played.is_disjoint(&one_way));
    let all: BTreeSet<(usize, usize)> = played.union(&one_way).copied().collect();
    assert_eq!(all, allowed.keys().copied().collect());
    visited.extend(&covered.apart);
    assert_eq!(visited, (0..places).collect());
}

#[test]
fn five_hundred_graphs_are_as_short_as_networkx_says() {
    let text = include_str!("outside/route_inspection.json");
    let graphs: Graphs = serde_json::from_str(text).unwrap();
    assert_eq!(graphs.graphs.len(), 500);
    for graph in &graphs.graphs {
        let ways = ways(graph);
        assert!(ways.len() < graph.size * graph.size, "every graph forbids a join");
        let covered = circuits(graph.size, &ways);
        assert_sound(graph.size, &ways, &covered);
        let lengths: Vec<u64> = covered.circuits.iter().map(|circuit| circuit.length).collect();
        let expected: Vec<u64> = graph.circuits.iter().map(|(_, length)| *length).collect();
        assert_eq!(lengths, expected, "{:?}", graph.joins);
    }
}

/// Length of the shortest closed walk from place 0 over all ways, by trying every walk in order of length.
fn by_trying_everything(ways: &[Way]) -> Option<u64> {
    let all = (1_u32 << ways.len()) - 1;
    let start = (ways.first()?.from, 0_u32);
    let mut seen = BTreeSet::from([start]);
    let mut queue = VecDeque::from([(start, 0)]);
    while let Some(((place, played), length)) = queue.pop_front() {
        if played == all && place == start.0 {
            return Some(length);
        }
        for (index, way) in ways.iter().enumerate().filter(|(_, way)| way.from == place) {
            let next = (way.to, played | 1 << index);
            if seen.insert(next) {
                queue.push_back((next, length + 1));
            }
        }
    }
    None
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]

    #[test]
    fn small_graphs_are_as_short_as_trying_everything_says(
        places in 1_usize..=4,
        marks in prop::collection::vec(prop::bool::weighted(0.7), 16),
    ) {
        let mut ways = Vec::new();
        for from in 0..places {
            for to in 0..places {
                if marks[from * 4 + to] && ways.len() < 13 {
                    ways.push(Way { from, to, length: 1 });
                }
            }
        }
        let covered = circuits(places, &ways);
        assert_sound(places, &ways, &covered);
        if covered.one_way.is_empty() && covered.circuits.len() == 1 {
            prop_assert_eq!(Some(covered.circuits[0].length), by_trying_everything(&ways));
        }
    }

    #[test]
    fn any_graph_is_covered(
        places in 0_usize..20,
        pairs in prop::collection::vec((0_usize..20, 0_usize..20, 1_u32..4), 0..80),
    ) {
        let mut ways: Vec<Way> = pairs
            .iter()
            .filter(|(from, to, _)| *from < places && *to < places)
            .map(|(from, to, length)| Way { from: *from, to: *to, length: *length })
            .collect();
        ways.sort();
        ways.dedup_by_key(|way| (way.from, way.to));
        assert_sound(places, &ways, &circuits(places, &ways));
    }
}
