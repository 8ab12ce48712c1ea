use super::super::lexicon::Concept;
use super::super::moments::before;
use super::super::placed::string_at;
use super::super::says::Kind;
use super::super::statement::Told;
use super::super::tokens::Token;
use super::Reader;
use super::fingers::right_fingers;
use crate::music::stroke::Action;

impl Reader<'_> {
    /// "p on the sixth and m on the first together", "los cuatro a la vez, el pulgar la cuarta, el índice la tercera": notes
    /// told one by one that sound as one.
    pub(super) fn sound_together(&mut self) {
        let together = |token: &Token| is_together(token) || token.has(Kind::Together) && token.word == "juntas";
        let Some(word) = self.tokens.iter().position(together) else {
            return;
        };
        let said = self.here(word).start;
        if before(self.tokens, word).is(Concept::All) {
            self.all_at_once(said);
        }
        let note = |told: &Told| {
            let plucked = told.actions.is_empty() || told.actions == [Action::Pluck];
            plucked && !told.golpe && told.frets.is_empty() && !told.fingers.is_empty() && !told.strings.is_empty()
        };
        // "…, los tres a la vez": so many of the notes in front of it.
        let many = before(self.tokens, word).number.filter(|many| (2..=4).contains(many));
        let in_front = self.out.iter().filter(|told| told.start < said).count();
        let from = many.and_then(|many| in_front.checked_sub(usize::try_from(many).ok()?));
        let mut at = 0;
        while let (Some(first), Some(next)) = (self.out.get(at), self.out.get(at + 1)) {
            let counted = from.is_some_and(|from| at >= from) && next.start < said;
            let reached = said <= next.end + 1 || first.with || counted;
            let joins = note(first) && note(next) && next.when.is_none() && next.fingers.len() == 1 && reached;
            if !joins {
                at += 1;
                continue;
            }
            let next = self.out.remove(at + 1);
            if let Some(first) = self.out.get_mut(at) {
                first.actions = vec![Action::Pluck];
                first.fingers.extend(
                    next.fingers
                        .iter()
                        .filter(|finger| !first.fingers.contains(finger))
                        .copied()
                        .collect::<Vec<_>>(),
                );
                first.strings.extend(next.strings);
                first.end = next.end;
            }
        }
    }

    /// "un pellizco de tres: índice en la tercera, medio en la segunda y anular en la prima": the notes behind it are one
    /// pinch, where there are as many as are said.
    pub(super) fn pinch_what_was_listed(&mut self) {
        let noun = |token: &Token| matches!(token.word.as_str(), "pellizco" | "pinza" | "pinch");
        let Some(word) = self.tokens.iter().position(noun) else {
            return;
        };
        let of = usize::from(matches!(self.here(word + 1).word.as_str(), "de" | "of"));
        let many = self
            .here(word + 1 + of)
            .number
            .filter(|many| of > 0 && (2..=4).contains(many));
        let colon = word + 1 + if many.is_some() { 2 } else { 0 };
        let start = self.here(word).start;
        let head = |told: &Told| told.actions == [Action::Pluck] && (told.start..=told.end).contains(&start);
        let Some(at) = self.out.iter().position(head).filter(|_| self.here(colon).is_mark(':')) else {
            return;
        };
        let moment = self.out.get(at).and_then(|told| told.when);
        let bare = self
            .out
            .get(at)
            .is_some_and(|told| !told.has_note() && told.fingers.is_empty());
        let single = |told: &Told| {
            let plucked = told.actions.is_empty() || told.actions == [Action::Pluck];
            plucked && !told.golpe && told.fingers.len() == 1 && told.strings.len() == 1
        };
        let from = at + usize::from(bare);
        let behind = self.out.get(from..).unwrap_or_default().iter().enumerate();
        let row = behind.take_while(|(order, told)| single(told) && (!bare && *order == 0 || told.when.is_none()));
        let row = row.count();
        if row < 2 || many.is_some_and(|many| usize::try_from(many) != Ok(row)) {
            return;
        }
        for (order, told) in self.out.iter_mut().skip(from).take(row).enumerate() {
            told.when = moment;
            told.with |= moment.is_none() && order > 0;
        }
        self.merge_open_row(from, row);
        if bare {
            self.out.remove(at);
        }
    }

    /// Notes whose frets are not told are one stroke of all their fingers.
    fn merge_open_row(&mut self, from: usize, row: usize) {
        let notes = self.out.get(from..from + row).unwrap_or_default();
        if notes.iter().any(|told| !told.frets.is_empty()) {
            return;
        }
        let notes: Vec<Told> = self.out.drain(from..from + row).collect();
        let end = notes.last().map_or(0, |last| last.end);
        let fingers = notes.iter().flat_map(|told| told.fingers.clone()).collect();
        let strings = notes.iter().flat_map(|told| told.strings.clone()).collect();
        if let Some(first) = notes.into_iter().next() {
            let actions = vec![Action::Pluck];
            let whole = Told {
                actions,
                fingers,
                strings,
                end,
                ..first
            };
            self.out.insert(from, whole);
        }
    }

    /// "p s4 f2 and at the same time a s1 f3", "pulgar en la cuarta y, a la vez, anular en la prima": a note has been told, and
    /// behind these words comes another.
    pub(super) fn note_sounds_with(&self, index: usize) -> bool {
        let at_once = |word: &str| AT_ONCE.iter().any(|known| word.ends_with(known));
        let mut at = index + 1;
        while self.here(at).is_mark(',') || self.here(at).is(Concept::Article) {
            at += 1;
        }
        let note = self.told.has_note() && !self.told.fingers.is_empty() && !self.told.golpe;
        let another = right_fingers(self.tokens, at, self.context);
        note && at_once(&self.here(index).word) && another.is_some_and(|(_, _, end)| self.on_a_string(end))
    }

    /// "s1 f3", "on the first string", "en la prima", "plays the third string": behind a finger its string.
    fn on_a_string(&self, mut at: usize) -> bool {
        let leads = |token: &Token| {
            token.is_any(&[
                Concept::On,
                Concept::Article,
                Concept::Play,
                Concept::Pluck,
                Concept::FingerWord,
            ]) || matches!(token.word.as_str(), "en" | "la" | "the")
        };
        while string_at(self.tokens, at).is_none() && leads(self.here(at)) {
            at += 1;
        }
        string_at(self.tokens, at).is_some()
    }

    /// "p s5 f2, i s3, m s1, one pluck, all at once": every note of the row in front of it sounds at the moment of the first.
    fn all_at_once(&mut self, said: usize) {
        let bare = |told: &Told| told.actions == [Action::Pluck] && !told.has_note() && told.fingers.is_empty();
        self.out
            .retain(|told| !(told.start < said && told.when.is_none() && bare(told)));
        let note = |told: &Told| {
            let plucked = told.actions.is_empty() || told.actions == [Action::Pluck];
            plucked && !told.golpe && !told.fingers.is_empty() && !told.strings.is_empty()
        };
        let end = self.out.iter().filter(|told| told.start < said).count();
        let row = self.out.get(..end).unwrap_or(&[]).iter().rev();
        let row: usize = row.take_while(|told| note(told)).count();
        // The first of them says when, or the chord in front of them: "12 E, p 6ª, i 3ª, m 2ª".
        let when = |at: usize| self.out.get(at).and_then(|told| told.when);
        let opens = (end - row..end).rev().find(|at| when(*at).is_some());
        let in_front = (end - row).checked_sub(1).filter(|_| opens.is_none());
        let Some(at) = opens.or_else(|| in_front.and_then(when).map(|_| end - row)) else {
            return;
        };
        let moment = when(at).or_else(|| in_front.and_then(when));
        if end - at >= 3 {
            for told in self.out.get_mut(at..end).unwrap_or_default() {
                told.when = moment;
            }
        }
    }

    /// "The index goes down and the ring finger plays a golpe at the same time on 4": a stroke and a golpe told one by one are
    /// at one moment, wherever it is told.
    pub(super) fn golpe_at_the_same_time(&mut self) {
        if self.out.len() < 2 {
            return;
        }
        let said: Vec<usize> = self
            .tokens
            .iter()
            .filter(|token| is_together(token) || matches!(token.word.as_str(), "instante" | "instant"))
            .map(|token| token.start)
            .collect();
        let strokes = |told: &Told| (!told.actions.is_empty() || told.has_note()) && !told.golpe && !told.negated;
        let golpe = |told: &Told| told.actions.is_empty() && told.golpe && !told.negated;
        for at in 1..self.out.len() {
            let Some([first, next]) = self.out.get_mut(at - 1..=at) else {
                continue;
            };
            let one_moment = said.iter().any(|said| (first.end..=next.end).contains(said));
            let both = strokes(first) && golpe(next) || golpe(first) && strokes(next);
            if one_moment && both && (first.when.is_none() || next.when.is_none()) {
                first.when = first.when.or(next.when);
                next.when = first.when;
            }
        }
    }
}

/// How what stands between two notes that sound at one moment ends.
const AT_ONCE: [&str; 9] = [
    "at once",
    "same time",
    "same moment",
    "same instant",
    "a la vez",
    "mismo tiempo",
    "mismo momento",
    "misma vez",
    "together with",
];

/// What is said of strokes that sound at one moment; of notes also "juntas".
pub(super) const TOGETHER: [&str; 12] = [
    "together",
    "at once",
    "at the same time",
    "at the same moment",
    "at the same instant",
    "a la vez",
    "juntos",
    "al mismo tiempo",
    "simultaneamente",
    "while",
    "mientras",
    "juntas",
];

pub(super) fn is_together(token: &Token) -> bool {
    token.has(Kind::Together) && token.word != "juntas" && TOGETHER.contains(&token.word.as_str())
}
