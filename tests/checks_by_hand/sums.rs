use compasario::music::pattern::{ClaimAbout, Role};

use crate::support::lesson::{Told, at, span, table, told};
use crate::{check, in_twelve};

#[test]
fn two_lines_that_claim_a_count() {
    check(
        in_twelve("petenera")
            .line("3-6 G: 3 p dn, 6 p dn")
            .covers("3-6 G", 3, 6)
            .stroke("3", "down p")
            .stroke("6", "down p")
            .line("5-7 F: 5 i dn, 7 i dn")
            .covers("5-7 F", 5, 7)
            .stroke("5", "down i")
            .stroke("7", "down i"),
        &["overlapping-spans@3 error"],
    );
}

#[test]
fn a_count_claimed_twice_by_the_ends() {
    let told = in_twelve("buleria")
        .line("3-6, Bb: 3 i dn, 6 i dn")
        .covers("3-6", 3, 6)
        .stroke("3", "down i")
        .stroke("6", "down i")
        .line("6-9, still Bb: 6 i up, 7 i dn")
        .covers("6-9", 6, 9)
        .stroke("6", "up i")
        .stroke("7", "down i");
    let findings = told.findings();
    assert_eq!(table(&findings), ["overlapping-spans@3 error"], "{findings:#?}");
    assert_eq!(findings[0].message, "count 6 is claimed twice, by 3-6 and by 6-9");
    assert_eq!(findings[0].also[0].0.line, 2);
}

#[test]
fn an_announcement_may_lie_inside_another() {
    check(
        in_twelve("halves")
            .line("First half, 1-6")
            .covers("1-6", 1, 6)
            .line("1-3 A: 1 i dn")
            .covers("1-3 A", 1, 3)
            .stroke("1", "down i")
            .line("4-6 G: 4 i dn")
            .covers("4-6 G", 4, 6)
            .stroke("4", "down i"),
        &[],
    );
}

#[test]
fn a_list_of_chords_is_another_layer_than_the_strokes() {
    check(
        in_twelve("guajira")
            .line("A 1-6, E7 7-9, A 10-12")
            .covers("A 1-6", 1, 6)
            .covers("E7 7-9", 7, 9)
            .covers("A 10-12", 10, 12)
            .line("1-4: 1 p s5, 2 p s4, 3 i dn, 4 p s5")
            .covers("1-4", 1, 4)
            .stroke("1", "pluck p s5")
            .stroke("4", "pluck p s5")
            .line("5-8: 5 p s4, 8 p s4")
            .covers("5-8", 5, 8)
            .stroke("5", "pluck p s4")
            .stroke("8", "pluck p s4"),
        &[],
    );
}

#[test]
fn two_chords_over_one_count_in_a_list() {
    check(
        in_twelve("guajira")
            .line("A 1-6, E7 6-9, A 10-12")
            .covers("A 1-6", 1, 6)
            .covers("E7 6-9", 6, 9)
            .covers("A 10-12", 10, 12),
        &["overlapping-spans@2 error"],
    );
}

#[test]
fn speech_shares_the_corners_of_its_spans() {
    check(
        told("tangos")
            .spoken()
            .line("[0:00] count eight")
            .beats(8)
            .core(1, 8)
            .line("[0:10] from one to four we play down strokes")
            .covers("from one to four", 1, 4)
            .stroke("1", "down i")
            .stroke("2", "down i")
            .line("[0:20] and from four to eight it goes up")
            .covers("from four to eight", 4, 8)
            .stroke("4", "up i")
            .stroke("5", "up i"),
        &[],
    );
}

#[test]
fn a_count_left_out_between_groups() {
    let told = in_twelve("fandangos")
        .line("4-6 G: 4 p dn, 5 i dn, 6 i dn")
        .covers("4-6 G", 4, 6)
        .stroke("4", "down p")
        .stroke("6", "down i")
        .line("8-9 F: 8 i dn, 9 i dn")
        .covers("8-9 F", 8, 9)
        .stroke("8", "down i")
        .stroke("9", "down i");
    let findings = told.findings();
    assert_eq!(table(&findings), ["gap-between-spans@3 warning"], "{findings:#?}");
    assert_eq!(findings[0].message, "count 7 is left out between 6 and 8");
}

#[test]
fn a_rest_or_a_ringing_rasgueado_fills_the_gap() {
    let groups = |told: Told| {
        told.line("4-6 G: 4 p dn, 6 i dn")
            .covers("4-6 G", 4, 6)
            .stroke("4", "down p")
            .stroke("6", "down i")
            .line("7 is silent")
            .stroke("7", "rest")
            .line("8-9 F: 8 i dn, 9 i dn")
            .covers("8-9 F", 8, 9)
            .stroke("8", "down i")
            .stroke("9", "down i")
    };
    check(groups(in_twelve("fandangos")), &[]);
}

