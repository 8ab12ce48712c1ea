//! A text in the written form becomes a lesson.

use crate::music::left_hand::Change;
use crate::music::lesson::{Lesson, Said, Unread};
use crate::music::pattern::{Claim, ClaimAbout, CountSpan, Pattern, Role};
use crate::music::position::Position;
use crate::music::stroke::Stroke;
use crate::text::{FileId, Place, SourceText, Span};

use super::item::{Begin, Covers, Head, Item, LineContext, OwnWord, Same, SameOf, Spanned};
use super::line::{Frame, unit_at};
use super::write::role_name;

/// Reads a text that is in the written form. Lines that are not are listed as unread, with that reason.
pub fn read(text: &str) -> Lesson {
    read_source(&SourceText::new(FileId::default(), "", text))
}

/// The same for a file: places are the file's.
pub fn read_source(source: &SourceText) -> Lesson {
    let mut assembly = Assembly::default();
    let mut start = 0;
    while start < source.text.len() {
        let unit = unit_at(&source.text, start, &assembly.context());
        match unit.items {
            Some(items) => assembly.take(source, items),
            None => assembly.unread(source, unit.span),
        }
        let after = source.text.get(unit.span.end..).unwrap_or("");
        start = unit.span.end + after.find('\n').map_or(after.len(), |at| at + 1);
    }
    assembly.finish()
}

#[derive(Default)]
struct Assembly {
    lesson: Lesson,
    own_words: Vec<OwnWord>,
    lengths: Vec<i64>,
    /// The count of the last stroke.
    count: Option<i64>,
    /// The counts of the line before, for "same again".
    before: Option<CountSpan>,
}

