use super::*;
use crate::music::chord::ChordName;
use crate::music::lesson::Said;
use crate::music::palo::PaloTable;
use crate::music::stroke::Action;
use crate::text::Place;

/// Strokes are positions; a change is `E@3`.
fn pattern(name: &str, role: Role, span: (i64, i64), strokes: &str, changes: &str) -> Pattern {
    let at = |text: &str| Position::parse(text).expect("a position");
    let change = |text: &str| {
        let (chord, moment) = text.split_once('@').expect("chord@moment");
        Change {
            at: at(moment),
            chord: ChordName::parse(chord).expect("a chord"),
            place: Place::default(),
            implied: None,
        }
    };
    Pattern {
        name: name.to_owned(),
        role,
        span: Some(CountSpan {
            first: span.0,
            last: span.1,
        }),
        strokes: strokes
            .split_whitespace()
            .map(|text| Stroke::new(at(text), Action::Down, Place::default()))
            .collect(),
        changes: changes.split_whitespace().map(change).collect(),
        left: Vec::new(),
        runs_on: None,
        claims: Vec::new(),
        place: Place::default(),
    }
}

fn alegrias() -> (Lesson, Round) {
    let core = pattern("core", Role::Core, (1, 12), "1 2 3 4 5 6 7 8 9 10 12", "E@1 B7@3 E@10");
    let front = pattern("front", Role::Variation, (1, 2), "1 1+1/3 1+2/3 2", "E@1");
    let middle = pattern("middle", Role::Variation, (5, 6), "5 5+1/2 6", "");
    let mut back = pattern("back", Role::Variation, (10, 12), "10 11 12 13", "E@13");
    back.runs_on = Some(Position::count(13));
    let lesson = Lesson {
        palo: Some(Said::new("alegrias".to_owned(), Place::default())),
        patterns: vec![core, front, middle, back],
        ..Lesson::default()
    };
    let round = Round::of(&lesson, PaloTable::ours()).expect("a compás");
    (lesson, round)
}

fn strokes(all: &[Timed]) -> String {
    let word = |timed: &Timed| match timed.what {
        Happening::Stroke(_) => Some(format!("{}:{}", timed.pattern, timed.at)),
        _ => None,
    };
    all.iter().filter_map(word).collect::<Vec<_>>().join(" ")
}

#[test]
fn a_version_is_the_core_with_one_variation_in_place() {
    let (lesson, round) = alegrias();
    let versions = versions(&lesson, &round);
    let names: Vec<String> = versions.iter().map(|version| version.name(&lesson)).collect();
    assert_eq!(names, ["core", "front", "middle", "back"]);
    let front = happenings(&lesson, &round, &versions[1], None);
    assert_eq!(
        strokes(&front),
        "1:0 1:1/3 1:2/3 1:1 0:2 0:3 0:4 0:5 0:6 0:7 0:8 0:9 0:11"
    );
}

#[test]
fn what_runs_on_takes_the_first_counts_of_the_next_vuelta() {
    let (lesson, round) = alegrias();
    let versions = versions(&lesson, &round);
    let cycle = Cycle::of(&lesson, &round);
    assert_eq!(versions[3].spill(&lesson, &round, &cycle), Ratio::from_integer(1));
    let back = happenings(&lesson, &round, &versions[3], None);
    assert!(strokes(&back).ends_with("3:9 3:10 3:11 3:12"), "{}", strokes(&back));
    let next = happenings(&lesson, &round, &versions[0], Some(&versions[3]));
    assert!(strokes(&next).starts_with("0:1 0:2"), "{}", strokes(&next));
}

#[test]
fn mixes_hold_variations_that_do_not_meet() {
    let (lesson, round) = alegrias();
    let names = |at_most| -> Vec<String> {
        mixed_versions(&lesson, &round, at_most)
            .iter()
            .map(|version| version.name(&lesson))
            .collect()
    };
    // `back` runs on into count 1, so it never stands with `front`.
    assert_eq!(names(9), ["front + middle", "middle + back"]);
    assert_eq!(names(1), ["front + middle"]);
}

#[test]
fn the_cores_chord_comes_back_after_a_variation() {
    let (lesson, round) = alegrias();
    let versions = versions(&lesson, &round);
    let middle = happenings(&lesson, &round, &versions[2], None);
    let resumed = middle
        .iter()
        .find(|timed| matches!(timed.what, Happening::Resume(_)))
        .expect("a resumed chord");
    assert_eq!(resumed.at, Ratio::from_integer(6));
    let front = happenings(&lesson, &round, &versions[1], None);
    assert!(
        !front.iter().any(|timed| matches!(timed.what, Happening::Resume(_))),
        "the core changes there itself"
    );
}

#[test]
fn a_round_from_twelve_is_laid_out_from_twelve() {
    let core = pattern("core", Role::Core, (12, 11), "12 1 3 11", "");
    let turn = pattern("turn", Role::Variation, (11, 12), "11 12", "");
    let lesson = Lesson {
        palo: Some(Said::new("buleria".to_owned(), Place::default())),
        patterns: vec![core, turn],
        ..Lesson::default()
    };
    let round = Round::of(&lesson, PaloTable::ours()).expect("a compás");
    let versions = versions(&lesson, &round);
    assert_eq!(
        strokes(&happenings(&lesson, &round, &versions[0], None)),
        "0:0 0:1 0:3 0:11"
    );
    // 11 is the last count of this vuelta, 12 the first of the next.
    assert_eq!(
        strokes(&happenings(&lesson, &round, &versions[1], None)),
        "0:0 0:1 0:3 1:11 1:12"
    );
    assert_eq!(
        strokes(&happenings(&lesson, &round, &versions[0], Some(&versions[1]))),
        "0:1 0:3 0:11"
    );
}

#[test]
fn what_runs_on_leaves_the_rest_of_its_last_count_to_the_core() {
    let core = pattern("core", Role::Core, (1, 4), "1 1+2/3 2 3 4", "C@1 Bb@3 A@4");
    // the strokes it gives, how far it runs on, what the next vuelta plays after them
    for (given, until, next) in [
        ("4 5", "5", "0:2/3 0:1 0:2 0:3"),
        ("4 5 5+1/3", "5+1/3", "0:2/3 0:1 0:2 0:3"),
        ("4 5 5+2/3", "5+2/3", "0:1 0:2 0:3"),
        ("4 5 6", "6", "0:2 0:3"),
    ] {
        let mut last = pattern("last", Role::Variation, (4, 4), given, "");
        last.runs_on = Position::parse(until);
        let lesson = Lesson {
            palo: Some(Said::new("tientos".to_owned(), Place::default())),
            patterns: vec![core.clone(), last],
            ..Lesson::default()
        };
        let round = Round::of(&lesson, PaloTable::ours()).expect("a compás");
        let versions = versions(&lesson, &round);
        let played = happenings(&lesson, &round, &versions[0], Some(&versions[1]));
        assert_eq!(strokes(&played), next, "{given}");
    }
}
