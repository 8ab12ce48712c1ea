/// The first and last byte asked for in a file of a certain length (RFC 9110, section 14): what a player needs to jump.
///
/// None: the whole file (no range, several, or one not understood). An error: nothing of the file lies in it.
pub(super) fn asked_range(range: Option<&str>, length: u64) -> Result<Option<(u64, u64)>, OutOfRange> {
    let Some((first, last)) = range.and_then(|range| range.trim().strip_prefix("bytes=")?.split_once('-')) else {
        return Ok(None);
    };
    let number = |text: &str| text.trim().parse::<u64>().ok();
    let asked = match (number(first), number(last)) {
        (Some(first), Some(last)) if first <= last => (first, last.min(length.saturating_sub(1))),
        (Some(first), None) if last.trim().is_empty() => (first, length.saturating_sub(1)),
        (None, Some(count)) if first.trim().is_empty() && count > 0 => {
            (length.saturating_sub(count), length.saturating_sub(1))
        }
        _ => return Ok(None),
    };
    if asked.0 < length {
        Ok(Some(asked))
    } else {
        Err(OutOfRange)
    }
}

/// Answered with 416.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct OutOfRange;

#[cfg(test)]
mod tests {
    use super::{OutOfRange, asked_range};

    #[test]
    fn ranges_as_players_ask_for_them() {
        for (range, expected) in [
            ("bytes=0-", Ok(Some((0, 99)))),
            ("bytes=10-19", Ok(Some((10, 19)))),
            ("bytes=90-200", Ok(Some((90, 99)))),
            ("bytes=-10", Ok(Some((90, 99)))),
            ("bytes=-500", Ok(Some((0, 99)))),
            ("bytes=100-", Err(OutOfRange)),
            ("bytes=20-10", Ok(None)),
            ("bytes=0-1,5-6", Ok(None)),
            ("lines=1-2", Ok(None)),
            ("bytes=-", Ok(None)),
        ] {
            assert_eq!(asked_range(Some(range), 100), expected, "{range}");
        }
        assert_eq!(asked_range(None, 100), Ok(None));
        assert_eq!(asked_range(Some("bytes=0-"), 0), Err(OutOfRange));
    }
}
