use super::super::lexicon::Concept;
use super::super::moments::{before, token};
use super::super::statement::StringSaid;
use super::super::tokens::Token;
use super::shape_talk::Reader;

impl Reader<'_> {
    /// "and then everything else is open", "y lo demás al aire": all strings that have not been told.
    pub(super) fn rest_open(&mut self, index: usize) -> Option<usize> {
        let tokens = self.asked.tokens;
        let word = |at: usize| token(tokens, at).word.as_str();
        let rest = match word(index) {
            "everything else" | "the rest" | "lo demas" | "el resto" | "todo lo demas" => index + 1,
            "everything" if word(index + 1) == "else" => index + 2,
            "lo" | "las" if matches!(word(index + 1), "demas") => index + 2,
            "el" if word(index + 1) == "resto" => index + 2,
            _ => return None,
        };
        let open = (rest..rest + 2).find(|at| token(tokens, *at).is(Concept::Open))?;
        for string in 1..=6 {
            self.set(string, StringSaid::Fret(0));
        }
        self.reach(open + 1);
        Some(open + 1)
    }

    /// "two open strings", "the last two open": as many strings as that, on from the one told last or up to the first.
    pub(super) fn several_open(&mut self, index: usize) -> Option<usize> {
        let tokens = self.asked.tokens;
        let here = token(tokens, index);
        // "las dos últimas al aire", "two top strings open"
        let outer = |token: &Token| {
            token.is(Concept::Last)
                || matches!(
                    token.word.as_str(),
                    "ultimas" | "otras" | "other" | "primeras" | "finas" | "agudas" | "top"
                )
        };
        let mut open = index + 1 + usize::from(outer(token(tokens, index + 1)));
        let highest = open > index + 1 || outer(before(tokens, index));
        open += usize::from(token(tokens, open).is(Concept::StringWord));
        // "the next three are open"
        let next_ones = matches!(before(tokens, index).word.as_str(), "next" | "siguientes");
        open += usize::from(next_ones && token(tokens, open).is(Concept::Is));
        let count = here
            .number
            .filter(|count| (2..=4).contains(count) && token(tokens, open).is(Concept::Open))?;
        let count = u8::try_from(count).ok()?;
        let told = token(tokens, open + 1).is(Concept::StringWord)
            || open > index + 1
            || highest
            || next_ones
            || before(tokens, index).is_any(&[Concept::And, Concept::Then]);
        if !told {
            return None;
        }
        let from = if highest { Some(count) } else { self.string };
        let from = from.filter(|from| *from >= count)?;
        for string in (from - count + 1..=from).rev() {
            self.set(string, StringSaid::Fret(0));
        }
        self.string = (from > count).then(|| from - count);
        self.reach(open + 1);
        Some(open + 1 + usize::from(token(tokens, open + 1).is(Concept::StringWord)))
    }

    /// "on the four, the three and the two": strings by their numbers, told aloud behind the fret that they have.
    pub(super) fn by_its_number(&self, index: usize) -> Option<u8> {
        let link = before(self.asked.tokens, index.saturating_sub(1));
        let waits = !self.queue.is_empty() && link.word == "on" || self.shared.is_some() && self.shares_its_fret(index);
        let string = token(self.asked.tokens, index)
            .number
            .filter(|_| waits && self.numbered_behind_the(index))?;
        u8::try_from(string).ok()
    }

    /// "the four" in a list.
    pub(super) fn numbered_behind_the(&self, index: usize) -> bool {
        let (here, next) = (token(self.asked.tokens, index), token(self.asked.tokens, index + 1));
        let closes = next.mark.is_some() || next.is(Concept::And) || next.word.is_empty();
        let string = here.number.is_some_and(|number| (1..=6).contains(&number));
        !self.asked.context.typed && string && before(self.asked.tokens, index).word == "the" && closes
    }

    /// "second fret on the fourth and the third and the second": a string linked on, with no fret of its own behind it.
    pub(super) fn shares_its_fret(&self, index: usize) -> bool {
        let tokens = self.asked.tokens;
        let lead = before(tokens, index);
        let article = usize::from(lead.is(Concept::Article) || matches!(lead.word.as_str(), "the" | "la" | "en"));
        // "segundo traste en la cuarta, en la tercera y en la segunda"
        let within = usize::from(article == 1 && before(tokens, index - 1).word == "en");
        let article = article + within;
        let linked = before(tokens, index.saturating_sub(article)).is_any(&[Concept::And])
            || before(tokens, index.saturating_sub(article)).is_mark(',');
        let behind = index + 1 + usize::from(token(tokens, index + 1).is(Concept::StringWord));
        let own = token(tokens, behind).is_any(&[
            Concept::Open,
            Concept::On,
            Concept::FretWord,
            Concept::Is,
            Concept::Negation,
        ]) || token(tokens, behind).number.is_some()
            || token(tokens, behind + 1).is(Concept::FretWord)
            || self.mutes(behind);
        linked && !own
    }
}
