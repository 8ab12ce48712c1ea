//! Each check on lessons made by hand: what trips it, and its near misses.

mod support;

use compasario::music::lesson::{Conflict, CrossReference, LetStand, Misheard, Technique, Unread};
use compasario::music::pattern::{ClaimAbout, Role};
use compasario::text::ClockTime;
use support::lesson::{Told, at, findings_of, span, table, told, told_in};

#[track_caller]
fn check(told: Told, expected: &[&str]) {
    let findings = told.findings();
    assert_eq!(table(&findings), expected, "{findings:#?}");
}

#[track_caller]
fn check_all(lessons: &[Told], expected: &[&str]) {
    let findings = findings_of(lessons);
    assert_eq!(table(&findings), expected, "{findings:#?}");
}

fn in_twelve(id: &str) -> Told {
    told(id).line("[0:00] count 12").beats(12).core(1, 12)
}

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
    assert_eq!(findings[0].message, "count 7 is left out between 4-6 and 8-9");
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
fn accents_inside_the_compas_and_of_the_palo() {
    for (palo, beats, accents, expected) in [
        ("alegrias", 12, "3 6 8 10 13", &["accent-past-compas@1 error"][..]),
        ("sevillanas", 6, "1 4 7", &["accent-past-compas@1 error"]),
        ("alegrias", 12, "3 6 8 10 12", &[]),
        ("cantinas", 12, "2 5 9 11", &["accents-not-of-palo@1 warning"]),
        ("buleria", 12, "2 4 7 9 11", &["accents-not-of-palo@1 warning"]),
        ("buleria", 12, "3 7 8 10 12", &[]),
        ("buleria", 6, "3 6", &[]),
        ("tangos", 8, "2 3 4 6 7 8", &[]),
        ("tangos", 4, "2 4", &[]),
        ("tientos", 4, "2 3 4", &[]),
        ("tientos", 4, "1 2+1/2", &[]),
        ("sevillanas", 6, "1 4", &[]),
        ("guajira", 12, "3 6 8 10 12", &[]),
        ("fandangos-de-huelva", 12, "1 4 7 10", &[]),
        ("siguiriya", 5, "1 2 3 4 5", &[]),
        ("zapateado", 6, "1 4", &[]),
        ("farruca", 8, "1 3 5 7", &[]),
        ("rumba", 4, "1 2+1/2 4", &[]),
    ] {
        let told = told(palo).line("the compás").palo(palo).beats(beats).accents(accents);
        assert_eq!(table(&told.findings()), expected, "{palo} in {beats}: {accents}");
    }
}

#[test]
fn tempo_within_half_and_twice_what_the_palo_goes_at() {
    for (palo, beats, tempo, expected) in [
        ("tientos", 4, (240, 240), &["tempo-implausible@1 warning"][..]),
        ("solea-por-buleria", 12, (15, 15), &["tempo-implausible@1 warning"]),
        ("tientos", 4, (56, 56), &[]),
        ("buleria", 12, (180, 180), &[]),
        ("solea", 12, (76, 84), &[]),
        ("tangos", 4, (92, 92), &[]),
        ("buleria", 12, (150, 150), &["tempo-implausible@1 note"]),
        ("taranta", 6, (10, 10), &[]),
    ] {
        let told = told(palo)
            .line("the tempo")
            .palo(palo)
            .beats(beats)
            .tempo(tempo.0, tempo.1);
        assert_eq!(table(&told.findings()), expected, "{palo} at {tempo:?}");
    }
}

#[test]
fn a_line_past_the_compas() {
    check(
        in_twelve("solea")
            .line("10-13 E: 10 i dn")
            .covers("10-13 E", 10, 13)
            .stroke("10", "down i"),
        &["span-past-compas@2 error"],
    );
    check(
        told("rumba")
            .line("in 4, counted 1 to 8")
            .beats(4)
            .core(1, 8)
            .line("5-8: 5 p dn")
            .covers("5-8", 5, 8),
        &[],
    );
}

#[test]
fn shapes_and_their_names() {
    for (name, shape, expected) in [
        ("Dm", "x32010", &["shape-contradicts-name@1 error"][..]),
        ("E7", "x02020", &["shape-contradicts-name@1 error"]),
        ("Dm", "xx0231", &[]),
        ("A", "x02220", &[]),
        ("Bb", "x13331", &[]),
        ("B7", "x21202", &[]),
        ("E7", "020100", &[]),
        ("Am", "x02220", &["shape-contradicts-name@1 error"]),
        ("A", "x02210", &["shape-contradicts-name@1 error"]),
        // The fifth may be left out, the third only by mistake.
        ("C", "x32018", &[]),
        ("E", "022xxx", &["shape-contradicts-name@1 warning"]),
        ("F", "xx3210", &["shape-adds-notes@1 note"]),
        ("F#", "244300", &["shape-adds-notes@1 note"]),
        ("Fmaj7", "xx3210", &[]),
        ("A(b9)", "x02320", &[]),
        ("Asus4", "x02230", &[]),
    ] {
        let told = told("chord").line("the shape").chord(name, shape);
        let findings = told.findings();
        assert_eq!(table(&findings), expected, "{name} {shape}: {findings:#?}");
    }
}

