//! Strokes under a row of counts: cells aligned by column, or by order when there are as many as the counts.
//!
//! ```text
//! chord   A           Bb
//! 1    &    2    &    3     &
//! D    U    D    U    D+G   -
//! i    i    i    i    i
//! ```

use num_rational::Ratio;

use crate::music::chord::ChordName;
use crate::music::hand::{Finger, Fret, GuitarString, LeftFinger};
use crate::music::pattern::CountSpan;
use crate::music::pitch::NoteName;
use crate::music::position::Position;
use crate::music::stroke::{Action, Stroke};
use crate::text::{ClockTime, Place, Span};

use super::cells::{Cell, Written, align, rows_of};
use super::item::{Covers, Item, LineContext, Spanned};
use super::parser::Parser;
use super::run::Run;
use super::shorthand::{Meaning, Row};

/// One slot of the count row, and what the rows put there.
#[derive(Debug, Clone)]
struct Slot {
    at: Position,
    span: Span,
    items: Vec<Item>,
    fingers: Vec<Finger>,
    little: Option<String>,
    /// The left hand alone makes the sound.
    left_alone: bool,
    strings: Vec<GuitarString>,
    fret: Option<Fret>,
    note: Option<NoteName>,
    left: Option<LeftFinger>,
    accent: bool,
    chord: Option<ChordName>,
    extras: Vec<Item>,
}

/// What a block of rows says; None when one cell of it cannot be placed or read.
pub fn block(text: &str, context: &LineContext) -> Option<Vec<Spanned<Item>>> {
    let (time, rows) = rows_of(text, context)?;
    let counts = rows.iter().position(|row| row.holds == Some(Row::Counts))?;
    let count_row = rows.get(counts)?;
    let slots = slots(&count_row.cells, context)?;
    let mut block = Block {
        context,
        slots,
        struck: false,
        others: false,
    };
    let columns: Vec<&Cell> = count_row.cells.iter().collect();
    // Strokes first: the fingers may then be counted off against the slots that are struck.
    let mut order: Vec<&Written> = rows.iter().filter(|row| row.holds != Some(Row::Counts)).collect();
    order.sort_by_key(|row| row.holds != Some(Row::Strokes));
    for row in order {
        block.row(row, &columns)?;
    }
    block.finish(time)
}

struct Block<'c> {
    context: &'c LineContext<'c>,
    slots: Vec<Slot>,
    /// A row of strokes was given.
    struck: bool,
    /// A row that tells more than chords was given.
    others: bool,
}

impl Block<'_> {
    fn row(&mut self, row: &Written, columns: &[&Cell]) -> Option<()> {
        let holds = row.holds?;
        self.struck |= holds == Row::Strokes;
        self.others |= holds != Row::Chords;
        let struck: Vec<usize> = (0..self.slots.len())
            .filter(|index| self.slots.get(*index).is_some_and(|slot| !slot.items.is_empty()))
            .collect();
        let placed = align(&row.cells, columns, &struck)?;
        for (slot, cell) in placed {
            let context = self.context;
            let slot = self.slots.get_mut(slot)?;
            if cell.is_gap() {
                continue;
            }
            slot.fill(holds, &cell, context)?;
        }
        Some(())
    }

    fn finish(self, time: Option<ClockTime>) -> Option<Vec<Spanned<Item>>> {
        let mut items = Vec::new();
        if !self.others {
            self.plan(&mut items)?;
        } else {
            let mut chord: Option<ChordName> = None;
            for slot in &self.slots {
                if let Some(now) = &slot.chord
                    && chord.as_ref() != Some(now)
                {
                    chord = Some(now.clone());
                    let change = crate::music::left_hand::Change {
                        at: slot.at,
                        chord: now.clone(),
                        place: Place::default(),
                        implied: None,
                    };
                    items.push(spanned(Item::Change(change), slot.span));
                }
                for item in slot.strokes(self.struck)? {
                    items.push(spanned(item, slot.span));
                }
            }
        }
        for item in &mut items {
            item.time = time;
        }
        (!items.is_empty()).then_some(items)
    }

    /// Counts with chords alone: which chord over which counts.
    fn plan(&self, items: &mut Vec<Spanned<Item>>) -> Option<()> {
        let mut covered: Vec<(CountSpan, ChordName, Span)> = Vec::new();
        for slot in &self.slots {
            let Some(chord) = &slot.chord else { continue };
            let count = slot.at.whole();
            match covered.last_mut() {
                Some((span, same, bytes)) if same == chord => {
                    span.last = count;
                    *bytes = bytes.to(slot.span);
                }
                _ => covered.push((
                    CountSpan {
                        first: count,
                        last: count,
                    },
                    chord.clone(),
                    slot.span,
                )),
            }
        }
        items.extend(covered.into_iter().map(|(span, chord, bytes)| {
            let covers = Covers {
                span,
                chord: Some(chord),
                still: false,
            };
            spanned(Item::Covers(covers), bytes)
        }));
        (!items.is_empty()).then_some(())
    }
}

