use super::{check, found};

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
            "[0:00] Tanguillos. Two big counts to the bar, and every one of them splits in three.",
            true,
            &[],
        ),
        (
            "[0:00] Zapateado. Six counts, one two three four five six, and the feet come down on the one and on the four, so those are our two accents.",
            true,
            &[],
        ),
        (
            "[0:00] Zapateado. Six counts, one two three four five six, and the feet come down on the one and on the four, so those are our three accents.",
            true,
            &["list-miscounted@1"],
        ),
        (
            "[0:00] Tangos. Two things for the week. The first, slow. The second, slower. And that's all.",
            true,
            &[],
        ),
    ]);
}

#[test]
fn so_many_in_each_count() {
    check(&[
        (
            "[0:00] rumba, 4 tiempos\n[0:10] 1 p ab, 2 i ab, 3 i ab, 4 i ab\n[0:20] Variación 1, cambia 1-2\n[0:25] Cuatro semicorcheas en cada tiempo:\n[0:30] 1: p 6ª, i 3ª, m 2ª, a 1ª\n[0:35] 2: m 2ª, i 3ª, p 6ª",
            false,
            &["too-few-notes@6"],
        ),
        (
            "[0:00] rumba, 4 counts\n[0:10] 1 p dn, 2 i dn, 3 i dn, 4 i dn\n[0:20] V1, replaces 1-2. four notes to each count\n[0:30] 1: p s6, i s3, m s2, a s1\n[0:35] 2: m s2, i s3, p s6",
            false,
            &["too-few-notes@5"],
        ),
        (
            "[0:00] bulería, 12 counts, tempo 200 to 230\n[0:10] 1 p dn, 2 i dn, 3 i dn\n[0:20] V1, replaces 7-10\n[0:30] 7-10: unbroken rasgueado, ten strokes a count",
            false,
            &["line-too-fast@4"],
        ),
        // The same soundly told.
        (
            "[0:00] rumba, 4 counts\n[0:10] 1 p dn, 2 i dn, 3 i dn, 4 i dn\n[0:20] V1, replaces 1-2. four notes to each count\n[0:30] 1: p s6, i s3, m s2, a s1\n[0:35] 2: m s2, i s3, p s6, i s3",
            false,
            &[],
        ),
    ]);
}

#[test]
fn a_line_of_the_core_that_was_forgotten() {
    let core = |line: &str| {
        format!(
            "[0:00] fandangos de Huelva, 6 tiempos\n[0:10] 1 p baja\n[0:12] 2 i baja\n[0:14] 3 i baja\n[0:16] 4 rasgueado e a m i\n{line}[0:20] 6 i baja\n[0:30] V, en vez de 1-3: 1 p c5 al aire, 2 p c5 t3, 3 p c5 al aire"
        )
    };
    assert_eq!(found(&core(""), false), ["count-left-out@6"]);
    assert_eq!(found(&core("[0:18] 5 silencio\n"), false), [""; 0]);
    assert_eq!(found(&core("[0:18] el 5 suena solo\n"), false), [""; 0]);
}

#[test]
fn lines_that_claim_a_count_twice() {
    check(&[
        (
            "[0:00] guajira, 12 tiempos\n[0:10] 1-3 arpegio: 1 p 5ª, 2 m 2ª, 3 m 2ª\n[0:20] 4-7 lo mismo: 4 p 6ª, 5 m 2ª, 6 m 2ª, 7 p 6ª\n[0:30] 7-9 con i: 7 i abajo, 8 i abajo, 9 i abajo",
            false,
            &["overlapping-spans@4"],
        ),
        (
            "[0:00] guajira, 12 counts\n[0:10] 1-3 arpeggio: 1 p s5, 2 m s2, 3 m s2\n[0:20] 3-6 strummed: 3 i dn, 4 i dn, 5 i dn, 6 i dn",
            false,
            &["overlapping-spans@3"],
        ),
        (
            "[0:00] guajira, 12 counts\n[0:10] 1-3 arpeggio: 1 p s5, 2 m s2, 3 m s2\n[0:20] 4-6 strummed: 4 i dn, 5 i dn, 6 i dn",
            false,
            &[],
        ),
    ]);
}

