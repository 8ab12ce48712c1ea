//! Sound notes, damaged where they say one thing twice: the finding has to stand on the damaged line and to name the
//! two things in conflict.
//!
//! What is damaged: a chord's shape against its name, a note's fret against its name, the counts in front of a line
//! against its strokes, a list against its number, an accent against the compás, a finger against its shape.
//! Whether a damage can be detected is decided here, by reckoning of its own (open strings E A D G B E, a root and a
//! third to each chord), never by the program. At least 0.95 of each kind has to be found; the rest is listed.

/// Which notes, and what is done to them.
mod damages;

/// Pitches and chords, reckoned for this test alone.
mod oracle;

use std::collections::BTreeMap;
use std::fs;

use compasario::findings::{Finding, Severity};
use compasario::pipeline;
use damages::Damage;

const ENOUGH: f64 = 0.95;

/// Errors and warnings in a note of this name and text.
fn serious(name: &str, text: &str) -> Vec<Finding> {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join(name);
    fs::write(&path, text).unwrap();
    let findings = pipeline::review(&path).unwrap().findings.into_iter();
    // A note by itself: links to its neighbours lead nowhere here.
    findings
        .filter(|finding| finding.severity > Severity::Note && finding.rule != "link-to-nowhere")
        .collect()
}

fn is_found(damage: &Damage, findings: &[Finding]) -> bool {
    findings.iter().any(|finding| {
        let names_both = damage.names.iter().all(|name| finding.message.contains(name.as_str()));
        damage.rules.contains(&finding.rule.as_str()) && damage.lines.contains(&finding.place.line) && names_both
    })
}

#[test]
fn damage_is_found_where_it_was_done() {
    let mut tally: BTreeMap<&str, (usize, usize)> = BTreeMap::new();
    let mut missed = Vec::new();
    for note in damages::sound_notes() {
        for damage in damages::all(&note.text) {
            let findings = serious(&note.name, &damage.text);
            let found = is_found(&damage, &findings);
            let row = tally.entry(damage.kind).or_default();
            row.1 += 1;
            if found {
                row.0 += 1;
            } else {
                let told: Vec<String> = findings
                    .iter()
                    .map(|finding| format!("{}@{}", finding.rule, finding.place.line))
                    .collect();
                missed.push(format!(
                    "{} {} {:?}: {} | {}",
                    damage.kind,
                    note.name,
                    damage.lines,
                    damage.what,
                    told.join(", ")
                ));
            }
        }
    }
    println!("{:28} damaged  found", "what was damaged");
    for (kind, (found, all)) in &tally {
        println!("{kind:28} {all:>7} {found:>6}");
    }
    let (total_found, total) = tally.values().fold((0, 0), |sum, row| (sum.0 + row.0, sum.1 + row.1));
    println!(
        "{:28} {total:>7} {total_found:>6}; {} not found",
        "all",
        total - total_found
    );
    for line in &missed {
        println!("{line}");
    }
    let poor: Vec<_> = tally
        .iter()
        .filter(|(_, (found, all))| (*found as f64) < ENOUGH * (*all as f64))
        .collect();
    assert!(
        total > 100 && poor.is_empty(),
        "below {ENOUGH}: {poor:?}\n{}",
        missed.join("\n")
    );
}