fn spanned(value: Item, span: Span) -> Spanned<Item> {
    Spanned {
        value,
        span,
        time: None,
    }
}

/// The moments of the count row: signs after a count divide it evenly, `&` alone halves it.
fn slots(cells: &[Cell], context: &LineContext) -> Option<Vec<Slot>> {
    let mut moments: Vec<(Position, Span)> = Vec::new();
    let mut index = 0;
    while let Some(cell) = cells.get(index) {
        let signs: Vec<&Cell> = cells.iter().skip(index + 1).take_while(|cell| cell.is_part()).collect();
        if let Some(at) = cell.moment(context) {
            let parts = i64::try_from(signs.len()).ok()? + 1;
            let uneven = parts == 3 && signs.iter().any(|cell| cell.text == "&") && !is_long(at, context);
            let whole = *at.fraction().numer() == 0;
            if uneven || parts > 6 || (parts > 1 && !whole) {
                return None;
            }
            moments.push((at, cell.span));
            for (part, cell) in (1..parts).zip(&signs) {
                moments.push((at.plus(Ratio::new(part, parts)), cell.span));
            }
        } else {
            // A row that goes on with the "and" of the count before.
            let count = context
                .count
                .filter(|_| index == 0 && cell.is_half() && signs.is_empty())?;
            moments.push((Position::new(count, 1, 2), cell.span));
        }
        index += signs.len() + 1;
    }
    let rising = moments
        .windows(2)
        .filter(|pair| matches!(pair, [a, b] if a.0 >= b.0))
        .count();
    (moments.len() > 1 && rising <= 1).then(|| moments.into_iter().map(Slot::new).collect())
}

/// A count of three pulses, where counts are uneven: `3 & a` are its thirds.
fn is_long(at: Position, context: &LineContext) -> bool {
    let index = usize::try_from(at.whole() - 1).ok();
    index.and_then(|index| context.lengths.get(index)) == Some(&3)
}

impl Slot {
    fn new((at, span): (Position, Span)) -> Self {
        Self {
            at,
            span,
            items: Vec::new(),
            fingers: Vec::new(),
            little: None,
            left_alone: false,
            strings: Vec::new(),
            fret: None,
            note: None,
            left: None,
            accent: false,
            chord: None,
            extras: Vec::new(),
        }
    }

    /// Reads one cell of a row; None when the whole of it is no such thing.
    fn fill(&mut self, holds: Row, cell: &Cell, context: &LineContext) -> Option<()> {
        let at = self.at;
        let mut parser = Parser::new(&cell.text, context);
        // "A chord" may stand in any row.
        let chord = parser.attempt(|line| {
            let chord = line.chord_name()?;
            (line.meaning(Meaning::Chord) && line.at_end()).then_some(chord)
        });
        if let Some(chord) = chord {
            self.chord = Some(chord);
            self.span = self.span.to(cell.span);
            return Some(());
        }
        match holds {
            Row::Counts => return None,
            Row::Chords => self.chord = Some(parser.any_chord_name()?),
            Row::Fingers if parser.meaning(Meaning::LeftHand) => self.left_alone = true,
            Row::Fingers => (self.fingers, self.little) = parser.fingers()?,
            Row::Strokes => self.items = parser.row_content(at)?,
            Row::Extras => self.extras = parser.row_content(at)?,
            Row::Strings => self.strings = parser.bare_strings()?,
            Row::Frets => self.fret = Some(parser.bare_fret()?),
            Row::Notes => self.note = Some(parser.any_note_name()?),
            Row::LeftFingers => self.left = Some(parser.left_finger()?),
            Row::Accents => self.accent = parser.spaced_sign('>') || parser.meaning(Meaning::Accent),
        }
        self.span = self.span.to(cell.span);
        parser.at_end().then_some(())
    }

