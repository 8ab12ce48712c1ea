use crate::music::key::Mode;
use crate::music::remark::Remark;
use crate::reading::context::Context;
use crate::reading::lexicon::Concept;
use crate::reading::moments::token;
use crate::reading::pitch_words::{PitchWord, pitch_at};
use crate::reading::sayings::{among_with_next, sayings};
use crate::reading::says::Kind;
use crate::reading::solfa::bare_name;
use crate::reading::tokens::{Token, Tokens};

/// Words between what says that it sounds and the key.
const NEAR: usize = 5;

/// "with the capo there it comes out in B minor", "cejilla al 2: al oído, Fa# frigio": the key that is heard.
pub fn sounding_key(tokens: &Tokens, context: &Context) -> Option<Remark> {
    if !tokens.says.has(Kind::Name) || !tokens.says.means_any(&MODES) {
        return None;
    }
    let heard = |at: usize| {
        let named = pitch_at(tokens, at, context.language, context.typed);
        // "en Sol frigio": the mode makes the name a name.
        let bare = || bare_name(token(tokens, at)).filter(|_| token(tokens, at + 1).is(Concept::Phrygian));
        let (tonic, mode) = match named {
            Some(name) => (name.root, mode_of(tokens, at, &name)?),
            None => (bare()?, Mode::Phrygian),
        };
        is_heard(tokens, at).then_some((tonic, mode))
    };
    let (tonic, mode) = (0..tokens.len()).find_map(heard)?;
    Some(Remark::SoundsIn {
        tonic,
        mode,
        capo: capo_here(tokens),
    })
}

const MODES: [Concept; 3] = [Concept::Major, Concept::Minor, Concept::Phrygian];

/// The mode, where a word says it.
fn mode_of(tokens: &[Token], at: usize, name: &PitchWord) -> Option<Mode> {
    let end = at + name.length;
    let said = |concept: Concept| (at..=end).any(|at| token(tokens, at).is(concept));
    let of_chord = name.quality.contains('7') || token(tokens, end).is(Concept::ChordWord);
    let mode = match (said(Concept::Phrygian), said(Concept::Minor), said(Concept::Major)) {
        (true, ..) => Mode::Phrygian,
        (_, true, false) => Mode::Minor,
        (_, false, true) => Mode::Major,
        _ => return None,
    };
    (!of_chord).then_some(mode)
}

/// Words in front of the name at a token say that this is what sounds: "it comes out in", "suena en", "al oído".
pub fn is_heard(tokens: &[Token], name: usize) -> bool {
    let heard = |at: usize| {
        let (here, next) = (token(tokens, at).word.as_str(), token(tokens, at + 1).word.as_str());
        among_with_next(&sayings().words.heard_in, here, next)
    };
    let near = (name.saturating_sub(NEAR)..name).rev();
    let mut clause = near.take_while(|at| token(tokens, *at).mark.is_none_or(|mark| mark == ':'));
    clause.any(|at| heard(at) && !token(tokens, at.wrapping_sub(1)).is(Concept::Negation))
}

/// "with the capo on 2 it sounds in F sharp": the fret of the same sentence.
fn capo_here(tokens: &[Token]) -> Option<u8> {
    let capo = tokens.iter().position(|token| token.is(Concept::Capo))?;
    let behind = (capo + 1..capo + NEAR).take_while(|at| token(tokens, *at).mark.is_none());
    let fret = behind
        .clone()
        .find_map(|at| token(tokens, at).number.or(token(tokens, at).ordinal));
    u8::try_from(fret?).ok().filter(|fret| *fret <= 12)
}
