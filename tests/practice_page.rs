//! Practice of whole lessons: what a page shows, written so that a musician can read it, and rules that hold for all.
#![allow(clippy::unwrap_used, reason = "a test may panic")]

mod support;

use std::collections::BTreeSet;
use std::fmt::Write;

use compasario::music::lesson::Lesson;
use compasario::music::palo::PaloTable;
use compasario::practice::score::{Book, Kind, Pulses, Score};
use compasario::practice::{PageData, page_data};

/// Every lesson whose facts stand in the corpus, by name.
fn lessons() -> Vec<(String, Lesson)> {
    let folders = [
        "tests/corpus/lessons",
        "tests/voices/sound",
        "tests/voices/en",
        "tests/voices/es",
    ];
    let lessons = support::golds::lessons(&folders);
    assert!(lessons.len() > 25);
    lessons
}

fn practice(lesson: &Lesson) -> PageData {
    page_data(&[lesson], PaloTable::ours())
}

fn named(name: &str) -> Lesson {
    lessons().into_iter().find(|(other, _)| other == name).unwrap().1
}

fn written(data: &PageData) -> String {
    let mut text = String::new();
    let tempo = &data.book.tempo;
    writeln!(text, "tempo {} to {}, {} at most", tempo.start, tempo.goal, tempo.top).unwrap();
    let rungs: Vec<String> = data.ladder.iter().map(|rung| rung.tempo.to_string()).collect();
    writeln!(text, "ladder {}", rungs.join(" ")).unwrap();
    let title = |line: &str| {
        data.book
            .lines
            .iter()
            .find(|other| other.id == line)
            .unwrap()
            .title
            .clone()
    };
    for learning in &data.learning {
        writeln!(text, "\n{}", data.versions[learning.version].name).unwrap();
        for step in &learning.steps {
            let kind = format!("{:?}", step.kind).to_lowercase();
            writeln!(text, "  {kind:<9} {:<40} {:>3} s", title(&step.line), step.seconds).unwrap();
        }
    }
    writeln!(text, "\njoins").unwrap();
    for join in &data.join_drills {
        writeln!(
            text,
            "  {:>2}  {}  {}",
            join.cost,
            title(&join.line),
            join.why.join("; ")
        )
        .unwrap();
    }
    for join in data.joins.iter().filter(|join| !join.allowed) {
        writeln!(text, "  no  {}", join.why.join("; ")).unwrap();
    }
    let names = |stops: &[usize]| {
        let names: Vec<&str> = stops.iter().map(|stop| data.versions[*stop].name.as_str()).collect();
        names.join(" > ")
    };
    for circuit in &data.circuits {
        writeln!(
            text,
            "\n{} ({} vueltas)\n  {}",
            title(&circuit.line),
            circuit.length,
            names(&circuit.stops)
        )
        .unwrap();
    }
    for remark in &data.remarks {
        writeln!(text, "  {remark}").unwrap();
    }
    for mix in data.mixes.iter().take(2) {
        writeln!(text, "\n{}\n  {}", title(&mix.line), names(&mix.mix.stops)).unwrap();
    }
    text
}

/// A lesson with a forbidden join: the scale runs on over the 1, where the arpeggio begins.
#[test]
fn the_practice_of_an_alegrias() {
    insta::assert_snapshot!(written(&practice(&named("alegrias-in-e"))));
}

#[test]
fn a_free_palo_is_practised_phrase_by_phrase() {
    let data = practice(&named("taranta-no-clock"));
    insta::assert_snapshot!(written(&data));
    let bars = &data.book.grounds;
    assert!(
        bars.iter()
            .all(|ground| ground.counts.is_empty() && ground.palmas.is_empty())
    );
    assert!(data.joins.iter().all(|join| !join.allowed) && data.circuits.is_empty() && data.drills.is_empty());
}

