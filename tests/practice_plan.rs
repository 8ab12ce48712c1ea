//! Plans of whole lessons: laws that hold for every lesson and any number of minutes, and what a plan reads like.
#![allow(clippy::unwrap_used, reason = "a test may panic")]

mod support;

use std::collections::{BTreeMap, BTreeSet};
use std::sync::LazyLock;

use compasario::exports::{icalendar, plan_page, plan_text};
use compasario::music::palo::PaloTable;
use compasario::practice::plan::{Arrangement, Block, BlockKind, Day, Plan, Wishes, plan, twins};
use compasario::practice::{PageData, page_data};
use jiff::civil::{Time, date};
use proptest::prelude::*;

static PRACTICES: LazyLock<Vec<(String, PageData)>> = LazyLock::new(|| {
    support::golds::lessons(&["tests/corpus/lessons", "tests/voices/sound", "tests/voices/es"])
        .into_iter()
        .map(|(name, lesson)| (name, page_data(&[&lesson], PaloTable::ours())))
        .collect()
});

fn practice(name: &str) -> &'static PageData {
    &PRACTICES.iter().find(|(other, _)| other == name).unwrap().1
}

fn wishes(minutes: u32, arrangement: Arrangement) -> Wishes {
    Wishes {
        minutes,
        from: Some(date(2026, 12, 7)),
        arrangement,
    }
}

fn playing(day: &Day) -> impl Iterator<Item = &Block> {
    day.blocks
        .iter()
        .filter(|block| !matches!(block.kind, BlockKind::Rest | BlockKind::WarmUp))
}

/// Versions that a block of new, repeated or drilled material is about.
fn versions_of(practice: &PageData, block: &Block) -> BTreeSet<usize> {
    if !matches!(block.kind, BlockKind::New | BlockKind::Review | BlockKind::Join) {
        return BTreeSet::new();
    }
    let of_line = |line: &String| {
        let line = practice.book.lines.iter().find(|other| other.id == *line).unwrap();
        line.cuts
            .iter()
            .map(|cut| practice.book.bars[cut.bar].version)
            .collect::<Vec<usize>>()
    };
    block.lines.iter().flat_map(of_line).collect()
}

fn assert_lawful(name: &str, practice: &PageData, minutes: u32, plan: &Plan) {
    let pairs = twins::twins(practice);
    let mut begun = BTreeMap::new();
    for (index, day) in plan.days.iter().enumerate() {
        assert_eq!(day.number as usize, index + 1);
        assert!(
            day.minutes() <= minutes,
            "{name}: day {} has {} of {minutes}",
            day.number,
            day.minutes()
        );
        let mut at = 0;
        for block in &day.blocks {
            assert_eq!(block.start, at, "{name}: no gaps");
            assert!(block.minutes > 0);
            at += block.minutes;
        }
        if let Some(first) = day.blocks.first() {
            assert_eq!(first.kind, BlockKind::WarmUp);
            assert_ne!(day.blocks.last().unwrap().kind, BlockKind::Rest);
        }
        // Six days on, one off.
        assert_eq!(day.blocks.is_empty(), day.number % 7 == 0, "{name}: day {}", day.number);
        let mut today = BTreeSet::new();
        let mut new = BTreeSet::new();
        for block in playing(day) {
            let versions = versions_of(practice, block);
            if block.kind == BlockKind::New {
                new.extend(versions.clone());
            }
            today.extend(versions);
        }
        assert!(new.len() <= 1, "{name}: at most one new version a day");
        if let Some(version) = day.begins {
            assert_eq!(new, BTreeSet::from([version]));
            assert_eq!(begun.insert(version, day.number), None, "{name}: begun once");
        }
        for (one, other) in &pairs {
            assert!(
                !(today.contains(one) && today.contains(other)),
                "{name}: near-twins on day {}",
                day.number
            );
        }
    }
    // Each in the teacher's order, no two on one day.
    let days: Vec<u32> = begun.values().copied().collect();
    assert!(days.windows(2).all(|pair| pair[0] < pair[1]), "{name}: {begun:?}");
    if plan.days.len() < 182 {
        assert_eq!(begun.len(), practice.versions.len(), "{name}: everything is begun");
        assert_eq!(plan.left_out, Vec::<String>::new(), "{name}");
    }
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(120) })]

    #[test]
    fn no_plan_breaks_its_laws(lesson in 0_usize..1000, minutes in 5_u32..=240, rotated in any::<bool>()) {
        let (name, practice) = &PRACTICES[lesson % PRACTICES.len()];
        let arrangement = if rotated { Arrangement::Rotated } else { Arrangement::Blocked };
        let made = plan(name, practice, &wishes(minutes, arrangement));
        assert_lawful(name, practice, minutes, &made);
        prop_assert_eq!(&made, &plan(name, practice, &wishes(minutes, arrangement)));
    }
}