impl Assembly {
    fn context(&self) -> LineContext<'_> {
        LineContext {
            count: self.count,
            beats: self.lesson.meter.beats.as_ref().map(|beats| beats.value),
            first: self.lesson.meter.first.as_ref().map(|first| first.value),
            lengths: &self.lengths,
            own_words: &self.own_words,
            ..LineContext::default()
        }
    }

    fn take(&mut self, source: &SourceText, items: Vec<Spanned<Item>>) {
        let struck: Vec<i64> = items
            .iter()
            .filter_map(|item| match &item.value {
                Item::Stroke(stroke) => Some(stroke.at.whole()),
                _ => None,
            })
            .collect();
        let mut covered = None;
        for item in items {
            let place = source.place(item.span, item.time);
            if let Item::Same(same) = &item.value {
                self.copy(same, &struck, place);
                covered = same.counts;
                continue;
            }
            self.put(item.value, place);
        }
        if let (Some(first), Some(last)) = (struck.first(), struck.last()) {
            self.count = Some(*last);
            covered = covered.or(Some(CountSpan {
                first: *first,
                last: *last,
            }));
        }
        self.before = covered.or(self.before);
    }

    fn put(&mut self, item: Item, place: Place) {
        let lesson = &mut self.lesson;
        match item {
            Item::Head(head, implied) => self.head(head, implied, place),
            Item::Chord(mut chord) => {
                chord.place = place;
                lesson.chords.push(chord);
            }
            Item::Begin(begin) => lesson.patterns.push(pattern(begin, place)),
            Item::Covers(covers) => self.covers(covers, place),
            Item::Stroke(mut stroke) => {
                stroke.place = place;
                self.pattern().strokes.push(stroke);
            }
            Item::Change(mut change) => {
                change.place = place;
                self.pattern().changes.push(change);
            }
            Item::Left(mut event) => {
                event.place = place;
                self.pattern().left.push(event);
            }
            Item::Repeats(count, implied) => lesson.repeats = Some(said(count, implied, place)),
            Item::Caution(mut caution) => {
                caution.place = place;
                lesson.cautions.push(caution);
            }
            Item::Advice(text, implied) => lesson.advice.push(said(text, implied, place)),
            Item::Link(mut link) => {
                link.place = place;
                lesson.links.push(link);
            }
            Item::Question(text, implied) => lesson.questions.push(said(text, implied, place)),
            Item::Technique(mut technique) => {
                technique.place = place;
                lesson.techniques.push(technique);
            }
            Item::Misheard(mut misheard) => {
                misheard.place = place;
                lesson.misheard.push(misheard);
            }
            Item::Unread(mut unread) => {
                unread.place = place;
                lesson.unread.push(unread);
            }
            Item::Conflict(mut conflict) => {
                conflict.place = place;
                conflict.first_place = place;
                lesson.conflicts.push(conflict);
            }
            Item::LetStand(mut let_stand) => {
                let_stand.place = place;
                lesson.let_stand.push(let_stand);
            }
            Item::Claim(about) => self.pattern().claims.push(Claim { place, about }),
            Item::Defines(own) => self.own_words.push(own),
            Item::Same(_) | Item::Comment(_) => {}
        }
    }

    fn head(&mut self, head: Head, implied: Option<String>, place: Place) {
        let lesson = &mut self.lesson;
        let meter = &mut lesson.meter;
        match head {
            Head::Id(id) => lesson.id = id,
            Head::Title(title) => lesson.title = Some(said(title, implied, place)),
            Head::Palo(palo) => lesson.palo = Some(said(palo, implied, place)),
            Head::Beats(beats) => meter.beats = Some(said(beats, implied, place)),
            Head::Accent(at) => meter.accents.push(said(at, implied, place)),
            Head::First(first) => meter.first = Some(said(first, implied, place)),
            Head::Lengths(lengths) => {
                self.lengths.clone_from(&lengths);
                meter.lengths = Some(said(lengths, implied, place));
            }
            Head::Tempo(tempo) => lesson.tempo = Some(said(tempo, implied, place)),
            Head::Key(key) => lesson.key = Some(said(key, implied, place)),
            Head::Capo(capo) => lesson.capo = Some(said(capo, implied, place)),
            Head::Tuning(tuning) => lesson.tuning = Some(said(tuning, implied, place)),
            Head::Language(language) => lesson.language = language,
            Head::Order(order) => lesson.order = Some(said(order, implied, place)),
            Head::Need(need) => lesson.needs.push(said(need, implied, place)),
            Head::Recording(recording) => lesson.recording = Some(said(recording, implied, place)),
            Head::RecordingLength(length) => lesson.recording_length = Some(length),
            Head::Reviewed(reviewed) => lesson.reviewed = Some(said(reviewed, implied, place)),
            Head::Person(name) => lesson.people.push(name),
        }
    }

    /// The pattern at hand; strokes before any opening line make a core.
    fn pattern(&mut self) -> &mut Pattern {
        if self.lesson.patterns.is_empty() {
            let begin = Begin {
                role: Role::Core,
                name: None,
                span: None,
                runs_on: None,
            };
            self.lesson.patterns.push(pattern(begin, Place::default()));
        }
        match self.lesson.patterns.last_mut() {
            Some(pattern) => pattern,
            None => unreachable!("one was pushed just above"),
        }
    }

    fn covers(&mut self, covers: Covers, place: Place) {
        let pattern = self.pattern();
        let at = Position::count(covers.span.first);
        if let Some(chord) = covers.chord.as_ref().filter(|_| !covers.still) {
            pattern.changes.push(Change {
                at,
                chord: chord.clone(),
                place,
                implied: None,
            });
        }
        let about = ClaimAbout::Covers {
            span: covers.span,
            chord: covers.chord,
        };
        pattern.claims.push(Claim { place, about });
    }

    /// Counts played as others: their strokes copied, but for the counts that the line gives strokes of its own.
    fn copy(&mut self, same: &Same, struck: &[i64], place: Place) {
        let own_span = self.pattern().span;
        let Some(target) = same.counts.or(own_span) else { return };
        let source = match &same.of {
            SameOf::Counts(counts) => *counts,
            SameOf::Core => target,
            SameOf::Before => match self.before {
                Some(before) => before,
                None => return,
            },
        };
        let from_core = same.of == SameOf::Core;
        let strokes = self.strokes_in(source, from_core);
        let shift = Position::count(target.first).0 - Position::count(source.first).0;
        for mut stroke in strokes {
            stroke.at = stroke.at.plus(shift);
            stroke.arrival = stroke.arrival.map(|at| at.plus(shift));
            stroke.place = place;
            if !struck.contains(&stroke.at.whole()) {
                self.pattern().strokes.push(stroke);
            }
        }
    }

    fn strokes_in(&self, counts: CountSpan, from_core: bool) -> Vec<Stroke> {
        let within = |pattern: &Pattern| -> Vec<Stroke> {
            let inside = |stroke: &&Stroke| (counts.first..=counts.last).contains(&stroke.at.whole());
            pattern.strokes.iter().filter(inside).cloned().collect()
        };
        let core = self.lesson.patterns.iter().find(|pattern| pattern.role == Role::Core);
        let here = self.lesson.patterns.last().filter(|_| !from_core).map(within);
        match here {
            Some(strokes) if !strokes.is_empty() => strokes,
            _ => core.map(within).unwrap_or_default(),
        }
    }

    fn unread(&mut self, source: &SourceText, span: Span) {
        if source.slice(span).trim().is_empty() {
            return;
        }
        let frame = Frame::of(source.slice(span));
        let span = Span::new(span.start + frame.start, span.start + frame.end);
        self.lesson.unread.push(Unread {
            text: source.slice(span).to_owned(),
            reason: "the line is not in the written form".to_owned(),
            musical: false,
            place: source.place(span, frame.time),
        });
    }

    fn finish(mut self) -> Lesson {
        for pattern in &mut self.lesson.patterns {
            pattern.strokes.sort_by_key(|stroke| (stroke.at, stroke.action));
            pattern.changes.sort_by_key(|change| change.at);
            pattern.left.sort_by_key(|event| event.at);
        }
        self.lesson
    }
}

fn pattern(begin: Begin, place: Place) -> Pattern {
    Pattern {
        name: begin.name.unwrap_or_else(|| role_name(begin.role).to_owned()),
        role: begin.role,
        span: begin.span,
        strokes: Vec::new(),
        changes: Vec::new(),
        left: Vec::new(),
        runs_on: begin.runs_on,
        claims: Vec::new(),
        place,
    }
}

fn said<T>(value: T, implied: Option<String>, place: Place) -> Said<T> {
    Said { value, place, implied }
}
