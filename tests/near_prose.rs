//! Sentences near the job that carry no guitar music (`tests/voices/near-prose.txt`): alone, and in the midst of a lesson.

use std::path::PathBuf;

use compasario::intake::{self, Note};
use compasario::reading::read_lesson;

const ENGLISH: &str = "\
[0:00] Tangos, the compás has four counts. Capo on 2. Key A phrygian, por medio. Golpe always with a.
[0:20] On 1 the thumb goes down on the A chord, and the index up on the and. On 2 thumb down with golpe, and index up.
[0:35] On 3 thumb down on the B flat, index up. On 4 golpe, and index up.
[0:50] Variation 1 replaces 3 and 4. On 3 the thumb plays the fifth string, first fret. On 4 the index goes down.
";

const SPANISH: &str = "\
[0:00] Tangos, el compás tiene cuatro tiempos. Cejilla al 2. Por medio. El golpe siempre con el anular.
[0:20] En el 1 el pulgar abajo con el acorde de la, y el índice arriba en el y. En el 2 pulgar abajo con golpe, e índice arriba.
[0:35] En el 3 pulgar abajo en si bemol, índice arriba. En el 4 golpe, e índice arriba.
[0:50] La variación sustituye el 3 y el 4. En el 3 el pulgar toca la quinta cuerda, traste uno. En el 4 el índice abajo.
";

fn sentences() -> Vec<String> {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/voices/near-prose.txt");
    let text = std::fs::read_to_string(path).unwrap();
    let lines = text.lines().map(str::trim).filter(|line| !line.is_empty());
    lines.map(str::to_owned).collect()
}

fn is_spanish(sentence: &str) -> bool {
    let folded = compasario::text::fold(sentence).text;
    let has = |words: &[&str]| {
        folded
            .split(|c: char| !c.is_alphabetic())
            .any(|word| words.contains(&word))
    };
    has(&["el", "la", "los", "las", "de", "que", "y", "en", "un", "una", "mi"])
        && !has(&["the", "and", "of", "is", "was", "a", "my", "with"])
}

/// What is read from the lines of a note behind the first few: `line's text -> what`.
fn read_behind(name: &str, text: &str, skipped: usize) -> Vec<String> {
    let folder = std::env::temp_dir().join(format!("compasario-near-prose-{}-{name}", std::process::id()));
    std::fs::create_dir_all(&folder).unwrap();
    let path: PathBuf = folder.join(name);
    std::fs::write(&path, text).unwrap();
    let loaded = intake::load(&folder).unwrap();
    let _ = std::fs::remove_dir_all(&folder);
    let lesson = read_lesson(&loaded, &loaded.notes.iter().collect::<Vec<&Note>>());
    let lines: Vec<&str> = text.lines().collect();
    let later = lesson
        .readings
        .iter()
        .filter(|reading| reading.place.line as usize > skipped);
    later
        .map(|reading| format!("{} -> {}", lines[reading.place.line as usize - 1], reading.what))
        .collect()
}

fn in_a_lesson(lesson: &str, spanish: bool, kind: &str) -> Vec<String> {
    let mut text = format!("{lesson}\n");
    let mut seconds = 60;
    for sentence in sentences().iter().filter(|sentence| is_spanish(sentence) == spanish) {
        seconds += 5;
        text.push_str(&format!("[{}:{:02}] {sentence}\n\n", seconds / 60, seconds % 60));
    }
    read_behind(&format!("lesson.{kind}.txt"), &text, lesson.lines().count())
}

/// Alone it is no lesson, and nothing is read at all.
#[test]
fn alone_nothing_is_read() {
    let text = sentences().join("\n");
    for kind in ["notes", "spoken"] {
        assert_eq!(read_behind(&format!("alone.{kind}.txt"), &text, 0), [""; 0], "{kind}");
    }
}

/// Every false reading there is, by name: 526 sentences are read (263, typed and spoken), and the list may only grow shorter.
#[test]
fn in_the_midst_of_a_lesson() {
    let mut found = Vec::new();
    for (lesson, spanish, notes, spoken) in [
        (ENGLISH, false, "notes", "spoken"),
        (SPANISH, true, "es.notes", "es.spoken"),
    ] {
        found.extend(in_a_lesson(lesson, spanish, notes));
        found.extend(in_a_lesson(lesson, spanish, spoken));
    }
    let found: Vec<&str> = found
        .iter()
        .map(|line| line.split_once("] ").unwrap_or_default().1)
        .collect();
    assert_eq!(found, KNOWN, "\n{}", found.join("\n"));
}

const KNOWN: [&str; 3] = [
    "Jumping jacks, 30 seconds on, 10 seconds off, and there are 5 rounds left, so smile. -> 5 times round",
    "Jumping jacks, 30 seconds on, 10 seconds off, and there are 5 rounds left, so smile. -> 5 times round",
    "Con el pulgar hacia arriba el niño paró 3 coches y un carro. -> 4+1/2: up p",
];
