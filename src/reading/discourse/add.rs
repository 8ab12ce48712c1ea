use std::rc::Rc;

use super::describe::describe;
use super::{Discourse, Placed};
use crate::music::pattern::{Claim, ClaimAbout, Role};
use crate::music::stroke::{Action, Stroke};
use crate::reading::statement::{ChordSaid, Told};

impl Discourse {
    /// A stroke of a line in the written form: its moment stands.
    pub fn take_stroke(&mut self, mut stroke: Stroke) {
        let place = stroke.place;
        let index = self.pattern_for_stroke(place);
        let count = stroke.at.whole();
        stroke.at = stroke.at.plus((self.beyond(count) - count).into());
        let Some(pattern) = self.patterns.get_mut(index) else {
            return;
        };
        let past = pattern
            .span
            .filter(|_| pattern.role != Role::Core)
            .filter(|span| span.first <= span.last);
        if let Some(span) = past {
            let whole = stroke.at.whole();
            let stands = (span.first..=span.last).contains(&whole) || pattern.runs_on && whole > span.last;
            if !stands {
                pattern.claims.push(Claim {
                    place,
                    about: ClaimAbout::Outside { at: stroke.at, span },
                });
                return;
            }
        }
        if stroke.action == Action::Golpe {
            if stroke.fingers.is_empty() {
                stroke.fingers.clone_from(&self.golpe_fingers);
            } else {
                self.golpe_fingers.clone_from(&stroke.fingers);
            }
        }
        // A ligado stays on its string.
        if matches!(stroke.action, Action::PullOff | Action::HammerOn) && stroke.strings.is_empty() {
            stroke.strings.extend(self.string);
        }
        if let [string] = stroke.strings.as_slice() {
            self.string = Some(*string);
        }
        self.last = Some(stroke.at);
        self.set_cursor(stroke.at.whole());
        self.add(index, stroke, false, false);
    }

    /// A stroke joins the pattern; what is told twice is one stroke.
    pub fn add(&mut self, index: usize, stroke: Stroke, copied: bool, tentative: bool) {
        let sentence = self.sentence;
        self.taken += 1;
        let Some(pattern) = self.patterns.get_mut(index) else {
            return;
        };
        let same = pattern
            .strokes
            .iter_mut()
            .find(|placed| placed.stroke.at == stroke.at && agree(&placed.stroke, &stroke));
        if let Some(placed) = same {
            if copied && !placed.copied {
                merge(&mut placed.stroke, &stroke, false);
                return;
            }
            merge(&mut placed.stroke, &stroke, placed.copied);
            placed.copied &= copied;
            if placed.sentence != sentence && !copied {
                placed.sentence = sentence;
            }
            return;
        }
        if tentative && note_like(stroke.action) {
            let known = pattern.strokes.iter_mut().find(|placed| {
                placed.stroke.at == stroke.at
                    && note_like(placed.stroke.action)
                    && (placed.stroke.strings.is_empty()
                        || stroke.strings.is_empty()
                        || placed.stroke.strings == stroke.strings)
            });
            if let Some(placed) = known {
                merge(&mut placed.stroke, &stroke, placed.copied);
                return;
            }
        }
        if sounding(stroke.action) {
            let rival = pattern
                .strokes
                .iter()
                .position(|placed| placed.stroke.at == stroke.at && sounding(placed.stroke.action));
            if let Some(rival) = rival {
                let known = pattern
                    .strokes
                    .get(rival)
                    .is_some_and(|placed| !placed.copied && !placed.tentative);
                if known && (copied || tentative || stroke.fingers.is_empty()) {
                    self.passed_over |= !copied && (self.context.typed || !stroke.strings.is_empty());
                    return;
                }
                let both = known && stroke.action == Action::Pluck && !stroke.fingers.is_empty();
                if !both {
                    pattern.strokes.remove(rival);
                }
            }
            pattern
                .strokes
                .retain(|placed| !(placed.stroke.at == stroke.at && placed.stroke.action == Action::Rest));
        }
        let what = describe(&stroke);
        let place = stroke.place;
        let implied = stroke.implied.clone();
        if stroke.at.whole() > self.context.highest {
            Rc::make_mut(&mut self.context).highest = stroke.at.whole();
        }
        pattern.strokes.push(Placed {
            stroke,
            copied,
            tentative,
            sentence,
            since: sentence,
        });
        if !copied {
            self.note(what, place);
            if let Some(reading) = self.lesson.readings.last_mut() {
                reading.implied = implied;
            }
        }
    }