#[test]
fn so_many_notes_of_a_variation_told_aloud() {
    let told = |number: &str, last: &str| {
        format!(
            "[0:00] Tangos por medio, La frigio. Cuatro tiempos.\n\n[0:20] En el uno un golpe con el anular. En el dos, índice abajo, y en el tres igual. En el cuatro pulgar abajo.\n\n[1:05] Ahora una cosita para cambiar el tres y el cuatro. {number} todas con el pulgar. En el tres la cuarta cuerda, tercer traste, y en el y la cuarta al aire. En el cuatro la quinta cuerda, tercer traste{last}"
        )
    };
    let half = ", y en el y la quinta, primer traste.";
    assert_eq!(found(&told("Son cinco notas,", half), true), ["list-miscounted@5"]);
    assert_eq!(found(&told("Son tres notas,", half), true), ["list-miscounted@5"]);
    assert_eq!(found(&told("Hay cuatro notas,", "."), true), ["list-miscounted@5"]);
    assert_eq!(found(&told("Son cuatro notas,", half), true), [""; 0]);
    // On one of the two counts nothing was read: the rest may stand in words that were not.
    let unplaced = "[0:00] Sevillanas, tres tiempos. En el uno, pulgar abajo. En el dos, índice abajo. En el tres, índice arriba.\n\n[0:40] La variación sustituye a dos y tres. Cuatro notas, dos por tiempo, índice y medio.\n\n[0:46] La segunda en el traste uno, do. La segunda al aire, si. La tercera en el dos, la. La tercera al aire, sol.";
    assert_eq!(found(unplaced, true), [""; 0]);
}

#[test]
fn a_count_of_a_variation_that_was_forgotten() {
    let note = |line: &str| {
        format!(
            "[0:00] zapateado, 6 tiempos\n[0:10] 1 p ab, 2 i ab, 3 i ab, 4 i ab, 5 i ab, 6 i ab\n[0:20] V2 (3-6), toda fuerte\n[0:30] {line}\n[0:40] 5: i arr\n[0:50] 6: p ab"
        )
    };
    assert_eq!(found(&note("3: rasg x a m i"), false), ["variation-count-open@3"]);
    // Its own line names it.
    assert_eq!(
        found(&note("3: rasg x a m i, y que suene el 4 también"), false),
        [""; 0]
    );
    assert_eq!(found(&note("3: rasg x a m i. El 4 es suyo"), false), [""; 0]);
}

/// The key that is heard, and what the capo makes of the hand's.
#[test]
fn a_key_that_the_capo_does_not_make() {
    let english =
        |line: &str| format!("[0:00] rumba, 4 counts. in the hand it's A minor\n[0:04] {line}\n[0:10] 1 p dn, 2 i dn");
    for (line, wrong) in [
        ("capo 3. it comes out in B minor", true),
        ("capo 3. it comes out in C minor", false),
        ("capo on 2: at concert pitch that's C minor", true),
        ("capo 2. it does not sound in C minor", false),
        ("capo 2, so what the neighbours hear is C minor", true),
        ("capo 2, so what the neighbours hear is B minor", false),
    ] {
        let found = found(&english(line), false);
        assert_eq!(found == ["sounding-key-differs@2"], wrong, "{line}: {found:?}");
    }
    let spanish = |line: &str| format!("[0:00] soleá por arriba, 12 tiempos\n[0:04] {line}\n[0:10] 1 p ab, 2 i ab");
    for (line, wrong) in [
        ("cejilla al 2: en la mano es Mi frigio, al oído Sol frigio", true),
        ("cejilla al 2: en la mano es Mi frigio, al oído Fa# frigio", false),
        ("cejilla al 4, suena en Sol# frigio", false),
    ] {
        let found = found(&spanish(line), false);
        assert_eq!(found == ["sounding-key-differs@2"], wrong, "{line}: {found:?}");
    }
}
