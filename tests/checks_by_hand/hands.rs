use crate::support::lesson::{Told, span, table, told};
use compasario::checks::{self, Family};
use compasario::findings::Finding;
use compasario::music::pattern::Role;

/// What is found about hands and joins.
pub fn found(told: &Told) -> Vec<Finding> {
    let of_hands = |finding: &Finding| {
        let family = checks::find(&finding.rule).map(|check| check.family);
        matches!(family, Some(Family::LeftHand | Family::RightHand | Family::Joins))
    };
    told.findings().into_iter().filter(of_hands).collect()
}

#[track_caller]
pub fn check(told: Told, expected: &[&str]) {
    let findings = found(&told);
    assert_eq!(table(&findings), expected, "{findings:#?}");
}

/// A lesson of a palo in so many counts, with a tempo; its chords and core follow.
pub fn lesson(palo: &str, counts: i64, tempo: u32) -> Told {
    told(palo)
        .line("[0:00] the round")
        .palo(palo)
        .beats(counts)
        .tempo(tempo, tempo)
}

fn tientos() -> Told {
    lesson("tientos", 4, 60)
        .line("A x02220: LH 2 on s4 f2, 3 on s3 f2, 4 on s2 f2")
        .chord("A", "x02220")
        .fingers(&[(2, 4, 2), (3, 3, 2), (4, 2, 2)])
        .line("Bb x13331")
        .chord("Bb", "x13331")
        .line("1 p dn, A")
        .core(1, 4)
        .change("1", "A")
        .stroke("1", "down p")
        .line("2 i dn")
        .stroke("2", "down i")
}

#[test]
fn fingers_further_apart_than_a_hand_reaches() {
    let grip = |fret| {
        lesson("garrotin", 4, 88)
            .line("C: LH 1 on s2 f1, 4 on s1")
            .chord("C", &format!("x3201{fret}"))
            .fingers(&[(1, 2, 1), (2, 4, 2), (3, 5, 3), (4, 1, fret)])
    };
    check(grip(8), &["stretch-too-wide@2 error"]);
    check(grip(6), &["stretch-too-wide@2 warning"]);
    check(grip(3), &[]);
    // With the capo on 5 the sixth fret comes into reach.
    check(grip(6).capo(5), &[]);
    let told = grip(8);
    let message = &told.findings()[0].message;
    assert_eq!(
        message,
        "finger 1 on string 2 fret 1 and finger 4 on string 1 fret 8 are 204 mm apart: further than a hand reaches"
    );
}

#[test]
fn a_note_out_of_reach_of_a_finger_that_stays() {
    let round = |keep: bool| {
        let told = lesson("farruca", 8, 108)
            .line("5 E: LH 1 on s3 f1, it stays")
            .core(1, 8)
            .left("5", "put 1 s3 f1")
            .stroke("5", "pluck p s6 f0")
            .line("6 a s1 with LH 4 on f8");
        let told = if keep { told } else { told.left("6", "lift 1") };
        told.stroke("6", "pluck a s1 f8 l4")
            .line("7 a s1 open")
            .stroke("7", "pluck a s1 f0")
    };
    check(round(true), &["stretch-too-wide@3 error"]);
    check(round(false), &[]);
}

#[test]
fn fingers_that_would_cross() {
    let g7 = |low, high| {
        lesson("zapateado", 6, 176)
            .line("G7 320001")
            .chord("G7", "320001")
            .fingers(&[(low, 6, 3), (2, 5, 2), (high, 1, 1)])
    };
    check(g7(1, 3), &["fingers-crossed@2 warning"]);
    check(g7(3, 1), &[]);
}

#[test]
fn shapes_for_more_fingers_than_there_are() {
    let shape = |name, shape| lesson("tangos", 4, 112).line("a shape").chord(name, shape);
    check(shape("Fm", "132413"), &["too-many-fingers@2 warning"]);
    check(shape("F", "133211"), &[]);
    check(shape("Bb", "x13331"), &[]);
}

#[test]
fn a_finger_kept_down_where_it_is_needed_elsewhere_in_the_next_round() {
    let kept = || {
        tientos()
            .line("4 p s5 f3 (C) with LH 3, hold it right through")
            .stroke("4", "pluck p s5 f3 l3")
            .left("4", "keep 3 s5 f3")
    };
    check(kept(), &["held-into-next@6 error"]);
    let findings = found(&kept());
    assert_eq!(
        findings[0].message,
        "finger 3 on string 5 fret 3 is said to stay, but the A needs finger 3 on string 3 fret 2 when the round goes on at 1"
    );
    check(
        kept().line("then 3 lifts, just before the 1").left("4+1/2", "lift 3"),
        &[],
    );
    check(kept().line("then 3 lifts, just before the 1").left("5", "lift 3"), &[]);
    check(kept().line("then 3 lifts, just before the 1").left("1", "lift 3"), &[]);
    // Not said to stay.
    check(tientos().line("4 p s5 f3").stroke("4", "pluck p s5 f3 l3"), &[]);
    // With another finger the string still has to be open.
    let other = tientos()
        .line("4 p s5 f3 with LH 1, hold it")
        .stroke("4", "pluck p s5 f3 l1")
        .left("4", "keep 1 s5 f3");
    check(other, &["held-into-next@6 warning"]);
    // It is where the chord wants it.
    let shared = tientos()
        .line("4 p s4 f2 with LH 2, leave it")
        .stroke("4", "pluck p s4 f2 l2")
        .left("4", "keep 2 s4 f2");
    check(shared, &[]);
}

