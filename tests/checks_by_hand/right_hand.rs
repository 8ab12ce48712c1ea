use super::hands::{check, found, lesson};
use crate::support::lesson::{Told, span, told};
use compasario::music::pattern::ClaimAbout;

fn run(tempo: u32, fingers: &[&str]) -> Told {
    let mut told = lesson("buleria", 12, tempo)
        .line("7-9 run on s1, four to the beat")
        .core(1, 12);
    for (index, quarter) in (0..12).map(|index| (index, ["", "+1/4", "+1/2", "+3/4"][index % 4])) {
        let finger = fingers[index % fingers.len()];
        told = told.stroke(
            &format!("{}{quarter}", 7 + index / 4),
            &format!("pluck {finger} s1 f{}", index % 5),
        );
    }
    told
}

#[test]
fn one_finger_faster_than_fingers_are() {
    check(run(220, &["i"]), &["finger-too-fast@2 error"]);
    assert_eq!(
        found(&run(220, &["i"]))[0].message,
        "from 7 to 9+3/4, the index has to move 14.7 times a second at the top of the tempo: the record is 10"
    );
    check(run(120, &["i"]), &["finger-too-fast@2 warning"]);
    check(run(90, &["i"]), &["finger-too-fast@2 note"]);
    check(run(130, &["i", "m"]), &[]);
    // Down and up are one movement: the index strums at any tempo.
    let strums = ["1", "1+1/2", "2", "2+1/2", "3", "3+1/2", "4", "4+1/2"];
    let strum =
        |told: Told, (index, at): (usize, &&str)| told.stroke(at, if index % 2 == 0 { "down i" } else { "up i" });
    check(
        strums
            .iter()
            .enumerate()
            .fold(lesson("buleria", 12, 240).core(1, 12), strum),
        &[],
    );
    // The palo's own tempo is not held against a teacher who says none.
    let silent = told("buleria").line("run").palo("buleria").beats(12).core(1, 12);
    check(
        (0..8).fold(silent, |told, index| {
            told.stroke(&format!("7+{index}/8"), "pluck i s1 f1")
        }),
        &[],
    );
}

#[test]
fn the_finger_of_a_passage_counts() {
    let quarters = ["7", "7+1/4", "7+1/2", "7+3/4"];
    let told = lesson("buleria", 12, 220)
        .line("7-9 every note with i alone")
        .core(1, 12)
        .claim(ClaimAbout::Passage {
            span: span(7, 9),
            fingers: vec![compasario::music::hand::Finger::I],
        });
    check(
        quarters.iter().fold(told, |told, at| told.stroke(at, "pluck s1 f1")),
        &["finger-too-fast@2 error"],
    );
}

#[test]
fn a_line_faster_than_two_fingers_alternate() {
    check(run(190, &["i", "m"]), &["line-too-fast@2 warning"]);
    check(run(165, &["i", "m"]), &["line-too-fast@2 note"]);
    check(run(310, &["i", "m"]), &["line-too-fast@2 error"]);
    // An arpeggio is no line.
    check(run(200, &["p", "i", "m", "a"]), &[]);
}

#[test]
fn a_finger_twice_running() {
    check(
        run(130, &["i", "m", "i", "m", "m", "i"]),
        &[
            "finger-repeats@2 note",
            "finger-repeats@2 note",
            "finger-repeats@2 note",
        ],
    );
}

#[test]
fn right_hand_fingers_that_cross() {
    let pair = |one: &str, other: &str| {
        lesson("farruca", 4, 104)
            .line("2 two notes")
            .core(1, 4)
            .stroke("2", one)
            .stroke("2", other)
    };
    check(pair("pluck i s1", "pluck m s3"), &["right-fingers-crossed@2 warning"]);
    check(pair("pluck i s3", "pluck m s1"), &[]);
    check(pair("pluck p s5", "pluck a s1"), &[]);
}

/// Fingers and strings of a quick run, four notes to a count: `i1 m2` is the index on string 1, then the middle on 2.
fn notes(tempo: u32, notes: &str) -> Told {
    let told = lesson("buleria", 12, tempo).line("7 a run").core(1, 12);
    let quarters = ["", "+1/4", "+1/2", "+3/4"];
    notes.split(' ').enumerate().fold(told, |told, (index, note)| {
        let (finger, string) = note.split_at(1);
        told.stroke(
            &format!("{}{}", 7 + index / 4, quarters[index % 4]),
            &format!("pluck {finger} s{string} f1"),
        )
    })
}

