use compasario::music::pattern::ClaimAbout;

use crate::support::lesson::{at, table, told};
use crate::{check, in_twelve};

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
fn counts_of_the_palo() {
    let wrong = &["counts-not-of-palo@2 warning"][..];
    for (palo, beats, expected) in [
        ("sevillanas", 4, wrong),
        ("sevillanas", 3, &[][..]),
        ("sevillanas", 6, &[]),
        ("sevillanas", 12, &[]),
        ("tangos", 4, &[]),
        ("tangos", 8, &[]),
        ("tangos", 16, &[]),
        ("tangos", 6, wrong),
        ("tangos", 12, &[]),
        ("buleria", 3, &[]),
        ("buleria", 6, &[]),
        ("buleria", 12, &[]),
        ("buleria", 4, wrong),
        ("buleria", 10, wrong),
        ("solea", 6, &[]),
        ("solea", 24, &[]),
        ("siguiriya", 5, &[]),
        ("siguiriya", 12, &[]),
        ("siguiriya", 4, wrong),
        ("fandangos-de-huelva", 12, &[]),
        ("fandangos-de-huelva", 5, wrong),
        // A free palo is counted by nobody, and what we do not know may be counted in anything.
        ("taranta", 7, &[]),
        ("our-own-thing", 7, &[]),
    ] {
        let told = told("counts")
            .line("[0:00] the palo")
            .palo(palo)
            .line("[0:05] counts")
            .beats(beats);
        let findings = told.findings();
        assert_eq!(table(&findings), expected, "{palo} in {beats}: {findings:#?}");
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
        ("C", "x32013", &[]),
        ("E", "022xxx", &["shape-contradicts-name@1 warning"]),
        ("F", "xx3210", &["shape-adds-notes@1 note"]),
        ("F#", "244300", &["shape-adds-notes@1 note"]),
        ("Fmaj7", "xx3210", &[]),
        ("A(b9)", "x02320", &[]),
        ("Asus4", "x02230", &[]),
        ("Asus4", "x02220", &["shape-contradicts-name@1 error"]),
        // Names with more in them than a triad.
        ("Bm7b5", "x2323x", &[]),
        ("Bm7b5", "x2424x", &["shape-contradicts-name@1 error"]),
        ("E7sus4", "020200", &[]),
        ("E7b9", "020131", &[]),
        ("Am(maj7)", "x02110", &[]),
        ("Dmadd9", "x57760", &[]),
        ("F7M", "xx3210", &[]),
        ("A(no3)", "x022xx", &[]),
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
        "It is a shape of C: correct the name, or give the shape of Dm, such as xx0231"
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
