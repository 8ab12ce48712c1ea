//! Chord names, pitch names, moments and spans of counts, as they stand in a line.

use num_rational::Ratio;

use crate::music::chord::ChordName;
use crate::music::pattern::CountSpan;
use crate::music::pitch::{NoteName, SOLFA};
use crate::music::position::Position;
use crate::text::fold;

use super::parser::Parser;
use super::shorthand::Meaning;

/// More counts than any round has; a bigger number in front of a line is not a count.
const MOST_COUNTS: i64 = 400;

impl Parser<'_, '_> {
    /// `A`, `Bb`, `F#m7`, `A(b9)`: a capital and what belongs to it, up to a gap.
    pub fn chord_name(&mut self) -> Option<ChordName> {
        self.attempt(|line| {
            line.spaces();
            let rest = line.rest();
            if !begins_name(rest) {
                return None;
            }
            let bare = rest
                .find(|c: char| !(c.is_ascii_alphanumeric() || matches!(c, '#' | '♭' | '♯')))
                .unwrap_or(rest.len());
            let name = rest.get(..bare)?;
            let added = rest.get(bare..).map_or(0, added_notes);
            if added > 0
                && let Some(chord) = rest.get(..bare + added).and_then(ChordName::parse)
            {
                line.at += bare + added;
                return Some(chord);
            }
            let chord = ChordName::parse(name)?;
            line.at += bare;
            Some(chord)
        })
    }

    /// A chord name, or its Spanish name: `la menor`, `lam`, `do M`, `mi7`, `sol séptima`.
    pub fn any_chord_name(&mut self) -> Option<ChordName> {
        self.chord_name().or_else(|| self.attempt(Parser::solfa_chord))
    }

    fn solfa_chord(&mut self) -> Option<ChordName> {
        let mut root = self.solfa_prefix()?;
        let glued = self.next_is_alphanumeric();
        if !glued && let Some(alter) = self.alteration() {
            root.alter = alter;
        }
        let rest = self.rest();
        let spaces = rest.len() - rest.trim_start_matches(' ').len();
        let word = rest.get(spaces..)?;
        let length = word.find(|c: char| !c.is_alphanumeric()).unwrap_or(word.len());
        let word = word.get(..length)?;
        let quality = match word {
            "m" => Some("m"),
            "M" => Some(""),
            "7" => Some("7"),
            "m7" => Some("m7"),
            "maj7" => Some("maj7"),
            other => match fold(other).text.as_str() {
                "mayor" => Some(""),
                "menor" => Some("m"),
                "septima" => Some("7"),
                _ => None,
            },
        };
        if let Some(quality) = quality {
            self.at += spaces + length;
            return Some(ChordName::new(root, quality));
        }
        (!glued).then(|| ChordName::new(root, ""))
    }

    /// `C`, `Bb`, `G#`: a capital, up to a gap.
    pub fn note_name(&mut self) -> Option<NoteName> {
        self.attempt(|line| {
            line.spaces();
            let rest = line.rest();
            if !begins_name(rest) {
                return None;
            }
            let length = rest
                .find(|c: char| !(c.is_ascii_alphanumeric() || matches!(c, '#' | '♭' | '♯')))
                .unwrap_or(rest.len());
            let note = NoteName::parse(rest.get(..length)?)?;
            line.at += length;
            Some(note)
        })
    }

    /// A pitch name, or its sol-fa name: `sol#`, `si bemol`.
    pub fn any_note_name(&mut self) -> Option<NoteName> {
        self.note_name().or_else(|| {
            self.attempt(|line| {
                let mut note = line.solfa_prefix()?;
                if line.sign('#') {
                    note.alter = 1;
                } else if line.rest().starts_with('b') {
                    line.at += 1;
                    note.alter = -1;
                } else if let Some(alter) = line.alteration() {
                    note.alter = alter;
                }
                (!line.next_is_alphanumeric()).then_some(note)
            })
        })
    }

    fn solfa_prefix(&mut self) -> Option<NoteName> {
        self.spaces();
        let rest = self.rest();
        if !begins_solfa(rest) {
            return None;
        }
        let found = SOLFA.iter().find(|(name, _)| {
            rest.get(..name.len())
                .is_some_and(|start| start.eq_ignore_ascii_case(name))
        });
        let (name, letter) = found?;
        self.at += name.len();
        Some(NoteName::new(*letter, 0))
    }

    fn alteration(&mut self) -> Option<i8> {
        self.meaning_of(|meaning| match meaning {
            Meaning::Flat => Some(-1),
            Meaning::Sharp => Some(1),
            _ => None,
        })
    }

    /// A count: a number that no letter is glued to.
    pub fn count(&mut self) -> Option<i64> {
        self.attempt(|line| {
            let count = line.number()?;
            (count <= MOST_COUNTS && !line.next_is_alphanumeric()).then_some(count)
        })
    }

