//! Whole lessons from folders of notes: heads, corrections, several notes of one lesson, marks, what is private.

use std::path::PathBuf;

use super::{read_lesson, read_lesson_for_teacher};
use crate::intake::{Folder, Note, load};
use crate::music::lesson::Lesson;
use crate::text::Place;

/// A folder with these files, read as one lesson.
pub(in crate::reading) struct Notes {
    folder: Folder,
    path: PathBuf,
}

impl Notes {
    pub(in crate::reading) fn of(name: &str, files: &[(&str, &str)]) -> Self {
        let path = std::env::temp_dir().join(format!("compasario-{}-{name}", std::process::id()));
        std::fs::create_dir_all(&path).unwrap();
        for (file, text) in files {
            std::fs::write(path.join(file), text).unwrap();
        }
        let folder = load(&path).unwrap();
        Self { folder, path }
    }

    pub(in crate::reading) fn lesson(&self) -> Lesson {
        read_lesson(&self.folder, &self.folder.notes.iter().collect::<Vec<&Note>>())
    }

    fn for_teacher(&self) -> Lesson {
        read_lesson_for_teacher(&self.folder, &self.folder.notes.iter().collect::<Vec<&Note>>())
    }

    fn at(&self, place: Place) -> &str {
        self.folder.files[place.file.0 as usize].slice(place.span)
    }
}

impl Drop for Notes {
    fn drop(&mut self) {
        let _ = std::fs::remove_dir_all(&self.path);
    }
}

/// One lesson from one typed note.
pub(in crate::reading) fn typed(name: &str, text: &str) -> Lesson {
    Notes::of(name, &[("lesson.notes.txt", text)]).lesson()
}

#[test]
fn lines_of_the_head() {
    let palo = |l: &Lesson| format!("{:?}", l.palo.as_ref().map(|said| said.value.clone()));
    let key = |l: &Lesson| {
        format!(
            "{:?}",
            l.key
                .as_ref()
                .map(|said| (said.value.tonic.to_string(), said.value.mode))
        )
    };
    let tempo = |l: &Lesson| format!("{:?}", l.tempo.as_ref().map(|said| (said.value.low, said.value.high)));
    let capo = |l: &Lesson| format!("{:?}", l.capo.as_ref().map(|said| said.value));
    let tuning = |l: &Lesson| format!("{:?}", l.tuning.as_ref().map(|said| said.value));
    let beats = |l: &Lesson| format!("{:?}", l.meter.beats.as_ref().map(|said| said.value));
    let accents = |l: &Lesson| {
        let counts: Vec<String> = l.meter.accents.iter().map(|accent| accent.value.to_string()).collect();
        counts.join(" ")
    };
    let order = |l: &Lesson| format!("{:?}", l.order.as_ref().map(|said| said.value));
    let needs = |l: &Lesson| {
        l.needs
            .iter()
            .map(|need| need.value.as_str())
            .collect::<Vec<_>>()
            .join(" ")
    };
    let people = |l: &Lesson| l.people.join("/");
    let recording = |l: &Lesson| {
        let address = l.recording.as_ref().map_or("", |said| said.value.as_str());
        format!("{address} {:?}", l.recording_length.map(|length| length.seconds()))
    };
    let questions = |l: &Lesson| {
        l.questions
            .iter()
            .map(|said| said.value.as_str())
            .collect::<Vec<_>>()
            .join("/")
    };
    type Shown<'a> = &'a dyn Fn(&Lesson) -> String;
    let table: &[(&str, Shown, &str)] = &[
        ("palo: Soleá por bulería", &palo, "Some(\"solea-por-buleria\")"),
        ("palo: our own thing", &palo, "Some(\"our-own-thing\")"),
        ("key: A phrygian", &key, "Some((\"A\", Phrygian))"),
        ("key: por medio", &key, "Some((\"A\", Phrygian))"),
        ("tono: la menor", &key, "Some((\"A\", Minor))"),
        ("key: E major", &key, "Some((\"E\", Major))"),
        ("tempo: 112-124", &tempo, "Some((112, 124))"),
        ("velocidad: 60", &tempo, "Some((60, 60))"),
        ("capo: 2", &capo, "Some(2)"),
        ("capo: 3rd fret", &capo, "Some(3)"),
        ("cejilla: sin", &capo, "Some(0)"),
        // Rondeña (D A D F# B E): common practice, no source; the figures are the MIDI standard's note numbers.
        ("tuning: D A D F# B E", &tuning, "Some([64, 59, 54, 50, 45, 38])"),
        ("tuning: drop D", &tuning, "Some([64, 59, 55, 50, 45, 38])"),
        ("afinación: sexta en re", &tuning, "Some([64, 59, 55, 50, 45, 38])"),
        ("tuning: standard", &tuning, "None"),
        ("count: 4", &beats, "Some(4)"),
        ("meter: 3/4", &beats, "Some(3)"),
        ("accents: 2 3 4", &accents, "2 3 4"),
        ("acentos: 3, 6, 8, 10 y 12", &accents, "3 6 8 10 12"),
        ("order: 7", &order, "Some(7)"),
        (
            "needs: solea-lunes, Tangos the broom",
            &needs,
            "solea-lunes tangos-the-broom",
        ),
        ("people: Filo Arrate, Bastian", &people, "Filo Arrate/Bastian"),
        ("recording: tangos.wav (1:00)", &recording, "tangos.wav Some(60)"),
        (
            "recording: https://example.org/a (52:10)",
            &recording,
            "https://example.org/a Some(3130)",
        ),
        ("recording: take (two).wav", &recording, "take (two).wav None"),
        (
            "tempo: as it comes",
            &questions,
            "What is \"tempo: as it comes\" in the head?",
        ),
    ];
    for (index, (line, shown, wanted)) in table.iter().enumerate() {
        let lesson = typed(&format!("head-{index}"), &format!("{line}\n\n[0:00] hello\n"));
        assert_eq!(&shown(&lesson), wanted, "{line}");
        assert!(lesson.conflicts.is_empty(), "{line}: {:?}", lesson.conflicts);
    }
}

