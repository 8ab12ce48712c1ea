//! Chord shapes, plans of chords over the counts, and the writer's own words: `A = x02220`, `A 1-2, Bb 3-6`, `gp = golpe w/ a`.

use crate::music::chord::{Chord, ChordName, ChordShape, Fingered};
use crate::music::hand::GuitarString;
use crate::text::Place;

use super::item::{Covers, Item, OwnWord};
use super::parser::Parser;
use super::shorthand::Meaning;

impl Parser<'_, '_> {
    /// One or more shapes: `A = x02220, Bb = x13331`; `A: x02220 (LH 2 3 4)`; `Bb = ?`.
    pub fn shapes(&mut self) -> Option<()> {
        loop {
            self.shape()?;
            if self.line_is_done() {
                return Some(());
            }
            let apart = [',', ';', '.', '/'].into_iter().any(|sign| self.spaced_sign(sign));
            apart.then_some(())?;
        }
    }

    fn shape(&mut self) -> Option<()> {
        self.attempt(|line| {
            line.spaces();
            let start = line.at;
            let name = line.any_chord_name()?;
            let _ = line.meaning(Meaning::Chord);
            let led = line.lead_end();
            let shape = if led && line.spaced_sign('?') {
                None
            } else {
                Some(line.frets()?)
            };
            let fingers = match shape {
                Some(shape) => line.attempt(|line| line.shape_fingers(Some(shape))),
                None => line.attempt(|line| line.shape_fingers(None)),
            };
            let implied = line.mark();
            let chord = Chord {
                name,
                shape,
                fingers: fingers.unwrap_or_default(),
                place: Place::default(),
                shape_place: None,
                fingers_place: None,
                implied,
            };
            line.push(start, Item::Chord(chord));
            Some(())
        })
    }

    /// `x02220`, `x 0 2 2 2 0`, `x-10-12-12-11-10`.
    pub fn frets(&mut self) -> Option<ChordShape> {
        self.attempt(|line| {
            line.spaces();
            let rest = line.rest();
            let length = rest
                .find(|c: char| !(c.is_ascii_alphanumeric() || matches!(c, '-' | '.')))
                .unwrap_or(rest.len());
            let written = rest.get(..length)?.trim_end_matches('.');
            if let Some(shape) = ChordShape::parse(written) {
                line.at += written.len();
                return Some(shape);
            }
            let mut frets = [None; 6];
            for fret in &mut frets {
                line.spaces();
                if line.sign('x') || line.sign('X') {
                    *fret = None;
                } else {
                    *fret = Some(
                        line.digits()
                            .filter(|fret| *fret <= 24)
                            .and_then(|fret| u8::try_from(fret).ok())?,
                    );
                }
                if line.next_is_alphanumeric() {
                    return None;
                }
            }
            Some(ChordShape { frets })
        })
    }

    /// `(LH2 s4 f2, LH3 s3 f2)`, `(LH1 s5-1 f1)` for a barre, `(LH 2 3 4)` in the order of the stopped strings,
    /// `: LH 2 on s4 f2, 3 on s3 f2`, `: 2 en c4 t2`.
    fn shape_fingers(&mut self, shape: Option<ChordShape>) -> Option<Vec<Fingered>> {
        let bracket = self.spaced_sign('(');
        if !bracket {
            (self.spaced_sign(':') || self.spaced_sign(',')).then_some(())?;
        }
        let fingers = if self.meaning(Meaning::LeftHand) {
            self.attempt(|line| line.placed_fingers(false))
                .or_else(|| self.attempt(|line| line.fingers_in_order(shape?)))?
        } else {
            self.attempt(|line| line.placed_fingers(true))?
        };
        if bracket {
            self.spaced_sign(')').then_some(())?;
        }
        Some(fingers)
    }

    /// `2 on s4 f2, 3 on s3 f2`; where nothing says that these are fingers of the left hand, the "on" does.
    fn placed_fingers(&mut self, asks_on: bool) -> Option<Vec<Fingered>> {
        let mut fingers = Vec::new();
        loop {
            let _ = !fingers.is_empty() && self.meaning(Meaning::LeftHand);
            let finger = self.left_finger()?;
            (self.meaning(Meaning::On) || !asks_on).then_some(())?;
            let strings = self.strings()?;
            let fret = self.fret()?;
            let (first, last) = (*strings.first()?, *strings.last()?);
            fingers.push(Fingered {
                finger,
                string: first,
                fret,
                to_string: last,
            });
            let more = self.attempt(|line| {
                line.spaced_sign(',').then_some(())?;
                let mut here = line.ahead();
                let _ = here.meaning(Meaning::LeftHand);
                here.left_finger().map(|_| ())
            });
            if more.is_none() {
                return Some(fingers);
            }
        }
    }

