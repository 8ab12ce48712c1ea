use std::f64::consts::TAU;

use super::SAMPLE_RATE;

/// Seconds until the open string has lost 60 dB, string 1 to 6: of its lowest partial, and at 3 kHz. Ours.
const RING: [(f64, f64); 6] = [
    (2.1, 0.27),
    (2.3, 0.26),
    (2.5, 0.25),
    (3.2, 0.31),
    (3.5, 0.32),
    (3.8, 0.34),
];
const HIGH_HZ: f64 = 3000.0;

/// Root mean square of the first tenth of a second of every tone, before its touch's level.
const LOUDNESS: f64 = 0.1;

/// A way of setting a body or a board in motion: Hz, seconds to lose 60 dB, weight.
pub(super) type Mode = (f64, f64, f64);

/// Resonances of the body. Ours, in the places where guitars have theirs.
const BODY: [Mode; 6] = [
    (98.0, 0.22, 0.5),
    (196.0, 0.18, 0.7),
    (282.0, 0.12, 0.35),
    (415.0, 0.1, 0.4),
    (690.0, 0.07, 0.3),
    (1180.0, 0.05, 0.25),
];

/// How a finger leaves the string.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Touch {
    /// A free stroke (tirando).
    Free,
    /// A rest stroke (apoyando): more of the movement goes towards the top, so it is fuller and shorter.
    Rest,
    Strum,
    Thumb,
    /// Sounded by the left hand: hammer-on, pull-off.
    Slur,
    /// The left hand lies on the strings.
    Damped,
}

/// The figures of a touch. Ours.
struct Way {
    /// Seconds of contact.
    width: f64,
    /// Part of the string's length from the bridge.
    place: f64,
    /// Share of the movement towards the top.
    top: f64,
    /// Factor on the string's ring.
    ring: f64,
    /// Share of rustle.
    noise: f64,
    level: f64,
}

impl Touch {
    fn way(self) -> Way {
        let (width, place, top, ring, noise, level) = match self {
            Touch::Free => (0.0005, 0.13, 0.35, 1.0, 0.1, 1.0),
            Touch::Rest => (0.0009, 0.17, 0.8, 0.85, 0.06, 1.35),
            Touch::Strum => (0.00035, 0.11, 0.5, 0.9, 0.2, 0.8),
            Touch::Thumb => (0.0013, 0.16, 0.65, 0.95, 0.05, 1.1),
            Touch::Slur => (0.0016, 0.3, 0.4, 0.8, 0.02, 0.6),
            Touch::Damped => (0.0006, 0.13, 0.6, 0.045, 0.5, 0.35),
        };
        Way {
            width,
            place,
            top,
            ring,
            noise,
            level,
        }
    }
}

/// A repeatable rustle between -1 and 1 (xorshift, 32 bits).
pub(super) struct Rustle(u32);

impl Rustle {
    pub(super) fn new(seed: u32) -> Self {
        Self(seed.max(1))
    }

    pub(super) fn next(&mut self) -> f64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 17;
        self.0 ^= self.0 << 5;
        f64::from(self.0) / 2_147_483_648.0 - 1.0
    }
}

/// Equal temperament: Hz of a MIDI number, A4 (69) at `a4`. The formula is the MIDI Tuning Standard's.
pub fn hertz(midi: u8, a4: f64) -> f64 {
    a4 * 2.0_f64.powf((f64::from(midi) - 69.0) / 12.0)
}

