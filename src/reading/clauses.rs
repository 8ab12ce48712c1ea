//! Tokens of a sentence to clauses about strokes. Nothing is worked out here: a clause holds what it says.

use super::context::Context;
use super::lexicon::{Concept, Language};
use super::moments::{Part, When, before, count_list, moment_at, span_at, token};
use super::pitch_words::{compact, pitch_at};
use super::statement::{ChordSaid, SameAs, Told};
use super::tokens::Token;
use crate::music::hand::Finger;
use crate::music::pitch::NoteName;
use crate::music::stroke::Action;
use num_rational::Ratio;

/// Reads a sentence's clauses from left to right.
pub fn clauses(tokens: &[Token], context: &Context) -> Vec<Told> {
    let mut reader = Reader {
        tokens,
        context,
        out: Vec::new(),
        told: Told::default(),
        recap: false,
        negated: false,
        fresh: true,
        soft: false,
        inert: false,
    };
    reader.read();
    reader.out
}

struct Reader<'a> {
    tokens: &'a [Token],
    context: &'a Context,
    out: Vec<Told>,
    told: Told,
    recap: bool,
    /// A "not" holds until the clause ends.
    negated: bool,
    /// Nothing of the clause has been read.
    fresh: bool,
    /// A comma stands between what the clause holds and what comes.
    soft: bool,
    /// Inside a condition or a reason: nothing is told until the next comma.
    inert: bool,
}

