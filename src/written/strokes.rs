//! One stroke as written: fingers, action, strings, fret, note, in any order that a hand would scribble them.

use crate::music::hand::{Finger, Fret, LeftFinger};
use crate::music::position::{Counts, Position};
use crate::music::stroke::{Action, Stroke};
use crate::text::Place;

use super::begins::{Begins, Sign};
use super::parser::Parser;
use super::shorthand::Meaning;
use super::strings::{LAST_FRET, string_number};

/// A stroke while it is being read.
#[derive(Debug, Clone)]
pub struct Draft {
    pub stroke: Stroke,
    /// Whether anything said what is done; a bare finger says nothing.
    pub acts: bool,
    /// A slur whose direction its two notes decide.
    pub slur: bool,
    /// On the string of the note before.
    pub same_string: bool,
}

impl Draft {
    fn new(at: Position) -> Self {
        Self {
            stroke: Stroke::new(at, Action::Pluck, Place::default()),
            acts: false,
            slur: false,
            same_string: false,
        }
    }

    /// A single note, for which a pitch name may follow.
    fn sounds_one_note(&self) -> bool {
        let single = matches!(
            self.stroke.action,
            Action::Pluck | Action::PullOff | Action::HammerOn | Action::Picado | Action::Tremolo
        );
        single && (self.acts || !self.stroke.strings.is_empty() || self.stroke.fret.is_some())
    }

    fn has_note_place(&self) -> bool {
        !self.stroke.strings.is_empty() || self.stroke.fret.is_some() || self.same_string
    }
}

impl Parser<'_, '_> {
    /// A stroke at a moment, or None when the words here are no stroke.
    pub fn stroke(&mut self, at: Position) -> Option<Draft> {
        self.attempt(|line| {
            let mut draft = Draft::new(at);
            while line.stroke_part(&mut draft).is_some() {}
            let says = draft.acts
                || draft.slur
                || draft.has_note_place()
                || (draft.stroke.note.is_some() && !draft.stroke.fingers.is_empty());
            if !says || line.next_is_alphanumeric() {
                return None;
            }
            if draft.has_note_place() && draft.stroke.strings.is_empty() && !draft.same_string {
                draft.stroke.strings.extend(line.context.string);
            }
            draft.stroke.implied = line.mark();
            Some(draft)
        })
    }

    /// One part more of the stroke; None when what follows belongs to something else.
    fn stroke_part(&mut self, draft: &mut Draft) -> Option<()> {
        // "segunda, traste 3": behind a comma the place of a note may go on.
        let goes_on = draft.has_note_place() && draft.stroke.fret.is_none();
        if !goes_on && self.closes() {
            return None;
        }
        let here = self.begins();
        let mut parts = PARTS.iter().filter(|(begins, _)| begins.fits(here));
        parts.find_map(|(_, part)| self.attempt(|line| part(line, draft)))
    }

    fn own_action(&mut self, draft: &mut Draft) -> Option<()> {
        let own = self.own_word()?;
        let action = own.meaning.action().filter(|_| !draft.acts)?;
        draft.stroke.action = action;
        draft.acts = true;
        if draft.stroke.fingers.is_empty() {
            draft.stroke.fingers.clone_from(&own.fingers);
        }
        if draft.stroke.strings.is_empty() {
            draft.stroke.strings.clone_from(&own.strings);
        }
        Some(())
    }

    fn action_part(&mut self, draft: &mut Draft) -> Option<()> {
        if draft.acts || draft.slur {
            return None;
        }
        let meaning =
            self.meaning_of(|meaning| (meaning.action().is_some() || meaning == Meaning::Slur).then_some(meaning))?;
        match meaning.action() {
            Some(action) => {
                draft.stroke.action = action;
                draft.acts = true;
            }
            None => draft.slur = true,
        }
        Some(())
    }

    /// `i`, `p i m a`, `with i m`, `w/ a`, `ima`, `i+m+a`, `pulgar`.
    fn finger_run(&mut self, draft: &mut Draft) -> Option<()> {
        if !draft.stroke.fingers.is_empty() {
            return None;
        }
        // "ligado a tr 1" goes to a fret; no finger of the right hand plays it.
        let slurred = draft.slur || matches!(draft.stroke.action, Action::PullOff | Action::HammerOn);
        let goes_to = self.attempt(|line| {
            slurred.then_some(())?;
            let word = line.plain_word().filter(|word| *word == "a")?;
            let mut ahead = line.ahead();
            (ahead.fret().is_some() || ahead.strings().is_some()).then_some(word)
        });
        if goes_to.is_some() {
            return Some(());
        }
        let _ = self.meaning(Meaning::With);
        let (mut fingers, letter) = self.fingers()?;
        // "rasgueado de meñique, anular, medio, índice"
        while draft.stroke.action == Action::Rasgueado
            && let Some((more, _)) = self.attempt(|line| {
                line.spaced_sign(',').then_some(())?;
                line.fingers()
            })
        {
            fingers.extend(more);
        }
        draft.stroke.fingers = fingers;
        draft.stroke.little_finger_as = letter;
        Some(())
    }

