use compasario::music::lesson::{Conflict, CrossReference, LetStand, Misheard, Reading, Technique, Unread};
use compasario::text::ClockTime;

use crate::support::lesson::{Told, findings_of, table, told, told_in};
use crate::{check, check_all};

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
fn links_to_moments() {
    let with = |at: &str, length: Option<u64>| {
        let mut told = told("siguiriya").line("[6:20] that is all").palo("siguiriya");
        told.lesson.readings.push(Reading {
            what: "the end".to_owned(),
            place: told.place(),
            sentence: told.place(),
            implied: None,
        });
        told = told.line("[3:06] explained at minute …");
        let moment = told.said(ClockTime::parse(at).unwrap());
        told.lesson.moments.push(moment);
        told.lesson.recording_length = length.map(ClockTime::from_seconds);
        told
    };
    check(
        with("9:20", None),
        &["link-to-nowhere@2 warning", "times-run-backwards@2 error"],
    );
    check(with("0:24", None), &["times-run-backwards@2 error"]);
    check(with("7:00", None), &["times-run-backwards@2 error"]);
    check(
        with("7:00", Some(400)),
        &["link-to-nowhere@2 warning", "times-run-backwards@2 error"],
    );
}

/// "The lesson on siguiriya, at 9:20": the folder has one, and it is over by then.
#[test]
fn links_to_moments_of_a_palos_lesson() {
    let home = |id: &str, file| {
        let mut told = told_in(id, file).line("[6:20] that is all").palo("siguiriya");
        let place = told.place();
        told.lesson.readings.push(Reading {
            what: "the end".to_owned(),
            place,
            sentence: place,
            implied: None,
        });
        told
    };
    let with = |at: &str| {
        let mut told = told_in("tangos", 0).line("the lesson on siguiriya");
        link(&mut told, "siguiriya", false);
        let moment = told.said(ClockTime::parse(at).unwrap());
        told.lesson.moments.push(moment);
        told
    };
    check_all(&[with("9:20"), home("a", 1)], &["link-to-nowhere@1 warning"]);
    check_all(&[with("5:00"), home("a", 1)], &[]);
    // With two of them nobody knows which is meant.
    check_all(&[with("9:20"), home("a", 1), home("b", 2)], &[]);
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
