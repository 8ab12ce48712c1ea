//! Lists that stand under one another: `count 1 2 3`, `finger p i m`, `string 6 3 2`. Each opens with what it lists; the
//! items belong together in their order, or by the columns they stand in.

use num_rational::Ratio;

use super::clauses::{clauses, letter_finger, right_fingers};
use super::context::Context;
use super::lexicon::{Concept, Lexicon};
use super::moments::token;
use super::pitch_words::pitch_at;
use super::sayings::{among, sayings};
use super::solfa::bare_name;
use super::statement::Told;
use super::tokens::{Token, tokens};
use crate::music::chord::ChordName;
use crate::music::hand::{Fret, GuitarString};
use crate::music::pitch::NoteName;
use crate::music::position::Position;

/// Fewer items are no list.
const LEAST: usize = 3;

/// What a list lists.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Listed {
    Counts,
    /// Fingers, strokes, or both.
    Hand,
    Strings,
    Frets,
    /// Strings with their frets.
    Places,
    Notes,
    Chords,
}

/// One item with the column it stands in.
#[derive(Debug, Clone, PartialEq)]
pub struct Item {
    pub column: usize,
    pub tokens: Vec<Token>,
}

/// One list.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    pub what: Listed,
    pub items: Vec<Item>,
}

/// What a word in front of a list says that it lists.
fn listed(tokens: &[Token], at: usize) -> Option<Listed> {
    let here = token(tokens, at);
    let word = here.word.as_str();
    let lists = &sayings().lists;
    let what = if here.is(Concept::BeatWord) || among(&lists.counts, word) {
        Listed::Counts
    } else if here.is_any(&[Concept::FingerWord, Concept::RightHand]) || among(&lists.hand, word) {
        Listed::Hand
    } else if here.is(Concept::StringWord) {
        Listed::Strings
    } else if here.is(Concept::FretWord) {
        Listed::Frets
    } else if among(&lists.places, word) {
        Listed::Places
    } else if among(&lists.notes, word) {
        Listed::Notes
    } else if here.is_any(&[Concept::ChordWord, Concept::LeftHand]) {
        Listed::Chords
    } else {
        return None;
    };
    Some(what)
}

/// The list that a typed sentence holds: behind its first word, or behind a colon.
pub fn row(tokens: &[Token], text: &str, context: &Context) -> Option<Row> {
    let behind_colon = tokens.iter().position(|token| token.is_mark(':')).map(|at| at + 1);
    [Some(0), behind_colon].into_iter().flatten().find_map(|at| {
        let what = listed(tokens, at)?;
        let mut start = at + 1;
        while token(tokens, start).is_mark(':') || token(tokens, start).is_mark('=') {
            start += 1;
        }
        let row = Row {
            what,
            items: items(until_it_breaks(tokens.get(start..)?, what), text, what),
        };
        (row.items.len() >= LEAST && row.holds(context)).then_some(row)
    })
}

/// The lines from a byte of a typed cue on, where each of them is a list and one of them lists counts; with the byte behind.
pub fn block(text: &str, start: usize, context: &Context, lexicon: &Lexicon) -> Option<(Vec<Row>, usize)> {
    let lists = |line: &str| line.trim_start().starts_with(|letter: char| letter.is_alphabetic());
    let lines = text.get(start..)?.split_inclusive('\n');
    if lines.clone().take_while(|line| lists(line)).take(3).count() < 3 {
        return None;
    }
    let mut rows: Vec<Row> = Vec::new();
    let mut end = start;
    for line in lines {
        let bare = line.trim_end();
        let Some(row) = lists(bare)
            .then(|| row(&tokens(bare, context.language, lexicon), bare, context))
            .flatten()
        else {
            break;
        };
        rows.push(row);
        end += line.len();
    }
    let counted = rows.iter().filter(|row| row.what == Listed::Counts).count() == 1;
    (rows.len() >= 3 && counted).then_some((rows, end))
}