#[test]
fn the_contradiction_says_what_sounds_and_what_is_missing() {
    let findings = told("chord").line("Dm x32010").chord("Dm", "x32010").findings();
    assert_eq!(
        findings[0].message,
        "x32010 is given for Dm, but it sounds C E G C E: there is no D, the root"
    );
    assert_eq!(
        findings[0].help,
        "It is a shape of C: correct the name, or give the shape of Dm"
    );
}

#[test]
fn fingers_of_a_shape() {
    let dm = |fingers: &[(u8, u8, u8)]| told("farruca").line("Dm xx0231").chord("Dm", "xx0231").fingers(fingers);
    check(dm(&[(1, 1, 1), (2, 3, 2), (2, 2, 3)]), &["finger-on-two-frets@1 error"]);
    check(dm(&[(1, 1, 1), (2, 3, 2), (3, 2, 3)]), &[]);
    check(
        dm(&[(1, 1, 1), (2, 3, 3), (4, 2, 3)]),
        &["fingers-contradict-shape@1 error"],
    );
}

#[test]
fn a_note_and_its_fret() {
    for (stroke, expected) in [
        ("pluck p s4 f3 E", &["note-contradicts-fret@2 error"][..]),
        ("pluck p s4 f3 F", &[]),
        ("pluck p s5 f1 C", &["note-contradicts-fret@2 error"]),
        ("pluck p s5 f1 A#", &[]),
        ("pluck p s2 f0 B", &[]),
        ("pluck p s6 F", &[]),
    ] {
        check(in_twelve("walk").line("9 a note").stroke("9", stroke), expected);
    }
    let with_capo = in_twelve("walk")
        .capo(2)
        .line("9 s5 open (B)")
        .stroke("9", "pluck p s5 f0 B");
    check(with_capo, &[]);
}

#[test]
fn a_string_sounds_one_note() {
    check(
        in_twelve("guajira")
            .line("5 both")
            .stroke("5", "pluck m s2")
            .claim(ClaimAbout::OpenAndFretted {
                at: at("5"),
                string: 2,
                fret: 2,
            }),
        &["open-and-fretted@2 error"],
    );
    check(
        in_twelve("guajira")
            .line("5 both")
            .stroke("5", "pluck m s2 f0")
            .stroke("5", "pluck i s2 f2"),
        &["open-and-fretted@2 error"],
    );
}

#[test]
fn what_was_said_twice_and_not_the_same() {
    let mut told = told("zapateado").line("capo: 2");
    let first_place = told.place();
    told = told.line("[0:20] capo on the fourth fret");
    told.lesson.conflicts.push(Conflict {
        about: "the capo".to_owned(),
        first: "2".to_owned(),
        second: "4".to_owned(),
        first_place,
        place: told.place(),
    });
    let findings = told.findings();
    assert_eq!(table(&findings), ["said-twice-differently@2 error"]);
    assert_eq!(findings[0].message, "the capo is 2 on line 1 and 4 here");
}

#[test]
fn times_that_run_backwards() {
    for (times, expected) in [
        (
            &["[0:00] a", "[0:43] b", "[0:37] c", "[0:53] d"][..],
            &["times-run-backwards@3 error"][..],
        ),
        (&["[0:00] a", "[0:43] b", "[0:43] c"], &[]),
        // One time too late is one finding, not one for every line after it.
        (
            &["[0:10] a", "[9:43] b", "[0:20] c", "[0:30] d", "[0:40] e"],
            &["times-run-backwards@3 error"],
        ),
    ] {
        let told = times.iter().fold(told("times"), |told, line| told.line(line));
        assert_eq!(table(&told.findings()), expected, "{times:?}");
    }
}

#[test]
fn misheard_and_not_understood() {
    let mut told = told("speech").line("[0:12] here comes the ras gay ado");
    told.lesson.misheard.push(Misheard {
        heard: "ras gay ado".to_owned(),
        read_as: "rasgueado".to_owned(),
        place: told.words("ras gay ado"),
    });
    let unread = |musical, told: &Told| Unread {
        text: String::new(),
        reason: "no count is said".to_owned(),
        musical,
        place: told.place(),
    };
    told = told.line("[0:20] the usual flourish");
    let plain = unread(true, &told);
    told.lesson.unread.push(plain);
    told = told.line("[0:30] and so forth");
    let plain = unread(false, &told);
    told.lesson.unread.push(plain);
    check(
        told,
        &[
            "word-misheard@1 note",
            "sentence-not-understood@2 warning",
            "sentence-not-understood@3 note",
        ],
    );
}

fn link(told: &mut Told, target: &str, announced: bool) {
    let place = told.place();
    told.lesson.links.push(CrossReference {
        target: target.to_owned(),
        words: target.to_owned(),
        announced,
        place,
    });
}

