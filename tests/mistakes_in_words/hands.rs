use super::{check, found};

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

#[test]
fn fingers_further_apart_than_a_hand() {
    let note = |line: &str| {
        format!(
            "[0:00] tangos, 4 counts\n[0:10] 1 p dn, 2 i dn, 3 i dn, 4 i dn\n[0:20] V1, replaces 3-4\n[0:30] {line}"
        )
    };
    for line in [
        "3 LH 1 on s6 f1 and LH 4 on s1 f8, both down at once, p s6",
        "hold finger 1 on string 6 fret 1 and finger 4 on string 1 fret 8: 3 p s6",
        "3 p s6: the first finger on the sixth string, first fret, and at the same time the fourth finger on the first string, eighth fret",
    ] {
        let found = found(&note(line), false);
        assert!(found.contains(&"stretch-too-wide@4".to_owned()), "{line}: {found:?}");
    }
    let spanish = "[0:00] tangos, 4 tiempos\n[0:10] 1 p ab, 2 i ab, 3 i ab, 4 i ab\n[0:20] Variación, cambia 3-4\n[0:30] 3 p c6: se pone el dedo 1 en la sexta cuerda, primer traste, y a la vez el dedo 4 en la primera cuerda, octavo traste\n[0:35] 4 p c6";
    assert_eq!(found(spanish, false), ["stretch-too-wide@4"]);
    for line in [
        "3 LH 1 on s6 f1 and LH 4 on s1 f4, both down at once, p s6",
        "3 p s6 f1 with finger 1, 4 m s1 f8 with finger 4",
    ] {
        let found = found(&note(line), false);
        assert!(
            !found.iter().any(|rule| rule.starts_with("stretch")),
            "{line}: {found:?}"
        );
    }
}

#[test]
fn a_string_open_under_the_barre() {
    check(&[
        (
            "[0:00] alegrías, 12 counts\n[0:10] 7: bar stays down on f2, p s5 f0 (A) under it",
            false,
            &["open-and-fretted@2"],
        ),
        (
            "[0:00] alegrías, 12 counts\n[0:10] 7: the bar off, p s5 f0 (A)",
            false,
            &[],
        ),
    ]);
}

#[test]
fn a_finger_that_stays_in_the_way() {
    let core = "[0:00] Tientos por medio, la frigio. Cuatro tiempos.\n\n[0:20] El la es x02220 y el si bemol x13331.\n\n[0:40] En el 1, si bemol, el pulgar abajo. En el 2, el índice abajo. En el 3, la, el índice abajo.";
    let cases = [
        (
            "En el 4 el pulgar toca la quinta en el traste tres, con el dedo tres. Ese dedo se queda ahí pisando, que suene por encima de la vuelta.",
            true,
        ),
        (
            "En el 4 el pulgar toca la quinta en el traste tres, con el dedo tres. Deja el dedo tres donde está, hasta la vuelta siguiente.",
            true,
        ),
        (
            "En el 4 el pulgar toca la quinta en el traste tres, con el dedo tres. El dedo tres no se mueve, suena por encima de la vuelta.",
            true,
        ),
        (
            "En el 4 el pulgar toca la quinta en el traste tres, con el dedo tres. Y se suelta antes del 1.",
            false,
        ),
    ];
    for (words, wrong) in cases {
        let found = found(&format!("{core} {words}"), true);
        assert_eq!(
            found.iter().any(|rule| rule.starts_with("held-into-next")),
            wrong,
            "{words}: {found:?}"
        );
    }
}

/// A finger that lies down is a barre, whatever the word for it, and no capo.
#[test]
fn a_barre_by_the_word_for_a_capo() {
    for (line, capo) in [
        (
            "Si bemol x13331, cejilla en el primer traste con el dedo uno tumbado",
            None,
        ),
        ("el Si bemol, con la cejilla en el uno, el dedo 1 acostado", None),
        ("con la cejilla en el traste dos", Some(2)),
        ("cejilla al 3", Some(3)),
    ] {
        assert_eq!(
            super::capo(&format!("[0:00] tangos, 4 tiempos\n[0:10] {line}")),
            capo,
            "{line}"
        );
    }
    for (line, capo) in [
        ("Bb x13331, a bar at the first fret, first finger lying down", None),
        ("capo on the second fret", Some(2)),
    ] {
        assert_eq!(
            super::capo(&format!("[0:00] tangos, 4 counts\n[0:10] {line}")),
            capo,
            "{line}"
        );
    }
}

