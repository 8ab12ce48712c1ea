use super::found;

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
fn rows_said_aloud() {
    let counted = |row: &str| {
        format!(
            "[0:00] bulería por medio, 12 counts\n[0:34] 1: i down, & i up\n[0:38] 2: i down\n[0:42] 3: i down\n[0:46] 4: i down, & i up\n[0:50] 5: i down\n[0:54] 6: i down, & i up\n[0:58] 7: i down\n[1:02] 8: i down\n[1:06] 9: i down\n[1:10] 10: i down\n[1:14] 11: i down\n[1:18] 12: i down\n[1:22] {row}"
        )
    };
    for (row, wrong) in [
        (
            "Said aloud it goes: 1 and 2, 3, 4 and 5 and 6 and 7, 8, 9, 10, 11, 12.",
            true,
        ),
        ("out loud: 1 and 2 3 4 and 5 6 7 8 9 10 11 12", true),
        (
            "Said aloud it goes: 1 and 2, 3, 4 and 5, 6 and 7, 8, 9, 10, 11, 12.",
            false,
        ),
        // Counted aloud, whatever is played.
        (
            "Said aloud it goes: 1 and 2 and 3 and 4 and 5 and 6 and 7 and 8 and",
            false,
        ),
    ] {
        let expected: &[&str] = if wrong { &["recited-row-differs@14"] } else { &[] };
        assert_eq!(found(&counted(row), false), expected, "{row}");
    }
    let sung = |row: &str| {
        format!(
            "[0:00] rumba, 4 tiempos\n[0:10] TAP = palma de la mano en las cuerdas, apaga todo\n[0:20] 1 p ab\n[0:22] 1y i arr\n[0:24] 2 TAP\n[0:26] 2y i arr\n[0:28] 3 i ab\n[0:30] 3y i arr\n[0:32] 4 TAP\n[0:34] 4y i arr\n[0:40] {row}"
        )
    };
    for (row, wrong) in [
        ("cantado: pulgar arriba tap arriba, abajo arriba abajo arriba", true),
        (
            "en voz alta: pulgar, arriba, tap, arriba, abajo, abajo, tap, arriba",
            true,
        ),
        ("cantado: pulgar arriba tap arriba, abajo arriba tap arriba", false),
        ("cantado: pulgar arriba tap, y aire", false),
    ] {
        let expected: &[&str] = if wrong { &["recited-row-differs@11"] } else { &[] };
        assert_eq!(found(&sung(row), false), expected, "{row}");
    }
}

#[test]
fn names_of_notes_said_over() {
    let spanish = |row: &str| {
        format!(
            "[0:00] guajira en la mayor, 12 tiempos\n[0:05] 1 p ab\n[0:10] CAMBIO 2, en vez de 11 y 12. pulgar\n[0:20] 11 p c6 al aire (mi), y p c6 tr2 (fa#)\n[0:30] 12 p c6 tr4 (sol#)\n[0:40] {row}"
        )
    };
    for (row, wrong) in [
        ("se dice: mi fa# sol, y al 1", true),
        ("se canta: mi, fa, sol#", true),
        ("cantad: mi fa# sol#", false),
        ("se dice: mi fa# sol sostenido", false),
    ] {
        let expected: &[&str] = if wrong { &["recited-row-differs@6"] } else { &[] };
        assert_eq!(found(&spanish(row), false), expected, "{row}");
    }
}

#[test]
fn a_variation_that_is_not_there() {
    let english = |asks: &str| {
        format!(
            "[0:00] tangos, 4 counts\n[0:10] 1 p dn, 2 i dn, 3 i dn, 4 i dn\n[0:20] V1 (1-2): 1 p dn, 2 p dn\n[0:30] V2 (3-4): 3 p dn, 4 p dn\n[0:40] {asks}"
        )
    };
    for (asks, wrong) in [
        ("to close, v1 and then the 3-4 of v3", true),
        ("finish like variation 4, only softer", true),
        ("mixing: core, V1, core, V3, and the whole thing four times", true),
        ("mixing: core, V1, core, V2, and the whole thing four times", false),
        ("to close, v1 and then the 3-4 of v2", false),
        ("next week a v3, and the ending of v4", false),
        ("do not ask for the ending of v3", false),
        ("V3 (2): 2 i up\n[0:50] to close, the 2 of v3", false),
    ] {
        let found = found(&english(asks), false);
        assert_eq!(found == ["variation-not-told@5"], wrong, "{asks}: {found:?}");
    }
    let spanish = |asks: &str| {
        format!(
            "[0:00] tangos, 4 tiempos\n[0:10] 1 p ab, 2 i ab, 3 i ab, 4 i ab\n[0:20] Variación 1, cambia 1-2: 1 p ab, 2 p ab\n[0:30] Variación 2, cambia 3-4: 3 p ab, 4 p ab\n[0:40] {asks}"
        )
    };
    for (asks, wrong) in [
        (
            "para cerrar, v1 y, detrás, el 3-4 de la v3 tal como la tenéis arriba",
            true,
        ),
        (
            "para cerrar, v1 y, detrás, el 3-4 de la v2 tal como la tenéis arriba",
            false,
        ),
    ] {
        let found = found(&spanish(asks), false);
        assert_eq!(found == ["variation-not-told@5"], wrong, "{asks}: {found:?}");
    }
}