#[test]
fn links_to_lessons() {
    let mut first = told_in("farruca-one", 0)
        .line("look at the lesson farruca-prologue")
        .palo("farruca");
    link(&mut first, "farruca-prologue", false);
    let mut second = told_in("tangos-one", 1).line("as in the farruca lesson; next month the alegrías");
    link(&mut second, "farruca", false);
    link(&mut second, "farruca-one", false);
    link(&mut second, "alegrias-two", true);
    check_all(&[first, second], &["link-to-nowhere@1 warning"]);
    let mut vague = told_in("tangos-one", 0).line("as in the alegrías lesson");
    link(&mut vague, "alegrias", false);
    check_all(&[vague], &["link-to-nowhere@1 note"]);
    check_all(
        &[told_in("a", 0).line("needs: b").needs("b")],
        &["link-to-nowhere@1 warning"],
    );
}

#[test]
fn needs_that_form_a_ring() {
    let lesson = |id: &str, file, needs: &str| told_in(id, file).line("needs").needs(needs);
    check_all(
        &[lesson("a", 0, "b"), lesson("b", 1, "c"), lesson("c", 2, "a")],
        &["needs-ring@1 error"],
    );
    check_all(&[lesson("a", 0, "a")], &["needs-ring@1 error"]);
    check_all(
        &[told_in("a", 0).line(""), lesson("b", 1, "a"), lesson("c", 2, "a")],
        &[],
    );
    let findings = findings_of(&[lesson("a", 0, "b"), lesson("b", 1, "a")]);
    assert_eq!(
        findings[0].message,
        "lessons need each other in a ring: a needs b needs a"
    );
}

#[test]
fn one_number_for_two_lessons() {
    let lesson = |id: &str, file, order| told_in(id, file).line("order").order(order);
    check_all(
        &[lesson("a", 0, 3), lesson("b", 1, 3)],
        &["lesson-number-twice@1 warning"],
    );
    check_all(&[lesson("a", 0, 3), lesson("b", 1, 4)], &[]);
}

#[test]
fn one_name_for_two_shapes_and_one_palo_with_two_accent_sets() {
    let lesson = |id: &str, file, shape: &str, accents: &str| {
        told_in(id, file)
            .line("all")
            .palo("buleria")
            .beats(12)
            .accents(accents)
            .chord("Bb", shape)
    };
    check_all(
        &[
            lesson("a", 0, "x13331", "3 6 8 10 12"),
            lesson("b", 1, "x1333x", "3 7 8 10 12"),
            lesson("c", 2, "x1333x", "12 3 6 8 10"),
        ],
        &["chord-with-two-shapes@1 note", "palo-with-two-accent-sets@1 note"],
    );
}

#[test]
fn a_technique_before_it_is_taught() {
    let lesson = |id: &str, file, order, explained| {
        let mut told = told_in(id, file).line("4 rasgueado").order(order);
        told.lesson.techniques.push(Technique {
            id: "rasgueado".to_owned(),
            explained,
            place: told.place(),
        });
        told
    };
    check_all(
        &[lesson("a", 0, 1, false), lesson("b", 1, 2, true)],
        &["technique-before-taught@1 note"],
    );
    check_all(
        &[
            lesson("a", 0, 1, true),
            lesson("b", 1, 2, false),
            lesson("c", 2, 3, true),
        ],
        &[],
    );
    // Without an order nothing is claimed.
    let mut free = lesson("a", 0, 1, false);
    free.lesson.order = None;
    check_all(&[free, lesson("b", 1, 2, true)], &[]);
}

#[test]
fn a_time_past_the_end_of_the_recording() {
    let lesson = |length| {
        let mut told = told("tangos").line("recording: tangos.wav");
        told.lesson.recording = Some(told.said("tangos.wav".to_owned()));
        told.lesson.recording_length = Some(ClockTime::from_seconds(length));
        told.line("[0:50] 1 i dn").line("[1:20] 3 i dn").line("[1:30] 4 i dn")
    };
    check(lesson(60), &["time-past-recording@3 error"]);
    check(lesson(90), &[]);
}

#[test]
fn a_finding_may_be_let_stand_with_a_reason() {
    let with = |rule: &str, reason: &str| {
        let mut told = told("tientos")
            .line("tempo 240")
            .palo("tientos")
            .beats(4)
            .tempo(240, 240);
        told = told.line("(let stand …)");
        told.lesson.let_stand.push(LetStand {
            rule: rule.to_owned(),
            reason: reason.to_owned(),
            place: told.place(),
        });
        told
    };
    check(with("tempo-implausible", "the click sounds four times a count"), &[]);
    check(
        with("tempo-implausible", ""),
        &["tempo-implausible@1 warning", "let-stand-without-reason@2 warning"],
    );
    check(
        with("overlapping-spans", "because"),
        &["tempo-implausible@1 warning", "unused-let-stand@2 warning"],
    );
    let findings = with("tempo-implausable", "a typo").findings();
    assert_eq!(findings[1].help, "Did you mean tempo-implausible?");
}
