use super::choice::Click;
use super::touch::number;
use crate::practice::score::{CountMark, Score};

/// Where the click falls, in pulses, and whether it is the strong one.
pub fn clicks(score: &Score, which: Click) -> Vec<(f64, bool)> {
    let counts = score.counts.iter();
    match which {
        Click::None => Vec::new(),
        Click::Counts => counts.map(|mark| (number(mark.at), mark.accent)).collect(),
        Click::Accents => score.accents.iter().map(|at| (number(*at), true)).collect(),
        Click::Between => counts.flat_map(between).map(|at| (at, false)).collect(),
        Click::Once => counts
            .filter(|mark| mark.first)
            .map(|mark| (number(mark.at), true))
            .collect(),
    }
}

fn between(mark: &CountMark) -> Vec<f64> {
    let (at, length) = (number(mark.at), number(mark.length));
    if length <= 1.0 {
        return vec![at + length / 2.0];
    }
    let pulses = (1..).map(f64::from).take_while(|pulse| *pulse < length);
    pulses.map(|pulse| at + pulse).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::practice::score::{Pace, PaceGiven, PaceUnit, Pulses, Strings};

    #[test]
    fn a_long_count_is_divided_by_its_pulses_and_an_even_one_by_its_half() {
        let mark = |at, length, first| CountMark {
            at: Pulses::from_integer(at),
            length: Pulses::from_integer(length),
            count: 1,
            accent: true,
            first,
        };
        let mut score = Score::empty("core", "", STRINGS, PACE);
        score.counts = vec![mark(0, 2, true), mark(2, 3, false), mark(5, 1, false)];
        let moments = |which| clicks(&score, which).iter().map(|(at, _)| *at).collect::<Vec<_>>();
        assert_eq!(moments(Click::Between), [1.0, 3.0, 4.0, 5.5]);
        assert_eq!(moments(Click::Once), [0.0]);
        assert_eq!(moments(Click::Counts), [0.0, 2.0, 5.0]);
        assert!(moments(Click::Accents).is_empty());
    }

    const STRINGS: Strings = Strings {
        tuning: crate::music::pitch::STANDARD_TUNING,
        capo: 0,
    };
    const PACE: Pace = Pace {
        unit: PaceUnit::Pulse,
        unit_pulses: 1,
        start: 60,
        goal: 60,
        top: 60,
        given: PaceGiven::Said,
    };
}
