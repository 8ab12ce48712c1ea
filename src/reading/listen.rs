//! One note from cue to lesson: sentence by sentence, each statement into the discourse.

use std::borrow::Cow;

use super::clauses::clauses;
use super::context::Context;
use super::count_lines::with_colons;
use super::discourse::Discourse;
use super::forms::{Asked, FORMS, is_caution, is_musical, is_question, numbered, open_and_fretted};
use super::language::language_of;
use super::legend::with_signs;
use super::lexicon::Concept;
use super::old_count::{says_old_row, settle};
use super::own_words::lexicon_of;
use super::said_over::{defines_pairs, explains_a_technique, is_said_over, quotes_another_paper};
use super::sentences::{Sentence, is_punctuated, sentences};
use super::shapes_told::shapes_told;
use super::statement::{Located, Statement, StringSaid};
use super::tokens::{Token, tokens};
use super::trade::{is_elsewhere, is_lesson};
use super::typed::{line_start, take_line};
use super::voices::main_speaker;
use super::{head, noticed, recital, unread};
use crate::intake::{Folder, Note, NoteKind};
use crate::music::lesson::{Caution, Lesson};
use crate::music::pattern::ClaimAbout;
use crate::text::Place;

pub fn read_note(folder: &Folder, note: &Note) -> Lesson {
    let rewritten = (note.kind != NoteKind::Spoken).then(|| with_colons(note)).flatten();
    let note = rewritten.as_ref().unwrap_or(note);
    let language = language_of(note);
    let typed = note.kind != NoteKind::Spoken;
    let own = with_signs(note, language, lexicon_of(folder, language));
    let words = own.as_ref();
    let sentences = sentences(note, language);
    let mut tokenised: Vec<Vec<Token>> = sentences
        .iter()
        .map(|sentence| tokens(&sentence.text, language, words))
        .collect();
    if tokenised.iter().any(|tokens| says_old_row(tokens)) {
        tokenised.iter_mut().for_each(|tokens| settle(tokens));
    }
    let mut discourse = Discourse::new(Context {
        language,
        typed,
        punctuated: is_punctuated(&sentences),
        beats: None,
        aliases: Vec::new(),
        alternating: false,
        thirds: false,
        round: None,
        pairs: false,
        joins_with_ampersand: typed && words.concepts("+").contains(&Concept::Half),
        highest: 0,
    });
    discourse.lesson.language = language.code().to_owned();
    head::hear(&mut discourse, note, words);
    let timed = note.cues.iter().any(|cue| cue.time.is_some());
    if !is_lesson(&tokenised, timed) {
        let place = sentences
            .first()
            .map(|first| first.place(folder, note, 0, first.text.len()));
        discourse
            .lesson
            .unread
            .extend(place.map(|place| unread::no_lesson(place, &discourse.context)));
        return discourse.finish();
    }
    let teacher = main_speaker(&sentences);
    let mut read_to: Option<(usize, usize)> = None;
    let mut warned: Option<(usize, u32)> = None;
    let mut warning_begun = 0;
    let captions = note.is_captions(folder);
    for (index, sentence) in sentences.iter().enumerate() {
        let Some(tokens) = tokenised.get(index) else { continue };
        let previous = index
            .checked_sub(1)
            .and_then(|at| tokenised.get(at))
            .map_or(&[][..], Vec::as_slice);
        let next = tokenised.get(index + 1).map_or(&[][..], Vec::as_slice);
        let place = sentence.place(folder, note, 0, sentence.text.len());
        let listener = Listener {
            folder,
            note,
            sentence,
            tokens,
            previous,
            teacher: teacher.as_deref(),
        };
        let at = |start: usize, end: usize| sentence.place(folder, note, start, end);
        if !typed {
            noticed::misheard(&mut discourse.lesson, tokens, at);
        }
        noticed::techniques_named(&mut discourse.lesson, tokens, at);
        if read_to.is_some_and(|(cue, end)| cue == sentence.cue() && sentence.cue_offset() < end) {
            continue;
        }
        discourse.open_sentence(place, sentence.opens_line);
        discourse.context.pairs |= typed && defines_pairs(tokens);
        if typed && sentence.opens_line {
            let start = line_start(
                sentence.cue_offset(),
                note.cues.get(sentence.cue()).map_or("", |cue| cue.text.as_str()),
            );
            if let Some(end) = take_line(&mut discourse, folder, note, sentence.cue(), start) {
                read_to = Some((sentence.cue(), end));
                continue;
            }
        }
        if discourse.row(tokens, &sentence.text, place) {
            continue;
        }
        discourse.lay_rows();
        if is_elsewhere(tokens) || quotes_another_paper(tokens) {
            continue;
        }
        if is_caution(tokens, &sentence.text, typed) && (is_musical(tokens) || is_musical(next)) {
            let near = warned.is_some_and(|(cue, line)| {
                if typed {
                    line == place.line
                } else {
                    let caption = captions && note.cues.get(cue).is_some_and(|cue| cue.text.len() < 160);
                    cue == sentence.cue() && index <= warning_begun + 4 || caption && place.line.abs_diff(line) <= 6
                }
            });
            if !near {
                let counts = discourse.counts_warned(tokens, next);
                discourse.lesson.cautions.push(Caution {
                    about: sentence.text.clone(),
                    place,
                    counts,
                });
                discourse.note("a caution".to_owned(), place);
            }
            warned = Some((sentence.cue(), place.line));
            warning_begun = index;
            continue;
        }
        let of_the_warning = typed && warned.is_some_and(|(_, line)| line == place.line) && !sentence.opens_line;
        if of_the_warning || tokens.iter().any(|token| token.is(Concept::Later)) && discourse.in_pattern() {
            continue;
        }
        if listener.is_aside() || recital::hear(&mut discourse, tokens, &sentence.text, place) {
            continue;
        }
        let in_warning = !typed && warned.is_some_and(|(cue, _)| cue == sentence.cue()) && index <= warning_begun + 4;
        if let Some(hazy) = unread::hazy(
            tokens,
            &sentence.text,
            place,
            &discourse.context,
            discourse.in_pattern(),
        ) {
            discourse.lesson.unread.push(hazy);
            continue;
        }
        let before = (discourse.taken, discourse.in_pattern());
        listener.hear(&mut discourse, in_warning);
        if discourse.taken == before.0 && !in_warning {
            let unread = unread::unread(tokens, &sentence.text, place, &discourse.context, before.1);
            discourse.lesson.unread.extend(unread);
        }
    }
    discourse.lay_rows();
    discourse.close_run();
    let mut lesson = discourse.finish();
    noticed::techniques_played(&mut lesson);
    head::quote_conflicts(&mut lesson, folder, note);
    lesson
}