    /// Fingers named in a row stand on the stopped strings from 6 to 1, when there are as many of them.
    fn fingers_in_order(&mut self, shape: ChordShape) -> Option<Vec<Fingered>> {
        let mut fingers = Vec::new();
        while let Some(finger) = self.left_finger() {
            fingers.push(finger);
            let _ = self.spaced_sign(',');
        }
        let stopped: Vec<(GuitarString, u8)> = (1..=6)
            .rev()
            .filter_map(|string| shape.fret(string).filter(|fret| *fret > 0).map(|fret| (string, fret)))
            .collect();
        let as_many = !fingers.is_empty() && fingers.len() == stopped.len();
        as_many.then(|| {
            let pairs = fingers.into_iter().zip(stopped);
            let placed = pairs.map(|(finger, (string, fret))| Fingered {
                finger,
                string,
                fret,
                to_string: string,
            });
            placed.collect()
        })
    }

    /// `A 1-2, Bb 3-6, A 7`; `1-2 D, 3-4 A7, 8 D`; `Am en 1-2, E7 en 3-4`: which chord over which counts.
    pub fn plan(&mut self) -> Option<()> {
        let mut spans = 0;
        loop {
            self.spaces();
            let start = self.at;
            let (covers, is_span) = self
                .attempt(Parser::chord_then_counts)
                .or_else(|| self.attempt(Parser::counts_then_chord))?;
            self.push(start, Item::Covers(covers));
            spans += usize::from(is_span);
            if self.line_is_done() {
                return (spans > 0).then_some(());
            }
            let apart = [',', ';', '/'].into_iter().any(|sign| self.spaced_sign(sign));
            (apart || self.literal("->") || self.literal("→")).then_some(())?;
        }
    }

    fn chord_then_counts(&mut self) -> Option<(Covers, bool)> {
        let chord = self.any_chord_name()?;
        let _ = self.lead_end() || self.meaning(Meaning::On) || self.meaning(Meaning::For);
        self.covers(chord)
    }

    fn counts_then_chord(&mut self) -> Option<(Covers, bool)> {
        let (span, is_span) = self.counts_named()?;
        let _ = self.lead_end();
        let (chord, still) = self.chord_word()?;
        let covers = Covers {
            span,
            chord: Some(chord),
            still,
        };
        Some((covers, is_span))
    }

    fn covers(&mut self, chord: ChordName) -> Option<(Covers, bool)> {
        let (span, is_span) = self.counts_named()?;
        let covers = Covers {
            span,
            chord: Some(chord),
            still: false,
        };
        Some((covers, is_span))
    }

    /// `gp = golpe w/ a`, `G! = golpe (a)`, `ab = abajo, arr = arriba`.
    pub fn definitions(&mut self) -> Option<()> {
        loop {
            self.spaces();
            let start = self.at;
            let rest = self.rest();
            let end = rest.find(" =").or_else(|| rest.find('='))?;
            let word = rest.get(..end)?.trim();
            let short = !word.is_empty() && word.chars().count() <= 6 && !word.contains([' ', ',', '"', '.']);
            short.then_some(())?;
            self.at += end;
            self.spaced_sign('=').then_some(())?;
            let meaning = self.meaning_of(|meaning| {
                let worth = meaning.action().is_some() || meaning == Meaning::And || meaning.finger().is_some();
                worth.then_some(meaning)
            })?;
            let _ = self.spaced_sign(',');
            let bracket = self.spaced_sign('(');
            let _ = self.meaning(Meaning::With);
            let fingers = self.fingers().map(|(fingers, _)| fingers).unwrap_or_default();
            if bracket {
                (!fingers.is_empty() && self.spaced_sign(')')).then_some(())?;
            }
            let defined = OwnWord {
                word: word.to_owned(),
                meaning,
                fingers,
                strings: Vec::new(),
            };
            self.push(start, Item::Defines(defined));
            if self.line_is_done() {
                return Some(());
            }
            let apart = [',', ';', '.'].into_iter().any(|sign| self.spaced_sign(sign));
            let _ = apart;
        }
    }
}
