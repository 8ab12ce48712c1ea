use std::fmt;

use serde::{Deserialize, Serialize};

/// A moment in the recording, in whole milliseconds from its start.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default, Serialize, Deserialize)]
#[serde(transparent)]
pub struct ClockTime {
    pub milliseconds: u64,
}

impl ClockTime {
    pub fn from_milliseconds(milliseconds: u64) -> Self {
        Self { milliseconds }
    }

    pub fn from_seconds(seconds: u64) -> Self {
        Self::from_milliseconds(seconds.saturating_mul(1000))
    }

    /// Reads `m:ss`, `h:mm:ss`, either with a fraction after `.` or `,`. None when it is not a time.
    pub fn parse(text: &str) -> Option<Self> {
        let (whole, fraction) = match text.split_once(['.', ',']) {
            Some((whole, fraction)) => (whole, fraction),
            None => (text, ""),
        };
        let mut seconds: u64 = 0;
        let parts: Vec<&str> = whole.split(':').collect();
        if !(2..=3).contains(&parts.len()) {
            return None;
        }
        for (index, part) in parts.iter().enumerate() {
            let digits = part.bytes().all(|byte| byte.is_ascii_digit());
            if part.is_empty() || !digits || (index > 0 && part.len() != 2) {
                return None;
            }
            let value: u64 = part.parse().ok()?;
            if index > 0 && value > 59 {
                return None;
            }
            seconds = seconds.checked_mul(60)?.checked_add(value)?;
        }
        let milliseconds = if fraction.is_empty() {
            0
        } else {
            if fraction.len() > 3 || !fraction.bytes().all(|byte| byte.is_ascii_digit()) {
                return None;
            }
            format!("{fraction:0<3}").parse().ok()?
        };
        Some(Self::from_milliseconds(
            seconds.checked_mul(1000)?.checked_add(milliseconds)?,
        ))
    }

    /// Whole seconds, rounded down: what a link to the recording opens at.
    pub fn seconds(self) -> u64 {
        self.milliseconds / 1000
    }
}

/// `2:41`, or `1:02:41` from an hour on.
impl fmt::Display for ClockTime {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let seconds = self.seconds();
        let (hours, minutes, seconds) = (seconds / 3600, seconds / 60 % 60, seconds % 60);
        if hours > 0 {
            write!(f, "{hours}:{minutes:02}:{seconds:02}")
        } else {
            write!(f, "{minutes}:{seconds:02}")
        }
    }
}
