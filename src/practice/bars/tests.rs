use super::*;
use crate::exports::facts::{self, Facts};
use crate::music::palo::PaloTable;
use crate::music::pitch::STANDARD_TUNING;
use crate::practice::score::Kind;
use crate::practice::versions::versions;

fn lesson(json: &str) -> Lesson {
    let facts: Facts = serde_json::from_str(json).expect("facts");
    facts::to_lesson(&facts)
}

/// A bar as a musician reads it: moment, what is done, string/fret in the order struck; `|` what the hand holds.
fn written(lesson: &Lesson, version: usize, after: Option<usize>) -> Vec<String> {
    let lessons = [lesson];
    let (placed, unplaced) = versions(&lessons, PaloTable::ours());
    assert_eq!(unplaced, []);
    let workshop = Workshop {
        lessons: &lessons,
        placed: &placed,
        tuning: STANDARD_TUNING,
        words: Words::of("en"),
    };
    let bar = workshop.bar(0, version, after).expect("a bar");
    let line = |event: &Event| match (event.kind, event.hand) {
        (Kind::Hand, Some(hand)) => {
            let frets = hand
                .iter()
                .rev()
                .map(|fret| fret.map_or("x".to_owned(), |fret| fret.to_string()));
            format!("{} | {}", event.at, frets.collect::<String>())
        }
        _ => {
            let sounds = event
                .sounds
                .iter()
                .map(|sound| format!("{}/{}", sound.string, sound.fret));
            let sounds: Vec<String> = sounds.collect();
            let open = event.open.as_deref().map(|why| format!(" ({why})")).unwrap_or_default();
            format!("{} {:?} {}{open}", event.at, event.kind, sounds.join(" "))
        }
    };
    bar.events
        .iter()
        .map(line)
        .map(|line| line.trim_end().to_owned())
        .collect()
}

#[test]
fn a_variation_stands_in_its_core() {
    let tangos = lesson(include_str!(
        "../../../tests/corpus/lessons/tangos-first-compas.gold.json"
    ));
    let expected = [
        "0 | x02220",
        "0 Golpe",
        "1/2 Up 1/0 2/2 3/2 4/2 5/0",
        "1 Down 5/0 4/2 3/2 2/2 1/0",
        "3/2 Up 1/0 2/2 3/2 4/2 5/0",
        "2 Down 5/0 4/2 3/2 2/2 1/0",
        "3 Rasgueado 5/0 4/2 3/2 2/2 1/0",
        // On 5 the core's Bb goes on; its shape has the F of the run. The E after it does not: the shape is left.
        "4 | x13331",
        "4 Pluck 4/3",
        "9/2 | xx2xxx",
        "9/2 Pluck 4/2",
        "5 | xx0xxx",
        "5 Pluck 4/0",
        "11/2 | x30xxx",
        "11/2 Pluck 5/3",
        "6 | x1xxx0",
        "6 Pluck 5/1",
        "13/2 | x0xxx0",
        "13/2 PullOff 5/0",
        "7 | x02220",
        "7 Down 5/0 4/2 3/2 2/2 1/0",
        "7 Golpe",
        "15/2 Damp",
    ];
    assert_eq!(written(&tangos, 1, None), expected);
}

/// Uneven counts: 2 2 3 3 2 pulses. No shapes in the notes: the strums stay open, the single notes do not.
#[test]
fn what_the_notes_leave_open_stays_silent() {
    let siguiriya = lesson(include_str!("../../../tests/corpus/lessons/siguiriya-core.gold.json"));
    let expected = [
        "0 Down  (the notes give no shape for A)",
        "1 Up  (the notes give no shape for A)",
        "2 Down  (the notes give no shape for A)",
        "2 Golpe",
        "4 Rasgueado  (the notes give no shape for Bb)",
        "6 Up  (the notes give no shape for Bb)",
        "7 | x0xxxx",
        "7 Pluck 5/0",
        "8 | x1xxxx",
        "8 HammerOn 5/1",
        "9 | x0xxxx",
        "9 PullOff 5/0",
        "10 | xxxxxx",
        "10 Down  (the notes give no shape for A)",
        "10 Golpe",
        "11 Damp",
    ];
    assert_eq!(written(&siguiriya, 0, None), expected);
}

/// The falseta of 7 to 12 goes on to the 1 of the next vuelta and takes the core's thumb and golpe there away.
#[test]
fn what_runs_on_takes_the_next_vueltas_first_counts() {
    let solea = lesson(include_str!(
        "../../../tests/voices/sound/solea-falseta-que-sigue.gold.json"
    ));
    let start = |after| written(&solea, 0, after).into_iter().take(4).collect::<Vec<String>>();
    let same = [
        "0 | 022100",
        "0 Down 6/0 5/2 4/2 3/1 2/0 1/0",
        "0 Golpe",
        "1 Down 6/0 5/2 4/2 3/1 2/0 1/0",
    ];
    assert_eq!(start(None), same);
    assert_eq!(start(Some(1)), same);
    let lessons = [&solea];
    let (placed, _) = versions(&lessons, PaloTable::ours());
    let workshop = Workshop {
        lessons: &lessons,
        placed: &placed,
        tuning: STANDARD_TUNING,
        words: Words::of("en"),
    };
    let drawn = |after| {
        let bar = workshop.bar(0, 0, after).expect("a bar");
        let first = bar.events.iter().find_map(|event| event.drawn);
        first.map(|drawn| (drawn.pattern, drawn.at.to_string()))
    };
    assert_eq!(drawn(None), Some((0, "1".to_owned())));
    assert_eq!(drawn(Some(1)), Some((1, "13".to_owned())));
}

#[test]
fn a_round_from_twelve_begins_there() {
    let guajira = lesson(include_str!(
        "../../../tests/voices/sound/guajira-con-silencio.gold.json"
    ));
    let lessons = [&guajira];
    let (placed, _) = versions(&lessons, PaloTable::ours());
    let workshop = Workshop {
        lessons: &lessons,
        placed: &placed,
        tuning: STANDARD_TUNING,
        words: Words::of("en"),
    };
    let bar = workshop.bar(0, 0, None).expect("a bar");
    let order: Vec<String> = bar
        .events
        .iter()
        .filter_map(|event| Some(event.drawn?.at.to_string()))
        .collect();
    assert_eq!(order.first().map(String::as_str), Some("12"));
    assert_eq!(order.last().map(String::as_str), Some("11+1/2"));
}