#[test]
fn a_finger_kept_down_inside_a_round() {
    let round = |last: &str| {
        lesson("tientos", 4, 60)
            .line("1 p s5 f3 (C), hold it")
            .core(1, 4)
            .stroke("1", "pluck p s5 f3 l3")
            .left("1", "keep 3 s5 f3")
            .line("2 p s4 f2")
            .stroke("2", "pluck p s4 f2 l2")
            .line("3 the thumb again")
            .stroke("3", last)
    };
    check(round("pluck p s5 f1 l1"), &["kept-finger-in-the-way@2 warning"]);
    check(round("pluck p s3 f2 l3"), &["kept-finger-in-the-way@2 error"]);
    check(round("pluck p s6 f0"), &[]);
}

#[test]
fn an_open_string_under_a_barre() {
    let round = |lift: bool| {
        let told = tientos()
            .line("3 Bb, p dn")
            .change("3", "Bb")
            .stroke("3", "down p")
            .line("4 p s5 open");
        let told = if lift { told.left("4", "lift") } else { told };
        told.stroke("4", "pluck p s5 f0")
    };
    check(round(false), &["open-string-under-barre@7 note"]);
    check(round(true), &[]);
    // The A leaves the fifth string open.
    check(tientos().line("3 p s5 open").stroke("3", "pluck p s5 f0"), &[]);
}

#[test]
fn ligados_that_give_no_note() {
    let pair = |before: &str, after: &str| {
        lesson("tientos", 4, 60)
            .line("1 and its half")
            .core(1, 4)
            .stroke("1", before)
            .stroke("1+1/2", after)
    };
    check(pair("pluck p s5 f1", "pull-off s5 f3"), &["ligado-impossible@2 error"]);
    check(pair("pluck p s5 f3", "hammer-on s5 f1"), &["ligado-impossible@2 error"]);
    check(
        pair("pluck p s5 f3 l3", "pull-off s5 f1 l3"),
        &["ligado-impossible@2 warning"],
    );
    check(pair("pluck p s5 f1", "pull-off s5 f0"), &[]);
    check(pair("pluck p s5 f0", "hammer-on s5 f1"), &[]);
    check(pair("down i", "pull-off s3 f1"), &[]);
    // Across strings there is nothing to pull, unless the chord that is held has a finger there.
    let across = || pair("pluck p s5 f3", "pull-off s4 f2");
    check(across(), &["ligado-impossible@2 warning"]);
    check(across().chord("Bb", "x13331").change("1", "Bb"), &[]);
    check(
        across().chord("A", "x02220").change("1", "A"),
        &["ligado-impossible@2 warning"],
    );
}

#[test]
fn a_grip_that_slides_needs_no_time_to_find_its_strings() {
    // A to Bb in a third of a count at 210: three fingers slide a fret, the barre is laid behind them.
    let told = lesson("buleria", 12, 210)
        .line("chords")
        .chord("A", "x02220")
        .chord("Bb", "x13331")
        .line("7 on A, 8 on Bb")
        .core(1, 12)
        .change("7", "A")
        .stroke("7+2/3", "down p")
        .change("8", "Bb")
        .stroke("8", "up p")
        .stroke("8+2/3", "down p")
        .change("9", "A")
        .stroke("9", "up p");
    check(told, &[]);
}

#[test]
fn a_change_with_no_time_for_it() {
    let round = |tempo| {
        lesson("rumba", 4, tempo)
            .line("chords")
            .chord("Am", "x02210")
            .chord("G", "320003")
            .line("4 p dn, p up, i dn")
            .core(1, 4)
            .change("1", "Am")
            .stroke("1", "down p")
            .stroke("4+1/2", "up p")
            .change("4+3/4", "G")
            .stroke("4+3/4", "down i")
            .caution("1")
    };
    check(round(120), &[]);
    check(round(170), &["change-too-quick@3 note"]);
    let findings = found(&round(280));
    let quick = findings
        .iter()
        .find(|finding| finding.rule == "change-too-quick")
        .expect("a finding");
    assert_eq!(
        quick.message,
        "for the G at 4+3/4, the hand has 54 ms at the top of the tempo to change"
    );
}

#[test]
fn variations_that_cannot_follow_each_other() {
    let mix = |first: i64| {
        lesson("alegrias", 12, 120)
            .line("1 i dn")
            .core(1, 12)
            .stroke("1", "down i")
            .stroke("10", "down i")
            .line("V1")
            .pattern("V1", Role::Variation, Some(span(first, first + 1)))
            .stroke(&first.to_string(), "down p")
            .line("V2, and on to 13")
            .pattern("V2", Role::Variation, Some(span(10, 12)))
            .runs_on("13")
            .stroke("10", "down p")
            .stroke("13", "down p")
    };
    check(mix(1), &["count-taken-twice@4 note"]);
    assert_eq!(
        found(&mix(1))[0].message,
        "V1 cannot follow V2, which runs on into count 1"
    );
    check(mix(4), &[]);
}

#[test]
fn a_join_that_wants_a_caution() {
    let round = |caution: bool| {
        let told = lesson("buleria", 12, 210)
            .line("Bb x13331")
            .chord("Bb", "x13331")
            .line("1-2 Bb")
            .core(1, 12)
            .change("1", "Bb")
            .stroke("1", "down i")
            .stroke("2", "down i")
            .stroke("2+1/2", "up i")
            .stroke("3", "down i")
            .line("V1, replaces 3-4")
            .pattern("V1", Role::Variation, Some(span(3, 4)))
            .stroke("3", "pluck p s5 f0")
            .line("on");
        if caution {
            told.line("! 3: the bar off first").caution("3")
        } else {
            told
        }
    };
    let rules = |told: Told| -> Vec<String> {
        let all = table(&found(&told));
        all.into_iter().filter(|row| row.starts_with("join")).collect()
    };
    assert_eq!(rules(round(false)), ["join-without-caution@4 note"]);
    assert!(rules(round(true)).is_empty());
}