/// Which way a strum goes, explained the wrong way round.
#[test]
fn a_strum_explained_the_wrong_way_round() {
    let tangos = |words: &str, counts: &str| format!("[0:00] Tangos, {counts}.\n\n[0:20] {words}");
    for (words, wrong) in [
        (
            "On 1 the index goes up, and up, you keep asking, means from the sixth string to the first.",
            true,
        ),
        (
            "On 1 the index goes up, and up, you keep asking, means from the first string to the sixth.",
            false,
        ),
        ("On 1 the index goes down. Down, that is, towards the ceiling.", true),
        ("On 1 the index goes down. Down, that is, towards the floor.", false),
        (
            "On 1 the index goes down. Down does not mean towards the ceiling.",
            false,
        ),
    ] {
        let found = found(&tangos(words, "four counts"), true);
        assert_eq!(
            found.iter().any(|rule| rule.starts_with("stroke-misexplained")),
            wrong,
            "{words}: {found:?}"
        );
    }
    for (words, wrong) in [
        (
            "El 1 es índice hacia abajo, y hacia abajo es que la uña entra por la prima y sale por la sexta.",
            true,
        ),
        (
            "El 1 es índice hacia abajo, y hacia abajo es que la uña entra por la sexta y sale por la prima.",
            false,
        ),
        ("El 1 es índice arriba. Arriba, o sea, camino del suelo.", true),
        ("El 1 es índice arriba. Arriba, o sea, camino del techo.", false),
    ] {
        let found = found(&tangos(words, "cuatro tiempos"), true);
        assert_eq!(
            found.iter().any(|rule| rule.starts_with("stroke-misexplained")),
            wrong,
            "{words}: {found:?}"
        );
    }
}

/// One finger for two notes that sound together.
#[test]
fn one_finger_for_two_notes_at_once() {
    let note = |line: &str| format!("[0:00] farruca, 8 tiempos\n[0:10] 1 p ab, 2 i ab, 3 i ab\n[0:20] 4 {line}");
    for (line, wrong) in [
        ("p 4ª t2 (Mi) con el 2 y, a la vez, a 1ª t3 (Sol) con el 2", true),
        (
            "p 4ª t2 (Mi) con el dedo 2 y al mismo tiempo a 1ª t3 (Sol) con el dedo 2",
            true,
        ),
        ("p 4ª t2 (Mi) con el 2 y, a la vez, a 1ª t3 (Sol) con el 3", false),
        ("p 4ª t2 (Mi) con el 2, & a 1ª t3 (Sol) con el 2", false),
    ] {
        let found = found(&note(line), false);
        assert_eq!(
            found.iter().any(|rule| rule == "finger-on-two-frets@3"),
            wrong,
            "{line}: {found:?}"
        );
    }
    let note = |line: &str| format!("[0:00] tangos, 4 counts\n[0:10] 1 p dn, 2 i dn, 3 i dn\n[0:20] 4 {line}");
    for (line, wrong) in [
        (
            "p s4 f2 (E) with finger 2 and at the same time a s1 f3 (G) with finger 2",
            true,
        ),
        (
            "p s4 f2 (E) with finger 2 and at the same time a s1 f3 (G) with finger 3",
            false,
        ),
    ] {
        let found = found(&note(line), false);
        assert_eq!(
            found.iter().any(|rule| rule == "finger-on-two-frets@3"),
            wrong,
            "{line}: {found:?}"
        );
    }
}

/// What hands cannot do, told where nothing is counted.
#[test]
fn hands_outside_of_any_compas() {
    let free = |words: &str, spanish: bool| match spanish {
        true => format!("[0:00] Taranta, toque libre, sin compás.\n\n[0:20] {words}"),
        false => format!("[0:00] Taranta, free, no count, in F sharp phrygian.\n\n[0:20] {words}"),
    };
    let slur = Some("ligado-impossible@3");
    let twice = Some("open-and-fretted@3");
    for (words, spanish, wrong) in [
        (
            "Index on the first string, third fret, and a pull-off to the fifth fret.",
            false,
            slur,
        ),
        (
            "Index on the first string, fifth fret, and a pull-off to the third fret.",
            false,
            None,
        ),
        (
            "Índice en la prima, traste 4, y de ahí hago un ligado ascendente al traste 2, de martillo.",
            true,
            slur,
        ),
        (
            "Índice en la prima, traste 4, y de ahí hago un ligado ascendente al traste 5, de martillo.",
            true,
            None,
        ),
        (
            "Índice en la prima, traste 5, y ligo hacia abajo al 3, y del 3 al aire.",
            true,
            None,
        ),
        (
            "A pinch of two: thumb on the fifth string, third fret, and index on the fifth string, open.",
            false,
            twice,
        ),
        (
            "A pinch of two: thumb on the fifth string, third fret, and index on the second string, open.",
            false,
            None,
        ),
        (
            "Un pellizco de dos: medio en la segunda, traste 1, y anular también en la segunda pero al aire.",
            true,
            twice,
        ),
        (
            "Un pellizco de dos: medio en la segunda, traste 1, y anular en la prima, al aire.",
            true,
            None,
        ),
        (
            "Pulgar en la quinta y, a la vez, medio en la segunda, traste 1. Luego la segunda al aire.",
            true,
            None,
        ),
    ] {
        let found = found(&free(words, spanish), true);
        assert_eq!(found.first().map(String::as_str), wrong, "{words}: {found:?}");
    }
}