    /// One or more right-hand fingers in order, and the letter that stands for the little one when it is not x.
    pub fn fingers(&mut self) -> Option<(Vec<Finger>, Option<String>)> {
        self.attempt(|line| {
            let mut fingers = Vec::new();
            let mut letter = None;
            loop {
                if let Some((finger, written)) = line.finger() {
                    fingers.push(finger);
                    letter = letter.or(written);
                } else if let Some(more) = line.glued_fingers() {
                    fingers.extend(more);
                } else {
                    break;
                }
                // "i+m+a" is one hand; "i + golpe" is two things.
                let _ = line.attempt(|line| (line.sign('+') && line.ahead().finger().is_some()).then_some(()));
            }
            (!fingers.is_empty()).then_some((fingers, letter))
        })
    }

    fn finger(&mut self) -> Option<(Finger, Option<String>)> {
        self.attempt(|line| {
            let named = line.meaning_of(Meaning::finger);
            if let Some(finger) = named {
                return Some((finger, None));
            }
            line.spaces();
            let rest = line.rest();
            if !rest.starts_with(['p', 'i', 'm', 'a', 'x', 'c', 'e', 'q', 's']) {
                return None;
            }
            let length = rest.find(|c: char| !c.is_alphanumeric()).unwrap_or(rest.len());
            let found = match rest.get(..length)? {
                "p" => (Finger::P, None),
                "i" => (Finger::I, None),
                "m" => (Finger::M, None),
                "a" => (Finger::A, None),
                "x" => (Finger::X, None),
                other @ ("c" | "e" | "ch" | "q" | "s") => (Finger::X, Some(other.to_owned())),
                _ => return None,
            };
            line.at += length;
            // "s 5" is a string.
            let string = found.1.as_deref() == Some("s") && line.ahead().number().is_some();
            (!string).then_some(found)
        })
    }

    /// `xami`, `pima`, `im`: letters written together, three at least so that no word is taken for them.
    fn glued_fingers(&mut self) -> Option<Vec<Finger>> {
        self.attempt(|line| {
            let long = |word: &&str| (3..=6).contains(&word.len()) || *word == "im";
            let word = line.plain_word().filter(long)?;
            let fingers: Option<Vec<Finger>> = word
                .chars()
                .map(|letter| Finger::ALL.into_iter().find(|finger| finger.letter() == letter))
                .collect();
            fingers.filter(|_| !line.next_is_alphanumeric())
        })
    }

    /// `s5`, `s3 s2 s1`, `string 5`, `5ª cuerda`, `s3-1`, `on s1`.
    fn string_part(&mut self, draft: &mut Draft) -> Option<()> {
        if !draft.stroke.strings.is_empty() {
            return None;
        }
        let _ = self.meaning(Meaning::On) || self.meaning(Meaning::To);
        if !draft.same_string && self.meaning(Meaning::SameString) {
            draft.same_string = true;
            return Some(());
        }
        draft.stroke.strings = self.strings()?;
        Some(())
    }

    /// `f1`, `fret 1`, `traste 1`, `open`, `al aire`.
    fn fret_part(&mut self, draft: &mut Draft) -> Option<()> {
        if draft.stroke.fret.is_some() {
            return None;
        }
        // "segunda, traste 3"
        let _ = draft.has_note_place() && self.spaced_sign(',');
        let _ = self.meaning(Meaning::To);
        draft.stroke.fret = Some(self.fret()?);
        Some(())
    }

    /// `5/1`, string and fret, where a finger or an action has made clear that a stroke is meant.
    fn pair_part(&mut self, draft: &mut Draft) -> Option<()> {
        let meant = draft.acts || !draft.stroke.fingers.is_empty();
        if !meant || draft.has_note_place() {
            return None;
        }
        let string = self.number().and_then(string_number)?;
        let slash = self.sign('/');
        let fret = self.digits().filter(|fret| slash && *fret <= LAST_FRET)?;
        draft.stroke.strings = vec![string];
        draft.stroke.fret = Fret::try_from(fret).ok();
        (!self.next_is_alphanumeric()).then_some(())
    }

    /// A pitch name behind a single note, or `note A` behind anything.
    fn note_part(&mut self, draft: &mut Draft) -> Option<()> {
        if draft.stroke.note.is_some() {
            return None;
        }
        let announced = self.meaning(Meaning::Note);
        let by_finger = !draft.acts && !draft.stroke.fingers.is_empty();
        if !(announced || draft.sounds_one_note() || by_finger || draft.slur) {
            return None;
        }
        draft.stroke.note = Some(self.note_name()?);
        // "p A chord" speaks of the chord.
        (self.look().map(|(meaning, _)| meaning) != Some(Meaning::Chord)).then_some(())
    }