/// Behind "o sea" or a stop the list is over.
fn until_it_breaks(tokens: &[Token], what: Listed) -> &[Token] {
    let ends = |at: &usize| {
        let here = token(tokens, *at);
        let last = *at + 1 == tokens.len();
        let stop = here.is_mark('.') && what != Listed::Counts && !last;
        here.is(Concept::So) || here.is_mark(';') || stop
    };
    let end = (0..tokens.len()).find(ends).unwrap_or(tokens.len());
    tokens.get(..end).unwrap_or(tokens)
}

/// Items stand two blanks apart, or each is one word with what has grown to it.
fn items(tokens: &[Token], text: &str, what: Listed) -> Vec<Item> {
    let gap = |end: usize, start: usize| text.get(end..start).is_some_and(|between| between.len() >= 2);
    let columned = tokens
        .windows(2)
        .any(|pair| matches!(pair, [a, b] if gap(a.end, b.start)));
    let mut out: Vec<Item> = Vec::new();
    let mut end = None;
    for here in tokens {
        let parts = matches!(here.mark, Some(',' | '|')) || here.is_mark('.') && !columned;
        if parts || here.is_mark('/') && !here.joined {
            end = None;
            continue;
        }
        let together = match end {
            Some(end) if columned => !gap(end, here.start),
            // "mano: p ab, i arr": a finger and its stroke.
            Some(_) if what == Listed::Hand && here.is_any(&[Concept::Down, Concept::Up]) => out
                .last()
                .is_some_and(|item| matches!(item.tokens.as_slice(), [only] if letter_finger(&only.word).is_some())),
            Some(_) => here.joined || what == Listed::Notes && here.is_any(&[Concept::Flat, Concept::Sharp]),
            None => false,
        };
        match out.last_mut() {
            Some(item) if together => item.tokens.push(here.clone()),
            _ => out.push(Item {
                column: here.start,
                tokens: vec![here.clone()],
            }),
        }
        end = Some(here.end);
    }
    out
}

impl Item {
    /// A dash or a dot: nothing new here.
    pub fn is_blank(&self) -> bool {
        self.tokens
            .iter()
            .all(|token| matches!(token.mark, Some('-' | '.' | '–' | '—')))
    }
}

impl Row {
    /// Whether each item is of the kind that the list lists.
    fn holds(&self, context: &Context) -> bool {
        if self.what == Listed::Counts {
            return self.counts().is_some();
        }
        self.items.iter().all(|item| {
            item.is_blank()
                || match self.what {
                    Listed::Counts => false,
                    Listed::Hand => stroke(item, context).is_some(),
                    Listed::Strings => !strings(item).is_empty() || chord(item, context).is_some(),
                    Listed::Frets => fret(item).is_some(),
                    Listed::Places => place(item).is_some(),
                    Listed::Notes => note(item, context).is_some(),
                    Listed::Chords => chord(item, context).is_some(),
                }
        })
    }

    /// The moments of a list of counts: `1 & 2 &`, `4 . . 5 . .`, "1, 1y, 2".
    pub fn counts(&self) -> Option<Vec<Position>> {
        let mut out: Vec<Position> = Vec::new();
        let mut at = 0;
        while let Some(item) = self.items.get(at) {
            let count = item.tokens.first().and_then(|token| token.number);
            let Some(count) = count.filter(|count| (1..=24).contains(count)) else {
                let before = out.last().filter(|_| is_half(&item.tokens))?;
                out.push(Position::new(before.whole(), 1, 2));
                at += 1;
                continue;
            };
            let behind = item.tokens.get(1..).unwrap_or(&[]);
            let halved = !behind.is_empty();
            if halved && !is_half(behind) {
                return None;
            }
            out.push(Position::count(count).plus(Ratio::new(i64::from(halved), 2)));
            let dots = self
                .items
                .iter()
                .skip(at + 1)
                .take_while(|item| item.is_blank())
                .count();
            for nth in 1..=dots {
                let part = Ratio::new(i64::try_from(nth).ok()?, i64::try_from(dots).ok()? + 1);
                out.push(Position::count(count).plus(part));
            }
            at += 1 + dots;
        }
        Some(out)
    }

