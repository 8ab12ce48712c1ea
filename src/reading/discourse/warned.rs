use super::Discourse;
use crate::music::pattern::Role;
use crate::music::position::Position;
use crate::reading::lexicon::{Concept, lexicon};
use crate::reading::moments::{When, before, moment_at, token};
use crate::reading::tokens::Token;

/// Words that say that the round begins again, folded.
const ROUND_AGAIN: &[&str] = &[
    "comes round",
    "come round",
    "comes around",
    "round again",
    "start again",
    "starts again",
    "new round",
    "back to the start",
    "back to the beginning",
    "from the top",
    "vuelve a empezar",
    "vuelva a empezar",
    "volver a empezar",
    "vuelvas a empezar",
    "empieza de nuevo",
    "empiece de nuevo",
    "empiece otra vez",
    "empieza otra vez",
    "empezar otra vez",
    "al empezar",
    "da la vuelta",
];

/// Words that say where the core passes into the variation being told, folded.
const INTO_IT: &[&str] = &[
    "into the variation",
    "into this variation",
    "into the falseta",
    "into it",
    "going in",
    "go in",
    "before the variation",
    "before the falseta",
    "al entrar",
    "antes de entrar",
    "entres en la",
    "antes de la variacion",
    "antes de la falseta",
];

/// Words that say where the variation passes back into the core, folded.
const OUT_OF_IT: &[&str] = &[
    "out of the variation",
    "out of the falseta",
    "out of it",
    "coming out",
    "come out",
    "back to the core",
    "back into the core",
    "back to the base",
    "al salir",
    "vuelta a la base",
    "volver a la base",
    "vuelvas a la base",
];

fn is_next_round(token: &Token) -> bool {
    token.is(Concept::RunsOn)
        && ["next", "siguiente", "otra", "proxim"]
            .iter()
            .any(|word| token.word.contains(word))
}

impl Discourse {
    /// The counts that a warning in a note's own words names.
    pub fn counts_in(&self, text: &str) -> Vec<Position> {
        let language = self.context.language;
        self.counts_named(&crate::reading::tokens::tokens(text, language, lexicon(language)))
    }

    /// The counts that a warning names; those of the sentence behind it where it names none itself ("Careful. …").
    pub fn counts_warned(&self, tokens: &[Token], next: &[Token]) -> Vec<Position> {
        let own = self.counts_named(tokens);
        if own.is_empty() && tokens.len() <= 8 {
            return self.counts_named(next);
        }
        own
    }

    fn counts_named(&self, tokens: &[Token]) -> Vec<Position> {
        let mut counts: Vec<Position> = Vec::new();
        let mut index = 0;
        while index < tokens.len() {
            // "between 9 and 10": two counts, not the half of the first.
            let first = index + usize::from(matches!(token(tokens, index).word.as_str(), "between" | "entre"));
            let pair = token(tokens, first).number.is_some()
                && token(tokens, first + 1).is(Concept::And)
                && token(tokens, first + 2).number.is_some();
            let moment = moment_at(tokens, index, &self.context).filter(|(when, _)| when.count.is_some() && !pair);
            let (when, end) = match moment {
                Some((when, end)) => (Some(when), end),
                None => (self.bare_count(tokens, index).map(When::count), index + 1),
            };
            counts.extend(when.and_then(|when| self.resolve(when)));
            index = end.max(index + 1);
        }
        let words: Vec<&str> = tokens.iter().map(|token| token.word.as_str()).collect();
        let words = words.join(" ");
        if ROUND_AGAIN.iter().any(|again| words.contains(again)) || tokens.iter().any(is_next_round) {
            let first = self.lesson.meter.first.as_ref().map_or(1, |first| first.value);
            counts.push(Position::count(first));
        }
        if counts.is_empty() {
            counts.extend(self.seam_named(&words));
        }
        counts.sort();
        counts.dedup();
        counts
    }