    /// A moment: `4`, `4&`, `4 y`, `4+1/2`, `4.5`, `8+`, or relative to the count at hand: `&`, `+1/3`.
    pub fn position(&mut self, count: Option<i64>) -> Option<Position> {
        self.attempt(|line| {
            let own = line.attempt(|line| {
                let count = line.number().filter(|count| *count <= MOST_COUNTS)?;
                let fraction = line.fraction(true);
                let glued = line.next_is_alphanumeric();
                (fraction.is_some() || !glued).then_some((count, fraction))
            });
            if let Some((count, fraction)) = own {
                return Some(Position::count(count).plus(fraction.unwrap_or_default()));
            }
            let fraction = line.fraction(false)?;
            let of = line.attempt(|line| {
                line.spaces();
                if !line.rest().starts_with(['o', 'd']) {
                    return None;
                }
                let word = line.plain_word()?;
                matches!(word, "of" | "del" | "de").then_some(())?;
                line.count()
            });
            of.or(count).map(|count| Position::count(count).plus(fraction))
        })
    }

    /// The part of a count written behind it (`after`), or standing for itself.
    fn fraction(&mut self, after: bool) -> Option<Ratio<i64>> {
        let half = Ratio::new(1, 2);
        self.attempt(|line| {
            if after && line.rest().starts_with(".5") {
                line.at += 2;
                return (!line.next_is_alphanumeric()).then_some(half);
            }
            // "8+ i up": the plus is glued to its count; "8 + golpe" is something else.
            let glued_plus = line.peek() == Some('+');
            line.spaces();
            if line.sign('½') {
                return Some(half);
            }
            if line.sign('&') {
                return Some(half);
            }
            if line.sign('+') {
                let over_under = line.attempt(|line| {
                    let over = line.number()?;
                    let slash = line.sign('/');
                    let under = line.digits().filter(|under| slash && over < *under)?;
                    Some(Ratio::new(over, under))
                });
                if over_under.is_some() {
                    return over_under;
                }
                let alone = !line.next_is_alphanumeric();
                return (alone && (glued_plus || !after)).then_some(half);
            }
            if !line.meaning(Meaning::And) {
                return None;
            }
            let goes_on = line.ahead().count().is_some();
            (!goes_on).then_some(half)
        })
    }

    /// `1-3`, `1 to 3`, `del 1 al 3`: two counts.
    pub fn span(&mut self) -> Option<CountSpan> {
        self.attempt(|line| {
            line.spaces();
            if line.rest().starts_with("del") {
                let _ = line.attempt(|line| (line.plain_word()? == "del").then_some(()));
            }
            let first = line.count()?;
            line.spaces();
            let dash = line.sign('-') || line.sign('–') || line.sign('—');
            if !dash {
                let word = line.plain_word()?;
                matches!(word, "to" | "a" | "al").then_some(())?;
            } else if line.peek() == Some('>') {
                return None;
            }
            let last = line.count()?;
            Some(CountSpan { first, last })
        })
    }

    /// A span, or one count as a span.
    pub fn span_or_count(&mut self) -> Option<CountSpan> {
        self.counts_named().map(|(span, _)| span)
    }

    /// The same, and whether it is a span.
    pub fn counts_named(&mut self) -> Option<(CountSpan, bool)> {
        if let Some(span) = self.span() {
            return Some((span, true));
        }
        let count = self.count()?;
        let span = CountSpan {
            first: count,
            last: count,
        };
        Some((span, false))
    }

    /// What stands between a count and what is played there: `:`, `->`, `→`, `=`; a comma after a span.
    pub fn lead_end(&mut self) -> bool {
        self.literal("->") || self.literal("→") || self.spaced_sign(':') || self.spaced_sign('=')
    }
}

/// Whether a chord's name can stand at the start of the text, by its first letter.
pub fn may_begin_chord(text: &str) -> bool {
    begins_name(text) || begins_solfa(text)
}

fn begins_solfa(text: &str) -> bool {
    let first = text.as_bytes().first().map(u8::to_ascii_lowercase);
    matches!(first, Some(b'd' | b'r' | b'm' | b'f' | b's' | b'l'))
}

/// A name of letters begins with a capital.
fn begins_name(text: &str) -> bool {
    matches!(text.as_bytes(), [b'A'..=b'G', ..])
}

/// The bytes of `(b9)`, `(add9)` at the start of the text; 0 when what stands there is no such thing.
fn added_notes(text: &str) -> usize {
    let Some(inner) = text.strip_prefix('(') else { return 0 };
    let Some(end) = inner.find(')') else { return 0 };
    let inner = inner.get(..end).unwrap_or("");
    let starts = inner.starts_with(|c: char| c.is_ascii_digit() || matches!(c, 'b' | '#'))
        || inner.starts_with("add")
        || inner.starts_with("sus")
        || inner.starts_with("no");
    let plain = inner
        .chars()
        .all(|c| c.is_ascii_alphanumeric() || matches!(c, '#' | ','));
    if starts && plain && inner.len() > 1 { end + 2 } else { 0 }
}
