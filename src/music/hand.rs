use serde::{Deserialize, Serialize};

/// A finger of the right hand. The little finger has several letters in print (c, e, ch, q, s, x): one finger here.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Finger {
    P,
    I,
    M,
    A,
    /// The little finger.
    X,
}

impl Finger {
    pub const ALL: [Finger; 5] = [Finger::P, Finger::I, Finger::M, Finger::A, Finger::X];

    pub fn letter(self) -> char {
        match self {
            Finger::P => 'p',
            Finger::I => 'i',
            Finger::M => 'm',
            Finger::A => 'a',
            Finger::X => 'x',
        }
    }
}

/// A string of the guitar: 1 is the high E, 6 the low E.
pub type GuitarString = u8;

/// A fret; 0 is the open string.
pub type Fret = u8;

/// A finger of the left hand: 1 index, 2 middle, 3 ring, 4 little. 0 is the thumb (over the neck).
pub type LeftFinger = u8;
