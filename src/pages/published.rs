//! What of a lesson may be published, and the words it was read from.
//!
//! Nothing that was read from a private line goes on, no sentence but those that a fact was read from, and no name
//! listed under `people:`. Everything after this file sees only what it lets through.

use crate::intake::{Cue, Folder, Note, NoteKind};
use crate::music::chord::Chord;
use crate::music::lesson::{Caution, CrossReference, Lesson, Meter, Reading, Said};
use crate::music::pattern::Pattern;
use crate::text::{ClockTime, FileId, Place, Span};

use super::people::People;

/// A sentence of the teacher's that a fact was read from.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Sentence {
    /// Its anchor on the lesson's page.
    pub id: String,
    pub text: String,
    pub time: Option<ClockTime>,
    pub file: FileId,
    pub span: Span,
}

/// A lesson with nothing in it that must not be seen.
#[derive(Debug, Clone, PartialEq)]
pub struct Published {
    pub lesson: Lesson,
    /// In the order of the notes.
    pub sentences: Vec<Sentence>,
}

pub fn publish(lesson: &Lesson, folder: &Folder, people: &People) -> Published {
    let in_order = folder.notes.is_sorted_by(|one, two| one.file < two.file);
    let screen = Screen {
        folder,
        people,
        in_order,
    };
    let lesson = screen.lesson(lesson);
    let sentences = screen.sentences(&lesson);
    Published { lesson, sentences }
}

impl Published {
    /// The sentence that a fact was read from.
    pub fn sentence(&self, place: Place) -> Option<&Sentence> {
        if place.line == 0 {
            return None;
        }
        let holds = |sentence: &&Sentence| {
            sentence.file == place.file
                && sentence.span.start <= place.span.start
                && place.span.start < sentence.span.end
        };
        self.sentences.iter().find(holds)
    }
}

/// The cue and the place have a byte in common.
fn shares(cue: &Cue, span: Span) -> bool {
    let source = cue.source_span(0, cue.text.len());
    source.start < span.end.max(span.start + 1) && span.start < source.end
}

struct Screen<'a> {
    folder: &'a Folder,
    people: &'a People,
    /// The notes stand in the order of their files, as they do when they were loaded.
    in_order: bool,
}