    /// The item under a count: in order where there are as many, else the one whose column is nearest.
    pub fn under(&self, counts: &Row, nth: usize) -> Option<&Item> {
        if self.items.len() == counts.items.len() {
            return self.items.get(nth);
        }
        self.items.iter().find(|item| {
            let distance = |count: &Item| count.column.abs_diff(item.column);
            let nearest = counts.items.iter().enumerate().min_by_key(|(_, count)| distance(count));
            nearest.is_some_and(|(at, _)| at == nth)
        })
    }
}

fn is_half(tokens: &[Token]) -> bool {
    let [sign] = tokens else { return false };
    sign.is_any(&[Concept::And, Concept::Half]) || matches!(sign.mark, Some('&' | '+' | '½'))
}

pub fn strings(item: &Item) -> Vec<GuitarString> {
    let other = item.tokens.iter().any(|token| {
        let sign = matches!(token.mark, Some('+' | '/' | '&')) || token.word == "s";
        token.number.is_none() && !sign
    });
    let numbers = item.tokens.iter().filter_map(|token| token.number);
    let strings: Vec<GuitarString> = numbers
        .filter(|number| (1..=6).contains(number))
        .filter_map(|number| u8::try_from(number).ok())
        .collect();
    if other { Vec::new() } else { strings }
}

pub fn fret(item: &Item) -> Option<Fret> {
    let [only] = item.tokens.as_slice() else { return None };
    let open = only.is(Concept::Open).then_some(0);
    open.or(only
        .number
        .and_then(|number| u8::try_from(number).ok())
        .filter(|fret| *fret <= 22))
}

/// `s3f2`, `3/2`, `③2`: a string and its fret.
pub fn place(item: &Item) -> Option<(GuitarString, Fret)> {
    let numbers: Vec<u8> = item
        .tokens
        .iter()
        .filter_map(|token| token.number.and_then(|number| u8::try_from(number).ok()))
        .collect();
    match numbers.as_slice() {
        [string, fret] if (1..=6).contains(string) && *fret <= 22 => Some((*string, *fret)),
        _ => None,
    }
}

pub fn note(item: &Item, context: &Context) -> Option<NoteName> {
    let word = pitch_at(&item.tokens, 0, context.language, context.typed);
    word.filter(|word| word.length == item.tokens.len())
        .map(|word| word.root)
        .or_else(|| {
            item.tokens
                .first()
                .filter(|_| item.tokens.len() == 1)
                .and_then(bare_name)
        })
}

pub fn chord(item: &Item, context: &Context) -> Option<ChordName> {
    let word = pitch_at(&item.tokens, 0, context.language, context.typed)?;
    let rest = item.tokens.get(word.length..)?;
    let named = rest.is_empty() || matches!(rest, [noun] if noun.is(Concept::ChordWord));
    named.then(|| word.chord())
}

/// What the hand does: a finger's letter, a stroke, or several joined by `+`. The left hand's items say nothing of the right.
pub fn stroke(item: &Item, context: &Context) -> Option<Told> {
    if item.tokens.iter().any(|token| token.is(Concept::LeftHand)) {
        return Some(Told::default());
    }
    let letters: Vec<&Token> = item.tokens.iter().filter(|token| !token.is_mark('+')).collect();
    let fingers: Option<Vec<_>> = letters
        .iter()
        .map(|token| letter_finger(&token.word).filter(|_| token.raw.len() == 1 && !is_sign(token, context)))
        .collect();
    if let Some(fingers) = fingers {
        return Some(Told {
            fingers,
            ..Told::default()
        });
    }
    if let Some((fingers, _, end)) =
        right_fingers(&item.tokens, 0, context).filter(|(.., end)| *end == item.tokens.len())
    {
        return (end > 0).then(|| Told {
            fingers,
            ..Told::default()
        });
    }
    let mut told = clauses(&item.tokens, context);
    let mut first = (!told.is_empty()).then(|| told.remove(0))?;
    for further in told {
        first.actions.extend(further.actions);
        first.fingers.extend(further.fingers);
        first.golpe |= further.golpe;
        first.golpe_fingers.extend(further.golpe_fingers);
    }
    (first.sounds() || !first.fingers.is_empty()).then_some(first)
}

fn is_sign(token: &Token, context: &Context) -> bool {
    context
        .aliases
        .iter()
        .any(|sign| sign.words.as_slice() == [token.raw.clone()])
}