#[test]
fn notes_listed_for_their_counts() {
    let note = |words: &str| {
        format!(
            "[0:00] Tangos, four counts. On 1 the index goes down. On 2, index up. Index and middle, picado, {words}"
        )
    };
    for (words, wrong) in [
        ("two notes on every one of those two counts: E, F sharp, G.", true),
        ("two notes on each of the two counts: E, F sharp, G, A.", false),
        (
            "two notes on each of the two counts: E, F sharp, and the rest you know.",
            false,
        ),
    ] {
        let found = found(&note(words), true);
        assert_eq!(
            found.iter().any(|rule| rule == "list-miscounted@1"),
            wrong,
            "{words}: {found:?}"
        );
    }
    let note = |words: &str| {
        format!("[0:00] Tangos, cuatro tiempos. El 1, índice abajo. El 2, índice arriba. Picado, {words}")
    };
    for (words, wrong) in [
        ("dos notas en cada uno de esos dos tiempos: Mi, Fa, Sol.", true),
        ("dos notas en cada uno de esos dos tiempos: Mi, Fa, Sol, La.", false),
    ] {
        let found = found(&note(words), true);
        assert_eq!(
            found.iter().any(|rule| rule == "list-miscounted@1"),
            wrong,
            "{words}: {found:?}"
        );
    }
}

#[test]
fn a_row_said_to_oneself() {
    let english = |row: &str| {
        format!(
            "[0:00] Tangos, four counts. On 1 the thumb goes down. On 2 the index goes down. On 3 the index comes up. On 4 the thumb goes down. So what you say to yourself is: {row}."
        )
    };
    for (row, wrong) in [("down, down, down, down", true), ("down, down, up, down", false)] {
        let found = found(&english(row), true);
        assert_eq!(found == ["recited-row-differs@1"], wrong, "{row}: {found:?}");
    }
    let spanish = |row: &str| {
        format!(
            "[0:00] Tangos, cuatro tiempos. El 1, pulgar abajo. El 2, índice abajo. El 3, índice arriba. El 4, pulgar abajo. Así que lo que os decís por dentro es: {row}."
        )
    };
    for (row, wrong) in [
        ("abajo, abajo, abajo, abajo", true),
        ("abajo, abajo, arriba, abajo", false),
    ] {
        let found = found(&spanish(row), true);
        assert_eq!(found == ["recited-row-differs@1"], wrong, "{row}: {found:?}");
    }
}

#[test]
fn every_count_said_to_be_filled() {
    let english = |fills: &str, five: &str| {
        format!(
            "[0:00] Fandangos, six counts. On 1 the thumb goes down. On 2 the index goes up.\n\n[0:30] A variation, it replaces 4 to 6{fills}. On 4 the thumb plays string 6, fret 1.{five} On 6 the index goes down."
        )
    };
    let five = " On 5 the index goes up.";
    for (fills, five, wrong) in [
        (", and it fills all three counts", "", true),
        (", and it fills all three counts", five, false),
        ("", "", false),
    ] {
        let found = found(&english(fills, five), true);
        assert_eq!(found == ["variation-count-open@3"], wrong, "{fills}{five}: {found:?}");
    }
    let spanish = |fills: &str| {
        format!(
            "[0:00] Fandangos, seis tiempos. El 1, pulgar abajo. El 2, índice arriba.\n\n[0:30] Una variación, que sustituye del 4 al 6{fills}. El 4, pulgar en la sexta, traste 1. El 6, índice abajo."
        )
    };
    for (fills, wrong) in [(" y llena los tres tiempos", true), ("", false)] {
        let found = found(&spanish(fills), true);
        assert_eq!(found == ["variation-count-open@3"], wrong, "{fills}: {found:?}");
    }
}