impl Reader<'_> {
    fn read(&mut self) {
        let mut index = 0;
        while index < self.tokens.len() {
            let next = self.step(index);
            index = next.max(index + 1);
        }
        self.close();
    }

    fn here(&self, index: usize) -> &Token {
        token(self.tokens, index)
    }

    /// Reads what stands at `index`; returns the index behind it.
    /// "three notes to each count", "two to the beat", "tres por tiempo": notes in a count, and the index behind.
    fn division_told(&mut self, index: usize) -> Option<usize> {
        let number = self.here(index).number.filter(|number| (1..=8).contains(number))?;
        let mut at = index + 1;
        let noun =
            self.here(at).is(Concept::Unit) || self.here(at).is_any(&[Concept::Down, Concept::Up, Concept::Golpe]);
        if noun
            || matches!(
                self.here(at).word.as_str(),
                "even" | "equal" | "little" | "notitas" | "golpes"
            )
        {
            at += 1;
        }
        if !matches!(
            self.here(at).word.as_str(),
            "to" | "a" | "per" | "in" | "por" | "en" | "for" | "each" | "cada" | "on"
        ) {
            return None;
        }
        let each = self.here(at).word == "each" || self.here(at).word == "cada";
        at += 1;
        while self.here(at).is_any(&[Concept::Article, Concept::All])
            || matches!(
                self.here(at).word.as_str(),
                "a" | "one" | "each" | "every" | "space" | "of"
            )
        {
            at += 1;
        }
        let beat = self.here(at).is(Concept::BeatWord)
            && self.here(at + 1).number.is_none()
            && (self.here(at).word != "counts" && self.here(at).word != "beats");
        let one =
            before(self.tokens, at).word == "one" && (self.here(at).mark.is_some() || self.here(at).word.is_empty());
        if !(beat || one || each && (self.here(at).mark.is_some() || self.here(at).word.is_empty())) {
            return None;
        }
        self.told.division = Some(number);
        self.fresh = false;
        Some(if beat { at + 1 } else { at })
    }

    fn step(&mut self, index: usize) -> usize {
        if self.here(index).is(Concept::Condition) {
            self.close();
            self.inert = true;
        }
        let count_comes = !self.context.punctuated
            && (before(self.tokens, index).is(Concept::On)
                || matches!(before(self.tokens, index).word.as_str(), "el" | "the"))
            && self.here(index).number.is_some();
        if self.inert && count_comes {
            self.inert = false;
        }
        if self.inert && self.here(index).mark.is_none() {
            return index + 1;
        }
        if self.told.is_blank() && self.told.when.is_none() && self.told.span.is_none() {
            self.told.start = self.here(index).start;
        }
        let next = self
            .division_told(index)
            .or_else(|| self.moment(index))
            .or_else(|| self.alias(index))
            .or_else(|| self.string_or_fret(index))
            .or_else(|| self.left_finger(index))
            .or_else(|| self.mark(index))
            .or_else(|| self.pitch(index))
            .or_else(|| self.count(index))
            .or_else(|| self.right_finger(index))
            .unwrap_or_else(|| self.word(index));
        let behind = self.here(next.max(index + 1) - 1).end;
        self.told.end = self.told.end.max(behind);
        next
    }

    /// Ends the clause: what it holds goes out; a moment alone is kept for the next clause.
    fn close(&mut self) {
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
            told.short = self.tokens.len() <= 8;
            if told.negated && !told.sounds() {
                self.told.when = told.when;
            }
            self.out.push(told);
        }
        self.negated = false;
        self.fresh = true;
        self.soft = false;
    }

    /// A new finger, string or fret behind a comma begins a clause of its own when the one before has its own already.
    fn part(&mut self, taken: bool) {
        if self.soft && taken {
            self.close();
        }
        self.soft = false;
        self.fresh = false;
    }

    fn has_event(&self) -> bool {
        self.told.sounds() || self.told.has_note() && (!self.told.fingers.is_empty() || !self.told.frets.is_empty())
    }

    // ---- moments -------------------------------------------------------------------------------------------

    fn moment(&mut self, index: usize) -> Option<usize> {
        let (when, end) = moment_at(self.tokens, index, self.context)?;
        if when.part == Part::And
            && when.count.is_none()
            && self.here(index).is_mark('&')
            && self.here(index + 1).number.is_some()
            && !self.context.typed
        {
            return None;
        }
        self.set_when(when);
        Some(end)
    }

    /// A moment belongs to the stroke before it in the clause, or begins a clause of its own.
    fn set_when(&mut self, when: When) {
        let takes = self.told.when.is_none() || self.told.is_blank();
        if takes
            && !(self.context.typed
                && self.has_event()
                && when.count.is_none()
                && self.told.when.is_none()
                && !self.out.is_empty())
        {
            let count = when.count.or(self.told.when.and_then(|old| old.count));
            self.told.when = Some(When { count, part: when.part });
        } else {
            self.close_for_moment();
            self.told.when = Some(when);
        }
        self.fresh = false;
    }

    fn close_for_moment(&mut self) {
        self.close();
        self.told = Told {
            start: self.told.start,
            ..Told::default()
        };
    }

    fn count(&mut self, index: usize) -> Option<usize> {
        if let Some((first, last, end)) = span_at(self.tokens, index).or_else(|| self.listed_line(index))
            && (self.counts_here(index) || self.context.typed)
        {
            if !self.told.is_blank() {
                self.close();
            }
            self.told.when = None;
            self.told.span = Some((first, last));
            self.fresh = false;
            return Some(end);
        }
        let number = self.here(index).number?;
        let of_left_hand = self.told.left.is_some()
            && self.told.when.is_none()
            && (index.saturating_sub(9)..index).any(|at| self.here(at).is(Concept::FretWord))
            && self.context.typed;
        if of_left_hand {
            return Some(index + 1);
        }
        let aside = self.context.typed && self.bracketed(index) && (self.told.when.is_some() || !self.told.is_blank());
        if aside || !self.counts_here(index) {
            return None;
        }
        let next_round = matches!(before(self.tokens, index).word.as_str(), "next" | "following")
            || matches!(self.here(index + 1).word.as_str(), "siguiente" | "que viene");
        let beats = self.context.beats.filter(|beats| next_round && number <= *beats);
        self.set_when(When::count(number + beats.unwrap_or(0)));
        Some(index + 1)
    }

    /// `7, 8 y 9: …` at the start of a typed line.
    fn listed_line(&self, index: usize) -> Option<(i64, i64, usize)> {
        let (first, last, end) = count_list(self.tokens, index)?;
        let line = self.context.typed && index == 0 && self.here(end).is_mark(':');
        let likened = !self.context.typed && (end..end + 4).any(|at| self.here(at).is(Concept::Same));
        (last > first && (line || likened)).then_some((first, last, end))
    }

    /// Whether a token stands in brackets.
    fn bracketed(&self, index: usize) -> bool {
        let opened = self.tokens.iter().take(index).rposition(|token| token.is_mark('('));
        let closed = self.tokens.iter().take(index).rposition(|token| token.is_mark(')'));
        opened.is_some() && opened > closed
    }

    /// Whether a bare number is a count of the compás here.
    fn counts_here(&self, index: usize) -> bool {
        is_count(self.tokens, index, self.context, self.fresh)
    }

    // ---- names ---------------------------------------------------------------------------------------------

    fn alias(&mut self, index: usize) -> Option<usize> {
        if self.bracketed(index) && self.told.has_note() {
            return None;
        }
        let rest = self.tokens.get(index..)?;
        for (words, action, fingers) in &self.context.aliases {
            let fits = words.len() <= rest.len() && words.iter().zip(rest).all(|(word, token)| *word == token.word);
            if !fits {
                continue;
            }
            if *action == Action::Golpe {
                self.golpe(index);
                self.told.golpe_fingers.extend(fingers.iter().copied());
            } else {
                self.action(index, *action);
                self.told.fingers.extend(fingers.iter().copied());
            }
            return Some(index + words.len());
        }
        None
    }

    fn pitch(&mut self, index: usize) -> Option<usize> {
        if let Some(note) = self.note_behind_comma(index) {
            self.told.notes.push(note);
            return Some(index + 1);
        }
        let word = pitch_at(self.tokens, index, self.context.language, self.context.typed)?;
        let end = index + word.length;
        if self.here(end).is(Concept::Phrygian) || self.here(end).is(Concept::StringWord) {
            return Some(end + 1);
        }
        let chordal = word.qualified && !word.quality.is_empty()
            || self.here(end).is(Concept::ChordWord)
            || self.here(end).is(Concept::Barre);
        let noted = before(self.tokens, index).is_any(&[])
            || matches!(before(self.tokens, index).word.as_str(), "note" | "nota");
        if !chordal
            && (self.told.has_note()
                || noted
                || self
                    .told
                    .actions
                    .iter()
                    .any(|action| matches!(action, Action::PullOff | Action::HammerOn | Action::Picado)))
        {
            let left_behind = matches!(
                before(self.tokens, index).word.as_str(),
                "from" | "that" | "de" | "del" | "desde"
            ) && self
                .told
                .actions
                .iter()
                .any(|action| matches!(action, Action::PullOff | Action::HammerOn));
            if !left_behind {
                self.told.notes.push(word.root);
            }
        } else {
            let previous = before(self.tokens, index);
            let (previous, next) = (previous.clone(), self.here(end).clone());
            let behind = next.word.as_str();
            let a_note = matches!(previous.word.as_str(), "a" | "an" | "un" | "una") && !word.qualified
                || matches!(behind, "at the end" | "underneath" | "debajo")
                || matches!(behind, "at" | "in" | "on" | "en")
                    && (end + 1..end + 4)
                        .any(|at| matches!(self.here(at).word.as_str(), "bottom" | "bass" | "top" | "bajo" | "ear"));
            if !a_note {
                self.told.chord = Some(ChordSaid::Named(word.chord()));
                self.told.bracketed = previous.is_mark('(');
                self.told.chord_cued = previous.is(Concept::On)
                    || previous.is_mark('(')
                    || previous.mark.is_some()
                    || previous.word.is_empty()
                    || matches!(behind, "now" | "ya" | "again" | "otra" | "chord");
            }
        }
        Some(end)
    }

    /// "la cuarta al aire, re.": behind a string and fret a bare name between marks is the note's.
    fn note_behind_comma(&self, index: usize) -> Option<NoteName> {
        let closes = self.here(index + 1).mark.is_some() || self.here(index + 1).word.is_empty();
        let behind = before(self.tokens, index).is_mark(',') || before(self.tokens, index).is_mark('.');
        let wanted = self.told.has_note() && self.told.notes.is_empty() && self.context.language == Language::Spanish;
        (closes && behind && wanted)
            .then(|| super::pitch_words::bare_name(self.here(index)))
            .flatten()
    }

    // ---- strings, frets, fingers -----------------------------------------------------------------------------

    fn string_or_fret(&mut self, index: usize) -> Option<usize> {
        let here = self.here(index);
        let next = self.here(index + 1);
        let typed_string =
            matches!(here.word.as_str(), "s" | "c") && next.joined && next.number.is_some_and(|n| (1..=6).contains(&n));
        if typed_string {
            let string = next.number?;
            return self.push_string(string, index + 2);
        }
        let typed_fret = matches!(here.word.as_str(), "f" | "t" | "tr")
            && next.joined
            && next.number.is_some_and(|n| (0..=22).contains(&n));
        if typed_fret {
            self.push_fret(next.number?);
            return Some(index + 2);
        }
        if here.is(Concept::SameString) {
            self.told.same_string = true;
            return Some(index + 1);
        }
        if here.is(Concept::Open) {
            self.part(!self.told.frets.is_empty());
            self.told.open_string = true;
            self.told.frets.push(0);
            return Some(index + 1);
        }
        if here.is(Concept::StringWord) {
            let number = next
                .number
                .filter(|n| (1..=6).contains(n) && !next.spelled || self.context.typed)?;
            return self.push_string(number, index + 2);
        }
        if here.is(Concept::FretWord) {
            let number = next.number.filter(|n| (0..=22).contains(n))?;
            self.push_fret(number);
            return Some(index + 2);
        }
        self.ordinal_string(index)
    }

    /// "fifth string", "the fourth and third strings", "la quinta", "5ª cuerda", "second fret".
    fn ordinal_string(&mut self, index: usize) -> Option<usize> {
        let (number, mut end) = ordinal_at(self.tokens, index)?;
        let next = self.here(end);
        let fret_behind = next.is(Concept::FretWord) && self.here(end + 1).number.is_some();
        let suffixed = self.here(index + 1).is_mark('ª') && self.context.typed;
        let other_noun = next.is_any(&[
            Concept::FingerWord,
            Concept::BeatWord,
            Concept::PartWord,
            Concept::Times,
        ]);
        if (1..=6).contains(&number)
            && !other_noun
            && (fret_behind || suffixed && !next.is_any(&[Concept::FretWord, Concept::StringWord]))
        {
            return self.push_string(number, end);
        }
        if next.is(Concept::FretWord) {
            self.push_fret(number);
            return Some(end + 1);
        }
        if next.is(Concept::StringWord) && (1..=6).contains(&number) {
            return self.push_string(number, end + 1);
        }
        if next.is_any(&[
            Concept::FingerWord,
            Concept::BeatWord,
            Concept::PartWord,
            Concept::Times,
        ]) || !(1..=6).contains(&number)
        {
            return None;
        }
        // "the fourth and third strings": the word stands behind the last of the list.
        let mut list = vec![number];
        while self.here(end).is(Concept::And) || self.here(end).is_mark(',') {
            let at = if self.here(end + 1).is(Concept::Article) {
                end + 2
            } else {
                end + 1
            };
            let Some((more, after)) = ordinal_at(self.tokens, at) else {
                break;
            };
            list.push(more);
            end = after;
            if self.here(end).is(Concept::StringWord) {
                for string in list {
                    self.push_string(string, end);
                }
                return Some(end + 1);
            }
        }
        let (list, end) = self.ordinal_list(index)?;
        let article = before(self.tokens, index);
        let spanish = self.context.language == Language::Spanish
            && (matches!(article.word.as_str(), "la" | "las" | "en la")
                || self.context.typed
                    && (article.mark.is_some() || article.word.is_empty())
                    && (self.here(end).is(Concept::Open) || self.here(end).is_mark(',')))
            && feminine(self.here(index))
            && !self.here(end).is_any(&[Concept::Unit, Concept::FirstHalf]);
        let fingered = self.context.language == Language::English
            && article.word == "the"
            && (before(self.tokens, index.saturating_sub(1)).word == "on"
                || (index.saturating_sub(5)..index).any(|at| self.here(at).is(Concept::StringWord))
                || self.told.actions.first() == Some(&Action::Pluck))
            && (self.here(end).mark.is_some()
                || self.here(end).word.is_empty()
                || self.here(end).is_any(&[Concept::And, Concept::Then, Concept::With]))
            && (!self.told.fingers.is_empty() || self.told.has_note() || self.told.when.is_some());
        let fingered = fingered
            || self.context.language == Language::English
                && !self.context.typed
                && article.mark.is_some()
                && (self.here(end).mark.is_some() || self.here(end).word.is_empty())
                && self.told.when.is_some()
                && !self.told.fingers.is_empty()
                && self.told.strings.is_empty()
                && !self.told.sounds();
        let with_open = self.here(end).is(Concept::Open) && !self.context.typed || self.here(end).is(Concept::Open);
        if spanish || fingered || with_open {
            for string in list {
                self.push_string(string, end);
            }
            return Some(end);
        }
        None
    }

    /// "third, second and first": the list and the index behind it.
    fn ordinal_list(&self, index: usize) -> Option<(Vec<i64>, usize)> {
        let (first, mut end) = ordinal_at(self.tokens, index)?;
        let mut list = vec![first];
        loop {
            let mut at = end;
            while self.here(at).is_mark(',') || self.here(at).is(Concept::And) || self.here(at).is(Concept::Article) {
                at += 1;
            }
            let Some((more, after)) = ordinal_at(self.tokens, at).filter(|_| at > end) else {
                break;
            };
            if self
                .here(after)
                .is_any(&[Concept::FretWord, Concept::FingerWord, Concept::PartWord])
                || right_fingers(self.tokens, at, self.context).is_some()
            {
                break;
            }
            list.push(more);
            end = after;
        }
        Some((list, end))
    }

    fn push_string(&mut self, number: i64, end: usize) -> Option<usize> {
        let string = u8::try_from(number).ok().filter(|string| (1..=6).contains(string))?;
        let complete = !self.told.strings.is_empty() && (!self.told.frets.is_empty() || !self.told.fingers.is_empty());
        let together = self.told.with_pending && !self.told.golpe;
        if self.context.typed && complete && !together {
            self.soft = true;
        }
        self.part(
            complete && !together
                || !self.told.strings.is_empty() && !self.context.typed && !self.told.frets.is_empty(),
        );
        let repeats = self.told.strings.contains(&string);
        if !repeats {
            self.told.strings.push(string);
        }
        Some(end)
    }

    fn push_fret(&mut self, number: i64) {
        if let Ok(fret) = u8::try_from(number) {
            self.part(!self.told.frets.is_empty() && !self.told.with_pending);
            self.told.frets.push(fret);
        }
    }

    /// "first finger", "finger 2", "LH 2", "dedo uno".
    fn left_finger(&mut self, index: usize) -> Option<usize> {
        let here = self.here(index);
        if here.is(Concept::LeftHand) {
            let number = self.here(index + 1).number.filter(|n| (1..=4).contains(n));
            let mut row = index + 1;
            while self.here(row).number.is_some_and(|n| n <= 4) && !self.here(row).joined
                || self.here(row).is_any(&[Concept::And]) && self.here(row + 1).number.is_some()
            {
                row += 1;
            }
            if row > index + 2 {
                self.told.left = Some(0);
                return Some(row);
            }
            self.told.left = number.and_then(|n| u8::try_from(n).ok()).or(Some(0));
            return Some(index + if number.is_some() { 2 } else { 1 });
        }
        if here.is(Concept::FingerWord) {
            let next = self.here(index + 1);
            let number = next.number.or(next.ordinal).filter(|n| (1..=4).contains(n))?;
            self.told.left = u8::try_from(number).ok();
            return Some(index + 2);
        }
        let number = here.ordinal.filter(|n| (1..=4).contains(n))?;
        if self.here(index + 1).is(Concept::FingerWord) {
            self.told.left = u8::try_from(number).ok();
            return Some(index + 2);
        }
        None
    }

    fn right_finger(&mut self, index: usize) -> Option<usize> {
        let (fingers, as_written, end) = right_fingers(self.tokens, index, self.context)?;
        let next = self.here(end);
        let leads =
            next.is_any(&[Concept::Down, Concept::Up, Concept::StringWord]) || matches!(next.word.as_str(), "s" | "c");
        let strum_follows =
            next.is_any(&[Concept::Down, Concept::Up]) && self.told.sounds() && !self.told.fingers.is_empty();
        if strum_follows {
            self.close();
        }
        let golpe_only = self.told.golpe && (self.told.golpe_fingers.is_empty()) && !leads;
        if self.told.frets.iter().any(|fret| *fret > 0) && fingers == [Finger::X] && self.context.alternating {
            self.told.left = Some(4);
            return Some(end);
        }
        let knocks = self.told.with_pending
            && self.told.sounds()
            && fingers.len() == 1
            && (end..end + 4)
                .take_while(|at| self.here(*at).mark.is_none())
                .any(|at| self.here(at).is(Concept::Golpe));
        if golpe_only || knocks {
            self.told.golpe_fingers = fingers;
            self.soft = false;
        } else {
            let rolling =
                matches!(self.told.actions.first(), Some(Action::Rasgueado | Action::Pluck)) && !self.told.has_note();
            let taken = !self.told.fingers.is_empty() && !rolling && (self.told.sounds() || self.told.has_note());
            self.part(taken);
            let before_new_note =
                self.context.typed && !self.told.fingers.is_empty() && self.has_event() && fingers.len() == 1 && leads;
            if before_new_note {
                self.close();
            }
            let row = fingers.len() > 1;
            for finger in fingers {
                if row || !self.told.fingers.contains(&finger) {
                    self.told.fingers.push(finger);
                }
            }
            if as_written.is_some() {
                self.told.little_finger_as = as_written;
            }
        }
        self.fresh = false;
        Some(end)
    }

    // ---- marks and words -------------------------------------------------------------------------------------

    fn mark(&mut self, index: usize) -> Option<usize> {
        let here = self.here(index);
        let mark = here.mark?;
        match mark {
            ',' | '.' | '…' | '?' | ')' | '/' | '|' => {
                let hard = matches!(mark, '…' | '?' | '/' | '|');
                self.inert = false;
                if hard || self.negated {
                    self.close();
                } else {
                    self.soft = true;
                    self.fresh = true;
                }
            }
            '-' if !here.joined || !self.here(index + 1).joined => self.close(),
            ':' if self.told.is_blank() => self.fresh = true,
            ':' => {
                if self.told.sounds() || self.told.has_note() {
                    self.close();
                } else {
                    self.soft = true;
                    self.fresh = true;
                }
            }
            '+' => self.with(),
            '=' if self.here(index + 1).number.is_some() => return Some(self.same(index)),
            '(' => {}
            '↓' => self.action(index, Action::Down),
            '↑' => self.action(index, Action::Up),
            _ => {}
        }
        Some(index + 1)
    }

    fn with(&mut self) {
        self.told.with |= !self.told.sounds();
        self.told.with_pending = true;
        self.fresh = false;
    }

    fn golpe(&mut self, index: usize) {
        let linked = (index.saturating_sub(2)..index).any(|at| self.here(at).is_any(&[Concept::And, Concept::With]))
            || (index + 1..index + 4).any(|at| self.here(at).is(Concept::With));
        let apart = self.soft && self.told.sounds() && !self.told.with_pending && !linked;
        if apart || self.told.golpe && self.soft {
            self.close();
        }
        self.soft = false;
        self.told.golpe = true;
        self.fresh = false;
    }

    fn action(&mut self, index: usize, action: Action) {
        let said_again = self.soft && self.told.corrects && self.told.actions.first() == Some(&action);
        if said_again {
            return;
        }
        let new_note = self.soft
            && self.told.actions.is_empty()
            && self.told.has_note()
            && (!self.told.fingers.is_empty() || self.note_follows(index));
        if self.soft && self.told.actions.is_empty() && self.told.golpe || new_note {
            self.close();
        }
        self.soft = false;
        let strum = |action: Action| matches!(action, Action::Down | Action::Up);
        let joins = |old: Action| {
            (old == Action::Alzapua || old == Action::Rasgueado || old == Action::Picado || old == Action::Tremolo)
                && strum(action)
                || old == action && !strum(action)
                || (old == Action::Pluck && !strum(action))
        };
        match self.told.actions.first().copied() {
            None => self.told.actions.push(action),
            Some(old) if joins(old) => {
                if old == Action::Pluck {
                    self.told.actions = vec![action];
                }
            }
            Some(_) => {
                let (negated, recap) = (self.negated, self.recap);
                self.close();
                self.negated = negated;
                self.recap = recap;
                self.told.actions.push(action);
            }
        }
        self.fresh = false;
    }

    /// Note values that fill one count unevenly: "corchea con puntillo y semicorchea", "a quaver and two semiquavers".
    fn figure(&self, index: usize) -> Option<(Vec<Ratio<i64>>, usize)> {
        let mut lengths = Vec::new();
        let mut at = index;
        let mut end = index;
        let mut times = before(self.tokens, index)
            .number
            .filter(|number| (1..=4).contains(number))
            .unwrap_or(1);
        loop {
            let here = self.here(at);
            let mut length = if here.is(Concept::Semiquavers) && !here.word.contains(' ') {
                Ratio::new(1, 4)
            } else if here.is(Concept::Quavers) && !here.word.contains(' ') {
                Ratio::new(1, 2)
            } else {
                break;
            };
            let dotted = before(self.tokens, at).word == "dotted";
            at += 1;
            if dotted || self.here(at).word == "con puntillo" || self.here(at + 1).word == "puntillo" {
                length *= Ratio::new(3, 2);
                at += if dotted { 0 } else { 2 };
            }
            for _ in 0..times {
                lengths.push(length);
            }
            end = at;
            while self.here(at).is(Concept::And)
                || self.here(at).is_mark(',')
                || matches!(self.here(at).word.as_str(), "a" | "una" | "dotted")
            {
                at += 1;
            }
            times = 1;
            if let Some(number) = self.here(at).number.filter(|number| (1..=4).contains(number)) {
                times = number;
                at += 1;
            }
        }
        let whole = lengths.iter().sum::<Ratio<i64>>() == Ratio::from_integer(1);
        let uneven = lengths
            .first()
            .is_some_and(|first| lengths.iter().any(|length| length != first));
        (whole && uneven).then_some((lengths, end))
    }

    /// A string or fret stands between here and the next comma.
    fn note_follows(&self, index: usize) -> bool {
        (index + 1..index + 7)
            .take_while(|at| !self.here(*at).is_mark(',') && !self.here(*at).is_mark('.'))
            .any(|at| {
                let here = self.here(at);
                here.is_any(&[Concept::StringWord, Concept::FretWord, Concept::Open])
                    || matches!(here.word.as_str(), "s" | "f") && self.here(at + 1).joined
            })
    }

    fn word(&mut self, index: usize) -> usize {
        let here = self.here(index).clone();
        let Some(concept) = here.concepts.first().copied() else {
            return self.plain_word(index);
        };
        match concept {
            Concept::Plain => {}
            Concept::Down
                if self.told.left.is_some_and(|left| left > 0)
                    && self.told.fingers.is_empty()
                    && self.told.when.is_none() => {}
            Concept::Down if before(self.tokens, index).is(Concept::ChordWord) && !self.context.typed => {}
            Concept::Down => self.action(index, Action::Down),
            Concept::Up => self.action(index, Action::Up),
            Concept::Rasgueado => self.action(index, Action::Rasgueado),
            Concept::Alzapua => self.action(index, Action::Alzapua),
            Concept::PullOff if !self.takes_as_verb(index) => {
                let how_many = before(self.tokens, index)
                    .number
                    .filter(|number| (2..=4).contains(number));
                self.action(index, Action::PullOff);
                self.told.how_many = how_many;
            }
            Concept::HammerOn => self.action(index, Action::HammerOn),
            Concept::Slur => {
                self.action(index, Action::HammerOn);
                self.told.slur = true;
            }
            Concept::Damp if !self.told.actions.contains(&Action::Damp) => {
                self.action(index, Action::Damp);
            }
            Concept::Tremolo => self.action(index, Action::Tremolo),
            Concept::Picado => self.action(index, Action::Picado),
            Concept::Pluck => self.action(index, Action::Pluck),
            Concept::Golpe | Concept::Tap => self.golpe(index),
            Concept::Silence => self.told.silence = true,
            Concept::Strum => self.told.strum = true,
            Concept::Play => self.told.plays = true,
            Concept::LetRing => self.told.let_ring = true,
            Concept::Keep => self.told.still = true,
            Concept::Triplet | Concept::Semiquavers | Concept::Quavers | Concept::Crotchets | Concept::Sextuplet
                if self.figure(index).is_some() =>
            {
                let (figure, end) = self.figure(index).unwrap_or_default();
                self.told.figure = figure;
                return end;
            }
            Concept::Triplet => self.told.division = Some(3),
            Concept::Semiquavers => self.told.division = Some(4),
            Concept::Quavers => self.told.division = Some(2),
            Concept::Crotchets => self.told.division = Some(1),
            Concept::Sextuplet => self.told.division = Some(6),
            Concept::RestStroke => self.told.rest_stroke = Some(true),
            Concept::FreeStroke => self.told.rest_stroke = Some(false),
            Concept::Alone => self.told.alone = true,
            Concept::Lift => self.told.lifts = true,
            Concept::ThisChord => self.told.chord = Some(ChordSaid::This),
            Concept::Negation if self.takes_back(index) => {
                self.close();
                self.told.corrects = true;
            }
            Concept::Negation => {
                if here.word == "rather than" || self.soft && !self.told.is_blank() {
                    self.close();
                }
                self.negated = true;
            }
            Concept::Correction => {
                self.close();
                self.told.corrects = true;
                self.negated = false;
            }
            Concept::So => {
                self.close();
                self.recap = true;
            }
            Concept::Then => self.close(),
            Concept::Same => return self.same(index),
            Concept::AsUsual => self.told.as_usual = true,
            Concept::And | Concept::With => self.and(index),
            _ => {}
        }
        index + 1
    }

    /// "index up, no, index down": a "no" that stands alone behind a stroke.
    fn takes_back(&self, index: usize) -> bool {
        let alone = before(self.tokens, index).mark.is_some() && self.here(index + 1).mark.is_some();
        let word = matches!(self.here(index).word.as_str(), "no");
        alone && word && !self.context.typed && (self.told.sounds() || self.out.last().is_some_and(Told::sounds))
    }

    fn plain_word(&mut self, index: usize) -> usize {
        match self.here(index).word.as_str() {
            "but" | "pero" | "sino" | "except" => self.close(),
            "still" | "todavia" | "sigue" | "aun" => self.told.still = true,
            _ => {}
        }
        index + 1
    }

    /// "tiras" in a clause that already has an action stays part of it.
    fn takes_as_verb(&self, _index: usize) -> bool {
        self.told.actions.contains(&Action::PullOff)
    }

    /// "and" ends a clause when a new stroke follows it.
    fn and(&mut self, index: usize) {
        if self.here(index).is(Concept::With) && !self.here(index).is(Concept::And) {
            self.with();
            return;
        }
        let mut at = index + 1;
        while self.here(at).is(Concept::Article)
            || matches!(
                self.here(at).word.as_str(),
                "a" | "an" | "it" | "then" | "there's" | "with"
            )
        {
            at += 1;
        }
        let next = self.here(at);
        if next.is(Concept::With) || self.here(index + 1).is(Concept::With) {
            return;
        }
        let plucks = self.told.actions.is_empty() || self.told.actions.first() == Some(&Action::Pluck);
        let lists_fingers = !self.told.fingers.is_empty() && !self.told.golpe && !self.told.has_note() && plucks;
        let finger_follows = right_fingers(self.tokens, at, self.context).is_some();
        let begins_stroke = finger_follows && !lists_fingers
            || next.is_any(&[
                Concept::On,
                Concept::Down,
                Concept::Up,
                Concept::Rasgueado,
                Concept::PullOff,
                Concept::HammerOn,
                Concept::Damp,
            ]) && at == index + 1
            || next.is_any(&[Concept::Negation, Concept::Condition])
            || moment_at(self.tokens, at, self.context).is_some()
            || next.number.is_some() && is_count(self.tokens, at, self.context, true);
        if begins_stroke && (self.has_event() || !self.told.is_blank()) {
            self.close();
        }
    }

    /// "same as 2", "just like 7", "exactly as you did it on 3", "same again".
    fn same(&mut self, index: usize) -> usize {
        let mut counts = None;
        let mut core = false;
        let mut end = index + 1;
        for at in index + 1..(index + 10).min(self.tokens.len()) {
            let here = self.here(at);
            if here.is_mark(',') && at > index + 1 || here.is(Concept::Then) || here.is_mark('(') {
                break;
            }
            if here.is(Concept::Core) {
                core = true;
                end = at + 1;
                break;
            }
            if let Some((first, last, behind)) = span_at(self.tokens, at) {
                counts = Some((first, last));
                end = behind;
                break;
            }
            let noun_follows = here.spelled
                && self.here(at + 1).mark.is_none()
                && self.here(at + 1).concepts.is_empty()
                && !self.here(at + 1).word.is_empty();
            if here.number.is_some_and(|n| (1..=24).contains(&n))
                && !noun_follows
                && !self.here(at + 1).is_any(&[Concept::Unit, Concept::Times])
            {
                if let Some((first, last, behind)) = count_list(self.tokens, at).filter(|(first, last, _)| last > first)
                {
                    counts = Some((first, last));
                    end = behind;
                    break;
                }
                counts = here.number.map(|n| (n, n));
                end = at + 1;
                if self.here(end).is(Concept::And)
                    && let Some(last) = self
                        .here(end + 1)
                        .number
                        .filter(|last| Some(*last) == here.number.map(|n| n + 1))
                {
                    counts = here.number.map(|n| (n, last));
                    end += 2;
                }
                break;
            }
            if here.ordinal.is_some() && self.here(at + 1).is(Concept::BeatWord) {
                counts = here.ordinal.map(|n| (n, n));
                end = at + 2;
                break;
            }
        }
        let likening =
            matches!(self.here(index).word.as_str(), "like" | "como" | "mismo" | "misma") && counts.is_none() && !core;
        if !likening {
            self.told.same = Some(SameAs { counts, core });
        }
        end
    }
}