#[test]
fn the_head_holds_against_the_prose() {
    let table = [
        (
            "capo: 2",
            "capo on the fourth fret",
            Some(("capo", "2", "capo on the fourth")),
        ),
        ("capo: 4", "capo on the fourth fret", None),
        ("tempo: 76-84", "tempo 80", None),
        ("tempo: 76-84", "tempo 120", Some(("tempo", "76-84", "tempo 120"))),
        ("key: A phrygian", "por medio", None),
        (
            "key: A phrygian",
            "por arriba",
            Some(("key", "A phrygian", "por arriba")),
        ),
        ("count: 4", "count it in 8", None),
        ("count: 12", "Count 5", Some(("beats", "12", "Count 5"))),
        ("accents: 2 3 4", "Accents 2 and 4", None),
        ("accents: 2 3 4", "Accents 1 and 3", Some(("accents", "2 3 4", "1"))),
        ("palo: tangos", "Tientos por medio", Some(("palo", "tangos", "Tientos"))),
        ("palo: solea-por-buleria", "soleá por medio", None),
    ];
    for (index, (head, prose, wanted)) in table.iter().enumerate() {
        let lesson = typed(&format!("against-{index}"), &format!("{head}\n\n[0:00] {prose}\n"));
        let found: Vec<_> = lesson
            .conflicts
            .iter()
            .map(|conflict| {
                (
                    conflict.about.as_str(),
                    conflict.first.as_str(),
                    conflict.second.as_str(),
                )
            })
            .collect();
        assert_eq!(found, wanted.iter().copied().collect::<Vec<_>>(), "{head} / {prose}");
    }
    let lesson = typed("holds", "capo: 2\n\n[0:00] capo on the fourth fret\n");
    assert_eq!(lesson.capo.map(|capo| capo.value), Some(2));
}

