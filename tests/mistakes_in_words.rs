//! Mistakes told in ordinary words, English and Spanish, and the same told soundly: what is found, from the words of a
//! note to the finding. Each case is a note under a head of its own, and the rules of its errors and warnings.

use std::fs;

use compasario::findings::Severity;
use compasario::pipeline;

/// A note, whether somebody said it aloud, and the rules of what is found, with their lines.
type Case = (&'static str, bool, &'static [&'static str]);

fn found(note: &str, spoken: bool) -> Vec<String> {
    let folder = tempfile::tempdir().unwrap();
    let name = if spoken {
        "lesson.spoken.txt"
    } else {
        "lesson.notes.txt"
    };
    fs::write(folder.path().join(name), format!("{note}\n")).unwrap();
    let review = pipeline::review(folder.path()).unwrap();
    let serious = review
        .findings
        .iter()
        .filter(|finding| finding.severity > Severity::Note);
    serious
        .map(|finding| format!("{}@{}", finding.rule, finding.place.line))
        .collect()
}

#[track_caller]
fn check(cases: &[Case]) {
    let told = |(note, spoken, expected): &Case| {
        let found = found(note, *spoken);
        (found != **expected).then(|| format!("{note}\n  found {found:?}, not {expected:?}"))
    };
    let wrong: Vec<String> = cases.iter().filter_map(told).collect();
    assert!(wrong.is_empty(), "\n{}", wrong.join("\n"));
}

#[test]
fn so_many_strokes_in_a_rasgueado() {
    check(&[
        (
            "[0:00] tangos\n[0:10] On 3 a rasgueado of five, little finger, ring, middle, index.",
            false,
            &["too-few-notes@2"],
        ),
        (
            "[0:00] tangos\n[0:10] On 2 a rasgueado, little finger, ring, middle, index, five even strokes in the beat.",
            false,
            &["too-few-notes@2"],
        ),
        (
            "[0:00] tangos\n[0:10] En el 3 un rasgueado de cinco, meñique, anular, medio, índice.",
            false,
            &["too-few-notes@2"],
        ),
        (
            "[0:00] tangos\n[0:10] En el 3 un rasgueado de tres golpes, meñique, anular, medio, índice.",
            true,
            &["too-many-notes@2"],
        ),
        (
            "[0:00] tangos\n[0:10] 1 four semiquavers: rasg x a m i i",
            false,
            &["too-many-notes@2"],
        ),
        // The same soundly told.
        ("[0:00] tangos\n[0:10] 1 four semiquavers: rasg x a m i", false, &[]),
        (
            "[0:00] tangos\n[0:10] On 2 a five stroke rasgueado, little, ring, middle, index down and index up.",
            true,
            &[],
        ),
        (
            "[0:00] tangos\n[0:10] En el 3 un rasgueado de cuatro golpes, meñique, anular, medio, índice.",
            true,
            &[],
        ),
        // An index behind an "and" may be the stroke after it; counts are no strokes.
        (
            "[0:00] tangos\n[0:10] On 2 a rasgueado of four, little, ring, middle, index, and the index up on the and.",
            true,
            &[],
        ),
        (
            "[0:00] tangos\n[0:10] On 3 a rasgueado of 2 counts, little finger, ring, middle, index.",
            true,
            &[],
        ),
    ]);
}

#[test]
fn one_finger_in_two_places_of_a_chord() {
    check(&[
        (
            "[0:00] tientos\n[0:10] Solm 355333: dedo 1 de cejilla en el tr 3, dedo 3 en 5ª tr 5 y dedo 3 en 3ª tr 6, dedo 4 en 4ª tr 5",
            false,
            &["finger-on-two-frets@2"],
        ),
        (
            "[0:00] tientos\n[0:10] Dm xx0231, MI 1 en c1 tr1, 3 en c2 tr3, 3 en c3 tr2",
            false,
            &["finger-on-two-frets@2"],
        ),
        (
            "[0:00] tangos\n[0:10] Dm is xx0231: first finger on the first string, first fret, second finger on the third string, second fret, second finger on the second string, third fret",
            false,
            &["finger-on-two-frets@2"],
        ),
        (
            "[0:00] tangos\n[0:10] Dm xx0231, finger 1 at string 1 fret 1, finger 3 at string 2 fret 3, finger 3 at string 3 fret 2",
            false,
            &["finger-on-two-frets@2"],
        ),
        // The same soundly told; and one finger lying over two strings of a fret.
        (
            "[0:00] tientos\n[0:10] Dm xx0231, MI 1 en c1 tr1, 3 en c2 tr3, 2 en c3 tr2",
            false,
            &[],
        ),
        (
            "[0:00] tangos\n[0:10] A x02220, first finger on the fourth string, second fret, first finger on the third string, second fret, second finger on the second string, second fret",
            false,
            &[],
        ),
    ]);
}

#[test]
fn a_string_that_no_finger_is_left_for() {
    let all = "LH 1 on s5 f1, 2 on s4 f3, 3 on s3 f3, 4 on s2 f3";
    let cases = [
        (format!("Bb x13331: {all}. No bar."), true),
        (format!("Bb x13331: {all}, without a barre"), true),
        (
            "Bb x13331, sin ceja: dedo 1 en c5 tr1, dedo 2 en c4 tr3, dedo 3 en c3 tr3, dedo 4 en c2 tr3".to_owned(),
            true,
        ),
        (format!("Bb x13331: {all}"), false),
        (format!("Bb x1333x: {all}. No bar."), false),
        ("Bb x1333x: LH 1 on s5 f1, 2 on s4 f3. No bar.".to_owned(), false),
    ];
    for (line, wrong) in cases {
        let expected: &[&str] = if wrong { &["string-without-finger@2"] } else { &[] };
        assert_eq!(
            found(&format!("[0:00] tangos\n[0:10] {line}"), false),
            expected,
            "{line}"
        );
    }
}

#[test]
fn groups_that_do_not_make_up_the_compas() {
    check(&[
        (
            "[0:00] soleá, 12 counts. It is built as 3 and 3 and 2 and 2 and 3, so 12 in all.",
            false,
            &["groups-miscounted@1"],
        ),
        (
            "[0:00] soleá, 12 counts\n[0:05] grouped 3+3+2+2+3",
            false,
            &["groups-miscounted@2"],
        ),
        (
            "[0:00] Hoy la soleá, en doce tiempos. Se agrupa en tres, tres, dos, dos y tres.",
            true,
            &["groups-miscounted@1"],
        ),
        (
            "[0:00] Hoy la siguiriya. Dos, dos, tres, tres y tres, si lo sumas te salen doce.",
            true,
            &["groups-miscounted@1"],
        ),
        // The same soundly told; halves of counts, pulses of uneven counts, accents one after another.
        (
            "[0:00] soleá, 12 counts. It is built as 3 and 3 and 2 and 2 and 2.",
            false,
            &[],
        ),
        ("[0:00] rumba, 4 tiempos, empuje 3+3+2", false, &[]),
        (
            "[0:00] Hoy la siguiriya. Dos, dos, tres, tres y dos, si lo sumas te salen doce.",
            true,
            &[],
        ),
        ("[0:00] tangos, 4 counts, accents 2, 3 and 4", false, &[]),
    ]);
}

#[test]
fn a_number_and_its_list() {
    check(&[
        (
            "[0:00] It's alegrías in A. You'll need four chords for this, and they are A, and D, and E7.",
            true,
            &["list-miscounted@1"],
        ),
        (
            "[0:00] garrotín\n[0:10] Las posturas son tres, el Do, x32010, y el Sol siete, 320001.",
            false,
            &["list-miscounted@2"],
        ),
        (
            "[0:00] tangos\n[0:10] two chords: A, Bb and Dm",
            false,
            &["list-miscounted@2"],
        ),
        (
            "[0:00] Soleá. Twelve counts in it and there are five accents. Three, six, eight and ten.",
            true,
            &["list-miscounted@1"],
        ),
        (
            "[0:00] soleá, 12 tiempos, cuatro acentos: 3, 6, 8, 10 y 12",
            false,
            &["list-miscounted@1"],
        ),
        (
            "[0:00] Tangos. Os llevo cuatro deberes para esta semana. El primero, dar palmas. El segundo, las seis vueltas. Y el tercero, el 4 despacito. Y ya está, esos son todos.",
            true,
            &["list-miscounted@1"],
        ),
        (
            "[0:00] Tangos. Two things for the week. The first, slow. The second, slower. And the third, with your foot. And that's all.",
            true,
            &["list-miscounted@1"],
        ),
        // The same soundly told; a list that goes on elsewhere; other numbers beside the words.
        (
            "[0:00] It's alegrías in A. You'll need three chords for this, and they are A, and D, and E7.",
            true,
            &[],
        ),
        (
            "[0:00] tangos\n[0:10] four chords, A and Bb for the core, the others later",
            false,
            &[],
        ),
        (
            "[0:00] fandangos\n[0:10] un acorde cada tres tiempos: Am 1-3, G 4-6, F 7-9, E 10-12",
            false,
            &[],
        ),
        (
            "[0:00] Soleá. There are five accents. Three, six, eight, ten and twelve.",
            true,
            &[],
        ),
        (
            "[0:00] Tangos. Two things for the week. The first, slow. The second, slower. And that's all.",
            true,
            &[],
        ),
    ]);
}

#[test]
fn variations_asked_for_in_one_vuelta() {
    let spanish = |asks: &str, second: &str| {
        format!(
            "[0:00] tangos, 4 tiempos\n[0:10] 1 p ab, 2 i ab, 3 i ab, 4 i ab\n[0:20] Variación 1, cambia 1-2: 1 p ab, 2 p ab\n[0:30] Variación 2, cambia {second}\n[0:40] {asks}"
        )
    };
    let english = |asks: &str, second: &str| {
        format!(
            "[0:00] tangos, 4 counts\n[0:10] 1 p dn, 2 i dn, 3 i dn, 4 i dn\n[0:20] V1 (1-2): 1 p dn, 2 p dn\n[0:30] V2 {second}\n[0:40] {asks}"
        )
    };
    let (meets, apart) = ("(2-3): 2 p dn, 3 p dn", "(3-4): 3 p dn, 4 p dn");
    for asks in [
        "v1 and v2 in one round",
        "V1 and V2 go together",
        "Both variations in the same round, please",
        "In one and the same round you play variation 1 and variation 2",
    ] {
        assert_eq!(found(&english(asks, meets), false), ["variations-meet@5"], "{asks}");
        assert_eq!(found(&english(asks, apart), false), [""; 0], "{asks}");
    }
    let (meets, apart) = ("2-3: 2 p ab, 3 p ab", "3-4: 3 p ab, 4 p ab");
    for asks in [
        "mezclad la uno y la dos en la misma vuelta",
        "V1 y V2 se pueden juntar",
        "las dos variaciones en una sola vuelta",
        "la primera y la segunda, juntas",
    ] {
        assert_eq!(found(&spanish(asks, meets), false), ["variations-meet@5"], "{asks}");
        assert_eq!(found(&spanish(asks, apart), false), [""; 0], "{asks}");
    }
    for asks in [
        "one OR the other, V1 and V2 never in one round",
        "V1 in one round, V2 in another",
        "V1 and V2 are for Tuesday",
    ] {
        assert_eq!(found(&english(asks, "(2-3): 2 p dn, 3 p dn"), false), [""; 0], "{asks}");
    }
}

#[test]
fn what_a_stroke_is() {
    check(&[
        (
            "[0:00] tangos\n[0:10] Rest stroke on every note, that is, the finger never touches the neighbour string",
            false,
            &["stroke-misexplained@2"],
        ),
        (
            "[0:00] tangos\n[0:10] free stroke means the finger lands on the next string",
            false,
            &["stroke-misexplained@2"],
        ),
        (
            "[0:00] tangos\n[0:10] Todo apoyando, o sea, que el dedo no toca la cuerda siguiente",
            false,
            &["stroke-misexplained@2"],
        ),
        // The same soundly told.
        (
            "[0:00] tangos\n[0:10] Rest stroke, that is, the finger lands on the neighbour string",
            false,
            &[],
        ),
        (
            "[0:00] tangos\n[0:10] free stroke means the finger does not touch the next string",
            false,
            &[],
        ),
        (
            "[0:00] tangos\n[0:10] Rest stroke here. The next string is not for today.",
            false,
            &[],
        ),
    ]);
}

#[test]
fn a_tempo_that_no_hand_plays() {
    check(&[
        (
            "[0:00] It's alegrías. I'd like it at 520 on the metronome please, one click to each count.",
            true,
            &["tempo-implausible@1"],
        ),
        (
            "[0:00] alegrías, 12 counts\n[0:05] tempo 640",
            false,
            &["tempo-implausible@2"],
        ),
        (
            "[0:00] tangos\n[0:05] velocidad 700, un clic por tiempo",
            false,
            &["tempo-implausible@2"],
        ),
        ("[0:00] alegrías, 12 counts\n[0:05] tempo 140, tuned to 440", false, &[]),
    ]);
}
