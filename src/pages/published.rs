//! What of a lesson may be published, and the words it was read from.
//!
//! Nothing that was read from a private line goes on, no sentence but those that a fact was read from, and no name
//! listed under `people:`. Everything after this file sees only what it lets through.

use crate::intake::{Cue, Folder};
use crate::music::lesson::{Lesson, Said};
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
    let screen = Screen { folder, people };
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

struct Screen<'a> {
    folder: &'a Folder,
    people: &'a People,
}

impl Screen<'_> {
    fn is_public(&self, place: Place) -> bool {
        !self.cues_at(place.file, place.span).any(|cue| cue.private)
    }

    /// The cues that share a byte with a place; a place that stands in no file shares none.
    fn cues_at(&self, file: FileId, span: Span) -> impl Iterator<Item = &Cue> {
        let cues = self
            .folder
            .notes
            .iter()
            .filter(move |note| note.file == file)
            .flat_map(|note| &note.cues);
        cues.filter(move |cue| {
            let source = cue.source_span(0, cue.text.len());
            source.start < span.end.max(span.start + 1) && span.start < source.end
        })
    }

    fn lesson(&self, lesson: &Lesson) -> Lesson {
        let mut out = lesson.clone();
        let public = |place: Place| self.is_public(place);
        out.title = self.said_text(&lesson.title);
        out.palo = lesson.palo.clone().filter(|said| public(said.place));
        out.tempo = lesson.tempo.clone().filter(|said| public(said.place));
        out.key = lesson.key.clone().filter(|said| public(said.place));
        out.capo = lesson.capo.clone().filter(|said| public(said.place));
        out.tuning = lesson.tuning.clone().filter(|said| public(said.place));
        out.repeats = lesson.repeats.clone().filter(|said| public(said.place));
        out.meter.beats = lesson.meter.beats.clone().filter(|said| public(said.place));
        out.meter.first = lesson.meter.first.clone().filter(|said| public(said.place));
        out.meter.lengths = lesson.meter.lengths.clone().filter(|said| public(said.place));
        out.meter.accents.retain(|said| public(said.place));
        out.chords.retain(|chord| public(chord.place));
        for chord in &mut out.chords {
            // The name may be public and the shape not.
            if chord.shape_place.is_some_and(|place| !public(place)) {
                chord.shape = None;
                chord.fingers.clear();
            }
        }
        out.patterns = lesson.patterns.iter().map(|pattern| self.pattern(pattern)).collect();
        out.patterns
            .retain(|pattern| public(pattern.place) || !pattern.strokes.is_empty());
        out.cautions.retain(|caution| public(caution.place));
        for caution in &mut out.cautions {
            caution.about = self.people.hide(&caution.about);
        }
        out.advice = lesson
            .advice
            .iter()
            .filter(|said| public(said.place))
            .cloned()
            .collect();
        for advice in &mut out.advice {
            advice.value = self.people.hide(&advice.value);
        }
        out.needs.retain(|said| public(said.place));
        out.links.retain(|link| public(link.place));
        for link in &mut out.links {
            link.words = self.people.hide(&link.words);
        }
        out.techniques.retain(|technique| public(technique.place));
        out.readings
            .retain(|reading| public(reading.place) && public(reading.sentence));
        // What follows is for the teacher alone.
        out.people.clear();
        out.misheard.clear();
        out.unread.clear();
        out.questions.clear();
        out.conflicts.clear();
        out
    }

    fn said_text(&self, said: &Option<Said<String>>) -> Option<Said<String>> {
        let said = said.clone().filter(|said| self.is_public(said.place))?;
        let value = self.people.hide(&said.value);
        (!value.trim().is_empty()).then_some(Said { value, ..said })
    }

    fn pattern(&self, pattern: &Pattern) -> Pattern {
        let mut out = pattern.clone();
        out.name = self.people.hide(&pattern.name);
        out.strokes.retain(|stroke| self.is_public(stroke.place));
        out.changes.retain(|change| self.is_public(change.place));
        out.left.retain(|event| self.is_public(event.place));
        out.claims.clear();
        if !self.is_public(pattern.place) {
            out.name.clear();
            out.span = None;
            out.runs_on = None;
        }
        out
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
            let text = self.people.hide_sentence(&self.words(place));
            if let (false, Some(text)) = (known, text) {
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
        words.split_whitespace().collect::<Vec<_>>().join(" ")
    }
}