/// One tone of `string` (1 to 6) at `hz`, as samples at [`SAMPLE_RATE`].
///
/// A string is a delay loop one period long with losses; the loop and its tuning by an allpass are Jaffe and Smith,
/// "Extensions of the Karplus-Strong Plucked-String Algorithm", Computer Music Journal 7(2), 1983.
/// It moves in two planes: towards the top, which gives its sound away fast, and along the top, which keeps it.
pub fn pluck(string: u8, hz: f64, touch: Touch) -> Vec<f32> {
    let rate = f64::from(SAMPLE_RATE);
    let way = touch.way();
    let row = usize::from(string.clamp(1, 6) - 1);
    let (ring, ring_high) = RING.get(row).copied().unwrap_or((2.5, 0.3));
    let ring = ring * way.ring;
    let ring_high = (ring_high * way.ring).min(ring * 0.8);
    let seed = 7919 * u32::from(string) + (hz * 16.0).round() as u32;
    let excitation = push(rate, rate / hz, &way, seed);
    let mut dry = vec![0.0; (rate * ring.clamp(0.25, 3.2)).round() as usize];
    add_loop(
        &mut dry,
        &excitation,
        &Loop::tuned(rate, hz, ring, ring_high),
        1.0 - way.top,
    );
    add_loop(
        &mut dry,
        &excitation,
        &Loop::tuned(rate, hz, ring * 0.35, ring_high * 0.6),
        way.top,
    );
    finish(&through_body(&dry, rate), rate, way.level)
}

/// Losses and fine tuning of a delay loop.
struct Loop {
    /// Whole samples of delay.
    whole: usize,
    /// Coefficient of the allpass that makes up the rest of the period.
    allpass: f64,
    /// The lowpass of the losses: its pole and its gain.
    pole: f64,
    gain: f64,
}

impl Loop {
    fn tuned(rate: f64, hz: f64, ring: f64, ring_high: f64) -> Self {
        let low = TAU * hz / rate;
        let high = TAU * HIGH_HZ.max(hz * 2.0) / rate;
        let kept = 10.0_f64.powf(-3.0 / (hz * ring));
        let kept_high = 10.0_f64.powf(-3.0 / (hz * ring_high));
        let ratio = ((kept_high / kept) * (kept_high / kept)).min(0.9999);
        let q = (low.cos() - ratio * high.cos()) / (1.0 - ratio);
        let pole = if q > 1.0 {
            (q - (q * q - 1.0).sqrt()).min(0.95)
        } else {
            0.95
        };
        let swing = (1.0 + pole * pole - 2.0 * pole * low.cos()).sqrt();
        let gain = (kept * swing / (1.0 - pole)).min(0.99999);
        let lag = (pole * low.sin()).atan2(1.0 - pole * low.cos()) / low;
        let left = rate / hz - lag;
        let whole = (left - 0.5).floor().max(1.0);
        let part = left - whole;
        let allpass = ((1.0 - part) * low / 2.0).sin() / ((1.0 + part) * low / 2.0).sin();
        Self {
            whole: whole as usize,
            allpass,
            pole,
            gain,
        }
    }
}

/// One plane of movement: the excitation goes round the loop and is added to `out`.
fn add_loop(out: &mut [f64], excitation: &[f64], string: &Loop, weight: f64) {
    let mut line = std::collections::VecDeque::from(vec![0.0; string.whole]);
    let (mut lost, mut passed_in, mut passed_out) = (0.0, 0.0, 0.0);
    for (n, sample) in out.iter_mut().enumerate() {
        let back = line.pop_front().unwrap_or(0.0);
        lost = string.gain * (1.0 - string.pole) * back + string.pole * lost;
        let tuned = string.allpass * (lost - passed_out) + passed_in;
        passed_in = lost;
        passed_out = tuned;
        let now = tuned + excitation.get(n).copied().unwrap_or(0.0);
        line.push_back(now);
        *sample += weight * now;
    }
}

/// The push of a finger, with the notches that its place on the string leaves in the spectrum.
fn push(rate: f64, period: f64, way: &Way, seed: u32) -> Vec<f64> {
    let width = (way.width * rate).round().max(4.0) as usize;
    let apart = (way.place * period).round().max(1.0) as usize;
    let mut noise = Rustle::new(seed);
    let pulse: Vec<f64> = (0..width)
        .map(|n| {
            let hump = 0.5 - 0.5 * (TAU * (n + 1) as f64 / (width + 1) as f64).cos();
            hump * (1.0 + way.noise * 3.0 * noise.next())
        })
        .collect();
    let back = std::iter::repeat_n(0.0, apart).chain(pulse.iter().copied());
    let there = pulse.iter().copied().chain(std::iter::repeat_n(0.0, apart));
    there.zip(back).map(|(there, back)| there - back).collect()
}

