//! Tokens of a sentence to clauses about strokes. Nothing is worked out here: a clause holds what it says.

/// Moments and counts.
mod counts;

/// How a count is divided.
mod division;

/// Several counts in front of what is played on them.
mod listed;

/// Chords, notes, and the writer's own words.
mod names;

/// Strings and frets.
mod strings;

/// From one string to another.
mod string_range;

/// Frets told by a number alone, and the names of the notes that sound there.
mod frets;

/// Fingers of both hands, within a clause.
mod hands;

/// Marks, and what begins a new clause.
mod marks;

/// Words that say what is done.
mod words;

/// An "and" within a clause, or between two.
mod and;

/// "Down" and "up" that no finger plays.
mod no_strokes;

mod pointed;
/// What is told one by one and sounds at one moment.
mod together;
mod within;

/// What a count or variation is said to be like.
mod likened;

/// Right-hand fingers by name and by letter.
mod fingers;

/// Whether a bare number is a count.
mod is_count;

/// Moments told behind their strokes.
mod order;

/// Moments listed behind all that is played on them.
mod places_behind;

/// Several strokes told at once, and the finger of each.
mod several;

/// What a token may begin.
mod begins;

use begins::may_tell;
pub use begins::words_of_clauses;
pub use fingers::{
    FINGERS, NAMED_FINGER, RIGHT_FINGER, fingers_one_by_one, fingers_or_sign, letter_finger, may_be_finger_letters,
    named_finger, right_fingers,
};
pub use places_behind::{Places, align, may_fall, places};
pub use strings::{ordinal_at, written_string};

use super::context::Context;
use super::lexicon::Concept;
use super::moments::{MOMENT, before, token};
use super::says::{Kind, Says};
use super::statement::Told;
use super::tokens::Token;
use crate::music::stroke::Action;

/// Reads a sentence's clauses from left to right.
pub fn clauses(tokens: &[Token], context: &Context) -> Vec<Told> {
    let says = Says::of(tokens);
    if !cfg!(test) && !may_tell(says, context) {
        return Vec::new();
    }
    if let Some(told) = places_behind::aligned(tokens, says, context) {
        return told;
    }
    let has_moments = says.any_of(MOMENT);
    let mut reader = Reader {
        beginnings: if has_moments {
            order::beginnings(tokens, context)
        } else {
            Vec::new()
        },
        pointed: if has_moments {
            pointed::pointed(tokens, context)
        } else {
            Vec::new()
        },
        tokens,
        context,
        out: Vec::new(),
        told: Told::default(),
        recap: false,
        negated: false,
        in_place_of: false,
        fresh: true,
        soft: false,
        inert: false,
        listed: listed::Listed::default(),
    };
    reader.read();
    debug_assert!(may_tell(says, context) || reader.out.is_empty(), "{tokens:?}");
    reader.out
}

#[cfg_attr(test, derive(Clone))]
struct Reader<'a> {
    tokens: &'a [Token],
    context: &'a Context,
    /// Where a clause begins because its moment will stand behind its stroke.
    beginnings: Vec<usize>,
    /// Moments that point back at what was told in front of them.
    pointed: Vec<pointed::Pointed>,
    out: Vec<Told>,
    told: Told,
    recap: bool,
    /// A "not" holds until the clause ends.
    negated: bool,
    /// What is not played is what "instead of" names.
    in_place_of: bool,
    /// Nothing of the clause has been read.
    fresh: bool,
    /// A comma stands between what the clause holds and what comes.
    soft: bool,
    /// Inside a condition or a reason: nothing is told until the next comma.
    inert: bool,
    listed: listed::Listed,
}

