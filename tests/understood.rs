//! What was understood, as people see it.

mod support;

use compasario::music::lesson::{Lesson, Misheard, Reading, Said, Unread};
use compasario::text::Place;
use compasario::understood;
use support::lesson::{Told, told};

fn reading(what: &str, place: Place, sentence: Place) -> Reading {
    Reading {
        what: what.to_owned(),
        place,
        sentence,
        implied: None,
    }
}

/// A short lesson with one of each: read, implied, aside, not understood, misheard, open.
fn lesson() -> Told {
    let mut told = told("tangos")
        .line("[0:05] hello, sit down")
        .line("[0:12] on 1 the thumb goes down, then up");
    let sentence = told.words("on 1 the thumb goes down, then up");
    let down = reading("1: down p", told.words("1 the thumb goes down"), sentence);
    let up = Reading {
        implied: Some("told after a down".to_owned()),
        ..reading("1+1/2: up", told.words("then up"), sentence)
    };
    told.lesson.readings = vec![down, up];
    told = told.beats(4).core(1, 4).stroke("1", "down p").stroke("1+1/2", "up");
    told.lesson.patterns[0].strokes[1].implied = Some("told after a down".to_owned());
    told = told.line("[0:20] and 3 has the flourish <b>");
    told.lesson.unread.push(Unread {
        text: "and 3 has the flourish <b>".to_owned(),
        reason: "which strokes?".to_owned(),
        musical: true,
        place: told.words("and 3 has the flourish <b>"),
    });
    told = told.line("[0:30] the ras gay ado comes next week");
    told.lesson.misheard.push(Misheard {
        heard: "ras gay ado".to_owned(),
        read_as: "rasgueado".to_owned(),
        place: told.words("ras gay ado"),
    });
    told.lesson
        .questions
        .push(Said::new("which fingers play the up?".to_owned(), told.place()));
    told
}

#[test]
fn text_marks_the_words_and_says_what_was_read() {
    let told = lesson();
    let shown = understood::understood(&told.lesson, &told.folder());
    let expected = "\
note-0.notes.txt: the words, and what was read from them
         [0:05] hello, sit down
   0:12  [0:12]
         on 1 the thumb goes down, then up
            1--------------------  2------
      1 = 1: down p
      2 = 1+1/2: up (implied: told after a down)
";
    let text = anstream::adapter::strip_str(&understood::text(&shown, 80)).to_string();
    // The hand-made note keeps its time stamps in the cue, which intake takes off.
    let words: String = text
        .lines()
        .filter(|line| !line.contains("[0:"))
        .collect::<Vec<_>>()
        .join("\n");
    for line in expected.lines().filter(|line| !line.contains("[0:")) {
        assert!(words.contains(line), "{line}\n--- in ---\n{text}");
    }
    for part in [
        "? not understood: which strokes?",
        "The lesson: tangos",
        "counts     4",
        "core, covers 1-4",
        "          1      down p",
        "  ~   1+1/2      up",
        "Open questions (1)",
        "which fingers play the up?",
        "Not understood, and plainly music (1)",
        "\"and 3 has the flourish <b>\": which strokes?",
        "Misheard and put right (1)",
        "\"ras gay ado\" was read as rasgueado",
    ] {
        assert!(text.contains(part), "{part}\n--- in ---\n{text}");
    }
}

#[test]
fn no_line_is_wider_than_the_terminal() {
    let mut told = lesson();
    told = told.line(&format!("[0:40] {}", "and so on and so forth ".repeat(20)));
    let shown = understood::understood(&told.lesson, &told.folder());
    for width in [40, 60, 80] {
        let text = anstream::adapter::strip_str(&understood::text(&shown, width)).to_string();
        for line in text.lines() {
            assert!(line.chars().count() <= width, "{width}: {line}");
        }
    }
}

#[test]
fn the_page_escapes_what_a_note_says() {
    let told = lesson();
    let page = understood::page(&understood::understood(&told.lesson, &told.folder()), "en");
    assert!(
        page.contains("&lt;b&gt;") && !page.contains("<b>\n") && !page.contains("flourish <b>"),
        "{page}"
    );
    assert!(
        page.contains("<mark>1 the thumb goes down<sup>1</sup></mark>"),
        "{page}"
    );
    assert!(
        page.contains("<mark class=\"implied\">then up<sup>2</sup></mark>"),
        "{page}"
    );
    assert!(
        !page.contains("http") && !page.contains("<script"),
        "nothing is fetched, nothing runs"
    );
}

#[test]
fn every_word_of_a_note_is_shown_once() {
    let told = lesson();
    let shown = understood::understood(&told.lesson, &told.folder());
    let words: String = shown
        .notes
        .iter()
        .flat_map(|note| &note.sentences)
        .flat_map(|sentence| &sentence.letters)
        .map(|letter| letter.letter)
        .collect();
    let squeezed = |text: &str| {
        text.chars()
            .filter(|letter| letter.is_alphanumeric())
            .collect::<String>()
    };
    assert_eq!(squeezed(&words), squeezed(&told.folder().files[0].text));
}

#[test]
fn an_empty_lesson_is_shown_as_empty() {
    let shown = understood::understood(&Lesson::default(), &told("nothing").folder());
    assert!(understood::text(&shown, 80).contains("The lesson"));
}
