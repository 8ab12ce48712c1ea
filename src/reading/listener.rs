//! One sentence of the teacher's: what it says takes effect.

use std::borrow::Cow;
use std::rc::Rc;

use super::clauses::clauses;
use super::context::Context;
use super::discourse::Discourse;
use super::first_moment::{begin_where_it_replaces, named_behind};
use super::forms::{Asked, is_question, names_in};
use super::hands_at_rest::{
    holds_a_shape, lists_names, moves_the_left_hand, names_in_a_row, orders_a_mix, plays_a_string,
    shape_in_a_count_line,
};
use super::lexicon::Concept;
use super::placed::lists_fingers;
use super::said_over::{
    counts_alone, counts_over, explains_a_technique, is_said_over, says_a_row_over, stretches_said_over, sums_up,
};
use super::sentences::Sentence;
use super::shapes_told::{shape_retold, shapes_told};
use super::slots::slots;
use super::statement::{Located, Statement, StringSaid};
use super::thoughts::{settles, takes_back_a_length, thought_around, within};
use super::tokens::{Token, Tokens};
use super::unread::{PlainMusic, plain_music};
use crate::intake::{Folder, Note};
use crate::text::Place;

/// What a sentence's clauses are heard for.
#[derive(Clone, Copy)]
struct Heeds {
    /// Something was said of a whole passage.
    passage: bool,
    in_warning: bool,
    /// The sentence tells which chord is over which counts.
    chords_only: bool,
    /// Counts that a variation is said to take the place of, in this sentence.
    replaced: Option<(i64, i64)>,
}

pub struct Listener<'a> {
    pub folder: &'a Folder,
    pub note: &'a Note,
    pub sentence: &'a Sentence,
    /// Of the whole sentence.
    pub place: Place,
    pub tokens: &'a Tokens,
    pub previous: &'a Tokens,
    /// The sentence behind.
    pub next: &'a Tokens,
    /// Of several voices the one that says most.
    pub teacher: Option<&'a str>,
    /// Another voice said it, and the teacher says that it is so.
    pub affirmed: bool,
}