#[test]
fn a_round_that_begins_on_twelve_has_no_gap_at_its_seam() {
    check(
        told("guajira")
            .line("count 12, from 12")
            .beats(12)
            .core(12, 11)
            .line("12-2 A: 12 p dn, 1 i dn, 2 i dn")
            .covers("12-2 A", 12, 2)
            .stroke("12", "down p")
            .stroke("1", "down i")
            .line("3-5 D: 3 p dn, 5 i dn")
            .covers("3-5 D", 3, 5)
            .stroke("3", "down p")
            .line("6-8 E7: 6 i dn")
            .covers("6-8 E7", 6, 8)
            .stroke("6", "down i")
            .line("9-11 A: 9 i dn")
            .covers("9-11 A", 9, 11)
            .stroke("9", "down i"),
        &[],
    );
}

#[test]
fn notes_told_and_given() {
    let divided = |from: &str, counts, per_count, given| ClaimAbout::Divided {
        from: at(from),
        counts,
        per_count,
        given,
    };
    let numbered = |said, given| ClaimAbout::Numbered {
        at: at("3"),
        said,
        given,
    };
    for (claim, expected) in [
        (divided("5", 4, 2, 7), &["too-few-notes@2 error"][..]),
        (divided("5", 4, 2, 8), &[]),
        (divided("11", 1, 4, 5), &["too-many-notes@2 error"]),
        (divided("3", 2, 4, 9), &["too-many-notes@2 error"]),
        (divided("3", 1, 3, 5), &["notes-in-triplet@2 error"]),
        (divided("3", 1, 3, 3), &[]),
        // Nothing listed is open, not wrong.
        (divided("3", 1, 4, 0), &[]),
        (numbered(3, 2), &["too-few-notes@2 error"]),
        (numbered(3, 3), &[]),
        (numbered(2, 3), &["too-many-notes@2 error"]),
    ] {
        let lesson = in_twelve("run")
            .line("[0:44] the run and its notes")
            .claim(claim.clone());
        let findings = lesson.findings();
        assert_eq!(table(&findings), expected, "{claim:?}");
    }
}

#[test]
fn the_sum_names_both_numbers() {
    let about = ClaimAbout::Divided {
        from: at("5"),
        counts: 4,
        per_count: 2,
        given: 7,
    };
    let findings = told("run").line("5-8 run").beats(8).core(1, 8).claim(about).findings();
    assert_eq!(
        findings[0].message,
        "5-8 at 2 to the count needs 8, but only 7 are given"
    );
}

#[test]
fn a_variation_past_its_span() {
    let variation = |told: Told| {
        told.line("v1, replaces 7-9")
            .pattern("v1", Role::Variation, Some(span(7, 9)))
            .line("7 p s6, 8 m s2, 9 m s2, 10 p s6")
            .stroke("7", "pluck p s6")
            .stroke("10", "pluck p s6")
    };
    check(variation(in_twelve("guajira")), &["variation-past-its-span@3 error"]);
    check(variation(in_twelve("guajira")).runs_on("10"), &[]);
    let claimed = in_twelve("swap")
        .line("SWAP, in place of 1-2")
        .pattern("swap", Role::Variation, Some(span(1, 2)))
        .line("3: s4 f4")
        .claim(ClaimAbout::Outside {
            at: at("3"),
            span: span(1, 2),
        });
    check(claimed, &["variation-past-its-span@3 error"]);
}

#[test]
fn a_core_stroke_that_nobody_counts() {
    check(
        in_twelve("solea").line("14 i dn").stroke("14", "down i"),
        &["stroke-outside-span@2 warning"],
    );
    check(
        in_twelve("solea").line("13 i dn").stroke("13", "down i").runs_on("13"),
        &[],
    );
}

#[test]
fn one_finger_does_one_thing_at_a_time() {
    check(
        in_twelve("tangos")
            .line("4 i dn, i up")
            .stroke("4", "down i")
            .stroke("4", "up i"),
        &["one-finger-twice@2 error"],
    );
    for (one, other) in [
        ("down i", "golpe a"),
        ("pluck p s5", "pluck i s3"),
        ("pluck p s5", "hammer-on s5 f2"),
        ("down p", "up i"),
    ] {
        check(in_twelve("tangos").line("4").stroke("4", one).stroke("4", other), &[]);
    }
}

#[test]
fn a_recited_row_against_the_strokes() {
    use compasario::music::stroke::Action;
    let row = |action| ClaimAbout::Recited {
        span: span(1, 2),
        row: vec![
            (Some(at("1")), Some(Action::Down)),
            (Some(at("2")), Some(action)),
            (None, None),
        ],
    };
    let strokes = || {
        in_twelve("row")
            .line("1 i dn, 2 i dn")
            .stroke("1", "down i")
            .stroke("2", "down i")
    };
    check(
        strokes().line("one down, two up").claim(row(Action::Up)),
        &["recited-row-differs@3 warning"],
    );
    check(strokes().line("one down, two down").claim(row(Action::Down)), &[]);
}

#[test]
fn a_line_and_the_counts_of_its_strokes() {
    let line = |count: &str| {
        in_twelve("soleá")
            .line("5-6 F: 4 i dn, 5 i dn, 6 i dn")
            .covers("5-6 F", 5, 6)
            .stroke(count, "down i")
            .stroke("5", "down i")
    };
    check(line("4"), &["stroke-outside-its-line@2 warning"]);
    check(line("6+1/2"), &[]);
}