/// One crossing to the next string is daily bread; again and again, or over three strings, is told, but never a warning.
#[test]
fn right_hand_fingers_that_cross_in_a_run() {
    // Up the strings and down, three notes a string: each second change crosses.
    check(notes(130, "i3 m3 i3 m2 i2 m2 i1 m1 i1 m2 i2 m2 i3 m3 i3"), &[]);
    // Four notes a string, down from string 1, begun with the wrong finger: each change crosses.
    check(
        notes(130, "m1 i1 m1 i1 m2 i2 m2 i2 m3 i3 m3 i3 m4 i4 m4 i4"),
        &["right-fingers-crossed@2 note"],
    );
    let told = found(&notes(130, "m1 i1 m1 i1 m2 i2 m2 i2 m3 i3 m3 i3 m4 i4 m4 i4"));
    assert_eq!(
        told[0].message,
        "from 7+3/4 on, the fingers cross at 3 of 3 changes of string: the index on string 1, then the middle finger on \
         string 2"
    );
    // Begun with the other finger, none does.
    check(notes(130, "i1 m1 i1 m1 i2 m2 i2 m2 i3 m3 i3 m3 i4 m4 i4 m4"), &[]);
    // Over three strings at once; slowly there is time.
    check(notes(130, "m1 i1 m4 i4 m4"), &["right-fingers-crossed@2 note"]);
    check(notes(60, "m1 i1 m4 i4 m4"), &[]);
    // An arpeggio out and back lies under the hand.
    check(notes(130, "p5 i3 m2 a1 m2 i3 p5 i3 m2 a1 m2 i3"), &[]);
}

#[test]
fn a_golpe_with_a_finger_that_is_busy() {
    let moment = |stroke: &str| {
        lesson("tangos", 4, 112)
            .line("3")
            .core(1, 4)
            .stroke("3", stroke)
            .stroke("3", "golpe a")
    };
    check(moment("down a"), &["golpe-with-busy-finger@2 warning"]);
    check(moment("down i"), &[]);
    check(moment("rasgueado x a m i"), &[]);
    check(moment("rasgueado a m i"), &["golpe-with-busy-finger@2 warning"]);
}

#[test]
fn a_rasgueado_that_does_not_fill_its_count() {
    let round = |over, under, next: &str| {
        lesson("alegrias", 12, 120)
            .line("6 rasg")
            .core(1, 12)
            .stroke("6", "rasgueado x a m i")
            .lasts(over, under)
            .line("and on")
            .stroke(next, "down i")
    };
    check(round(3, 2, "7"), &["rasgueado-does-not-fill@2 warning"]);
    check(round(1, 2, "7"), &["rasgueado-does-not-fill@2 note"]);
    check(round(1, 1, "7"), &[]);
    // The siguiriya's: two thirds, and the index up in the last.
    check(round(2, 3, "6+2/3"), &[]);
}

/// The same stroke in count after count, from 1 on.
fn again(tempo: u32, counts: i64, stroke: &str) -> Told {
    let told = lesson("buleria", 12, tempo).line("the same in every count").core(1, 12);
    (1..=counts).fold(told, |told, count| told.stroke(&count.to_string(), stroke))
}

#[test]
fn rolling_techniques_are_reckoned_finger_by_finger() {
    // Four fingers, one after another: each flicks once a count, four times a second at 240.
    check(again(240, 6, "rasgueado x a m i"), &[]);
    // Two groups in each count: eight times a second, and nobody taps so on and on.
    let twice = (1..=3).fold(again(240, 0, ""), |told, count| {
        let told = told.stroke(&count.to_string(), "rasgueado x a m i");
        told.stroke(&format!("{count}+1/2"), "rasgueado x a m i")
    });
    check(twice, &["finger-too-fast@2 warning"; 4]);
    // Once is a burst.
    check(again(240, 1, "rasgueado x a m i x a m i"), &[]);
    // The index goes down and comes back up: one movement. Index alone, four strokes in each count at 240: eight.
    check(again(240, 6, "rasgueado a m i i"), &[]);
    check(again(240, 3, "rasgueado i i i i"), &["finger-too-fast@2 warning"]);
    // The thumb of an alzapúa goes down, up and down again: two movements a count.
    check(again(120, 4, "alzapua p p p"), &[]);
    check(again(240, 4, "alzapua p p p"), &["finger-too-fast@2 warning"]);
}

#[test]
fn a_tremolo_is_a_line() {
    // Players' own figures: five notes to a count at 120 are ten a second.
    check(again(120, 4, "tremolo p i a m i"), &[]);
    check(again(140, 4, "tremolo p i a m i"), &["line-too-fast@2 note"]);
    check(again(170, 4, "tremolo p i a m i"), &["line-too-fast@2 warning"]);
    check(again(250, 4, "tremolo p i a m i"), &["line-too-fast@2 error"]);
    // It takes the time up to the next stroke, or the time that is said.
    let short = again(100, 0, "")
        .stroke("1", "tremolo p i a m i")
        .stroke("1+1/2", "golpe a");
    check(short, &["line-too-fast@2 warning"]);
}
