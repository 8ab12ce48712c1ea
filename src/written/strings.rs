//! Strings and frets as written: `s5 f3`, `5ª al aire`, `cuarta, traste 2`, `s3-1`.

use crate::music::hand::{Finger, Fret, GuitarString};

use super::parser::Parser;
use super::shorthand::{Meaning, ordinal};

/// The highest fret that a line may name.
pub const LAST_FRET: i64 = 24;

impl Parser<'_, '_> {
    pub fn strings(&mut self) -> Option<Vec<GuitarString>> {
        self.attempt(|line| {
            let mut strings = line.string_group()?;
            loop {
                let more = line.attempt(|line| {
                    let _ = line.sign('+') || line.meaning(Meaning::And);
                    line.string_group()
                });
                match more {
                    Some(more) => strings.extend(more),
                    None => break,
                }
            }
            Some(strings)
        })
    }

    fn string_group(&mut self) -> Option<Vec<GuitarString>> {
        self.attempt(|line| {
            // "5ª", "5a cuerda", "5th string"
            let ordinal = line.attempt(|line| {
                let number = line.number()?;
                let sign = line.sign('ª') || line.sign('º');
                let word = !sign && line.ordinal_letters();
                let named = line.meaning(Meaning::String);
                (sign && (named || !line.stroke_follows()) || (word && named)).then_some(number)
            });
            if let Some(number) = ordinal.or_else(|| line.named_string()) {
                return string_number(number).map(|string| vec![string]);
            }
            if !line.meaning(Meaning::String) {
                return None;
            }
            line.spaces();
            let rest = line.rest();
            let digits = rest.bytes().take_while(u8::is_ascii_digit).count();
            let written = rest.get(..digits)?;
            // "s321" names three strings.
            let mut strings: Vec<GuitarString> = Vec::new();
            for digit in written.chars() {
                strings.push(string_number(i64::from(digit.to_digit(10)?))?);
            }
            line.at += digits;
            let &[first] = strings.as_slice() else {
                return (!strings.is_empty() && !line.next_is_alphanumeric()).then_some(strings);
            };
            let last = line.attempt(|line| {
                let dash = line.sign('-');
                line.digits().filter(|_| dash).and_then(string_number)
            });
            match last {
                Some(last) if last < first => Some((last..=first).rev().collect()),
                Some(last) => Some((first..=last).collect()),
                None => (!line.next_is_alphanumeric() || line.rest().starts_with('f')).then_some(strings),
            }
        })
    }

    /// "cuarta al aire", "fifth string", "segunda, traste 3".
    fn named_string(&mut self) -> Option<i64> {
        self.attempt(|line| {
            let number = ordinal(line.plain_word()?)?;
            let named = line.meaning(Meaning::String);
            let mut ahead = line.ahead();
            let _ = ahead.spaced_sign(',');
            (named || ahead.fret().is_some()).then_some(number)
        })
    }

    /// `2ª i arr`: in front of a finger or a stroke the number is that of a part of the count.
    fn stroke_follows(&self) -> bool {
        let mut ahead = self.ahead();
        ahead.spaces();
        let mut letters = ahead.rest().chars();
        let first = letters.next();
        let alone = !letters.next().is_some_and(char::is_alphabetic);
        let finger = Finger::ALL.into_iter().any(|finger| first == Some(finger.letter()));
        finger && alone
            || matches!(
                ahead.look().map(|(meaning, _)| meaning),
                Some(
                    Meaning::Down
                        | Meaning::Up
                        | Meaning::Golpe
                        | Meaning::Rasgueado
                        | Meaning::PullOff
                        | Meaning::HammerOn
                )
            )
    }

    fn ordinal_letters(&mut self) -> bool {
        ["a", "st", "nd", "rd", "th"].iter().any(|ending| {
            self.attempt(|line| {
                line.rest().starts_with(ending).then_some(())?;
                line.at += ending.len();
                (!line.next_is_alphanumeric()).then_some(())
            })
            .is_some()
        })
    }

    pub fn fret(&mut self) -> Option<Fret> {
        self.attempt(|line| {
            if line.meaning(Meaning::Open) {
                return Some(0);
            }
            line.meaning(Meaning::Fret).then_some(())?;
            let fret = line.number().filter(|fret| *fret <= LAST_FRET)?;
            (!line.next_is_alphanumeric()).then(|| Fret::try_from(fret).ok())?
        })
    }
}

pub fn string_number(number: i64) -> Option<GuitarString> {
    (1..=6)
        .contains(&number)
        .then(|| GuitarString::try_from(number).ok())
        .flatten()
}
