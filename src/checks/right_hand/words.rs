use num_rational::Ratio;

use crate::findings::Words;
use crate::music::hand::Finger;

/// `the index`.
pub(in crate::checks) fn name(words: &Words, finger: Finger) -> String {
    words.phrase(&format!("right_{}", finger.letter()), &[])
}

/// `14.7`, `8`.
pub(in crate::checks) fn tenths(figure: Ratio<i64>) -> String {
    let tenths = (figure * Ratio::from_integer(10)).round().to_integer();
    if tenths % 10 == 0 {
        (tenths / 10).to_string()
    } else {
        format!("{}.{}", tenths / 10, tenths % 10)
    }
}