    /// `apoyando`, `>`, `LH2`, `for 3/2`, `to 4+1/2`, `alone`, `together`.
    fn manner_part(&mut self, draft: &mut Draft) -> Option<()> {
        if self.spaced_sign('>') {
            draft.stroke.accent = true;
            return Some(());
        }
        let _ = self.attempt(|line| {
            let with = line.meaning(Meaning::With);
            (with && line.look()?.0 == Meaning::LeftHand).then_some(())
        });
        let meaning = self.meaning_of(|meaning| MANNERS.contains(&meaning).then_some(meaning))?;
        match meaning {
            Meaning::Apoyando => draft.stroke.rest_stroke = Some(true),
            Meaning::Tirando => draft.stroke.rest_stroke = Some(false),
            Meaning::Accent => draft.stroke.accent = true,
            Meaning::LeftHand => draft.stroke.left = Some(self.left_finger()?),
            Meaning::For => draft.stroke.length = Some(self.counts()?),
            Meaning::To => draft.stroke.arrival = Some(self.position(None)?),
            _ => {}
        }
        Some(())
    }

    pub fn left_finger(&mut self) -> Option<LeftFinger> {
        self.attempt(|line| {
            let finger = line.number().filter(|finger| *finger <= 4)?;
            (!line.next_is_alphanumeric()).then(|| LeftFinger::try_from(finger).ok())?
        })
    }

    /// A length in counts: `2`, `3/2`.
    fn counts(&mut self) -> Option<Counts> {
        let over = self.number()?;
        let under = self.attempt(|line| {
            let slash = line.sign('/');
            line.digits().filter(|under| slash && *under > 0)
        });
        Some(Counts::new(over, under.unwrap_or(1))).filter(|_| over > 0)
    }

    /// `(a)` a finger, `(D)` or `(re)` the pitch of a single note, `(open)`, `(LH2)`, `(together)`.
    fn bracket_part(&mut self, draft: &mut Draft) -> Option<()> {
        self.spaced_sign('(').then_some(())?;
        let part = self
            .attempt(|line| {
                let note = line.any_note_name().filter(|_| draft.sounds_one_note() || draft.slur);
                draft.stroke.note.is_none().then_some(())?;
                draft.stroke.note = Some(note?);
                line.ahead().spaced_sign(')').then_some(())
            })
            .or_else(|| self.attempt(|line| line.finger_run(draft)))
            .or_else(|| self.attempt(|line| line.fret_part(draft)))
            .or_else(|| self.attempt(|line| line.manner_part(draft)));
        part?;
        self.spaced_sign(')').then_some(())
    }
}

/// A part of a stroke: what it begins with, and the step that reads it.
type Part = (Begins, fn(&mut Parser, &mut Draft) -> Option<()>);

/// The parts that a stroke may have, in the order tried.
const PARTS: [Part; 9] = [
    (Begins::ANYTHING, |line, draft| line.own_action(draft)),
    (STRINGS, |line, draft| line.string_part(draft)),
    (FINGERS, |line, draft| line.finger_run(draft)),
    (FRET, |line, draft| line.fret_part(draft)),
    (Begins::NOTHING.sign(&[Sign::Digit]), |line, draft| {
        line.pair_part(draft)
    }),
    (ACTION, |line, draft| line.action_part(draft)),
    (MANNER, |line, draft| line.manner_part(draft)),
    (NOTE, |line, draft| line.note_part(draft)),
    (Begins::NOTHING.sign(&[Sign::Bracket]), |line, draft| {
        line.bracket_part(draft)
    }),
];

/// `s5`, `on s5`, `5ª`, `quinta`.
const STRINGS: Begins = Begins::NOTHING
    .meaning(&[Meaning::On, Meaning::To, Meaning::SameString, Meaning::String])
    .sign(&[Sign::Digit, Sign::LongWord]);

const FINGERS: Begins = Begins::NOTHING
    .meaning(&[
        Meaning::With,
        Meaning::Thumb,
        Meaning::Index,
        Meaning::Middle,
        Meaning::Ring,
        Meaning::Little,
    ])
    .sign(&[Sign::Letter]);

const FRET: Begins = Begins::NOTHING
    .meaning(&[Meaning::To, Meaning::Open, Meaning::Fret])
    .sign(&[Sign::Comma]);

const ACTION: Begins = Begins::NOTHING.meaning(&[
    Meaning::Slur,
    Meaning::Down,
    Meaning::Up,
    Meaning::Golpe,
    Meaning::Pluck,
    Meaning::Rasgueado,
    Meaning::Roll,
    Meaning::PullOff,
    Meaning::HammerOn,
    Meaning::Damp,
    Meaning::Tremolo,
    Meaning::Picado,
    Meaning::Alzapua,
    Meaning::Rest,
]);

const MANNER: Begins = Begins::NOTHING
    .meaning(&MANNERS)
    .meaning(&[Meaning::With])
    .sign(&[Sign::Accent]);

const NOTE: Begins = Begins::NOTHING.meaning(&[Meaning::Note]).sign(&[Sign::Capital]);

/// Words that say how a stroke is made or how long it lasts.
const MANNERS: [Meaning; 9] = [
    Meaning::Apoyando,
    Meaning::Tirando,
    Meaning::Accent,
    Meaning::LeftHand,
    Meaning::For,
    Meaning::To,
    Meaning::Together,
    Meaning::Alone,
    Meaning::Now,
];
