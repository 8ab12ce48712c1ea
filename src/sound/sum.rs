use super::SAMPLE_RATE;
use super::track::Placed;

/// Above the knee the sum of all voices is bent softly; it never reaches the ceiling, which is 1 dB below full scale.
const KNEE: f64 = 0.7;
const CEILING: f64 = 0.89;

/// Adds a buffer from its moment on, falling silent where it is ended.
pub(super) fn add(sum: &mut [f64], buffer: &[f32], placed: &Placed, level: f64) {
    let rate = f64::from(SAMPLE_RATE);
    let start = (placed.at * rate).round().max(0.0);
    let left = |n: usize| match placed.ended {
        Some((from, fall)) => (1.0 - (((start + n as f64) / rate - from) / fall).max(0.0)).max(0.0),
        None => 1.0,
    };
    let slots = sum.iter_mut().skip(start as usize);
    for (n, (slot, sample)) in slots.zip(buffer).enumerate() {
        let left = left(n);
        if left <= 0.0 {
            break;
        }
        *slot += f64::from(*sample) * level * left;
    }
}

/// The bend of the sum: straight up to [`KNEE`], then closer and closer to [`CEILING`].
pub(super) fn bend(value: f64) -> f64 {
    let size = value.abs();
    if size <= KNEE {
        return value;
    }
    let room = CEILING - KNEE;
    value.signum() * (KNEE + room * ((size - KNEE) / room).tanh())
}