#[test]
fn every_exercise_names_a_line_and_every_line_lies_out() {
    for (name, lesson) in lessons() {
        let data = practice(&lesson);
        assert_eq!(data.left_out, Vec::<String>::new(), "{name}");
        let mut named: Vec<&str> = Vec::new();
        named.extend(
            data.learning
                .iter()
                .flat_map(|learning| &learning.steps)
                .map(|step| step.line.as_str()),
        );
        named.extend(data.join_drills.iter().map(|join| join.line.as_str()));
        named.extend(data.circuits.iter().map(|circuit| circuit.line.as_str()));
        named.extend(data.mixes.iter().map(|mix| mix.line.as_str()));
        named.extend(data.drills.iter().map(|drill| drill.line.as_str()));
        named.extend(data.listening.iter().map(|question| question.line.as_str()));
        let lines: BTreeSet<&str> = data.book.lines.iter().map(|line| line.id.as_str()).collect();
        assert_eq!(lines.len(), data.book.lines.len(), "{name}: two lines of one name");
        assert_eq!(named.iter().copied().collect::<BTreeSet<&str>>(), lines, "{name}");
        for line in &lines {
            assert_whole(&data.book, &data.book.score(line).unwrap());
        }
    }
}

/// In order, inside its length, and with a hand at the start of every bar.
fn assert_whole(book: &Book, score: &Score) {
    let zero = Pulses::from_integer(0);
    assert!(score.length > zero, "{}", score.id);
    assert!(score.events.is_sorted_by_key(|event| event.at), "{}", score.id);
    assert!(
        score
            .events
            .iter()
            .all(|event| event.at >= zero && event.at < score.length),
        "{}",
        score.id
    );
    assert!(score.counts.is_sorted_by_key(|mark| mark.at) && score.palmas.is_sorted_by_key(|clap| clap.at));
    let counted: Pulses = score.counts.iter().map(|mark| mark.length).sum();
    assert!(score.counts.is_empty() || counted == score.length, "{}", score.id);
    let bars = book.lines.iter().find(|line| line.id == score.id).unwrap().cuts.len();
    assert_eq!(score.passages.len(), bars);
    for passage in &score.passages {
        assert!(
            score
                .events
                .iter()
                .any(|event| event.kind == Kind::Hand && event.at == passage.from)
        );
    }
    for event in &score.events {
        for sound in &event.sounds {
            let open = score.strings.tuning[usize::from(sound.string) - 1];
            assert_eq!(sound.pitch, open + sound.fret);
        }
    }
}

#[test]
fn circuits_and_mixes_keep_to_allowed_joins_and_leave_nobody_out() {
    for (name, lesson) in lessons() {
        let data = practice(&lesson);
        let allowed: BTreeSet<(usize, usize)> = data
            .joins
            .iter()
            .filter(|join| join.allowed)
            .map(|join| (join.from, join.to))
            .collect();
        let mut played = BTreeSet::new();
        for circuit in &data.circuits {
            let next = circuit.stops.iter().cycle().skip(1);
            played.extend(circuit.stops.iter().copied().zip(next.copied()));
        }
        assert_eq!(played, allowed, "{name}: every join of these lessons lies on a circuit");
        for drill in &data.mixes {
            let stops = &drill.mix.stops;
            let next = stops.iter().cycle().skip(1).copied();
            assert!(
                stops.iter().copied().zip(next).all(|join| allowed.contains(&join)),
                "{name}"
            );
            let heard: BTreeSet<usize> = stops.iter().copied().collect();
            assert_eq!(heard.len(), data.versions.len(), "{name}");
        }
    }
}

#[test]
fn the_same_lesson_gives_the_same_bytes() {
    let lesson = named("guajira-brisk");
    let text = |lesson: &Lesson| serde_json::to_string(&practice(lesson)).unwrap();
    assert_eq!(text(&lesson), text(&lesson));
    let back: PageData = serde_json::from_str(&text(&lesson)).unwrap();
    assert_eq!(back, practice(&lesson));
}

#[test]
fn lessons_of_a_palo_are_mixed_together() {
    let tangos = [named("tangos-first-compas"), named("tangos-sin-prisa")];
    let data = page_data(&[&tangos[0], &tangos[1]], PaloTable::ours());
    assert_eq!(data.versions.len(), 5);
    assert!(data.joins.iter().all(|join| join.allowed), "both are counted in eight");
    assert_eq!(data.circuits[0].length, 25);
    let names: BTreeSet<&str> = data.versions.iter().map(|version| version.id.as_str()).collect();
    assert_eq!(names.len(), 5);
    // A lesson counted in four does not join one counted in eight.
    let four = named("tangos-two-and-four");
    let data = page_data(&[&tangos[0], &four], PaloTable::ours());
    assert!(
        !data
            .joins
            .iter()
            .any(|join| join.allowed && join.from < 2 && join.to >= 2)
    );
    assert_eq!(data.circuits.len(), 2);
}
