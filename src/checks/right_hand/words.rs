use num_rational::Ratio;

use crate::music::hand::Finger;

pub(in crate::checks) fn name(finger: Finger) -> &'static str {
    match finger {
        Finger::P => "the thumb",
        Finger::I => "the index",
        Finger::M => "the middle finger",
        Finger::A => "the ring finger",
        Finger::X => "the little finger",
    }
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