/// What the body makes of the force at the bridge.
fn through_body(dry: &[f64], rate: f64) -> Vec<f64> {
    let keep = (-TAU * 5200.0 / rate).exp();
    let mut soft = 0.0;
    let mut out: Vec<f64> = dry
        .iter()
        .map(|sample| {
            soft = (1.0 - keep) * sample + keep * soft;
            soft
        })
        .collect();
    for mode in BODY {
        add_resonance(&mut out, dry, rate, mode);
    }
    out
}

/// Adds a resonance driven by `dry`; its weight is about its gain at its own frequency.
pub(super) fn add_resonance(out: &mut [f64], dry: &[f64], rate: f64, (hz, ring, weight): Mode) {
    let angle = TAU * hz / rate;
    let radius = 10.0_f64.powf(-3.0 / (ring * rate));
    let first = 2.0 * radius * angle.cos();
    let second = radius * radius;
    let drive = (1.0 - radius) * 2.0 * angle.sin() * weight;
    let (mut before, mut earlier) = (0.0, 0.0);
    for (sample, dry) in out.iter_mut().zip(dry) {
        let now = first * before - second * earlier + drive * dry;
        earlier = before;
        before = now;
        *sample += now;
    }
}

/// Scales to [`LOUDNESS`] over the first tenth of a second, and closes the end without a click.
fn finish(samples: &[f64], rate: f64, level: f64) -> Vec<f32> {
    let first = samples.len().min((rate * 0.1).round() as usize);
    let power: f64 = samples.iter().take(first).map(|sample| sample * sample).sum();
    let scale = LOUDNESS * level / (power / first as f64).sqrt().max(1e-9);
    let fade = samples.len().min((rate * 0.03).round() as usize);
    let closing = |n: usize| {
        let left = samples.len() - n;
        if left < fade { left as f64 / fade as f64 } else { 1.0 }
    };
    let scaled = samples.iter().enumerate();
    scaled.map(|(n, sample)| (sample * scale * closing(n)) as f32).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn open_strings_have_the_frequencies_of_the_tuning_table() {
        // Standard tuning at A4 = 440 Hz, ISO 16: shared trade facts, section 3.1.
        let table = [
            (40, 82.4069),
            (45, 110.0),
            (50, 146.8324),
            (55, 195.9977),
            (59, 246.9417),
            (64, 329.6276),
        ];
        for (midi, hz) in table {
            assert!((hertz(midi, 440.0) - hz).abs() < 0.0001, "{midi}");
        }
    }

    #[test]
    fn a_rest_stroke_is_fuller_and_louder_than_a_free_one() {
        let power = |samples: &[f32]| samples.iter().take(4410).map(|s| f64::from(s * s)).sum::<f64>();
        // Brightness: power of the differences from sample to sample against the power itself.
        let bright = |samples: &[f32]| {
            let steps = samples.iter().zip(samples.iter().skip(1)).take(4410);
            steps.map(|(a, b)| f64::from((b - a) * (b - a))).sum::<f64>() / power(samples)
        };
        for (string, midi) in [(1, 64), (3, 57), (6, 40)] {
            let free = pluck(string, hertz(midi, 440.0), Touch::Free);
            let rest = pluck(string, hertz(midi, 440.0), Touch::Rest);
            assert!(power(&rest) > 1.5 * power(&free), "string {string}");
            assert!(bright(&rest) < 0.8 * bright(&free), "string {string}");
        }
    }

    #[test]
    fn every_tone_dies_away_and_begins_at_once() {
        for touch in [
            Touch::Free,
            Touch::Rest,
            Touch::Strum,
            Touch::Thumb,
            Touch::Slur,
            Touch::Damped,
        ] {
            for fret in [0, 1, 5, 12, 19] {
                let samples = pluck(1, hertz(64 + fret, 440.0), touch);
                assert!(samples.iter().all(|sample| sample.abs() < 1.5), "{touch:?} {fret}");
                assert!(
                    samples.iter().take(88).any(|sample| sample.abs() > 0.02),
                    "{touch:?} {fret}"
                );
                let end = samples.iter().rev().take(2000);
                assert!(
                    end.fold(0.0_f32, |most, s| most.max(s.abs())) < 0.01,
                    "{touch:?} {fret}"
                );
            }
        }
    }
}
