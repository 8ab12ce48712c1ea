use crate::reading::lexicon::Concept;
use crate::reading::moments::token;
use crate::reading::says::Kind;
use crate::reading::tokens::{Token, Tokens};

/// "ten strokes a count", "cuatro semicorcheas en cada tiempo", "two notes to every beat": how many each count has.
pub fn each_count(tokens: &Tokens) -> Option<i64> {
    let divides = tokens
        .says
        .means_any(&[Concept::Quavers, Concept::Triplet, Concept::Semiquavers]);
    let phrase = if divides {
        tokens.iter().find_map(in_one_phrase)
    } else {
        None
    };
    if !tokens.says.has(Kind::Number) || !tokens.says.means(Concept::BeatWord) {
        return phrase;
    }
    phrase.or_else(|| (0..tokens.len()).find_map(|at| each_at(tokens, at)))
}

/// "four notes to each count" may be one phrase.
fn in_one_phrase(token: &Token) -> Option<i64> {
    let divided = [(Concept::Quavers, 2), (Concept::Triplet, 3), (Concept::Semiquavers, 4)];
    let each = |word: &str| matches!(word, "each" | "every" | "per" | "cada" | "por" | "a");
    let counted = token.word.contains(' ') && token.word.split(' ').any(each);
    let found = divided.into_iter().find(|(concept, _)| token.is(*concept));
    found.filter(|_| counted).map(|(_, number)| number)
}

fn each_at(tokens: &[Token], index: usize) -> Option<i64> {
    let number = token(tokens, index).number.filter(|number| (2..=16).contains(number))?;
    let even = usize::from(matches!(token(tokens, index + 1).word.as_str(), "even" | "equal"));
    let index = index + even;
    let noun = token(tokens, index + 1);
    let strokes = noun.is_any(&[Concept::Semiquavers, Concept::Quavers, Concept::Golpe])
        || matches!(noun.word.as_str(), "notes" | "notas" | "strokes" | "toques" | "golpes");
    let lead = token(tokens, index + 2);
    let leads = matches!(
        lead.word.as_str(),
        "to" | "a" | "per" | "in" | "por" | "en" | "for" | "each" | "cada" | "every" | "on"
    );
    let each = |token: &Token| {
        token.is_any(&[Concept::All, Concept::Article])
            || matches!(token.word.as_str(), "a" | "each" | "cada" | "every")
    };
    let mut at = index + 3;
    while each(token(tokens, at)) {
        at += 1;
    }
    let count = token(tokens, at);
    let single = count.is(Concept::BeatWord) && !count.word.ends_with('s') && token(tokens, at + 1).number.is_none();
    (strokes && leads && single).then_some(number)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reading::lexicon::{Language, lexicon};
    use crate::reading::tokens::tokens;

    #[test]
    fn so_many_in_each_count() {
        let table = [
            (Language::English, "four notes to each count", Some(4)),
            (
                Language::English,
                "all five in every half count, so ten strokes a count",
                Some(10),
            ),
            (Language::English, "two notes to every beat", Some(2)),
            (Language::English, "three even strokes in each count", Some(3)),
            (Language::English, "four semiquavers per count", Some(4)),
            (
                Language::Spanish,
                "Cuatro semicorcheas en cada tiempo, por cuerdas:",
                Some(4),
            ),
            (Language::Spanish, "tres notas por tiempo", Some(3)),
            // No number of strokes, or of one count only.
            (Language::English, "four notes in count 3", None),
            (Language::English, "one click to each count", None),
            (Language::English, "three chords for the two counts", None),
            (Language::Spanish, "un acorde cada tres tiempos", None),
        ];
        let told = |(language, text, _): &(Language, &'static str, Option<i64>)| {
            let tokens = Tokens::of(tokens(text, *language, lexicon(*language)));
            let words: Vec<String> = tokens.iter().map(|token| token.word.to_string()).collect();
            (words.join("|"), each_count(&tokens))
        };
        let read: Vec<(String, Option<i64>)> = table.iter().map(told).collect();
        let wanted: Vec<(String, Option<i64>)> = table.iter().map(|row| (told(row).0, row.2)).collect();
        assert_eq!(read, wanted);
    }
}