    /// Words that add to the stroke told last: its fingers, its note, how it is played. False when there is none.
    pub(super) fn details(&mut self, told: &Told) -> bool {
        let (sentence, last, cursor) = (self.sentence, self.last, self.cursor);
        let strings = self.string;
        let Some(building) = self.building() else { return false };
        let target = told.when.map_or(last, |_| last);
        let Some(at) = target.filter(|at| cursor == Some(at.whole())) else {
            return false;
        };
        let recent =
            building.strokes.iter_mut().rev().find(|placed| {
                placed.stroke.at == at && !placed.copied && sentence.saturating_sub(placed.sentence) <= 2
            });
        let Some(placed) = recent else { return false };
        let stroke = &mut placed.stroke;
        if stroke.action == Action::Rasgueado
            && stroke.fingers.len() < 5
            && (placed.sentence == sentence || stroke.fingers.is_empty())
        {
            for finger in &told.fingers {
                if !stroke.fingers.contains(finger) || told.fingers.len() > 2 {
                    stroke.fingers.push(*finger);
                }
            }
        } else if stroke.fingers.is_empty()
            && !matches!(
                stroke.action,
                Action::PullOff | Action::HammerOn | Action::Damp | Action::Rest
            )
            && told.fingers.len() == 1
        {
            stroke.fingers.clone_from(&told.fingers);
        }
        if stroke.action == Action::Golpe && !stroke.fingers.is_empty() && !told.fingers.is_empty() {
            let fingers = stroke.fingers.clone();
            self.golpe_fingers = fingers;
            return true;
        }
        let single = matches!(
            stroke.action,
            Action::Pluck | Action::Picado | Action::PullOff | Action::HammerOn
        );
        if single && stroke.note.is_none() && (!stroke.strings.is_empty() || stroke.fret.is_some()) {
            stroke.note = told.notes.first().copied().or(match &told.chord {
                Some(ChordSaid::Named(name)) if name.quality.is_empty() && told.when.is_none() => Some(name.root),
                _ => None,
            });
        }
        if single && stroke.strings.is_empty() {
            stroke.strings.clone_from(&told.strings);
            if stroke.strings.is_empty() && told.same_string {
                stroke.strings.extend(strings);
            }
        }
        if single && told.rest_stroke.is_some() {
            stroke.rest_stroke = told.rest_stroke;
        }
        true
    }
}

/// A single note, plucked or slurred.
pub(super) fn note_like(action: Action) -> bool {
    matches!(
        action,
        Action::Pluck | Action::Picado | Action::PullOff | Action::HammerOn
    )
}

pub(super) fn sounding(action: Action) -> bool {
    !matches!(action, Action::Golpe | Action::Rest)
}

/// Whether two tellings can be of one stroke.
pub(super) fn agree(a: &Stroke, b: &Stroke) -> bool {
    let note = |action: Action| matches!(action, Action::Pluck | Action::Picado);
    let strings = a.strings.is_empty() || b.strings.is_empty() || a.strings == b.strings;
    let fingers = a.fingers.is_empty() || b.fingers.is_empty() || a.fingers == b.fingers || !note(a.action);
    (a.action == b.action || note(a.action) && note(b.action)) && strings && fingers
}

/// The later telling adds what the earlier left open; over a copied stroke it decides.
pub(super) fn merge(known: &mut Stroke, told: &Stroke, known_copied: bool) {
    if (known.fingers.is_empty() || known_copied) && !told.fingers.is_empty() {
        known.fingers.clone_from(&told.fingers);
    }
    if known.strings.is_empty() || known_copied && !told.strings.is_empty() {
        known.strings.clone_from(&told.strings);
    }
    known.fret = known.fret.or(told.fret);
    known.note = known.note.or(told.note);
    known.left = known.left.or(told.left);
    known.rest_stroke = known.rest_stroke.or(told.rest_stroke);
    known.length = known.length.or(told.length);
}
