use crate::music::lesson::Said;
use crate::music::pattern::Role;
use crate::music::remark::Remark;
use crate::reading::discourse::Building;
use crate::reading::forms::{ROLES, role_at};
use crate::reading::lexicon::Concept;
use crate::reading::moments::{before, token};
use crate::reading::says::Kind;
use crate::reading::tokens::{Token, Tokens};
use crate::text::Place;

/// Variations that sentences speak of by their numbers.
#[derive(Debug, Clone, Default)]
pub struct Mentions {
    spoken_of: Vec<(i64, Place)>,
    /// Numbers that open a sentence: a variation may begin there, read or not.
    titles: Vec<i64>,
}

impl Mentions {
    /// "v1 and then the 10-12 of v3", "like variation 2": a variation that the rest of the lesson should tell.
    pub fn hear(&mut self, tokens: &Tokens, place: Place) {
        if !tokens.says.any_of(ROLES) || !tokens.says.has(Kind::Number) {
            return;
        }
        let named = (0..tokens.len()).filter_map(|at| Some((at, number_at(tokens, at)?)));
        let unsure = [
            Concept::Later,
            Concept::Negation,
            Concept::Condition,
            Concept::LessonWord,
        ];
        let elsewhere =
            tokens.says.means_any(&unsure) || tokens.says.has(Kind::OtherPaper) || tokens.says.has(Kind::Dated);
        for (at, number) in named {
            if !points_at(tokens, at) && !in_a_mix(tokens, at) {
                self.titles.push(number);
            } else if !elsewhere {
                self.spoken_of.push((number, place));
            }
        }
    }

    /// Those of which there are not so many, and none has this number.
    pub fn not_told(&self, patterns: &[Building]) -> Vec<Said<Remark>> {
        let others = patterns.iter().filter(|building| building.role != Role::Core);
        let told: Vec<Option<i64>> = others.map(|building| building.number).collect();
        let many = i64::try_from(told.len()).unwrap_or(i64::MAX);
        let missing = |number: i64| number > many && !told.contains(&Some(number)) && !self.titles.contains(&number);
        let named = self.spoken_of.iter().filter(|(number, _)| many > 0 && missing(*number));
        named
            .map(|(number, place)| Said::new(Remark::NotTold { variation: *number }, *place))
            .collect()
    }
}

/// `v3`, "variation 3", "la variación 3": the number.
fn number_at(tokens: &[Token], at: usize) -> Option<i64> {
    let word = token(tokens, at);
    let named = role_at(tokens, at) == Some(Role::Variation) && !word.is(Concept::Idea) && !word.word.ends_with('s');
    let (number, next) = (token(tokens, at + 1), token(tokens, at + 2));
    let of_counts = next.joined && next.mark.is_none_or(|mark| mark == '-')
        || next.is_any(&[Concept::BeatWord, Concept::Times, Concept::And]) && word.is(Concept::Variation)
        || next.is_mark('-');
    number
        .number
        .filter(|number| (2..=9).contains(number) && named && !of_counts)
}

/// Words in front of the name that speak of it, and do not begin it.
fn points_at(tokens: &[Token], at: usize) -> bool {
    let lead = before(tokens, at);
    let article = usize::from(lead.is(Concept::Article) || matches!(lead.word.as_str(), "la" | "the"));
    let lead = token(tokens, at.wrapping_sub(1 + article));
    lead.is_any(&[Concept::Same, Concept::With])
        || matches!(lead.word.as_str(), "of" | "from" | "de" | "como" | "like" | "in" | "en")
}

/// "mixing: core, V1, core, V3": a name in a row of what is to be played, which the core has opened.
fn in_a_mix(tokens: &[Token], at: usize) -> bool {
    let links = |token: &Token| token.is_mark(',') || token.is_any(&[Concept::And, Concept::Then]);
    let closes = |token: &Token| token.mark.is_some_and(|mark| mark != ':') || token.word.is_empty() || links(token);
    let core = (0..at).any(|at| token(tokens, at).is(Concept::Core));
    core && links(before(tokens, at)) && closes(token(tokens, at + 2))
}

/// "v1 and, behind it, the 10-12 of v3": they are spoken of, and none begins.
pub fn is_spoken_of(tokens: &[Token], index: usize) -> bool {
    let joined = |at: usize| token(tokens, at + 1).joined && token(tokens, at + 1).number.is_some();
    let links = token(tokens, index + 2).is_any(&[Concept::And, Concept::With, Concept::Then]);
    let other = |at: usize| role_at(tokens, at).is_some() && joined(at);
    let two = links && (index + 2..tokens.len()).any(other);
    let article = usize::from(matches!(before(tokens, index).word.as_str(), "la" | "the"));
    let lead = token(tokens, index.wrapping_sub(1 + article));
    let of_it = matches!(lead.word.as_str(), "of" | "from" | "de");
    joined(index) && (two || of_it)
}
