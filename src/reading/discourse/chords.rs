use super::Discourse;
use crate::music::chord::{Chord, ChordName, ChordShape, Fingered};
use crate::music::left_hand::Change;
use crate::music::pattern::{Claim, ClaimAbout, CountSpan, Role};
use crate::music::position::Position;
use crate::reading::statement::StringSaid;
use crate::text::Place;

impl Discourse {
    /// The lesson uses this chord.
    pub fn use_chord(&mut self, name: &ChordName, place: Place) {
        if !self.lesson.chords.iter().any(|chord| chord.name == *name) {
            self.lesson.chords.push(Chord {
                name: name.clone(),
                shape: None,
                fingers: Vec::new(),
                place,
                shape_place: None,
                fingers_place: None,
                implied: None,
            });
        }
    }

    pub fn whole_shape(&mut self, name: ChordName, shape: ChordShape, fingers: Vec<Fingered>, place: Place) {
        self.note(format!("{name} is {shape}"), place);
        self.shape_given = Some((name.clone(), shape, self.sentence));
        self.use_chord(&name, place);
        let Some(chord) = self.lesson.chords.iter_mut().find(|chord| chord.name == name) else {
            return;
        };
        match chord.shape {
            None => {
                chord.shape = Some(shape);
                chord.shape_place = Some(place);
                if chord.fingers.is_empty() {
                    chord.fingers = fingers;
                }
            }
            Some(known) if known != shape => {
                let first_place = chord.shape_place.unwrap_or(chord.place);
                self.conflict(
                    "shape",
                    format!("{name} {known}"),
                    format!("{name} {shape}"),
                    first_place,
                    place,
                );
            }
            Some(_) => {}
        }
    }

    /// Some strings of a chord told aloud; the shape is whole when all six are known.
    pub fn shape_told(&mut self, chord: Option<ChordName>, frets: [StringSaid; 6], place: Place) {
        if let Some(chord) = chord
            && self.shape_chord.as_ref().is_none_or(|(known, _)| *known != chord)
        {
            self.close_shape(place);
            self.shape = [StringSaid::NotSaid; 6];
            self.shape_chord = Some((chord, place));
        }
        self.shape_sentence = self.sentence;
        // A chord may have been named long before its frets are told.
        let begins = self.shape.iter().all(|said| *said == StringSaid::NotSaid);
        if let Some((_, first)) = self
            .shape_chord
            .as_mut()
            .filter(|(_, first)| begins && first.line != place.line)
        {
            *first = place;
        }
        for (slot, said) in self.shape.iter_mut().zip(frets) {
            if *slot == StringSaid::NotSaid {
                *slot = said;
            }
        }
        let whole: Option<Vec<Option<u8>>> = self
            .shape
            .iter()
            .map(|said| match said {
                StringSaid::NotSaid => None,
                StringSaid::Muted => Some(None),
                StringSaid::Fret(fret) => Some(Some(*fret)),
            })
            .collect();
        let (Some((name, first)), Some(whole)) = (self.shape_chord.clone(), whole) else {
            return;
        };
        if let Ok(frets) = <[Option<u8>; 6]>::try_from(whole) {
            self.whole_shape(name, ChordShape { frets }, Vec::new(), first.to(place));
            self.shape_chord = None;
            self.shape = [StringSaid::NotSaid; 6];
        }
    }

    /// A chord told from the fifth or fourth string on: what lies below is not played.
    pub fn close_shape(&mut self, place: Place) {
        let told = self.shape.iter().filter(|said| **said != StringSaid::NotSaid).count();
        let below = self
            .shape
            .iter()
            .take_while(|said| **said == StringSaid::NotSaid)
            .count();
        let Some((name, first)) = self
            .shape_chord
            .clone()
            .filter(|_| told >= 4 && told + below == 6 && below > 0)
        else {
            return;
        };
        let mut frets = [None; 6];
        for (fret, said) in frets.iter_mut().zip(self.shape) {
            if let StringSaid::Fret(stopped) = said {
                *fret = Some(stopped);
            }
        }
        self.whole_shape(name, ChordShape { frets }, Vec::new(), first.to(place));
        self.shape_chord = None;
        self.shape = [StringSaid::NotSaid; 6];
    }

