//! Chords told string by string, and chords only named.

use super::discourse::Discourse;
use super::forms::{Asked, ShapeTalk, shape_talk};
use super::lexicon::Concept;
use super::sayings::{among, sayings};
use super::statement::{Located, Statement, StringSaid};
use super::tokens::Token;

/// "A seven is x 0 2 0 2 0. The fifth open, the fourth on 2, the third open, ...": a shape given at once, told string by string.
pub fn shape_retold(asked: &Asked, discourse: &Discourse) -> Option<Located> {
    let given = discourse.shape_given.as_ref();
    let (chord, shape, _) = given.filter(|(.., told)| discourse.sentence <= told + 2)?;
    let talks = shape_talk(asked, true);
    let [talk] = talks.as_slice() else { return None };
    // More than one string that is not as it was is another chord's, whose name was not read.
    let otherwise = |(said, fret): (&StringSaid, &Option<u8>)| match said {
        StringSaid::NotSaid => false,
        StringSaid::Muted => fret.is_some(),
        StringSaid::Fret(stopped) => *fret != Some(*stopped),
    };
    let unlike = talk
        .frets
        .iter()
        .zip(&shape.frets)
        .filter(|pair| otherwise(*pair))
        .count();
    (talk.chord.is_none() && talk.said() >= 3 && unlike <= 1).then(|| Located {
        statement: Statement::Shape {
            chord: Some(chord.clone()),
            frets: talk.frets,
            fingers: Vec::new(),
        },
        start: talk.start,
        end: talk.end,
    })
}

/// "Dime cómo haces el la menor", "how do you play the A minor?": the strings come in the next sentence.
fn asks_for_it(asked: &Asked) -> bool {
    let asks = |token: &Token| matches!(token.word.as_str(), "como" | "how");
    let made = |token: &Token| among(&sayings().words.making, &token.word);
    !asked.context.typed && asked.tokens.iter().any(asks) && asked.tokens.iter().any(made)
}

/// Chords told string by string, and chords only named.
pub fn shapes_told(asked: &Asked, going_on: bool) -> Vec<Located> {
    // Strings without a name are those of the chord told before.
    if asked.names.is_empty() && !going_on {
        return Vec::new();
    }
    let talks = shape_talk(asked, going_on);
    let said: usize = talks.iter().map(ShapeTalk::said).sum();
    let speaks = |tokens: &[Token]| {
        tokens
            .iter()
            .any(|token| token.is(Concept::ChordWord) || token.word == "chords" || token.word == "acordes")
    };
    let about_chords = speaks(asked.tokens) || speaks(asked.previous) && !asked.context.typed;
    let mut out = Vec::new();
    for talk in talks {
        let counts = talk.said();
        let opens = asked
            .tokens
            .get(..3)
            .unwrap_or(asked.tokens)
            .iter()
            .any(|token| token.start <= talk.start && talk.start < token.end);
        let begins = talk.chord.is_some()
            && (counts >= 3
                || about_chords
                || said >= 3
                || opens
                || asks_for_it(asked)
                || going_on && counts > 0 && !asked.context.punctuated);
        let goes_on = talk.chord.is_none() && counts > 0 && going_on;
        if begins || goes_on {
            let named = talk.chord.clone().filter(|_| about_chords && counts == 0);
            out.push(Located {
                statement: Statement::Shape {
                    chord: talk.chord.clone(),
                    frets: talk.frets,
                    fingers: Vec::new(),
                },
                start: talk.start,
                end: talk.end,
            });
            if let Some(name) = named {
                out.push(Located {
                    statement: Statement::ChordsNamed(vec![name]),
                    start: talk.start,
                    end: talk.end,
                });
            }
        }
    }
    out
}