struct Listener<'a> {
    folder: &'a Folder,
    note: &'a Note,
    sentence: &'a Sentence,
    tokens: &'a [Token],
    previous: &'a [Token],
    /// Of several voices the one that says most.
    teacher: Option<&'a str>,
}

impl Listener<'_> {
    /// A student's words: nothing to be played is told.
    fn is_aside(&self) -> bool {
        if self.teacher.is_some() && self.sentence.speaker.is_some() {
            return self.teacher != self.sentence.speaker.as_deref();
        }
        self.sentence.speaker.as_deref().is_some_and(|name| {
            let folded = crate::text::fold(name).text;
            ["student", "alumno", "alumna", "pupil"]
                .iter()
                .any(|word| folded.starts_with(word))
        })
    }

    fn place(&self, located: &Located) -> Place {
        self.sentence.place(
            self.folder,
            self.note,
            located.start,
            located.end.max(located.start + 1),
        )
    }

    fn hear(&self, discourse: &mut Discourse, in_warning: bool) {
        let context = discourse.context.clone();
        let asked = Asked {
            tokens: self.tokens,
            context: &context,
            previous: self.previous,
            fresh_variation: discourse.fresh_variation(),
            in_pattern: discourse.in_pattern(),
            opens_line: self.sentence.opens_line,
            opening: self.sentence.cue() == 0,
            text: &self.sentence.text,
        };
        let mut heard: Vec<Located> = Vec::new();
        for form in &FORMS {
            heard.extend((form.read)(&asked));
        }
        let shaped = heard.iter().any(|located| {
            matches!(
                located.statement,
                Statement::WholeShape { .. } | Statement::Define { .. }
            )
        });
        let about_else = heard.iter().any(|located| {
            matches!(
                located.statement,
                Statement::Accents(_)
                    | Statement::Tempo(_)
                    | Statement::Beats(_)
                    | Statement::Repeats(_)
                    | Statement::ChordOver { .. }
            )
        });
        if !asked.in_pattern && !shaped && !about_else {
            let recent = discourse.sentence.saturating_sub(discourse.shape_sentence) <= 3;
            heard.extend(shapes_told(&asked, discourse.shape_chord.is_some() && recent));
        }
        let talks_of_shapes = heard.iter().any(|located| matches!(&located.statement, Statement::Shape { frets, .. } if frets.iter().any(|fret| *fret != StringSaid::NotSaid)));
        let spans_only = heard.iter().any(|located| {
            matches!(
                located.statement,
                Statement::ChordOver {
                    strokes_follow: false,
                    ..
                }
            )
        });
        let settled = heard.iter().any(|located| {
            matches!(
                located.statement,
                Statement::Accents(_)
                    | Statement::Tempo(_)
                    | Statement::Beats(_)
                    | Statement::Repeats(_)
                    | Statement::Lengths(_)
                    | Statement::Parts(_)
                    | Statement::First(_)
                    | Statement::Capo(_)
            )
        });
        let passage = heard
            .iter()
            .any(|located| matches!(&located.statement, Statement::Passage(_)));
        let taken: Vec<(usize, usize)> = heard
            .iter()
            .filter(|located| {
                matches!(
                    located.statement,
                    Statement::Replaces { .. } | Statement::RunsOn | Statement::ChordOver { .. }
                )
            })
            .map(|located| (located.start, located.end))
            .collect();
        for located in heard {
            let place = self.place(&located);
            discourse.hear(located.statement, place);
        }
        if shaped
            || talks_of_shapes
            || settled
            || spans_only
                && !self
                    .tokens
                    .iter()
                    .any(|token| token.is_any(&[Concept::Down, Concept::Up, Concept::Golpe, Concept::Rasgueado]))
            || is_question(self.tokens, &self.sentence.text)
        {
            return;
        }
        let title =
            asked.opening && self.sentence.typed && self.tokens.first().is_none_or(|token| token.number.is_none());
        if title {
            return;
        }
        self.hear_strokes(discourse, passage, in_warning, &taken);
        if !in_warning {
            discourse.hands_told(self.tokens, discourse.sentence_place);
        }
        if self.sentence.typed {
            let place = self.sentence.place(self.folder, self.note, 0, self.sentence.text.len());
            let at = crate::music::position::Position::count(discourse.cursor.unwrap_or(1));
            let divided = discourse.close_run();
            if let Some((said, given)) = numbered(&asked).filter(|_| !divided) {
                discourse.claim(ClaimAbout::Numbered { at, said, given }, place);
            }
            if let Some((string, fret)) = open_and_fretted(&asked) {
                discourse.claim(ClaimAbout::OpenAndFretted { at, string, fret }, place);
            }
        }
    }

    fn hear_strokes(&self, discourse: &mut Discourse, passage: bool, in_warning: bool, taken: &[(usize, usize)]) {
        let conditional = self.tokens.first().is_some_and(|token| token.is(Concept::Condition)) && !self.sentence.typed;
        if conditional {
            return;
        }
        let context = discourse.context.clone();
        let is_taken = |token: &Token| {
            taken
                .iter()
                .any(|(start, end)| token.start >= *start && token.end <= *end)
        };
        let rest: Cow<[Token]> = if taken.is_empty() {
            Cow::Borrowed(self.tokens)
        } else {
            Cow::Owned(self.tokens.iter().filter(|token| !is_taken(token)).cloned().collect())
        };
        let line = self.sentence.place(self.folder, self.note, 0, self.sentence.text.len());
        if discourse.row_of_names(self.tokens, line) {
            return;
        }
        if !self.sentence.typed && discourse.in_pattern() && is_said_over(&rest)
            || self.sentence.typed && self.sentence.opens_line && explains_a_technique(self.tokens)
        {
            return;
        }
        let mut told = clauses(&rest, &context);
        if self.sentence.private {
            // What is kept between two people does not change what was told to everybody.
            told.retain(|told| {
                !told
                    .when
                    .and_then(|when| when.count)
                    .is_some_and(|count| discourse.has_told(count))
            });
        }
        if in_warning {
            told.retain(|told| {
                told.when.is_some_and(|when| when.count.is_some())
                    && told.sounds()
                    && (told.golpe || !told.fingers.is_empty())
            });
        }
        let counts = told.iter().filter(|told| told.when.is_some()).count();
        let strong = told.iter().any(|told| {
            told.sounds() || told.has_details() || told.same.is_some() || told.division.is_some() || told.corrects
        });
        if counts > 0 && !strong {
            let lead = rest.iter().take(3).any(|token| token.number.is_some()) && counts == 1;
            if lead {
                told.truncate(1);
            } else {
                return;
            }
        }
        if passage
            && counts == 0
            && !told.iter().any(|told| {
                !told.strings.is_empty() || told.frets.iter().any(|fret| *fret > 0) || told.division.is_some()
            })
        {
            told.retain(|told| told.chord.is_some());
            for told in &mut told {
                told.actions.clear();
                told.fingers.clear();
                told.golpe = false;
                told.silence = false;
            }
        }
        let names = (0..rest.len())
            .filter(|at| super::pitch_words::pitch_at(&rest, *at, context.language, context.typed).is_some())
            .count();
        let as_usual = self.tokens.iter().any(|token| token.is(Concept::AsUsual));
        if !self.sentence.typed && (names >= 3 || as_usual) {
            told.retain(|told| {
                told.chord.is_none()
                    || told.sounds()
                    || told.has_note()
                    || told.when.is_some_and(|when| when.count.is_some()) && names < 3
            });
        }
        for told in told {
            let located = Located {
                start: told.start,
                end: told.end,
                statement: Statement::Told(Box::new(told)),
            };
            let place = self.place(&located);
            discourse.hear(located.statement, place);
        }
    }
}
