//! Lengths of time as note values: dots, ties, and so many in the time of so many. Times here are quarter notes.

use num_rational::Ratio;

/// Time in quarter notes from the start of a bar.
pub(super) type Quarters = Ratio<i64>;

/// A stretch of time that one note value can fill.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Value {
    pub from: Quarters,
    pub to: Quarters,
    /// `quarter`, `eighth`, …; None where no note value is as short.
    pub name: Option<&'static str>,
    pub dots: usize,
    /// So many in the time of so many, where it is not as written.
    pub tuplet: Option<(i64, i64)>,
}

const NAMES: [&str; 9] = [
    "whole", "half", "quarter", "eighth", "16th", "32nd", "64th", "128th", "256th",
];

/// The note values, tied one to the next, that fill a stretch. `pulse` is the length that tuplets divide.
pub(super) fn values(from: Quarters, to: Quarters, pulse: Quarters) -> Vec<Value> {
    if is_dyadic(from) && is_dyadic(to) {
        return plain(from, to, None);
    }
    let mut values = Vec::new();
    let mut at = from;
    while at < to {
        let next = ((at / pulse).floor() + 1) * pulse;
        let end = if is_dyadic(at) && is_dyadic(to.min(next)) && next <= to {
            // Whole pulses in the middle need no tuplet.
            (to / pulse).floor() * pulse
        } else {
            next.min(to)
        };
        let odd = odd_part((end - at).denom().to_owned());
        if odd == 1 {
            values.extend(plain(at, end, None));
        } else {
            values.extend(plain(at, end, Some((odd, largest_power(odd)))));
        }
        at = end;
    }
    values
}

fn plain(from: Quarters, to: Quarters, tuplet: Option<(i64, i64)>) -> Vec<Value> {
    let factor = tuplet.map_or(Ratio::from_integer(1), |(actual, normal)| Ratio::new(actual, normal));
    let mut values = Vec::new();
    let mut at = from;
    while at < to {
        let left = (to - at) * factor;
        let fits = |(_, _, length): &(&str, usize, Quarters)| *length <= left;
        let Some((name, dots, length)) = written().find(fits) else {
            values.push(Value {
                from: at,
                to,
                name: None,
                dots: 0,
                tuplet: None,
            });
            break;
        };
        values.push(Value {
            from: at,
            to: at + length / factor,
            name: Some(name),
            dots,
            tuplet,
        });
        at += length / factor;
    }
    values
}

/// Note values from the longest, dotted before plain.
fn written() -> impl Iterator<Item = (&'static str, usize, Quarters)> {
    NAMES.into_iter().zip(0..).flat_map(|(name, step)| {
        let length = Ratio::new(4, 1 << step);
        [(name, 1, length * Ratio::new(3, 2)), (name, 0, length)]
    })
}

fn is_dyadic(at: Quarters) -> bool {
    odd_part(*at.denom()) == 1
}

fn odd_part(number: i64) -> i64 {
    number >> number.trailing_zeros()
}

/// The largest power of two that is not more.
fn largest_power(number: i64) -> i64 {
    1 << number.max(1).ilog2()
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn told(from: (i64, i64), to: (i64, i64)) -> String {
        let quarter = Ratio::from_integer(1);
        let words = values(Ratio::new(from.0, from.1), Ratio::new(to.0, to.1), quarter)
            .iter()
            .map(|value| {
                let dots = ".".repeat(value.dots);
                let of = value.tuplet.map_or(String::new(), |(a, n)| format!(" {a}:{n}"));
                format!("{}{dots}{of}", value.name.unwrap_or("?"))
            })
            .collect::<Vec<_>>();
        words.join(" + ")
    }

    #[test]
    fn lengths_as_a_musician_writes_them() {
        let table = [
            ((0, 1), (1, 1), "quarter"),
            ((0, 1), (3, 1), "half."),
            ((2, 1), (7, 1), "whole + quarter"),
            ((1, 2), (5, 4), "eighth."),
            ((0, 1), (1, 3), "eighth 3:2"),
            ((1, 3), (1, 1), "quarter 3:2"),
            ((2, 3), (4, 3), "eighth 3:2 + eighth 3:2"),
            ((2, 3), (3, 1), "eighth 3:2 + half"),
            ((0, 1), (1, 5), "16th 5:4"),
            ((3, 7), (4, 7), "16th 7:4"),
            ((0, 1), (12, 1), "whole. + whole."),
        ];
        for (from, to, expected) in table {
            assert_eq!(told(from, to), expected, "{from:?} to {to:?}");
        }
    }

    proptest! {
        #[test]
        fn values_fill_the_stretch_and_add_up(over in 0i64..200, more in 1i64..200, under in 1i64..13) {
            let (from, to) = (Ratio::new(over, under), Ratio::new(over + more, under));
            let values = values(from, to, Ratio::new(1, 2));
            let mut at = from;
            for value in &values {
                prop_assert_eq!(value.from, at);
                prop_assert!(value.to > at);
                if let Some(name) = value.name {
                    let step = NAMES.iter().position(|known| *known == name).unwrap();
                    let plain = Ratio::new(4, 1 << step) * Ratio::new((2 << value.dots) - 1, 1 << value.dots);
                    let (actual, normal) = value.tuplet.unwrap_or((1, 1));
                    prop_assert_eq!(value.to - value.from, plain * Ratio::new(normal, actual));
                }
                at = value.to;
            }
            prop_assert_eq!(at, to);
        }
    }
}
