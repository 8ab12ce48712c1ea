use super::*;
use crate::music::key::Tempo;
use crate::music::lesson::Said;
use crate::text::Place;

fn lesson(palo: &str, beats: Option<i64>) -> Lesson {
    let place = Place::default();
    let mut lesson = Lesson {
        palo: Some(Said::new(palo.to_owned(), place)),
        ..Lesson::default()
    };
    lesson.meter.beats = beats.map(|beats| Said::new(beats, place));
    lesson
}

fn round(palo: &str, beats: Option<i64>) -> Round {
    Round::of(&lesson(palo, beats), PaloTable::ours()).expect("a compás")
}

fn at(text: &str) -> Position {
    Position::parse(text).expect("a position")
}

#[test]
fn where_moments_fall() {
    // palo, counts said, moment, pulses into the round
    let table = [
        ("solea", None, "1", (0, 1)),
        ("solea", None, "4+1/2", (7, 2)),
        ("solea", None, "13", (12, 1)),
        ("buleria", None, "12", (0, 1)),
        ("buleria", None, "1", (1, 1)),
        ("buleria", None, "11+1/2", (23, 2)),
        ("siguiriya", Some(5), "3", (4, 1)),
        ("siguiriya", Some(5), "3+2/3", (6, 1)),
        ("siguiriya", Some(5), "5+1/2", (11, 1)),
        ("siguiriya", Some(5), "6", (12, 1)),
        ("siguiriya", Some(5), "8", (16, 1)),
        ("siguiriya", Some(12), "11", (10, 1)),
        ("tangos", Some(8), "8+1/2", (15, 2)),
    ];
    for (palo, counts, moment, (over, under)) in table {
        let pulses = round(palo, counts).into_round(at(moment));
        assert_eq!(pulses, Ratio::new(over, under), "{palo} {counts:?} {moment}");
    }
}

#[test]
fn spans_wrap_where_a_round_begins_on_twelve() {
    let buleria = round("buleria", None);
    let whole = CountSpan { first: 12, last: 11 };
    let turn = CountSpan { first: 11, last: 1 };
    assert_eq!((buleria.counts_in(whole), buleria.counts_in(turn)), (12, 3));
    assert!(buleria.holds(turn, at("12+1/2")) && buleria.holds(turn, at("1")) && !buleria.holds(turn, at("2")));
}

#[test]
fn pulses_of_a_round_are_those_of_its_counts() {
    for palo in crate::music::palo::table() {
        for compas in &palo.compas {
            let round = round(&palo.slug, Some(compas.counts));
            let span = CountSpan {
                first: 1,
                last: round.counts,
            };
            assert_eq!(
                round.pulses_in(span),
                round.pulses(),
                "{} in {}",
                palo.slug,
                compas.counts
            );
        }
    }
}

#[test]
fn a_free_palo_has_no_round_unless_the_lesson_counts() {
    assert_eq!(Round::of(&lesson("taranta", None), PaloTable::ours()), None);
    assert_eq!(round("malaguena", Some(3)).counts, 3);
}

#[test]
fn the_way_of_counting_is_the_one_whose_accents_the_lesson_says() {
    let mut eight = lesson("siguiriya", Some(12));
    let place = Place::default();
    eight.meter.accents = [8, 10, 12, 3, 6]
        .map(|count| Said::new(Position::count(count), place))
        .to_vec();
    assert_eq!(Round::of(&eight, PaloTable::ours()).map(|round| round.first), Some(8));
    assert_eq!(round("siguiriya", Some(12)).first, 1);
}

#[test]
fn seconds_of_a_compas_are_as_published() {
    // Seconds per twelve-beat compás = 720 / BPM, computed: 60 -> 12, 90 -> 8, 120 -> 6, 240 -> 3.
    for (tempo, seconds) in [(60, 12), (90, 8), (120, 6), (240, 3)] {
        let mut solea = lesson("solea", None);
        solea.tempo = Some(Said::new(
            Tempo {
                low: tempo,
                high: tempo,
            },
            Place::default(),
        ));
        let round = Round::of(&solea, PaloTable::ours()).expect("a compás");
        let pace = Pace::of(&solea, &round, PaloTable::ours()).expect("a tempo");
        assert_eq!(
            millis(round.pulses(), pace.top(&round)),
            Ratio::from_integer(seconds * 1000)
        );
    }
}

#[test]
fn a_tempo_that_is_not_said_is_the_palos() {
    let siguiriya = lesson("siguiriya", None);
    let round = Round::of(&siguiriya, PaloTable::ours()).expect("a compás");
    let pace = Pace::of(&siguiriya, &round, PaloTable::ours()).expect("a tempo");
    assert_eq!((pace.per, pace.given), (TempoUnit::Pulse, Given::Palo));
}
