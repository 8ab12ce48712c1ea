//! A mark of everything that something comes from: the same mark, the same outcome.
//!
//! Comes in: bytes, and what can be shown as text. Goes out: [`Mark`]. This room keeps nothing.

use std::fmt::{self, Debug};

use serde::{Deserialize, Serialize};

/// The BLAKE3 hash of parts, each with its length before it, so that no two lists of parts run together.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Mark {
    bytes: [u8; 32],
}

impl Mark {
    pub fn of(parts: &[&[u8]]) -> Self {
        let mut hasher = blake3::Hasher::new();
        for part in parts {
            hasher.update(&(part.len() as u64).to_le_bytes());
            hasher.update(part);
        }
        Self {
            bytes: *hasher.finalize().as_bytes(),
        }
    }

    /// The mark of values as `Debug` shows them: every field is in it.
    pub fn of_values(values: &[&dyn Debug]) -> Self {
        let texts: Vec<String> = values.iter().map(|value| format!("{value:?}")).collect();
        let parts: Vec<&[u8]> = texts.iter().map(String::as_bytes).collect();
        Self::of(&parts)
    }

    pub fn as_bytes(&self) -> &[u8] {
        &self.bytes
    }

    /// The mark that these bytes are; None when there are more or fewer than 32.
    pub fn from_bytes(bytes: &[u8]) -> Option<Self> {
        bytes.try_into().ok().map(|bytes| Self { bytes })
    }
}

impl Debug for Mark {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.bytes.iter().try_for_each(|byte| write!(f, "{byte:02x}"))
    }
}

#[cfg(test)]
mod tests {
    use super::Mark;

    #[test]
    fn parts_do_not_run_together() {
        assert_ne!(Mark::of(&[b"ab", b"c"]), Mark::of(&[b"a", b"bc"]));
        assert_ne!(Mark::of(&[b"a", b""]), Mark::of(&[b"a"]));
        assert_eq!(Mark::of(&[b"a", b"b"]), Mark::of(&[b"a", b"b"]));
    }

    /// The hash of nothing, as the BLAKE3 authors publish it (test vectors of the reference implementation; from memory).
    #[test]
    fn the_hash_is_blake3() {
        let nothing = format!("{:?}", Mark::of(&[]));
        assert_eq!(
            nothing,
            "af1349b9f5f9a1a6a0404dea36dcc9499bcb25c9adc112b7cc9a93cae41f3262"
        );
    }
}
