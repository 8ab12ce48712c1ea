use std::f64::consts::TAU;

use super::SAMPLE_RATE;
use super::strings::{Mode, Rustle, add_resonance};

/// A sound without a pitch.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Noise {
    /// A knuckle or nail on the plate of the guitar.
    Golpe,
    /// A bright clap: fingers on the stretched palm.
    Clara,
    /// A muffled clap: palm on palm.
    Sorda,
    Click,
    ClickStrong,
}

/// Hands and knuckles never fall twice alike: golpe and claps have this many takes.
pub const TAKES: usize = 3;

/// A short burst of rustle that makes a few quickly dying resonances speak. Figures are ours.
struct Recipe {
    /// Name of the sound in the player's scripts: its length is part of the seed.
    name: &'static str,
    /// Seconds of rustle.
    burst: f64,
    /// How much of the rustle is heard as it is.
    dry: f64,
    /// Hz above which it is dulled.
    soften: f64,
    modes: &'static [Mode],
    /// Highest sample.
    peak: f64,
    seconds: f64,
}

const GOLPE: Recipe = Recipe {
    name: "golpe",
    burst: 0.005,
    dry: 0.7,
    soften: 1500.0,
    modes: &[
        (151.0, 0.05, 5.0),
        (263.0, 0.045, 4.0),
        (437.0, 0.04, 3.0),
        (731.0, 0.03, 2.0),
        (1190.0, 0.02, 1.2),
    ],
    peak: 0.5,
    seconds: 0.12,
};

const CLARA: Recipe = Recipe {
    name: "clara",
    burst: 0.012,
    dry: 0.9,
    soften: 6500.0,
    modes: &[(1240.0, 0.035, 2.2), (2130.0, 0.03, 2.2), (3350.0, 0.02, 1.4)],
    peak: 0.5,
    seconds: 0.12,
};

const SORDA: Recipe = Recipe {
    name: "sorda",
    burst: 0.014,
    dry: 0.6,
    soften: 900.0,
    modes: &[(330.0, 0.045, 3.0), (560.0, 0.04, 3.0), (890.0, 0.03, 1.6)],
    peak: 0.45,
    seconds: 0.12,
};

const CLICK: Recipe = Recipe {
    name: "click",
    burst: 0.002,
    dry: 0.2,
    soften: 8000.0,
    modes: &[(1870.0, 0.04, 3.0), (2790.0, 0.025, 1.5)],
    peak: 0.4,
    seconds: 0.08,
};

const CLICK_STRONG: Recipe = Recipe {
    name: "clickStrong",
    modes: &[(2510.0, 0.045, 3.0), (3760.0, 0.025, 1.5)],
    peak: 0.55,
    ..CLICK
};

impl Noise {
    fn recipe(self) -> &'static Recipe {
        match self {
            Noise::Golpe => &GOLPE,
            Noise::Clara => &CLARA,
            Noise::Sorda => &SORDA,
            Noise::Click => &CLICK,
            Noise::ClickStrong => &CLICK_STRONG,
        }
    }

    fn steady(self) -> bool {
        matches!(self, Noise::Click | Noise::ClickStrong)
    }
}

/// One sound as samples; `take` counts from 0. The click has one take only, whatever is asked for.
pub fn noise(noise: Noise, take: usize) -> Vec<f32> {
    let rate = f64::from(SAMPLE_RATE);
    let recipe = noise.recipe();
    let take = take % TAKES;
    let (shift, seed) = if noise.steady() {
        (1.0, 97)
    } else {
        let seed = 1009 * (take as u32 + 1) + recipe.name.len() as u32;
        (1.0 + 0.03 * (take as f64 - 1.0), seed)
    };
    let dry = burst(recipe, seed, rate);
    let mut out: Vec<f64> = dry.iter().map(|sample| recipe.dry * sample).collect();
    for (hz, ring, weight) in recipe.modes {
        add_resonance(&mut out, &dry, rate, (hz * shift, *ring, *weight));
    }
    to_peak(&out, rate, recipe.peak)
}

fn burst(recipe: &Recipe, seed: u32, rate: f64) -> Vec<f64> {
    let mut rustle = Rustle::new(seed);
    let length = (recipe.burst * rate).round().max(8.0);
    let keep = (-TAU * recipe.soften / rate).exp();
    let mut soft = 0.0;
    (0..(recipe.seconds * rate).round() as usize)
        .map(|n| {
            let done = n as f64 / length;
            let fall = if done < 1.0 { (1.0 - done) * (1.0 - done) } else { 0.0 };
            let strike = if n == 0 { 1.0 } else { 0.8 * rustle.next() };
            soft = (1.0 - keep) * strike * fall + keep * soft;
            soft
        })
        .collect()
}

fn to_peak(samples: &[f64], rate: f64, peak: f64) -> Vec<f32> {
    let highest = samples.iter().fold(1e-9_f64, |most, sample| most.max(sample.abs()));
    let fade = (rate * 0.005).round();
    let closing = |n: usize| {
        let left = (samples.len() - n) as f64;
        if left < fade { left / fade } else { 1.0 }
    };
    let scaled = samples.iter().enumerate();
    scaled
        .map(|(n, sample)| (sample * peak / highest * closing(n)) as f32)
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn takes_differ_and_clicks_do_not() {
        assert_ne!(noise(Noise::Clara, 0), noise(Noise::Clara, 1));
        assert_eq!(noise(Noise::Clara, 0), noise(Noise::Clara, 3));
        assert_eq!(noise(Noise::Click, 0), noise(Noise::Click, 2));
    }

    #[test]
    fn every_noise_begins_at_once_and_is_over_when_it_ends() {
        for kind in [
            Noise::Golpe,
            Noise::Clara,
            Noise::Sorda,
            Noise::Click,
            Noise::ClickStrong,
        ] {
            let samples = noise(kind, 0);
            assert!(samples.iter().take(44).any(|sample| sample.abs() > 0.1), "{kind:?}");
            assert!(
                samples.iter().rev().take(400).all(|sample| sample.abs() < 0.01),
                "{kind:?}"
            );
        }
    }
}