fn feminine(token: &Token) -> bool {
    token.word.ends_with('a') || token.number.is_some()
}

/// "fifth", "5th", "5ª", "la quinta": the number and the index behind.
fn ordinal_at(tokens: &[Token], index: usize) -> Option<(i64, usize)> {
    let here = token(tokens, index);
    if let Some(number) = here.ordinal {
        return Some((number, index + 1));
    }
    let number = here.number.filter(|_| !here.spelled)?;
    let next = token(tokens, index + 1);
    let suffix = next.joined
        && (next.is_mark('ª')
            || next.is_mark('º')
            || matches!(next.word.as_str(), "st" | "nd" | "rd" | "th" | "a" | "o"));
    suffix.then_some((number, index + 2))
}

/// Right-hand fingers at a token: a name, a letter, or a row of letters. Also how the little finger was written.
pub fn right_fingers(
    tokens: &[Token],
    index: usize,
    context: &Context,
) -> Option<(Vec<Finger>, Option<String>, usize)> {
    let here = token(tokens, index);
    if let Some(finger) = named_finger(here) {
        let cut = here.is(Concept::FingerX) && here.word == "little" && !fingerish(tokens, index + 1);
        if here.word == "medio" && token(tokens, index + 1).is(Concept::BeatWord) {
            return None;
        }
        let mut end = index + 1;
        if token(tokens, end).is(Concept::FingerWord) {
            end += 1;
        }
        return (!cut).then_some((vec![finger], None, end));
    }
    letters(tokens, index, context)
}

