//! Laws that hold for any lesson, however little it adds up: no check panics, and none contradicts another.

use std::collections::BTreeSet;

use compasario::checks::{self, Context};
use compasario::findings::{Finding, Severity};
use compasario::intake::Folder;
use compasario::music::lesson::{Lesson, Said};
use compasario::music::palo::{PaloTable, table};
use compasario::music::pattern::{ClaimAbout, Pattern, Role};
use compasario::text::{FileId, Place, SourceText, Span};
use proptest::prelude::*;

#[path = "written/lessons.rs"]
#[allow(dead_code, reason = "a part of what the tests of the written form use")]
mod lessons;

const LINES: usize = 40;

/// A file with room for every place.
fn folder() -> Folder {
    Folder {
        files: vec![SourceText::new(
            FileId(0),
            "any.notes.txt",
            "a line of the note\n".repeat(LINES),
        )],
        ..Folder::default()
    }
}

/// Gives everything in the patterns a place in the file, by turns from a list of lines.
fn placed(mut lesson: Lesson, lines: &[usize], palo: &str) -> Lesson {
    let folder = folder();
    let mut next = lines.iter().cycle().copied();
    let mut place = || -> Place {
        let line = next.next().unwrap_or(0) % LINES;
        folder.files[0].place(Span::new(line * 19, line * 19 + 18), None)
    };
    lesson.palo = Some(Said::new(palo.to_owned(), place()));
    for pattern in &mut lesson.patterns {
        pattern.place = place();
        pattern.claims.iter_mut().for_each(|claim| claim.place = place());
        pattern.strokes.iter_mut().for_each(|stroke| stroke.place = place());
    }
    lesson
}

fn judged(lessons: &[Lesson]) -> Vec<Finding> {
    checks::judge(&Context::new(&folder(), lessons, PaloTable::ours())).findings
}

fn any_lesson() -> impl Strategy<Value = Lesson> {
    let palos: Vec<String> = table().iter().map(|palo| palo.slug.clone()).collect();
    let lines = proptest::collection::vec(0..LINES, 1..30);
    (lessons::lesson(), lines, proptest::sample::select(palos))
        .prop_map(|(lesson, lines, palo)| placed(lesson, &lines, &palo))
}

/// The counts that a message says are left out or claimed twice.
fn counts(finding: &Finding) -> BTreeSet<i64> {
    let before = finding
        .message
        .split(" left out")
        .next()
        .and_then(|text| text.split(" claimed").next());
    let words = before.unwrap_or("").split(|letter: char| !letter.is_ascii_digit());
    words.filter_map(|word| word.parse().ok()).collect()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    #[test]
    fn findings_are_sorted_explained_and_well_formed(lessons in proptest::collection::vec(any_lesson(), 1..4)) {
        let findings = judged(&lessons);
        prop_assert!(findings.is_sorted());
        for finding in &findings {
            prop_assert!(checks::find(&finding.rule).is_some(), "{} is not explained", finding.rule);
            prop_assert!(!finding.message.trim().is_empty());
            prop_assert!(!finding.message.ends_with('.'), "{}", finding.message);
            prop_assert!(!finding.help.ends_with('.'), "{}", finding.help);
        }
    }

    #[test]
    fn the_same_lessons_give_the_same_findings(lessons in proptest::collection::vec(any_lesson(), 1..4)) {
        prop_assert_eq!(judged(&lessons), judged(&lessons));
    }

    /// One list is not both too short and too long, and a count is not both left out and claimed twice.
    #[test]
    fn no_check_contradicts_another(lesson in any_lesson()) {
        for pattern in &lesson.patterns {
            let one = Lesson { patterns: vec![pattern.clone()], ..lesson.clone() };
            let findings = judged(std::slice::from_ref(&one));
            let of = |rule: &str| findings.iter().filter(|finding| finding.rule == rule).collect::<Vec<_>>();
            let gaps: BTreeSet<i64> = of("gap-between-spans").into_iter().flat_map(counts).collect();
            let twice: BTreeSet<i64> = of("overlapping-spans").into_iter().flat_map(counts).collect();
            prop_assert!(gaps.is_disjoint(&twice), "{gaps:?} {twice:?}");
            for claim in &pattern.claims {
                let told = matches!(claim.about, ClaimAbout::Divided { .. } | ClaimAbout::Numbered { .. });
                let alone = Lesson { patterns: vec![Pattern { claims: vec![claim.clone()], ..pattern.clone() }], ..lesson.clone() };
                let sums = judged(std::slice::from_ref(&alone));
                let rules: BTreeSet<String> = sums.into_iter().map(|finding| finding.rule).collect();
                let either = ["too-few-notes", "too-many-notes", "notes-in-triplet"];
                let found = either.iter().filter(|rule| rules.contains(**rule)).count();
                prop_assert!(found <= usize::from(told), "{rules:?}");
            }
        }
    }

    /// A core that covers its compás count by count, each told once, adds up in every palo that has a compás.
    #[test]
    fn a_round_that_is_told_once_through_adds_up(index in 0usize..64, cuts in proptest::collection::vec(1i64..5, 1..8)) {
        let with_compas: Vec<_> = table().iter().filter(|palo| palo.usual().is_some()).collect();
        let palo = with_compas[index % with_compas.len()];
        let beats = palo.usual().unwrap().counts;
        let lesson = told_once_through(&palo.slug, beats, &cuts);
        let findings: Vec<Finding> = judged(&[lesson]).into_iter().filter(|finding| finding.severity > Severity::Note).collect();
        prop_assert!(findings.is_empty(), "{}: {findings:#?}", palo.slug);
    }
}

/// One line a group of counts, a stroke down on each count.
fn told_once_through(palo: &str, beats: i64, cuts: &[i64]) -> Lesson {
    use compasario::music::pattern::{Claim, CountSpan};
    use compasario::music::position::Position;
    use compasario::music::stroke::{Action, Stroke};
    let folder = folder();
    let place =
        |line: usize, from: usize| folder.files[0].place(Span::new(line * 19 + from, line * 19 + from + 1), None);
    let mut core = Pattern {
        name: "core".to_owned(),
        role: Role::Core,
        span: Some(CountSpan { first: 1, last: beats }),
        strokes: Vec::new(),
        changes: Vec::new(),
        left: Vec::new(),
        runs_on: None,
        claims: Vec::new(),
        place: place(0, 0),
    };
    let (mut first, mut line) = (1, 1);
    for cut in cuts.iter().cycle() {
        if first > beats {
            break;
        }
        let last = (first + cut - 1).min(beats);
        let span = CountSpan { first, last };
        core.claims.push(Claim {
            place: place(line, 0),
            about: ClaimAbout::Covers { span, chord: None },
        });
        let strokes = (first..=last).map(|count| Stroke::new(Position::count(count), Action::Down, place(line, 4)));
        core.strokes.extend(strokes);
        (first, line) = (last + 1, line + 1);
    }
    let mut lesson = Lesson {
        id: palo.to_owned(),
        patterns: vec![core],
        ..Lesson::default()
    };
    lesson.palo = Some(Said::new(palo.to_owned(), place(0, 0)));
    lesson.meter.beats = Some(Said::new(beats, place(0, 0)));
    lesson
}
