//! Lessons for the page tests: the gold facts of the corpus with their own texts, and some made by hand.

use std::path::{Path, PathBuf};

use compasario::exports::facts::{Facts, to_lesson};
use compasario::intake::{Cue, Folder, Note, NoteKind};
use compasario::music::lesson::{Caution, Lesson, Reading, Said};
use compasario::text::{ClockTime, FileId, Place, SourceText};

/// A folder of notes and the lessons read from it.
pub struct Course {
    pub folder: Folder,
    pub lessons: Vec<Lesson>,
}

fn corpus() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/corpus/lessons")
}

/// Every lesson of the corpus as its gold facts tell it, in the order of the names.
pub fn gold() -> Course {
    let mut names: Vec<PathBuf> = std::fs::read_dir(corpus())
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .collect();
    names.sort();
    let mut course = Course {
        folder: Folder::default(),
        lessons: Vec::new(),
    };
    for gold in names
        .iter()
        .filter(|path| path.to_string_lossy().ends_with(".gold.json"))
    {
        let stem = gold.file_name().unwrap().to_string_lossy().replace(".gold.json", "");
        let text = names.iter().find(|path| {
            let name = path.file_name().unwrap().to_string_lossy();
            name.starts_with(&stem) && (name.ends_with(".txt") || name.ends_with(".vtt"))
        });
        add(&mut course, &stem, gold, text.unwrap());
    }
    course
}

/// The gold facts of all other voices, without their texts.
pub fn voices() -> Course {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/voices");
    let walk = walkdir::WalkDir::new(folder).sort_by_file_name();
    let mut course = Course {
        folder: Folder::default(),
        lessons: Vec::new(),
    };
    for entry in walk.into_iter().map(Result::unwrap) {
        let name = entry.file_name().to_string_lossy().into_owned();
        if let Some(stem) = name.strip_suffix(".gold.json") {
            let facts: Facts = serde_json::from_str(&std::fs::read_to_string(entry.path()).unwrap()).unwrap();
            course.lessons.push(Lesson {
                id: stem.to_owned(),
                language: "en".to_owned(),
                ..to_lesson(&facts)
            });
        }
    }
    course
}

fn add(course: &mut Course, stem: &str, gold: &Path, text: &Path) {
    let facts: Facts = serde_json::from_str(&std::fs::read_to_string(gold).unwrap()).unwrap();
    let name = text.file_name().unwrap().to_string_lossy().into_owned();
    let language = if name.contains(".es.") { "es" } else { "en" };
    let file = FileId(course.folder.files.len() as u32);
    let source = SourceText::new(file, &name, std::fs::read_to_string(text).unwrap());
    let cues = cues(&source);
    let mut lesson = to_lesson(&facts);
    lesson.id = stem.to_owned();
    lesson.language = language.to_owned();
    lesson.order = Some(Said::new(course.lessons.len() as i64 + 1, Place::default()));
    lesson.reviewed = (stem != "sevillanas-opening").then(|| Said::new("2026-03-01".to_owned(), Place::default()));
    give_places(&mut lesson, &source, &cues);
    course.folder.notes.push(Note {
        file,
        kind: NoteKind::Typed,
        stem: stem.to_owned(),
        language: None,
        head: Vec::new(),
        cues,
    });
    course.folder.files.push(source);
    course.lessons.push(lesson);
}

/// One cue a line that begins with `[m:ss] `; enough for the corpus.
pub fn cues(source: &SourceText) -> Vec<Cue> {
    let mut cues = Vec::new();
    let mut start = 0;
    for line in source.text.split_inclusive('\n') {
        let text = line.trim_end();
        let stamp = text.strip_prefix('[').and_then(|rest| rest.split_once("] "));
        if let Some((time, words)) = stamp.and_then(|(time, words)| ClockTime::parse(time).map(|time| (time, words))) {
            let at = start + text.len() - words.len();
            cues.push(Cue {
                file: source.id,
                text: words.to_owned(),
                map: vec![(0, at)],
                time: Some(time),
                until: None,
                word_times: Vec::new(),
                speaker: None,
                private: false,
            });
        }
        start += line.len();
    }
    cues
}

/// The gold facts have no places. Each pattern is given a stretch of the text, each stroke a sentence of it, so that
/// pages have something to link to; what is linked is not what a reader would link.
fn give_places(lesson: &mut Lesson, source: &SourceText, cues: &[Cue]) {
    if cues.is_empty() {
        return;
    }
    let place = |index: usize| {
        let cue = &cues[index.min(cues.len() - 1)];
        source.place(cue.source_span(0, cue.text.len()), cue.time)
    };
    let mut places: Vec<Place> = Vec::new();
    let patterns = lesson.patterns.len().max(1);
    for (number, pattern) in lesson.patterns.iter_mut().enumerate() {
        let from = 3 + number * (cues.len() - 3) / patterns;
        let until = 3 + (number + 1) * (cues.len() - 3) / patterns;
        pattern.place = place(from);
        for (index, stroke) in pattern.strokes.iter_mut().enumerate() {
            stroke.place = place((from + index / 4).min(until.saturating_sub(1)));
            places.push(stroke.place);
        }
        for change in &mut pattern.changes {
            change.place = pattern.place;
        }
    }
    for caution in &mut lesson.cautions {
        *caution = at_line(caution, source, cues);
        places.push(caution.place);
    }
    for (index, chord) in lesson.chords.iter_mut().enumerate() {
        chord.place = place(index);
        places.push(chord.place);
    }
    for said in [&mut lesson.palo, &mut lesson.title].into_iter().flatten() {
        said.place = place(0);
    }
    if let Some(tempo) = &mut lesson.tempo {
        tempo.place = place(2);
        places.push(tempo.place);
    }
    places.sort_by_key(|place| place.span.start);
    places.dedup();
    let reading = |place: Place| Reading {
        what: String::new(),
        place,
        sentence: place,
        implied: None,
    };
    lesson.readings = places.into_iter().map(reading).collect();
}

fn at_line(caution: &Caution, source: &SourceText, cues: &[Cue]) -> Caution {
    let on_line = |cue: &&Cue| source.line_and_column(cue.source_offset(0)).0 >= caution.place.line;
    let cue = cues.iter().find(on_line).unwrap_or(&cues[cues.len() - 1]);
    Caution {
        place: source.place(cue.source_span(0, cue.text.len()), cue.time),
        ..caution.clone()
    }
}
