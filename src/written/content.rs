//! All that happens at one moment: `(Bb) put LH1 s5 f1 + i down + golpe a`.

use crate::music::chord::ChordName;
use crate::music::left_hand::{Change, LeftAction, LeftEvent};
use crate::music::pattern::CountSpan;
use crate::music::position::Position;
use crate::text::Place;

use super::item::{Covers, Item};
use super::names::may_begin_chord;
use super::parser::Parser;
use super::run::Run;
use super::shorthand::Meaning;

impl Parser<'_, '_> {
    /// All that happens at one moment: chords, the left hand, strokes joined by `+`. At least one thing.
    pub fn content(&mut self, run: &mut Run, placed: bool) -> Option<()> {
        let mut any = false;
        // A `+` waits for its other half.
        let mut plus = false;
        let mut struck_here = false;
        // "…, with G": sounded with the stroke before the comma.
        let late = run.struck && self.joins();
        let _ = self.attempt(|line| {
            line.meaning(Meaning::Alone).then_some(())?;
            line.ahead().stroke(run.at).map(|_| ())
        });
        loop {
            if any && !plus && self.closes() {
                break;
            }
            let may_strike = if struck_here {
                plus
            } else {
                placed || late || !run.struck
            };
            let left = self.attempt(|line| line.left_event(run)).is_some();
            if !left && may_strike && self.attempt(|line| line.struck(run)).is_some() {
                struck_here = true;
            } else if !left && plus {
                return None;
            } else if !left {
                let said = self.attempt(|line| line.chord_here(run, struck_here)).is_some()
                    || self.meaning(Meaning::RingOn)
                    || (any && self.meaning(Meaning::Alone));
                if !said {
                    break;
                }
            }
            any = true;
            plus = self.joins();
        }
        run.struck = run.struck || struck_here;
        any.then_some(())
    }

    /// `+`, or "with" before another stroke.
    fn joins(&mut self) -> bool {
        self.spaced_sign('+')
            || self
                .attempt(|line| {
                    line.meaning(Meaning::With).then_some(())?;
                    let mut here = line.ahead();
                    let stroke = here.own_word().is_some_and(|own| own.meaning.action().is_some());
                    (stroke || line.look()?.0.action().is_some()).then_some(())
                })
                .is_some()
    }

    /// A stroke, with what its passage says for all.
    fn struck(&mut self, run: &mut Run) -> Option<()> {
        let start = self.at;
        let bracketed = self.ahead().spaced_sign('(');
        let draft = if bracketed {
            self.attempt(|line| {
                line.spaced_sign('(').then_some(())?;
                let draft = line.stroke(run.at)?;
                line.spaced_sign(')').then_some(draft)
            })?
        } else {
            self.stroke(run.at)?
        };
        let draft = run.apply_passage(draft)?;
        self.push(start, Item::Stroke(draft.stroke));
        // "p dn (g)": the golpe in brackets sounds with it.
        let _ = self.attempt(|line| {
            let start = line.at;
            line.spaced_sign('(').then_some(())?;
            let with = line.stroke(run.at).filter(|with| with.acts)?;
            line.spaced_sign(')').then_some(())?;
            line.push(start, Item::Stroke(with.stroke));
            Some(())
        });
        Some(())
    }

    /// `put LH1 s5 f1`, `lift LH2`, `lift`, `keep LH3 s5`, `slide LH4 s3 f5`.
    fn left_event(&mut self, run: &mut Run) -> Option<()> {
        let start = self.at;
        let action = self.meaning_of(|meaning| match meaning {
            Meaning::Put => Some(LeftAction::Put),
            Meaning::Lift => Some(LeftAction::Lift),
            Meaning::Keep => Some(LeftAction::Keep),
            Meaning::Slide => Some(LeftAction::Slide),
            _ => None,
        })?;
        let finger = self.attempt(|line| {
            line.meaning(Meaning::LeftHand).then_some(())?;
            line.left_finger()
        });
        let _ = self.meaning(Meaning::On) || self.meaning(Meaning::To);
        let string = self.strings();
        let string = match string.as_deref() {
            None => None,
            Some([one]) => Some(*one),
            Some(_) => return None,
        };
        let fret = self.fret();
        if self.next_is_alphanumeric() {
            return None;
        }
        let implied = self.mark();
        let event = LeftEvent {
            at: run.at,
            action,
            finger,
            string,
            fret,
            place: Place::default(),
            implied,
        };
        self.push(start, Item::Left(event));
        Some(())
    }

    /// A chord named at this moment. Named behind the strokes it is the chord of their whole count:
    /// `2: i down, & i up (F)`.
    fn chord_here(&mut self, run: &mut Run, struck: bool) -> Option<()> {
        let at = if struck || run.struck {
            Position::count(run.at.whole())
        } else {
            run.at
        };
        if let Some((start, chord, implied)) = self.bracketed_chord() {
            self.change(start, at, chord, implied);
            return Some(());
        }
        let start = self.at;
        let (chord, still) = self.chord_word()?;
        if still {
            let count = run.at.whole();
            let span = CountSpan {
                first: count,
                last: count,
            };
            let chord = Some(chord);
            self.push(start, Item::Covers(Covers { span, chord, still }));
        } else {
            self.change(start, at, chord, None);
        }
        Some(())
    }

    pub fn change(&mut self, start: usize, at: Position, chord: ChordName, implied: Option<String>) {
        self.push(
            start,
            Item::Change(Change {
                at,
                chord,
                place: Place::default(),
                implied,
            }),
        );
    }

    /// `(Bb)`, `(G now)`, with its mark.
    pub fn bracketed_chord(&mut self) -> Option<(usize, ChordName, Option<String>)> {
        self.attempt(|line| {
            line.spaces();
            let start = line.at;
            line.sign('(').then_some(())?;
            let (chord, still) = line.chord_word().filter(|(_, still)| !still)?;
            let _ = still;
            line.spaced_sign(')').then_some(())?;
            let implied = line.mark();
            Some((start, chord, implied))
        })
    }

    /// `A`, `on G`, `still A`, `E chord`, `back on the E shape`, `F now`, `en lam`, `acorde de la menor`; true when it goes on.
    pub fn chord_word(&mut self) -> Option<(ChordName, bool)> {
        self.attempt(|line| {
            line.spaces();
            let announces = |meaning| matches!(meaning, Meaning::Now | Meaning::Still | Meaning::On | Meaning::Chord);
            let named = may_begin_chord(line.rest());
            if !named && !line.look().is_some_and(|(meaning, _)| announces(meaning)) || line.own_word().is_some() {
                return None;
            }
            let _ = line.meaning(Meaning::Now);
            let still = line.meaning(Meaning::Still);
            let announced = line.meaning(Meaning::On) || line.meaning(Meaning::Chord) || still;
            let chord = if announced {
                line.any_chord_name()
            } else {
                line.chord_name().or_else(|| line.named_solfa())
            }?;
            let _ = line.meaning(Meaning::Chord);
            let _ = line.meaning(Meaning::Now);
            (!line.next_is_alphanumeric()).then_some((chord, still))
        })
    }

    /// A Spanish chord name that nothing announces has to show that it is one: `lam`, `mi7`, `do M`.
    fn named_solfa(&mut self) -> Option<ChordName> {
        self.attempt(|line| {
            let start = line.at;
            let chord = line.any_chord_name()?;
            let written = line.text.get(start..line.at)?.trim();
            let bare = written.chars().all(|c| c.is_lowercase()) && chord.quality.is_empty();
            (!bare).then_some(chord)
        })
    }
}
