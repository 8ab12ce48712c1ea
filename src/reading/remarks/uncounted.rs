use crate::music::hand::{Fret, GuitarString};
use crate::music::remark::Remark;
use crate::music::stroke::Action;
use crate::reading::clauses::clauses;
use crate::reading::context::Context;
use crate::reading::lexicon::Concept;
use crate::reading::statement::Told;
use crate::reading::tokens::Tokens;

/// Words without which nothing of this is asked.
const ASKED: [Concept; 5] = [
    Concept::HammerOn,
    Concept::PullOff,
    Concept::Pluck,
    Concept::With,
    Concept::Slur,
];

/// What a sentence tells of hands outside of any compás, as far as it can be held against itself: slurs from fret to fret,
/// notes that sound at one moment.
pub fn uncounted(tokens: &Tokens, context: &Context) -> Vec<Remark> {
    if !tokens.says.means_any(&ASKED) {
        return Vec::new();
    }
    let told = clauses(tokens, context);
    let counted = told.iter().any(|told| told.when.is_some() || told.span.is_some());
    if counted {
        return Vec::new();
    }
    slurs(&told).into_iter().chain(at_once(&told)).collect()
}

/// "fret 4, and from there a hammer-on to fret 2": each slur with the fret before it on its string.
fn slurs(told: &[Told]) -> Vec<Remark> {
    let mut before: Option<(Option<GuitarString>, Fret)> = None;
    let mut found = Vec::new();
    for told in told {
        let string = told.strings.first().copied();
        let [fret] = told.frets.as_slice() else {
            // The words for one slur may be many: "un ligado, de martillo, cae el dedo".
            before = before.filter(|_| string.is_none() && !told.negated && !told.is_one_strum());
            continue;
        };
        if told.negated {
            before = None;
            continue;
        }
        let hammer = match told.actions.as_slice() {
            [Action::HammerOn] if !told.slur => Some(true),
            [Action::PullOff] => Some(false),
            _ => None,
        };
        let same = before.filter(|(known, _)| string.is_none() || *known == string);
        if let (Some(hammer), Some((known, from))) = (hammer, same) {
            found.push(Remark::Slurred {
                hammer,
                string: string.or(known),
                frets: (from, *fret),
            });
        }
        let stays = string.or(before.and_then(|(known, _)| known));
        before = Some((stays, *fret));
    }
    found
}

/// Notes said to sound with the one before them: one string at two frets.
fn at_once(told: &[Told]) -> Vec<Remark> {
    let note = |told: &Told| match (told.strings.as_slice(), told.frets.as_slice()) {
        ([string], [fret]) if !told.negated => Some((*string, *fret)),
        _ => None,
    };
    let mut down: Vec<(GuitarString, Fret)> = Vec::new();
    let mut found = Vec::new();
    for told in told {
        if !told.with {
            down.clear();
        }
        let Some((string, fret)) = note(told) else { continue };
        let other = down.iter().find(|(known, at)| *known == string && *at != fret);
        found.extend(other.map(|(_, at)| Remark::TwoFrets {
            string,
            frets: (fret.min(*at), fret.max(*at)),
        }));
        down.push((string, fret));
    }
    found
}