impl Reader<'_> {
    pub(super) fn read(&mut self) {
        let mut index = 0;
        while index < self.tokens.len() {
            let next = self.step(index);
            index = next.max(index + 1);
        }
        self.close();
        self.another_of_the_same();
        self.gestures_told_again();
        self.without_what_is_said_over();
        self.not_twice();
        self.in_that_order();
        self.without_what_is_explained();
        self.slurs_said_again();
        self.all_within();
        self.spread_over_bare_count();
        self.deal_out();
        self.deal_to_fingers();
        self.there_and_back();
        self.names_in_turn();
        self.pinch_what_was_listed();
        self.sound_together();
        self.golpe_at_the_same_time();
        self.roll_what_was_listed();
        // "On 10, you're home.": the talk moves there, and the next sentence tells what is played.
        let numbers = self.tokens.iter().filter(|token| token.number.is_some()).count();
        if self.out.is_empty() && self.told.when.is_some_and(|when| when.count.is_some()) && numbers == 1 {
            self.out.push(std::mem::take(&mut self.told));
        }
    }

    /// "on 10, little finger, ring, middle, index, so it's a rasgueado": the fingers told before their stroke.
    fn roll_what_was_listed(&mut self) {
        let mut at = 0;
        while let (Some(row), Some(roll)) = (self.out.get(at), self.out.get(at + 1)) {
            let listed = row.fingers.len() >= 3 && !row.sounds() && !row.has_note();
            let rolls = roll.actions.first() == Some(&Action::Rasgueado) && roll.fingers.is_empty();
            if !(listed && rolls) {
                at += 1;
                continue;
            }
            let row = self.out.remove(at);
            if let Some(roll) = self.out.get_mut(at) {
                roll.fingers = row.fingers;
                roll.when = roll.when.or(row.when);
                roll.start = row.start;
            }
        }
    }

    /// "open, second fret, third fret, D, E, F": as many names as notes were told are theirs in turn.
    fn names_in_turn(&mut self) {
        let Some(names) = self
            .out
            .last()
            .map(|last| last.notes.clone())
            .filter(|names| names.len() >= 2)
        else {
            return;
        };
        let from = self.out.len().saturating_sub(names.len());
        let rest = self.out.get_mut(from..).unwrap_or(&mut []);
        let (last, before) = match rest.split_last_mut() {
            Some(split) => split,
            None => return,
        };
        let single = |told: &Told| told.has_note() && told.frets.len() == 1;
        let unnamed = before.iter().all(|told| single(told) && told.notes.is_empty());
        if before.len() + 1 == names.len() && unnamed && single(last) {
            for (told, name) in before.iter_mut().chain([last]).zip(names) {
                told.notes = vec![name];
            }
        }
    }

    pub(super) fn here(&self, index: usize) -> &Token {
        token(self.tokens, index)
    }

    pub(super) fn step(&mut self, index: usize) -> usize {
        // `8: i down. No: i up.`
        if index == 0 && self.here(0).word == "no" && matches!(self.here(1).mark, Some(':' | ',')) {
            self.told.corrects = true;
            return 2;
        }
        let says = self.here(index).says();
        if says.has(Kind::Leads)
            && let Some(next) = self.as_you_say(index)
        {
            return next;
        }
        if let Some(end) = self.points_back(index) {
            return end;
        }
        if self.beginnings.contains(&index) {
            if self.told.is_blank() && self.of_a_fan() {
                self.told = Told::default();
            }
            if self.told.when.is_some() && !self.told.is_blank() {
                self.close();
            }
        }
        // "the ring finger taps while the index brushes up": another finger's stroke begins.
        if self.told.golpe && matches!(self.here(index).word.as_str(), "while" | "mientras") {
            self.close();
        }
        if says.means(Concept::Condition) {
            self.close();
            self.inert = true;
        }
        let led = || {
            let before = before(self.tokens, index);
            before.is(Concept::On) || matches!(before.word.as_str(), "el" | "the")
        };
        let count_comes = || !self.context.punctuated && says.has(Kind::Number) && led();
        if self.inert && count_comes() {
            self.inert = false;
        }
        if self.inert && self.here(index).mark.is_none() {
            return index + 1;
        }
        if self.told.when.is_none() && self.told.span.is_none() && self.told.is_blank() {
            self.told.start = self.here(index).start;
        }
        let found = self.begin(index, says);
        let next = found.unwrap_or_else(|| self.word(index));
        let behind = self.here(next.max(index + 1) - 1).end;
        self.told.end = self.told.end.max(behind);
        next
    }

    /// Ends the clause: what it holds goes out; a moment alone is kept for the next clause.
    pub(super) fn close(&mut self) {
        let waits = self.told.is_blank() && !self.told.as_usual && !self.told.let_ring && !self.told.alone;
        let mut told = std::mem::take(&mut self.told);
        if waits {
            self.told.when = told.when;
            self.told.span = told.span;
            self.told.start = told.start;
            self.told.plays = told.plays;
            if self.told.when.is_none() && self.told.span.is_none() {
                self.told.start = 0;
            }
        } else {
            told.recap = self.recap;
            told.negated = self.negated;
            told.leads = self.out.is_empty();
            told.short = self.tokens.len() <= 10;
            if told.negated {
                self.told.when = told.when;
            }
            self.out.push(told);
        }
        self.negated = false;
        self.in_place_of = false;
        self.fresh = true;
        self.soft = false;
    }

    /// A new finger, string or fret behind a comma begins a clause of its own when the one before has its own already.
    pub(super) fn part(&mut self, taken: bool) {
        if self.soft && taken {
            self.close();
        }
        self.soft = false;
        self.fresh = false;
    }

    pub(super) fn has_event(&self) -> bool {
        self.told.sounds() || self.told.has_note() && (!self.told.fingers.is_empty() || !self.told.frets.is_empty())
    }
}
