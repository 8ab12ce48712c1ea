//! Notes with private lines and names, for the test that none of it is published.

use compasario::intake::{Folder, Note, NoteKind};
use compasario::music::hand::Finger;
use compasario::music::lesson::{Caution, CrossReference, Lesson, Reading, Technique};
use compasario::music::pattern::Role;
use compasario::music::stroke::{Action, Stroke};
use compasario::text::{FileId, Place, SourceText, Span};

use super::by_hand;
use super::fixtures::{Course, cues};

/// Public and private lines in turn; words of private lines occur nowhere else.
pub const NOTE: &str = "[0:05] Tangos in A, four counts, down with the index on one.\n\
[0:20] Zanahoria mermelada quijote, secret bulería gossip.\n\
[0:40] On two Rosalinda Quevedo plays an up with the index, and we laugh about it together.\n\
[0:55] Rosalinda, Rosalinda.\n\
[1:10] Falsete murciélago: tremolo on seven with xylophone fingers.\n\
[1:30] Careful with the thumb on three.\n\
[1:50] Nobody reads an aside about the weather in Almuñécar.\n";

/// Every line, with whether it is private.
pub fn lines() -> Vec<(&'static str, bool)> {
    let private = |line: &str| line.contains("Zanahoria") || line.contains("murciélago");
    NOTE.lines()
        .map(|line| (line.split_once("] ").unwrap().1, private(line)))
        .collect()
}

/// A lesson in which every kind of fact was read from each line, private or not: whatever the reader before us lets
/// through, the pages must not.
pub fn course() -> Course {
    let source = SourceText::new(FileId(0), "tangos.notes.txt", NOTE);
    let mut cues = cues(&source);
    for (cue, (_, private)) in cues.iter_mut().zip(lines()) {
        cue.private = private;
    }
    let times: Vec<_> = cues.iter().map(|cue| (cue.source_offset(0), cue.time)).collect();
    let place = |words: &str| {
        let start = NOTE.find(words).unwrap();
        let time = times
            .iter()
            .rev()
            .find(|(at, _)| *at <= start)
            .and_then(|(_, time)| *time);
        source.place(Span::new(start, start + words.len()), time)
    };
    let public = place("down with the index on one");
    let secret = place("secret bulería gossip");
    let secret_too = place("tremolo on seven with xylophone fingers");
    let named = place("On two Rosalinda Quevedo plays an up");
    let mut lesson = by_hand::lesson("rosalinda-tangos", "tangos", Vec::new());
    let stroke = |at: &str, action: Action, place: Place| Stroke {
        place,
        ..by_hand::stroke(at, action, &[Finger::I], &[])
    };
    let mut core = by_hand::pattern(
        "for Rosalinda Quevedo",
        Role::Core,
        Some((1, 4)),
        vec![
            stroke("1", Action::Down, public),
            stroke("2", Action::Up, named),
            stroke("3", Action::Golpe, secret),
            stroke("4", Action::Tremolo, secret_too),
        ],
    );
    core.place = public;
    core.changes = vec![by_hand::change("1", "A"), by_hand::change("3", "C#m")];
    core.changes[1].place = secret;
    let mut hidden = by_hand::pattern(
        "murciélago",
        Role::Falseta,
        Some((3, 4)),
        vec![stroke("3", Action::Alzapua, secret_too)],
    );
    hidden.place = secret_too;
    lesson.patterns = vec![core, hidden];
    lesson.people = vec!["Rosalinda Quevedo".to_owned()];
    lesson.title = Some(by_hand::said("Tangos with Rosalinda".to_owned()));
    let mut capo = by_hand::said(7u8);
    capo.place = secret;
    lesson.capo = Some(capo);
    let mut recording = by_hand::said("https://example.org/zanahoria".to_owned());
    recording.place = secret;
    lesson.recording = Some(recording);
    let mut chord = by_hand::chord("C#m", Some("x46654"), &[]);
    chord.place = secret;
    let mut half = by_hand::chord("A", Some("x02225"), &[]);
    half.place = public;
    half.shape_place = Some(secret_too);
    lesson.chords = vec![chord, half];
    lesson.cautions = vec![
        Caution {
            about: "quijote mermelada".to_owned(),
            place: secret,
            counts: Vec::new(),
        },
        Caution {
            about: "ask Rosalinda about the thumb on three".to_owned(),
            place: place("Careful with the thumb"),
            counts: Vec::new(),
        },
    ];
    let mut advice = by_hand::said("zanahoria mermelada every day".to_owned());
    advice.place = secret;
    lesson.advice = vec![advice];
    lesson.techniques = vec![Technique {
        id: "tremolo".to_owned(),
        explained: true,
        place: secret_too,
    }];
    lesson.links = vec![CrossReference {
        target: "tangos".to_owned(),
        words: "falsete murciélago".to_owned(),
        announced: false,
        place: secret_too,
    }];
    let whole = |line: &str| place(line);
    lesson.readings = lines()
        .iter()
        .filter(|(line, _)| !line.contains("Almuñécar"))
        .map(|(line, _)| Reading {
            what: (*line).to_owned(),
            place: whole(line),
            sentence: whole(line),
            implied: None,
        })
        .collect();
    // A sentence that begins in a public line and goes on into a private one.
    let across = Span::new(NOTE.find("on one").unwrap(), NOTE.find("gossip").unwrap());
    let across = source.place(across, None);
    lesson.readings.push(Reading {
        what: String::new(),
        place: across,
        sentence: across,
        implied: None,
    });
    finish(lesson, source, cues)
}

fn finish(lesson: Lesson, source: SourceText, cues: Vec<compasario::intake::Cue>) -> Course {
    let note = Note {
        file: FileId(0),
        kind: NoteKind::Typed,
        stem: "rosalinda-tangos".to_owned(),
        language: None,
        head: Vec::new(),
        cues,
    };
    let folder = Folder {
        files: vec![source],
        notes: vec![note],
        ..Folder::default()
    };
    Course {
        folder,
        lessons: vec![lesson],
    }
}