fn fingerish(tokens: &[Token], index: usize) -> bool {
    let next = token(tokens, index);
    next.is(Concept::FingerWord)
        || next.mark.is_some()
        || next.word.is_empty()
        || next.is_any(&[Concept::Down, Concept::Up, Concept::And])
        || named_finger(next).is_some()
}

fn named_finger(token: &Token) -> Option<Finger> {
    [
        (Concept::FingerP, Finger::P),
        (Concept::FingerI, Finger::I),
        (Concept::FingerM, Finger::M),
        (Concept::FingerA, Finger::A),
        (Concept::FingerX, Finger::X),
    ]
    .into_iter()
    .find(|(concept, _)| token.is(*concept))
    .map(|(_, finger)| finger)
}

fn letter_finger(word: &str) -> Option<Finger> {
    match word {
        "p" => Some(Finger::P),
        "i" => Some(Finger::I),
        "m" => Some(Finger::M),
        "a" => Some(Finger::A),
        "x" | "e" | "c" | "ch" | "q" | "s" => Some(Finger::X),
        _ => None,
    }
}

/// Finger letters. In typed notes a lone letter counts in front of a stroke or string, behind "with", or in a row;
/// in speech only a row of letters does.
fn letters(tokens: &[Token], index: usize, context: &Context) -> Option<(Vec<Finger>, Option<String>, usize)> {
    let mut fingers = Vec::new();
    let mut little = None;
    let mut at = index;
    loop {
        let here = token(tokens, at);
        let single = here.raw.chars().count() <= 2 && !here.raw.contains(' ');
        let Some(finger) = letter_finger(&here.word).filter(|_| single && here.mark.is_none()) else {
            break;
        };
        if here.joined && at == index && before(tokens, at).number.is_some() {
            break;
        }
        if token(tokens, at + 1).joined && token(tokens, at + 1).number.is_some() {
            break;
        }
        let slashed = token(tokens, at + 1).is_mark('/') && token(tokens, at + 1).joined;
        let preposition = here.word == "a"
            && at == index
            && before(tokens, at).is_any(&[Concept::Slur, Concept::PullOff, Concept::HammerOn, Concept::On]);
        if slashed && matches!(here.word.as_str(), "c" | "w") || preposition {
            break;
        }
        let capital = here.raw.chars().next().is_some_and(char::is_uppercase);
        if capital
            && (finger == Finger::A || here.word == "c" || here.word == "e" || at > index && here.word == "i")
            && fingers.len() < 2
        {
            break;
        }
        fingers.push(finger);
        if finger == Finger::X && here.word != "x" {
            little = Some(here.raw.clone());
        }
        at += 1;
        if (token(tokens, at).is_mark('-') && token(tokens, at).joined)
            || token(tokens, at).is_mark(',') && fingers.len() >= 2 && row_goes_on(tokens, at + 1)
        {
            at += 1;
        }
    }
    if fingers.is_empty() {
        return joined_row(tokens, index);
    }
    if fingers.len() >= 2 {
        let article = !context.typed
            && fingers.len() == 2
            && fingers.contains(&Finger::A)
            && !fingers.contains(&Finger::M)
            && !fingers.contains(&Finger::P);
        return (!article).then_some((fingers, little, at));
    }
    let previous = before(tokens, index);
    let next = token(tokens, index + 1);
    let letter = token(tokens, index).word.as_str();
    let strokes = [
        Concept::Down,
        Concept::Up,
        Concept::StringWord,
        Concept::Golpe,
        Concept::Rasgueado,
        Concept::Alzapua,
        Concept::PullOff,
        Concept::Pluck,
    ];
    let led = next.is_any(&strokes)
        || matches!(next.word.as_str(), "s" | "c")
            && token(tokens, index + 2).joined
            && token(tokens, index + 2).number.is_some();
    let held = previous.is(Concept::With) || previous.is_mark('(') && next.is_mark(')') || previous.is_mark('+');
    let closes = next.mark.is_some() || next.word.is_empty();
    let behind_stroke = previous.is_any(&[Concept::Golpe, Concept::Down, Concept::Up, Concept::Rasgueado]) && closes;
    let starts =
        (previous.is_mark(',') || previous.is_mark(':') || previous.word.is_empty()) && closes && letter != "a";
    let alone = closes && (previous.is(Concept::All) || previous.word == "still" || previous.word == "siempre")
        || next.word == "alone" && letter != "a";
    let typed = context.typed && (led || held && closes || behind_stroke || starts || alone);
    let spoken = !context.typed && held && closes && letter != "e" && letter != "c" && letter != "s";
    (typed || spoken).then_some((fingers, little, index + 1))
}