    /// Counts said to be under a chord.
    pub fn chord_over(&mut self, chord: ChordName, first: i64, last: i64, strokes_follow: bool, place: Place) {
        self.note(format!("{chord} over {first}-{last}"), place);
        self.use_chord(&chord, place);
        let claim = Claim {
            place,
            about: ClaimAbout::Covers {
                span: CountSpan { first, last },
                chord: Some(chord.clone()),
            },
        };
        if self.in_pattern() || strokes_follow {
            let index = self.pattern_for_stroke(place);
            let core = self
                .patterns
                .get(index)
                .is_some_and(|pattern| pattern.role == Role::Core);
            let inside = self
                .patterns
                .get(index)
                .and_then(|pattern| pattern.span)
                .is_none_or(|span| core || (span.first..=span.last).contains(&first));
            if inside {
                self.change(index, Position::count(first), &chord, place);
                if let Some(pattern) = self.patterns.get_mut(index) {
                    pattern.claims.push(claim);
                }
            }
            if strokes_follow {
                self.cursor = Some(first);
            }
        } else {
            self.chord_spans.push((chord, first, last, place));
        }
    }

    /// "Am for all of it": from the first count of the pattern being told.
    pub fn chord_throughout(&mut self, chord: &ChordName, place: Place) {
        let opens = self.lesson.meter.first.as_ref().map_or(1, |first| first.value);
        let index = self.pattern_for_stroke(place);
        let span = self.patterns.get(index).and_then(|pattern| pattern.span);
        let first = span.map_or(opens, |span| span.first);
        self.change(index, Position::count(first), chord, place);
    }

    /// A line announces the counts that it is about.
    pub fn covers(&mut self, span: CountSpan, chord: Option<&ChordName>, still: bool, place: Place) {
        if let Some(chord) = chord.filter(|_| !still) {
            self.chord_over(chord.clone(), span.first, span.last, self.in_pattern(), place);
            return;
        }
        let index = self.pattern_for_stroke(place);
        if let Some(pattern) = self.patterns.get_mut(index) {
            pattern.claims.push(Claim {
                place,
                about: ClaimAbout::Covers {
                    span,
                    chord: chord.cloned(),
                },
            });
        }
        self.cursor = Some(span.first);
    }

    /// A chord told on a line of the written form.
    pub fn take_change(&mut self, at: Position, chord: &ChordName, place: Place) {
        let index = self.pattern_for_stroke(place);
        let outside = self.patterns.get(index).is_some_and(|pattern| {
            pattern.role != Role::Core
                && pattern.span.is_some_and(|span| {
                    span.first <= span.last && (at.whole() < span.first || at.whole() > span.last && !pattern.runs_on)
                })
        });
        if !outside {
            self.change(index, at, chord, place);
        }
    }

    /// The left hand goes to a chord; nothing is recorded when it is there already.
    pub fn change(&mut self, index: usize, at: Position, chord: &ChordName, place: Place) {
        self.taken += 1;
        self.use_chord(chord, place);
        self.chord = Some(chord.clone());
        let Some(pattern) = self.patterns.get_mut(index) else {
            return;
        };
        let in_force = pattern
            .changes
            .iter()
            .filter(|change| change.at <= at)
            .max_by_key(|change| change.at);
        let opens = self
            .lesson
            .meter
            .first
            .as_ref()
            .is_some_and(|first| Position::count(first.value) == at && at.whole() != 1);
        if in_force.is_some_and(|change| change.chord == *chord && !(opens && change.at != at)) {
            return;
        }
        if let Some(change) = pattern.changes.iter_mut().find(|change| change.at == at) {
            change.chord = chord.clone();
            change.place = place;
        } else {
            pattern.changes.push(Change {
                at,
                chord: chord.clone(),
                place,
                implied: None,
            });
            pattern.changes.sort_by_key(|change| change.at);
        }
        self.note(format!("{at}: the chord is {chord}"), place);
    }
}