#[test]
fn corrections_are_applied_before_reading() {
    let table = [
        // corrections, transcript, heard, read as
        (
            "cap oh -> capo",
            "[0:05] Cap oh on the third fret.",
            vec![("Cap oh", "capo")],
            Some(3),
        ),
        (
            "cáp óh = capo",
            "[0:05] The cap-oh is on fret 3.",
            vec![("cap-oh", "capo")],
            Some(3),
        ),
        ("cap oh → capo", "[0:05] The hubcap oh is on fret 3.", vec![], None),
        (
            "[1:00] cap oh -> capo",
            "[0:05] Cap oh on the third fret.\n\n[0:50] Yes.\n\n[1:00] No.",
            vec![],
            None,
        ),
        (
            "[0:08] cap oh -> capo",
            "[0:05] Cap oh on the third fret.\n\n[0:50] Yes.",
            vec![("Cap oh", "capo")],
            Some(3),
        ),
    ];
    for (index, (corrections, spoken, wanted, capo)) in table.iter().enumerate() {
        let files = [("a.corrections.txt", *corrections), ("a.spoken.txt", *spoken)];
        let notes = Notes::of(&format!("corrections-{index}"), &files);
        let lesson = notes.lesson();
        let found: Vec<_> = lesson
            .misheard
            .iter()
            .map(|word| (word.heard.as_str(), word.read_as.as_str()))
            .collect();
        assert_eq!(&found, wanted, "{corrections} / {spoken}");
        assert_eq!(
            lesson.capo.as_ref().map(|capo| capo.value),
            *capo,
            "{corrections} / {spoken}"
        );
        for word in &lesson.misheard {
            assert_eq!(notes.at(word.place), word.heard);
        }
        if let Some(capo) = &lesson.capo {
            assert!(
                notes.at(capo.place).to_lowercase().starts_with("cap"),
                "{}",
                notes.at(capo.place)
            );
        }
    }
    let asked = Notes::of(
        "no-correction",
        &[("a.corrections.txt", "what is this"), ("a.spoken.txt", "[0:05] Yes.")],
    );
    assert!(asked.lesson().questions[0].value.contains("heard -> meant"));
}

#[test]
fn a_correction_runs_over_the_border_of_two_captions() {
    let captions =
        "1\n00:00:01,000 --> 00:00:02,000\nso we put the cap\n\n2\n00:00:02,000 --> 00:00:04,000\noh on fret three\n";
    let notes = Notes::of(
        "border",
        &[("a.corrections.txt", "cap oh -> capo"), ("a.spoken.srt", captions)],
    );
    let lesson = notes.lesson();
    assert_eq!(lesson.capo.map(|capo| capo.value), Some(3));
    assert_eq!(lesson.misheard[0].heard, "cap oh");
}

const TYPED: &str = "palo: tangos\n\nTangos por medio\nCount 4. Accents 2 3 4\nA = x02220, Bb = x13331\n\nCORE\n\
    1 A: 1 p dn, 2 i dn, & i up, 3 Bb: 3 i dn, 4 i up\n\n! keep the thumb off string 6 on 3\n";
const SPOKEN: &str = "[0:10] Tangos por medio, the capo's on the second fret, and the tempo is 100.\n\n\
    [0:30] On 1, the thumb goes down. On 2, index down, and up on the and. On 3, index down. On 4, index up.\n\n\
    [0:50] Careful, keep the thumb off string 6 on count 3.\n\n[1:00] We go round eight times.\n";

#[test]
fn a_transcript_fills_the_gaps_of_the_typed_note() {
    let lesson = Notes::of("gaps", &[("a.notes.txt", TYPED), ("a.spoken.txt", SPOKEN)]).lesson();
    assert_eq!(lesson.capo.as_ref().map(|capo| capo.value), Some(2));
    assert_eq!(lesson.tempo.as_ref().map(|tempo| tempo.value.low), Some(100));
    assert_eq!(lesson.repeats.as_ref().map(|repeats| repeats.value), Some(8));
    assert_eq!(lesson.cautions.len(), 1, "{:?}", lesson.cautions);
    assert_eq!(lesson.patterns.len(), 1);
    assert!(lesson.conflicts.is_empty(), "{:?}", lesson.conflicts);
    for stroke in &lesson.patterns[0].strokes {
        assert_eq!(stroke.place.file.0, 0, "{stroke:?}");
        assert!(stroke.place.time.is_some(), "{stroke:?}");
    }
    let turned = SPOKEN
        .replace("On 4, index up", "On 4, index down")
        .replace("tempo is 100", "tempo is 100, por arriba");
    let lesson = Notes::of("turned", &[("a.notes.txt", TYPED), ("a.spoken.txt", &turned)]).lesson();
    let about: Vec<_> = lesson
        .conflicts
        .iter()
        .map(|conflict| conflict.about.as_str())
        .collect();
    assert!(about.contains(&"count 4"), "{about:?}");
}

#[test]
fn marks_are_taken_out() {
    let table = [
        (
            "F# = 244300 (let stand shape-adds-notes: the rub is the taranta)",
            "shape-adds-notes",
            "the rub is the taranta",
        ),
        ("tempo 30 (Let Stand tempo-implausible)", "tempo-implausible", ""),
        ("tempo 30 (se queda tempo-implausible: así)", "tempo-implausible", "así"),
    ];
    for (index, (line, rule, reason)) in table.iter().enumerate() {
        let notes = Notes::of(
            &format!("marks-{index}"),
            &[("a.notes.txt", &format!("palo: taranta\n\n[0:00] {line}\n"))],
        );
        let lesson = notes.lesson();
        let found: Vec<_> = lesson
            .let_stand
            .iter()
            .map(|mark| (mark.rule.as_str(), mark.reason.as_str()))
            .collect();
        assert_eq!(found, [(*rule, *reason)], "{line}");
        assert!(notes.at(lesson.let_stand[0].place).starts_with('('), "{line}");
        assert!(lesson.unread.iter().all(|unread| !unread.text.contains(rule)), "{line}");
    }
}