/// What is new comes back on the next day of practice.
#[test]
fn new_material_comes_again_on_another_day() {
    for (name, practice) in PRACTICES.iter() {
        let made = plan(name, practice, &wishes(45, Arrangement::Blocked));
        let reviewed = |version: usize, day: &Day| {
            let id = &practice.versions[version].id;
            day.blocks
                .iter()
                .any(|block| block.kind == BlockKind::Review && block.lines.contains(id))
        };
        let days: Vec<&Day> = made.days.iter().filter(|day| !day.blocks.is_empty()).collect();
        for version in 0..practice.versions.len() {
            let learnt = days.iter().rposition(|day| {
                playing(day)
                    .any(|block| block.kind == BlockKind::New && versions_of(practice, block).contains(&version))
            });
            let learnt = learnt.unwrap();
            assert!(!reviewed(version, days[learnt]), "{name}: not on the same day");
            let back = days[learnt + 1..]
                .iter()
                .position(|day| reviewed(version, day))
                .unwrap();
            // A near-twin of what is new that day waits.
            assert!(back <= 3, "{name}: {version} comes back after {back} days of practice");
        }
    }
}

#[test]
fn a_plan_reads_like_this() {
    let practice = practice("tangos-first-compas");
    let made = plan("First compás of tangos", practice, &wishes(30, Arrangement::Rotated));
    insta::assert_snapshot!(plan_text::text(&made));
}

#[test]
fn a_page_says_everything_the_text_says() {
    let practice = practice("solea-falseta-que-sigue");
    let made = plan(
        "Soleá <con> \"falseta\" & más",
        practice,
        &wishes(25, Arrangement::Blocked),
    );
    let page = plan_page::page(&made);
    let document = roxmltree::Document::parse(page.trim_start_matches("<!doctype html>"));
    // HTML is no XML, but ours is written so that it could be, but for its two empty elements.
    let page = page
        .replace("<meta charset=\"utf-8\">", "")
        .replace("initial-scale=1\">", "initial-scale=1\"/>");
    let document = document.or_else(|_| roxmltree::Document::parse(page.trim_start_matches("<!doctype html>")));
    let document = document.unwrap();
    let words: String = document
        .descendants()
        .filter_map(|node| node.text())
        .collect::<Vec<&str>>()
        .join(" ");
    for day in &made.days {
        assert!(words.contains(&day.title));
        for block in &day.blocks {
            assert!(words.contains(&block.title) && block.details.iter().all(|detail| words.contains(detail)));
        }
    }
    for remark in made.about.iter().chain(&made.cautions) {
        assert!(words.contains(&remark.text));
    }
}

#[test]
fn a_calendar_has_an_event_for_each_day_of_practice() {
    let practice = practice("solea-falseta-que-sigue");
    let made = plan("Soleá", practice, &wishes(25, Arrangement::Blocked));
    let calendar = icalendar::calendar(&made, Time::constant(19, 30, 0, 0));
    let days = made.days.iter().filter(|day| !day.blocks.is_empty()).count();
    assert_eq!(calendar.matches("BEGIN:VEVENT\r\n").count(), days);
    assert!(calendar.contains("DTSTART:20261207T193000\r\n"));
    assert!(
        calendar
            .split("\r\n")
            .all(|line| line.len() <= 75 && !line.contains('\n'))
    );
    let unfolded = calendar.replace("\r\n ", "");
    let uids: BTreeSet<&str> = unfolded.split("\r\n").filter(|line| line.starts_with("UID:")).collect();
    assert_eq!(uids.len(), days);
    assert_eq!(calendar, icalendar::calendar(&made, Time::constant(19, 30, 0, 0)));
    let undated = plan(
        "Soleá",
        practice,
        &Wishes {
            from: None,
            ..wishes(25, Arrangement::Blocked)
        },
    );
    assert!(!icalendar::calendar(&undated, Time::midnight()).contains("VEVENT"));
}