impl Screen<'_> {
    fn is_public(&self, place: Place) -> bool {
        let mut private = self.cues_of(place.file).filter(|cue| cue.private);
        !private.any(|cue| shares(cue, place.span))
    }

    fn cues_of(&self, file: FileId) -> impl Iterator<Item = &Cue> {
        let notes = self.notes_of(file).iter().filter(move |note| note.file == file);
        notes.flat_map(|note| &note.cues)
    }

    /// The cues that share a byte with a place; a place that stands in no file shares none.
    fn cues_at(&self, file: FileId, span: Span) -> impl Iterator<Item = &Cue> {
        self.cues_of(file).filter(move |cue| shares(cue, span))
    }

    /// The notes to look through for a file: the one note, where it can be found at once, otherwise all of them.
    fn notes_of(&self, file: FileId) -> &[Note] {
        let notes = &self.folder.notes;
        match notes.binary_search_by_key(&file, |note| note.file) {
            Ok(at) if self.in_order => notes.get(at..=at).unwrap_or(notes),
            Ok(_) | Err(_) => notes,
        }
    }

    /// Every field is named here, so that one added to the lesson does not get past this screen unseen.
    fn lesson(&self, lesson: &Lesson) -> Lesson {
        Lesson {
            id: lesson.id.clone(),
            title: self.said_text(&lesson.title),
            palo: self.said(&lesson.palo),
            meter: Meter {
                beats: self.said(&lesson.meter.beats),
                accents: self.all_said(&lesson.meter.accents),
                first: self.said(&lesson.meter.first),
                lengths: self.said(&lesson.meter.lengths),
            },
            tempo: self.said(&lesson.tempo),
            key: self.said(&lesson.key),
            capo: self.said(&lesson.capo),
            tuning: self.said(&lesson.tuning),
            language: lesson.language.clone(),
            order: self.said(&lesson.order),
            needs: self.all_said(&lesson.needs),
            recording: self.said(&lesson.recording),
            recording_length: lesson.recording_length,
            reviewed: self.said(&lesson.reviewed),
            chords: lesson.chords.iter().filter_map(|chord| self.chord(chord)).collect(),
            patterns: lesson
                .patterns
                .iter()
                .filter_map(|pattern| self.pattern(pattern))
                .collect(),
            cautions: lesson
                .cautions
                .iter()
                .filter_map(|caution| self.caution(caution))
                .collect(),
            repeats: self.said(&lesson.repeats),
            advice: lesson
                .advice
                .iter()
                .filter_map(|advice| self.said_text(&Some(advice.clone())))
                .collect(),
            links: lesson.links.iter().filter_map(|link| self.link(link)).collect(),
            moments: Vec::new(),
            techniques: lesson
                .techniques
                .iter()
                .filter(|used| self.is_public(used.place))
                .cloned()
                .collect(),
            terms: lesson
                .terms
                .iter()
                .filter(|used| self.is_public(used.place))
                .cloned()
                .collect(),
            readings: lesson
                .readings
                .iter()
                .filter(|reading| self.is_public_reading(reading))
                .cloned()
                .collect(),
            // What follows is for the teacher alone.
            people: Vec::new(),
            untold: Vec::new(),
            chords_said: None,
            remarks: Vec::new(),
            misheard: Vec::new(),
            unread: Vec::new(),
            questions: Vec::new(),
            conflicts: Vec::new(),
            let_stand: Vec::new(),
        }
    }

    fn said<T: Clone>(&self, said: &Option<Said<T>>) -> Option<Said<T>> {
        said.clone().filter(|said| self.is_public(said.place))
    }

    fn all_said<T: Clone>(&self, said: &[Said<T>]) -> Vec<Said<T>> {
        said.iter().filter(|said| self.is_public(said.place)).cloned().collect()
    }

    fn said_text(&self, said: &Option<Said<String>>) -> Option<Said<String>> {
        let said = self.said(said)?;
        let value = self.people.hide(&said.value);
        (!value.trim().is_empty()).then_some(Said { value, ..said })
    }

    fn is_public_reading(&self, reading: &Reading) -> bool {
        self.is_public(reading.place) && self.is_public(reading.sentence)
    }

    fn caution(&self, caution: &Caution) -> Option<Caution> {
        let about = self.people.hide(&caution.about);
        self.is_public(caution.place).then(|| Caution {
            about,
            ..caution.clone()
        })
    }

    fn link(&self, link: &CrossReference) -> Option<CrossReference> {
        let words = self.people.hide(&link.words);
        self.is_public(link.place)
            .then(|| CrossReference { words, ..link.clone() })
    }

    /// The name of a chord may be public and its shape or fingers not.
    fn chord(&self, chord: &Chord) -> Option<Chord> {
        let public = |place: Option<Place>| place.is_none_or(|place| self.is_public(place));
        let shape = chord.shape.filter(|_| public(chord.shape_place));
        let fingers = shape.is_some() && public(chord.fingers_place);
        self.is_public(chord.place).then(|| Chord {
            name: chord.name.clone(),
            shape,
            fingers: if fingers { chord.fingers.clone() } else { Vec::new() },
            place: chord.place,
            shape_place: chord.shape_place,
            fingers_place: chord.fingers_place,
            implied: None,
        })
    }

    /// A pattern named in private keeps what was said of it in public, without its name; nothing else, nothing of it.
    fn pattern(&self, pattern: &Pattern) -> Option<Pattern> {
        let public = self.is_public(pattern.place);
        let out = Pattern {
            name: if public {
                self.people.hide(&pattern.name)
            } else {
                String::new()
            },
            role: pattern.role,
            span: pattern.span.filter(|_| public),
            strokes: pattern
                .strokes
                .iter()
                .filter(|stroke| self.is_public(stroke.place))
                .cloned()
                .collect(),
            changes: pattern
                .changes
                .iter()
                .filter(|change| self.is_public(change.place))
                .cloned()
                .collect(),
            left: pattern
                .left
                .iter()
                .filter(|event| self.is_public(event.place))
                .cloned()
                .collect(),
            runs_on: pattern.runs_on.filter(|_| public),
            claims: Vec::new(),
            place: pattern.place,
        };
        (public || !out.strokes.is_empty()).then_some(out)
    }

    /// Each sentence once, cut to what its public cues hold.
    fn sentences(&self, lesson: &Lesson) -> Vec<Sentence> {
        let mut places: Vec<Place> = lesson.readings.iter().map(|reading| reading.sentence).collect();
        places.retain(|place| place.line > 0);
        places.sort_by_key(|place| (place.file, place.span.start, std::cmp::Reverse(place.span.end)));
        let mut out: Vec<Sentence> = Vec::new();
        for place in places {
            let known = out.iter().any(|sentence| {
                sentence.file == place.file
                    && sentence.span.start <= place.span.start
                    && place.span.end <= sentence.span.end
            });
            if known {
                continue;
            }
            if let Some(text) = self.people.hide_sentence(&self.words(place)) {
                let id = format!("said-{}", out.len() + 1);
                out.push(Sentence {
                    id,
                    text,
                    time: place.time,
                    file: place.file,
                    span: place.span,
                });
            }
        }
        out
    }

    /// The text of a place as the cues hold it: no time stamps, no mark-up, nothing of a private cue.
    fn words(&self, place: Place) -> String {
        let mut words = String::new();
        // What a corrections file says was never said in a lesson.
        let corrections = |note: &Note| note.file == place.file && note.kind == NoteKind::Corrections;
        if self.notes_of(place.file).iter().any(corrections) {
            return words;
        }
        for cue in self.cues_at(place.file, place.span).filter(|cue| !cue.private) {
            let inside = |(offset, _): &(usize, char)| {
                let source = cue.source_offset(*offset);
                place.span.start <= source && source < place.span.end
            };
            let part: String = cue
                .text
                .char_indices()
                .filter(inside)
                .map(|(_, letter)| letter)
                .collect();
            if !words.is_empty() {
                words.push(' ');
            }
            words.push_str(&part);
        }
        let is_stamp = |word: &str| {
            let inside = word.strip_prefix('[').and_then(|word| word.strip_suffix(']'));
            inside.is_some_and(|inside| ClockTime::parse(inside).is_some())
        };
        // A moment written behind a line stands beside the sentence on the page, not in it.
        words
            .split_whitespace()
            .filter(|word| !is_stamp(word))
            .collect::<Vec<_>>()
            .join(" ")
    }
}