    /// "Before you go into the variation", "al salir": the count on which it takes over, or the core again.
    fn seam_named(&self, words: &str) -> Option<Position> {
        let told = self.pattern()?;
        let span = told.span.filter(|_| told.role != Role::Core)?;
        let says = |table: &[&str]| table.iter().any(|phrase| words.contains(phrase));
        let behind = |last: i64| match self.round_counts() {
            Some(counts) if last >= counts => Position::count(1),
            _ => Position::count(last + 1),
        };
        match (says(INTO_IT), says(OUT_OF_IT)) {
            (true, false) => Some(Position::count(span.first)),
            (false, true) => Some(behind(span.last)),
            _ => None,
        }
    }

    /// A number that is a count here: "before the 1", "on 10", "9 to 10", "del 8 al 9".
    fn bare_count(&self, tokens: &[Token], index: usize) -> Option<i64> {
        let (previous, here, next) = (before(tokens, index), token(tokens, index), token(tokens, index + 1));
        let highest = self.beats().unwrap_or(12).max(self.context.highest) + 1;
        let number = here.number.filter(|number| (1..=highest).contains(number))?;
        let of_something = next.is_any(&[
            Concept::StringWord,
            Concept::FretWord,
            Concept::FingerWord,
            Concept::Unit,
            Concept::Times,
            Concept::ChordWord,
            Concept::TempoWord,
            Concept::Lift,
        ]) || next.is_mark('ª')
            || next.is_mark('º');
        let named = previous.is_any(&[
            Concept::StringWord,
            Concept::FretWord,
            Concept::FingerWord,
            Concept::LeftHand,
            Concept::Capo,
        ]);
        let of_a_list = previous.is_any(&[Concept::And])
            && index
                .checked_sub(2)
                .is_some_and(|at| self.bare_count(tokens, at).is_none());
        let part_of_a_name =
            here.joined && index > 0 && !previous.is_mark('-') && !previous.is_mark('(') && !previous.is_mark('/');
        let led = previous.is_any(&[
            Concept::On,
            Concept::With,
            Concept::Article,
            Concept::BeatWord,
            Concept::And,
        ]) || previous.mark.is_some()
            || matches!(
                previous.word.as_str(),
                "to" | "into" | "al" | "next" | "back to" | "a" | "when" | "cuando" | "between" | "entre"
            )
            || index == 0;
        // "the one that…": spelled, it is a count only behind a word that leads to one.
        let a_thing = here.spelled
            && number == 1
            && !matches!(previous.word.as_str(), "on" | "before" | "into" | "count" | "beat");
        (led && !of_something && !named && !of_a_list && !part_of_a_name && !a_thing).then_some(number)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reading::context::Context;
    use crate::reading::lexicon::Language;

    #[test]
    fn warnings_name_counts() {
        let table = [
            (Language::English, "it has to be off before the 1", "1"),
            (Language::English, "careful on 10, it is a lone up", "10"),
            (Language::English, "watch out between 9 and 10", "9 10"),
            (
                Language::English,
                "12 back to 1: in E LH 1 is on s3 f1, Am wants it on s2",
                "1 12",
            ),
            (
                Language::English,
                "when the compás comes round the third finger is late",
                "1",
            ),
            (Language::English, "& of 4 to 5: LH 2 stays on f2", "4+1/2 5"),
            (Language::English, "finger 3 leaves the fifth string", ""),
            (Language::English, "LH 2 and 3 move over one string", ""),
            (Language::Spanish, "ojo al volver al 1: el dedo 2 esta en s5 f2", "1"),
            (Language::Spanish, "del 9 al 10 se pincha mucho", "9 10"),
        ];
        for (language, text, expected) in table {
            let mut discourse = Discourse::new(Context {
                language,
                typed: true,
                punctuated: true,
                beats: None,
                aliases: Vec::new(),
                own_sounds: Vec::new(),
                own_strings: Vec::new(),
                gestures: Vec::new(),
                alternating: false,
                thirds: false,
                highest: 12,
                round: None,
                pairs: false,
                joins_with_ampersand: false,
                own_palos: Default::default(),
            });
            discourse.lesson.meter.beats = Some(crate::music::lesson::Said::new(12, Default::default()));
            let counts: Vec<String> = discourse.counts_in(text).iter().map(Position::to_string).collect();
            assert_eq!(counts.join(" "), expected, "{text}");
        }
    }
}