impl Listener<'_> {
    /// A student's words: nothing to be played is told, unless the teacher affirms it.
    pub fn is_aside(&self) -> bool {
        if self.affirmed {
            return false;
        }
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

    /// On the note's first line; of a note without times only its first sentence, since it is one cue.
    fn is_on_top(&self) -> bool {
        let first_line = || {
            let cue = self.note.cues.first().map_or("", |cue| cue.text.as_str());
            let before = cue.get(..self.sentence.cue_offset()).unwrap_or_default();
            !before.trim_start().contains('\n')
        };
        let opens = self.sentence.cue() == 0 && first_line();
        opens && (self.note.cues.len() > 1 || self.previous.is_empty())
    }

    fn place_of(&self, located: &Located) -> Place {
        let end = located.end.max(located.start + 1);
        self.sentence.place(self.folder, self.note, located.start, end)
    }

    fn asked<'t>(&'t self, discourse: &Discourse, context: &'t Context) -> Asked<'t> {
        Asked {
            tokens: self.tokens,
            says: self.tokens.says,
            names: names_in(self.tokens, context),
            context,
            previous: self.previous,
            fresh_variation: discourse.fresh_variation(),
            in_pattern: discourse.in_pattern(),
            opens_line: self.sentence.opens_line,
            opening: self.sentence.cue() == 0,
            text: &self.sentence.text,
        }
    }

    /// A line of signs: what it defines, and nothing that would be played.
    pub fn hear_signs(&self, discourse: &mut Discourse) {
        let context = Rc::clone(&discourse.context);
        for located in self.asked(discourse, &context).statements() {
            if matches!(located.statement, Statement::Define { .. }) {
                let place = self.place_of(&located);
                discourse.hear(located.statement, place);
            }
        }
    }

    /// What the sentence says takes effect. The music that its clauses tell plainly goes out, where all of it was read as
    /// clauses.
    pub fn hear(&self, discourse: &mut Discourse, in_warning: bool) -> Option<Vec<PlainMusic>> {
        let listed = counts_alone(self.tokens).map(|(first, last)| (first, last, discourse.sentence));
        discourse.listed = listed.or(discourse.listed);
        let context = Rc::clone(&discourse.context);
        let asked = self.asked(discourse, &context);
        let mut heard = asked.statements();
        if !self.sentence.typed && !asked.in_pattern && takes_back_a_length(self.tokens, discourse) {
            discourse.lesson.meter.beats = None;
            heard.retain(|located| !matches!(located.statement, Statement::Beats(_)));
        }
        let shaped = heard.iter().any(|located| {
            matches!(
                located.statement,
                Statement::WholeShape { .. } | Statement::Define { .. } | Statement::FingerStrings(_)
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
        let begins = heard
            .iter()
            .any(|located| matches!(located.statement, Statement::Begin { .. }));
        if !asked.in_pattern && !begins && !shaped && !plays_a_string(self.tokens) {
            let recent = discourse.sentence.saturating_sub(discourse.shape_sentence) <= 3;
            let told = shapes_told(&asked, discourse.shape_chord.is_some() && recent);
            // Without marks one sentence may tell the counts as well as the chords.
            heard.extend(
                told.into_iter()
                    .filter(|_| !about_else || !context.punctuated && holds_a_shape(self.tokens)),
            );
            if heard.is_empty() && !self.sentence.typed {
                heard.extend(shape_retold(&asked, discourse));
            }
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
        let settling: Vec<(usize, usize)> = heard
            .iter()
            .filter(|located| settles(&located.statement))
            .map(|located| thought_around(self.tokens, (located.start, located.end), context.punctuated))
            .collect();
        let beside = |token: &Token| token.mark.is_none() && !settling.iter().any(|span| within(token, *span));
        let settled = !settling.is_empty() && !self.tokens.iter().any(beside);
        let passage = heard
            .iter()
            .any(|located| matches!(&located.statement, Statement::Passage(_)));
        let mut taken: Vec<(usize, usize)> = heard
            .iter()
            .filter(|located| match located.statement {
                // In speech without marks all that came before would go with it.
                Statement::Begin { .. } => self.sentence.typed && self.sentence.opens_line,
                Statement::Replaces { .. }
                | Statement::RunsOn
                | Statement::ChordOver { .. }
                | Statement::ChordThroughout(_) => true,
                _ => false,
            })
            .map(|located| (located.start, located.end))
            .chain(settling.iter().copied())
            .collect();
        let replaced = heard.iter().find_map(|located| match located.statement {
            Statement::Replaces { first, last } => Some((first, last)),
            _ => None,
        });
        let drawn = shape_in_a_count_line(self.tokens, &heard).filter(|_| self.sentence.typed && asked.in_pattern);
        for located in heard {
            let place = self.place_of(&located);
            discourse.hear(located.statement, place);
        }
        if let Some((count, chord, _)) = &drawn {
            discourse.chord_over(chord.clone(), *count, *count, true, self.place);
        }
        taken.extend(drawn.iter().map(|(_, _, span)| *span));
        let shaped = shaped && drawn.is_none();
        self.numbers_said(&asked, discourse);
        if !asked.in_pattern && !shaped {
            discourse.fingers_told(self.tokens, discourse.sentence_place);
        }
        let struck = [Concept::Down, Concept::Up, Concept::Golpe, Concept::Rasgueado];
        let chords_only = spans_only && !self.tokens.says.means_any(&struck);
        if shaped
            || !asked.in_pattern && lists_fingers(self.tokens)
            || talks_of_shapes
            || settled
            || chords_only && (self.sentence.typed || context.punctuated)
            || is_question(self.tokens, &self.sentence.text)
        {
            return None;
        }
        let title =
            self.is_on_top() && self.sentence.typed && self.tokens.first().is_none_or(|token| token.number.is_none());
        if title {
            return None;
        }
        let heeds = Heeds {
            replaced,
            passage,
            in_warning,
            chords_only,
        };
        let silent = discourse.only_says_how_long(self.tokens) || discourse.only_puts_fingers(self.tokens);
        let plain = if silent {
            None
        } else {
            self.hear_strokes(discourse, heeds, &taken)
        };
        if self.sentence.typed && self.sentence.opens_line {
            self.counts_announced(discourse);
        }
        if !in_warning {
            if discourse.in_pattern() {
                discourse.fingers_told(self.tokens, discourse.sentence_place);
            }
            discourse.hands_told(self.tokens, discourse.sentence_place);
        }
        self.numbers_beside(&asked, discourse);
        plain
    }

    fn hear_strokes(
        &self,
        discourse: &mut Discourse,
        heeds: Heeds,
        taken: &[(usize, usize)],
    ) -> Option<Vec<PlainMusic>> {
        let Heeds {
            passage,
            in_warning,
            chords_only,
            replaced,
        } = heeds;
        // "When you call 5": a count that is being said is a moment, no condition.
        let counted = self.tokens.iter().skip(1).take(3).any(|token| token.number.is_some());
        let conditional = self.tokens.first().is_some_and(|token| token.is(Concept::Condition)) && !counted;
        let conditional = conditional && !self.sentence.typed;
        if conditional {
            return None;
        }
        let context = &discourse.context;
        let spoken_on = !context.punctuated && !context.typed && discourse.in_pattern();
        let said_over = if spoken_on {
            stretches_said_over(self.tokens)
        } else {
            Vec::new()
        };
        let is_taken = |token: &Token| taken.iter().chain(&said_over).any(|span| within(token, *span));
        let rest: Cow<[Token]> = if taken.is_empty() && said_over.is_empty() {
            Cow::Borrowed(self.tokens)
        } else {
            Cow::Owned(self.tokens.iter().filter(|token| !is_taken(token)).cloned().collect())
        };
        if discourse.names_a_gesture(self.tokens, self.previous) {
            return None;
        }
        if discourse.row_of_names(self.tokens, self.place) || discourse.says_sounds_over(self.tokens) {
            return None;
        }
        if moves_the_left_hand(self.tokens) || orders_a_mix(self.tokens) {
            discourse.taken += 1;
            return None;
        }
        let summed_up = !discourse.context.punctuated && discourse.in_pattern() && sums_up(self.tokens);
        let spoken = !self.sentence.typed && discourse.in_pattern();
        let told = discourse.cursor.is_none_or(|count| discourse.has_told(count));
        if summed_up
            || spoken && (says_a_row_over(self.tokens, told) || counts_over(self.tokens))
            || !self.sentence.typed && discourse.in_pattern() && is_said_over(&rest)
            || self.sentence.typed && self.sentence.opens_line && explains_a_technique(self.tokens)
        {
            return None;
        }
        let context = &discourse.context;
        let parted = slots(self.tokens, context);
        let whole = parted.is_none() && matches!(rest, Cow::Borrowed(_));
        let mut told = parted.unwrap_or_else(|| clauses(&rest, context));
        let plain = whole.then(|| plain_music(&told));
        match replaced {
            Some(replaced) if self.sentence.typed => begin_where_it_replaces(&mut told, replaced),
            _ if !self.sentence.typed => named_behind(&mut told, self.next, context),
            _ => {}
        }
        if chords_only {
            told.retain(|told| told.chord.is_some() && told.when.is_some());
        }
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
        if discourse.tells_only_what_was_told(&told) {
            discourse.taken += 1;
            return None;
        }
        let counts = told.iter().filter(|told| told.when.is_some()).count();
        let strong = told.iter().any(|told| {
            told.sounds() || told.has_details() || told.same.is_some() || told.division.is_some() || told.corrects
        });
        if counts > 0 && !strong {
            // "Right hand now. The 1.": the talk moves there as well.
            let closes = rest
                .iter()
                .rev()
                .find(|token| token.mark.is_none())
                .is_some_and(|token| token.number.is_some());
            let linked = usize::from(rest.first().is_some_and(|first| first.is(Concept::And)));
            let early = rest.iter().take(3 + linked).any(|token| token.number.is_some());
            let lead = (early || closes) && counts == 1;
            if lead {
                told.truncate(1);
            } else {
                return None;
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
        let named_in_a_row = !self.sentence.typed && !told.is_empty() && names_in_a_row(&rest, &told, context);
        let as_usual = self.tokens.says.means(Concept::AsUsual);
        if self.sentence.typed && counts == 0 && lists_names(&rest, context) {
            // Chords listed: none of them comes at the count that the talk is at.
            told.retain(|told| told.chord.is_none() || told.sounds() || told.has_note());
        }
        if !self.sentence.typed && (named_in_a_row || as_usual) {
            told.retain(|told| {
                told.chord.is_none()
                    || told.sounds()
                    || told.has_note()
                    || told.when.is_some_and(|when| when.count.is_some()) && !named_in_a_row
            });
        }
        for told in told {
            let located = Located {
                start: told.start,
                end: told.end,
                statement: Statement::Told(Box::new(told)),
            };
            let place = self.place_of(&located);
            discourse.hear(located.statement, place);
        }
        plain
    }
}