#[test]
fn nothing_private_is_in_the_published_lesson() {
    let typed = "palo: tangos\n\n[0:00] Tangos. Count 4\n(private) Zuleika starts on capo 5, tempo 44\n\n\
        [0:20] 1 p dn, 2 i dn, 3 p dn, 4 i dn\n\n[0:30] (private) Zuleika: 3 is a golpe with a. ! watch Zuleika's wrist on 3\n";
    let spoken = "[0:00] (private) Zuleika's bulería, count 12, capo on the fifth.\n\n[0:10] Tangos, count to 4.\n";
    for (name, text) in [("a.notes.txt", typed), ("a.spoken.txt", spoken)] {
        let notes = Notes::of(&format!("private-{name}"), &[(name, text)]);
        let (published, whole) = (notes.lesson(), notes.for_teacher());
        assert_eq!(published.capo, None);
        assert_eq!(published.tempo, None);
        assert_eq!(whole.capo.as_ref().map(|capo| capo.value), Some(5), "{name}");
        assert!(published.cautions.is_empty());
        assert_eq!(published.palo.as_ref().map(|palo| palo.value.as_str()), Some("tangos"));
        assert_eq!(published.meter.beats.as_ref().map(|beats| beats.value), Some(4));
        let words = serde_json::to_string(&published).unwrap();
        assert!(!words.contains("Zuleika"), "{words}");
        let private: Vec<_> = notes.folder.notes[0].cues.iter().filter(|cue| cue.private).collect();
        assert!(!private.is_empty());
        for reading in &published.readings {
            let hidden = private.iter().map(|cue| cue.source_span(0, cue.text.len()));
            let inside = |at: usize| hidden.clone().any(|span| span.start <= at && at < span.end);
            assert!(!inside(reading.place.span.start), "{reading:?}");
        }
    }
}

#[test]
fn a_title_without_a_head() {
    let table = [
        (
            "a.notes.txt",
            "tangos for thursday\n\nCount 4. Accents 2 3 4\n1 p dn, 2 i dn, 3 p dn, 4 i dn\n",
            Some("Tangos for thursday"),
        ),
        ("a.notes.txt", "palo: solea\n\n[0:00] 12 counts\n", Some("Soleá")),
        (
            "a.spoken.txt",
            "[0:00] Good evening, tonight it's soleá, shut the door please.\n",
            Some("Soleá"),
        ),
        ("a.spoken.txt", "[0:00] Good evening.\n", None),
    ];
    for (index, (name, text, title)) in table.iter().enumerate() {
        let lesson = Notes::of(&format!("title-{index}"), &[(name, text)]).lesson();
        assert_eq!(
            lesson.title.as_ref().map(|title| title.value.as_str()),
            *title,
            "{text}"
        );
    }
}

#[test]
fn words_put_right_and_techniques() {
    let text = "[0:00] This is tangos por medio, we count four.\n\n[0:12] On four comes a ras gay ado with x a m i.\n\n\
        [0:20] The alzapúa, and this is how you play it: down, down, up.\n";
    let lesson = Notes::of("noticed", &[("a.spoken.txt", text)]).lesson();
    let misheard: Vec<_> = lesson
        .misheard
        .iter()
        .map(|word| (word.heard.as_str(), word.read_as.as_str()))
        .collect();
    assert_eq!(misheard, [("ras gay ado", "rasgueado")]);
    let techniques: Vec<_> = lesson
        .techniques
        .iter()
        .map(|known| (known.id.as_str(), known.explained))
        .collect();
    assert_eq!(techniques, [("rasgueado", false), ("alzapua", true)]);
    let lesson = typed(
        "defined",
        "palo: tangos\n\n[0:00] Count 4\n[0:10] Rasgueado, how it is done: the fingers open one after the other\n",
    );
    assert!(
        lesson
            .techniques
            .iter()
            .any(|known| known.id == "rasgueado" && known.explained)
    );
}
