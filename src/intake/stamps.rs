use std::sync::LazyLock;

use regex::Regex;

use super::lines::Line;
use crate::text::ClockTime;

/// How the times of a file are written. One file, one way.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum StampStyle {
    /// `[2:41] ...`
    Square,
    /// `(2:41) ...`, when no line has square ones.
    Round,
    /// `2:41 ...`, when every line (or the line above it) has one.
    Bare,
    None,
}

/// A time at the start of a line.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Stamp {
    pub(super) time: Option<ClockTime>,
    pub(super) until: Option<ClockTime>,
    /// Bytes of the line up to the end of the stamp, white space before it included.
    pub(super) length: usize,
}

const TIME: &str = r"(\d+(?::\d{2,})+(?:[.,]\d{1,3})?)";
const RANGE: &str = r"(?:\s*(?:-->|-|–|—|→)\s*";

/// `[2:41]`, `[1:02:41.5]`, `[2:41 - 2:50]`; not `[3:2]`, which a musician writes for three against two.
static SQUARE: LazyLock<Option<Regex>> =
    LazyLock::new(|| Regex::new(&format!(r"^\s*\[\s*{TIME}{RANGE}{TIME})?\s*\]")).ok());
/// `(2:41)`.
static ROUND: LazyLock<Option<Regex>> =
    LazyLock::new(|| Regex::new(&format!(r"^\s*\(\s*{TIME}{RANGE}{TIME})?\s*\)")).ok());
/// `2:41 text`, `2:41` alone, `2:41 - text`.
static BARE: LazyLock<Option<Regex>> = LazyLock::new(|| Regex::new(&format!(r"^\s*{TIME}(?:\s+[-–—]+)?(?:\s|$)")).ok());
/// `[2:41]` anywhere.
static INSIDE: LazyLock<Option<Regex>> = LazyLock::new(|| Regex::new(&format!(r"\[\s*{TIME}\s*\]")).ok());

/// Which way of writing times a file keeps to.
pub(super) fn stamp_style(lines: &[Line<'_>]) -> StampStyle {
    let has = |style| lines.iter().any(|line| read_stamp(line.text, style).is_some());
    if has(StampStyle::Square) {
        StampStyle::Square
    } else if has(StampStyle::Round) {
        StampStyle::Round
    } else if all_bare(lines) {
        StampStyle::Bare
    } else {
        StampStyle::None
    }
}

/// Every line has its time in front, or stands below a line that is only a time.
fn all_bare(lines: &[Line<'_>]) -> bool {
    let mut stamps = 0;
    let mut below_a_time = false;
    for line in lines.iter().filter(|line| !line.is_blank()) {
        match read_stamp(line.text, StampStyle::Bare) {
            Some(stamp) => {
                stamps += 1;
                below_a_time = line.text.get(stamp.length..).is_some_and(|rest| rest.trim().is_empty());
            }
            None if below_a_time => {}
            None => return false,
        }
    }
    stamps >= 2
}

/// The time at the start of a line. A stamp with no `time` looks like one and is none: `[2:75]`.
pub(super) fn read_stamp(text: &str, style: StampStyle) -> Option<Stamp> {
    let pattern = match style {
        StampStyle::Square => SQUARE.as_ref()?,
        StampStyle::Round => ROUND.as_ref()?,
        StampStyle::Bare => BARE.as_ref()?,
        StampStyle::None => return None,
    };
    let found = pattern.captures(text)?;
    let time = found.get(1).and_then(|time| ClockTime::parse(time.as_str()));
    if time.is_none() && style == StampStyle::Bare {
        return None;
    }
    Some(Stamp {
        time,
        until: found.get(2).and_then(|until| ClockTime::parse(until.as_str())),
        length: found.get(0)?.end(),
    })
}

/// Times in the middle of a transcript's line: where they stand, and the moments.
pub(super) fn stamps_inside(text: &str) -> Vec<(std::ops::Range<usize>, ClockTime)> {
    let Some(pattern) = INSIDE.as_ref() else {
        return Vec::new();
    };
    let found = pattern.captures_iter(text);
    found
        .filter_map(|found| Some((found.get(0)?.range(), ClockTime::parse(found.get(1)?.as_str())?)))
        .collect()
}

#[cfg(test)]
mod tests {
    use super::{StampStyle, read_stamp, stamp_style};
    use crate::intake::lines::lines;

    #[test]
    fn times_at_the_start_of_a_line() {
        for (text, style, seconds) in [
            ("[2:41] one", StampStyle::Square, Some(161)),
            ("  [1:02:41.5]one", StampStyle::Square, Some(3761)),
            ("[2:41 - 2:50] one", StampStyle::Square, Some(161)),
            ("(0:07) one", StampStyle::Round, Some(7)),
            ("0:07 - one", StampStyle::Bare, Some(7)),
            ("0:07", StampStyle::Bare, Some(7)),
        ] {
            let stamp = read_stamp(text, style).unwrap_or_else(|| panic!("{text}"));
            assert_eq!(stamp.time.map(|time| time.seconds()), seconds, "{text}");
        }
        assert_eq!(read_stamp("[3:2] i m a", StampStyle::Square), None);
        assert_eq!(
            read_stamp("[2:75] late", StampStyle::Square).map(|stamp| stamp.time),
            Some(None)
        );
        assert_eq!(read_stamp("1: i dn", StampStyle::Bare), None);
    }

    #[test]
    fn a_file_keeps_to_one_way() {
        for (text, style) in [
            ("[0:01] a\n(0:02) b", StampStyle::Square),
            ("(0:01) a\nb", StampStyle::Round),
            ("0:01 a\n0:02 b\n\n0:03 c", StampStyle::Bare),
            ("0:01\nhello\n0:04\nso", StampStyle::Bare),
            ("0:01 a\nno time here\n0:03 c", StampStyle::None),
            ("1: i dn\n2: i up", StampStyle::None),
        ] {
            assert_eq!(stamp_style(&lines(text)), style, "{text}");
        }
    }
}