    /// The strokes of the slot; `struck` when a row of strokes was given, so that a slot without one is silent.
    fn strokes(&self, struck: bool) -> Option<Vec<Item>> {
        let mut items = self.items.clone();
        let told = !self.fingers.is_empty() || !self.strings.is_empty() || self.fret.is_some() || self.note.is_some();
        let main = items.iter().position(is_main).or((!items.is_empty()).then_some(0));
        let index = match main {
            Some(index) => index,
            None if told && !struck => {
                items.push(Item::Stroke(self.bare_stroke()));
                0
            }
            None => {
                items.extend(self.extras.iter().cloned());
                return (!told).then_some(items);
            }
        };
        if let Some(Item::Stroke(stroke)) = items.get_mut(index) {
            self.complete(stroke)?;
        }
        items.extend(self.extras.iter().cloned());
        Some(items)
    }

    /// A finger under a count and no word for what it does.
    fn bare_stroke(&self) -> Stroke {
        let mut stroke = Stroke::new(self.at, Action::Pluck, Place::default());
        if self.strings.is_empty() && self.fret.is_none() && self.note.is_none() {
            stroke.implied = Some("a finger under a count, no stroke named".to_owned());
        }
        stroke
    }

    fn complete(&self, stroke: &mut Stroke) -> Option<()> {
        if stroke.fingers.is_empty() {
            stroke.fingers.clone_from(&self.fingers);
            stroke.little_finger_as.clone_from(&self.little);
        } else if !self.fingers.is_empty() && stroke.fingers != self.fingers {
            return None;
        }
        if stroke.strings.is_empty() {
            stroke.strings.clone_from(&self.strings);
        }
        stroke.fret = stroke.fret.or(self.fret);
        stroke.note = stroke.note.or(self.note);
        stroke.left = stroke.left.or(self.left);
        stroke.accent |= self.accent;
        let slurred = matches!(stroke.action, Action::PullOff | Action::HammerOn);
        (!self.left_alone || slurred).then_some(())
    }
}

/// A stroke that fingers, strings and notes of its slot belong to; a golpe beside it has its own.
fn is_main(item: &Item) -> bool {
    matches!(item, Item::Stroke(stroke) if stroke.action != Action::Golpe)
}

impl Parser<'_, '_> {
    /// What one cell of a stroke row says: `dn`, `D`, `dn+G`, `rest`.
    fn row_content(&mut self, at: Position) -> Option<Vec<Item>> {
        let first = self.attempt(|line| {
            let down = line.sign('D');
            (down || line.sign('U')).then_some(())?;
            (!line.next_is_alphanumeric()).then_some(down)
        });
        if let Some(down) = first {
            let action = if down { Action::Down } else { Action::Up };
            let stroke = Stroke::new(at, action, Place::default());
            self.items.push(spanned(Item::Stroke(stroke), Span::default()));
            let accent = self.spaced_sign('>');
            if let Some(Item::Stroke(stroke)) = self.items.last_mut().map(|item| &mut item.value) {
                stroke.accent = accent;
            }
            if self.at_end() {
                return Some(self.take_items());
            }
            self.spaced_sign('+').then_some(())?;
            self.ahead().stroke(at)?;
        }
        let mut run = Run::new(at, None);
        self.content(&mut run, true)?;
        self.at_end().then(|| self.take_items())
    }

    fn take_items(&mut self) -> Vec<Item> {
        std::mem::take(&mut self.items)
            .into_iter()
            .map(|item| item.value)
            .collect()
    }

    /// `5`, `s5`, `3+2+1`, `321`.
    fn bare_strings(&mut self) -> Option<Vec<GuitarString>> {
        if let Some(strings) = self.strings() {
            return Some(strings);
        }
        let mut strings = Vec::new();
        self.spaces();
        while let Some(digit) = self.peek().and_then(|c| c.to_digit(10)) {
            strings.push(super::strings::string_number(i64::from(digit))?);
            self.at += 1;
            let _ = self.sign('+');
        }
        (!strings.is_empty()).then_some(strings)
    }

    /// `3`, `f3`, `open`.
    fn bare_fret(&mut self) -> Option<Fret> {
        self.fret().or_else(|| {
            let fret = self.number().filter(|fret| *fret <= 24)?;
            Fret::try_from(fret).ok()
        })
    }
}