fn row_goes_on(tokens: &[Token], index: usize) -> bool {
    let here = token(tokens, index);
    letter_finger(&here.word).is_some() && here.raw.chars().count() == 1 && here.raw == here.word
}

/// `xami`, `pimami`, `im` written as one word, where it can be nothing else.
fn joined_row(tokens: &[Token], index: usize) -> Option<(Vec<Finger>, Option<String>, usize)> {
    let (word, length) = compact(tokens, index);
    let row = word.len() >= 3
        && word.len() <= 8
        && !matches!(word.as_str(), "mia" | "pia" | "mami" | "api" | "amp" | "imp" | "map");
    let fingers: Option<Vec<Finger>> = word
        .chars()
        .map(|c| {
            matches!(c, 'p' | 'i' | 'm' | 'a' | 'x')
                .then(|| letter_finger(&c.to_string()))
                .flatten()
        })
        .collect();
    fingers.filter(|_| row).map(|fingers| (fingers, None, index + length))
}

/// Whether a bare number is a count of the compás: behind "on", at the start of a clause in front of a verb, colon or stroke.
pub fn is_count(tokens: &[Token], index: usize, context: &Context, fresh: bool) -> bool {
    let here = token(tokens, index);
    let Some(number) = here.number.filter(|number| (1..=context.last_count()).contains(number)) else {
        return false;
    };
    let previous = before(tokens, index);
    let next = token(tokens, index + 1);
    let unit = next.is_any(&[
        Concept::Unit,
        Concept::Times,
        Concept::StringWord,
        Concept::FretWord,
        Concept::FingerWord,
        Concept::ChordWord,
        Concept::TempoWord,
        Concept::PartWord,
    ]) || next.is(Concept::BeatWord) && !previous.is(Concept::BeatWord)
        || next.is_mark('%')
        || next.is_any(&[Concept::Semiquavers, Concept::Quavers, Concept::Crotchets]);
    if unit
        || previous.is_any(&[
            Concept::FretWord,
            Concept::StringWord,
            Concept::FingerWord,
            Concept::LeftHand,
            Concept::Capo,
        ])
    {
        return false;
    }
    if here.joined && previous.mark.is_none() && !previous.word.is_empty() {
        return false;
    }
    let verb = next.is(Concept::Is) || next.mark.is_some() || next.word.is_empty();
    let introduced = previous.is_any(&[Concept::On, Concept::BeatWord, Concept::Then])
        || matches!(
            previous.word.as_str(),
            "the" | "el" | "al" | "del" | "then" | "and" | "y" | "ese" | "este" | "that" | "this"
        );
    if here.spelled {
        let noun = next.mark.is_none() && !next.word.is_empty() && next.concepts.is_empty();
        let strong = previous.is(Concept::BeatWord)
            || previous.is(Concept::On)
                && !matches!(previous.word.as_str(), "of" | "de" | "for" | "para" | "por" | "a")
                && (verb || !noun)
            || matches!(previous.word.as_str(), "the" | "el")
                && (next.is(Concept::Is) || next.mark.is_some() || next.word.is_empty())
            || fresh && (next.is(Concept::Is) || next.is_mark(':')) && before(tokens, index).word != "of"
            || !context.punctuated && (number > 2 || introduced) && !noun;
        return strong;
    }
    if context.typed {
        return fresh || introduced || verb && previous.mark.is_some();
    }
    introduced
        || fresh
            && (verb
                || right_fingers(tokens, index + 1, context).is_some()
                || next.is_any(&[
                    Concept::Down,
                    Concept::Up,
                    Concept::Golpe,
                    Concept::And,
                    Concept::Negation,
                ]))
        || !context.punctuated
}
