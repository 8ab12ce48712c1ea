use super::super::lexicon::Concept;
use super::super::moments::{before, token};
use super::super::statement::StringSaid;
use super::shape_talk::Reader;

impl Reader<'_> {
    /// "nothing on six", "leave five and six alone": a bare number is a string where it does not sound.
    pub(super) fn left_out(&self, index: usize) -> Option<u8> {
        let tokens = self.asked.tokens;
        let number = token(tokens, index).number.filter(|number| (1..=6).contains(number))?;
        let next = token(tokens, index + 1);
        let closes = next.mark.is_some() || next.word.is_empty() || next.is(Concept::And);
        let closes = closes || matches!(next.word.as_str(), "alone" | "out" | "fuera" | "quieta" | "en paz");
        let words = (index.saturating_sub(4)..index).rev().map(|at| token(tokens, at));
        let lead = words
            .take_while(|word| word.mark.is_none() && !word.is(Concept::Then))
            .find(|word| !word.is_any(&[Concept::On, Concept::Article, Concept::And]) && word.number.is_none())?;
        let silent = matches!(
            lead.word.as_str(),
            "nothing" | "nada" | "leave" | "skip" | "miss" | "mute" | "avoid" | "deja" | "dejas" | "dejamos" | "sin"
        );
        u8::try_from(number).ok().filter(|_| silent && closes)
    }

    /// "no sixth string", "don't touch the sixth string", "leave out the sixth".
    pub(super) fn muted_before(&self, index: usize) -> bool {
        // "don't play the sixth fifth string is two": the next string is told, without marks between them.
        let string = before(self.asked.tokens, index).ordinal.is_some()
            || before(self.asked.tokens, index).is(Concept::StringWord)
                && before(self.asked.tokens, index.saturating_sub(1)).ordinal.is_some();
        if string && !self.asked.context.punctuated {
            return false;
        }
        (index.saturating_sub(9)..index)
            .rev()
            .take_while(|at| token(self.asked.tokens, *at).mark.is_none())
            // Behind a fret another string is told.
            .take_while(|at| self.asked.context.punctuated || token(self.asked.tokens, *at).number.is_none())
            .any(|at| {
                let here = token(self.asked.tokens, at);
                here.is(Concept::Negation)
                    || matches!(
                        here.word.as_str(),
                        "skip"
                            | "leave"
                            | "miss"
                            | "mute"
                            | "without"
                            | "sin"
                            | "evita"
                            | "avoid"
                            | "nothing"
                            | "nada"
                            | "deja"
                            | "dejas"
                            | "dejamos"
                    )
            })
    }

    pub(super) fn mutes(&self, index: usize) -> bool {
        let here = token(self.asked.tokens, index);
        let next = token(self.asked.tokens, index + 1);
        let out = here.word == "out" && self.named.is_some()
            || here.word == "left" && next.word == "out"
            || here.word == "out" && before(self.asked.tokens, index).word == "leave";
        let nothing = here.word == "nada" && before(self.asked.tokens, index).ordinal.is_some();
        out || nothing
            || matches!(
                here.word.as_str(),
                "tampoco" | "muted" | "silent" | "no se toca" | "no se tocan" | "fuera" | "x"
            )
            || here.is(Concept::Negation)
                && (index + 1..index + 5).any(|at| {
                    token(self.asked.tokens, at).is_any(&[Concept::Play])
                        || matches!(
                            token(self.asked.tokens, at).word.as_str(),
                            "toca" | "se toca" | "touch" | "touched" | "used" | "suena" | "sounds" | "played"
                        )
                })
    }

    pub(super) fn mute(&mut self, index: usize) {
        if self.named_row.is_empty() && self.named.is_none() {
            return;
        }
        for string in std::mem::take(&mut self.named_row) {
            self.set(string, StringSaid::Muted);
        }
        if let Some(string) = self.named {
            self.set(string, StringSaid::Muted);
            self.string = (string > 1).then_some(string.saturating_sub(1));
        }
        self.reach(index + 1);
    }
}
