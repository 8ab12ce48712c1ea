use std::collections::BTreeMap;
use std::f64::consts::FRAC_PI_4;

use super::SAMPLE_RATE;
use super::beats::clicks;
use super::choice::{Choice, Click, Hands, Palmas};
use super::noises::{Noise, TAKES, noise};
use super::strings::{Touch, hertz, pluck};
use super::sum::{add, bend};
use super::touch::{PLAIN_LEVEL, StringTouch, landings, number, stops, touches};
use crate::music::hand::Fret;
use crate::practice::score::{Event, Kind, Layer, Score};

/// Sound, left and right, at [`SAMPLE_RATE`], each sample between -1 and 1.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Track {
    pub left: Vec<f32>,
    pub right: Vec<f32>,
}

/// A voice: how loud it is, and its place from left (-1) to right (1). Ours.
#[derive(Debug, Clone, Copy)]
struct Voice {
    gain: f64,
    place: f64,
}

const GUITAR: Voice = Voice { gain: 1.3, place: 0.0 };
const GOLPE: Voice = Voice { gain: 1.1, place: 0.0 };
const BASE: Voice = Voice { gain: 0.6, place: -0.3 };
const CONTRA: Voice = Voice { gain: 0.6, place: 0.3 };
const CLICK: Voice = Voice { gain: 0.55, place: 0.0 };

/// Seconds in which a string that is struck again, left by a finger, or damped by a hand falls silent.
const FALL_AGAIN: f64 = 0.004;
const FALL_LIFTED: f64 = 0.05;
const FALL_DAMPED: f64 = 0.015;

/// Seconds that the last sounds have to ring on.
const TAIL: f64 = 2.0;

/// Plays the count that leads in, if any, and then the score as often as chosen.
pub fn render(lead: Option<&Score>, score: &Score, choice: &Choice) -> Track {
    let mut stage = Stage::new(choice, score.strings.capo, score.strings.tuning);
    let mut start = 0.0;
    if let Some(lead) = lead {
        stage.click(lead, Click::Counts, start);
        start += number(lead.length) * choice.seconds_per_pulse();
    }
    for time in 0..choice.times {
        let seconds = number(score.length) * choice.seconds_per_pulse();
        stage.play(score, start + f64::from(time) * seconds);
    }
    stage.sum(start + choice.seconds(score) + TAIL)
}

/// What a buffer is made from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Source {
    Tone { string: u8, pitch: u8, touch: Touch },
    Noise { noise: Noise, take: usize },
}

/// A sound on the time line.
#[derive(Debug, Clone, Copy)]
pub(super) struct Placed {
    source: Source,
    voice: Voice,
    level: f64,
    pub(super) at: f64,
    /// The second at which it is ended, and how long it takes to fall silent.
    pub(super) ended: Option<(f64, f64)>,
}

/// A string that sounds: which of the placed sounds it is, and at which fret.
#[derive(Debug, Clone, Copy)]
struct Ringing {
    placed: usize,
    string: u8,
    fret: Fret,
}

struct Stage<'a> {
    choice: &'a Choice,
    capo: u8,
    tuning: [u8; 6],
    placed: Vec<Placed>,
    ringing: Vec<Ringing>,
    takes: BTreeMap<Noise, usize>,
    hand: [Option<Fret>; 6],
}

impl<'a> Stage<'a> {
    fn new(choice: &'a Choice, capo: u8, tuning: [u8; 6]) -> Self {
        Self {
            choice,
            capo,
            tuning,
            placed: Vec::new(),
            ringing: Vec::new(),
            takes: BTreeMap::new(),
            hand: [None; 6],
        }
    }

    fn second(&self, start: f64, at: num_rational::Ratio<i64>) -> f64 {
        start + number(at) * self.choice.seconds_per_pulse()
    }

    fn play(&mut self, score: &Score, start: f64) {
        for event in &score.events {
            self.event(event, self.second(start, event.at));
        }
        for clap in &score.palmas {
            let heard = match clap.layer {
                Layer::Base => matches!(self.choice.palmas, Palmas::Base | Palmas::Both),
                Layer::Contra => matches!(self.choice.palmas, Palmas::Contra | Palmas::Both),
            };
            if heard {
                let voice = if clap.layer == Layer::Base { BASE } else { CONTRA };
                let noise = if clap.muffled { Noise::Sorda } else { Noise::Clara };
                self.knock(noise, voice, f64::from(clap.level) / 100.0, self.second(start, clap.at));
            }
        }
        self.click(score, self.choice.click, start);
    }

    fn event(&mut self, event: &Event, second: f64) {
        let before = self.hand;
        if let Some(hand) = event.hand {
            self.hand = hand;
            self.end_strings(|one| stops(&hand, one.string, one.fret), second, FALL_LIFTED);
        }
        if event.kind == Kind::Damp {
            self.end_strings(|_| true, second, FALL_DAMPED);
        }
        if event.kind == Kind::Golpe {
            if self.choice.golpe && self.choice.hands != Hands::Left {
                self.knock(Noise::Golpe, GOLPE, f64::from(event.level) / PLAIN_LEVEL, second);
            }
            return;
        }
        if !self.choice.guitar {
            return;
        }
        let mut strings = touches(event, self.choice.seconds_per_pulse(), self.choice.hands);
        if self.choice.hands == Hands::Left && strings.is_empty() {
            strings.extend(
                event
                    .hand
                    .map(|hand| landings(&before, &hand, &self.tuning))
                    .into_iter()
                    .flatten(),
            );
        }
        for string in strings {
            self.sound(&string, second + string.after);
        }
    }

    /// A string sounds; what it sounded before ends there.
    fn sound(&mut self, touch: &StringTouch, second: f64) {
        self.end_strings(|one| one.string == touch.string, second, FALL_AGAIN);
        self.ringing.push(Ringing {
            placed: self.placed.len(),
            string: touch.string,
            fret: touch.fret,
        });
        let source = Source::Tone {
            string: touch.string,
            pitch: touch.pitch.saturating_add(self.capo),
            touch: touch.touch,
        };
        self.place(source, GUITAR, touch.level, second);
    }

    fn knock(&mut self, noise: Noise, voice: Voice, level: f64, second: f64) {
        let next = self.takes.entry(noise).or_default();
        let take = *next;
        *next = (take + 1) % TAKES;
        self.place(Source::Noise { noise, take }, voice, level, second);
    }

    fn place(&mut self, source: Source, voice: Voice, level: f64, at: f64) {
        self.placed.push(Placed {
            source,
            voice,
            level,
            at,
            ended: None,
        });
    }

    fn end_strings(&mut self, ends: impl Fn(&Ringing) -> bool, second: f64, fall: f64) {
        let placed = &mut self.placed;
        self.ringing.retain(|one| {
            let ended = ends(one);
            if let Some(sound) = placed.get_mut(one.placed).filter(|_| ended) {
                sound.ended = Some((second.max(sound.at), fall));
            }
            !ended
        });
    }

    fn click(&mut self, score: &Score, which: Click, start: f64) {
        for (at, strong) in clicks(score, which) {
            let noise = if strong { Noise::ClickStrong } else { Noise::Click };
            let second = start + at * self.choice.seconds_per_pulse();
            self.knock(noise, CLICK, 1.0, second);
        }
    }

    /// Adds everything up.
    fn sum(&self, seconds: f64) -> Track {
        let length = (seconds * f64::from(SAMPLE_RATE)).ceil() as usize;
        let mut left = vec![0.0_f64; length];
        let mut right = vec![0.0_f64; length];
        let mut buffers: BTreeMap<Source, Vec<f32>> = BTreeMap::new();
        for placed in &self.placed {
            let buffer = buffers.entry(placed.source).or_insert_with(|| self.make(placed.source));
            // Equal power from left to right, as the Web Audio standard has it for one channel.
            let angle = (placed.voice.place + 1.0) * FRAC_PI_4;
            let level = placed.level * placed.voice.gain;
            add(&mut left, buffer, placed, level * angle.cos());
            add(&mut right, buffer, placed, level * angle.sin());
        }
        let bent = |sum: Vec<f64>| sum.into_iter().map(|sample| bend(sample) as f32).collect();
        Track {
            left: bent(left),
            right: bent(right),
        }
    }

    fn make(&self, source: Source) -> Vec<f32> {
        match source {
            Source::Tone { string, pitch, touch } => pluck(string, hertz(pitch, self.choice.a4), touch),
            Source::Noise { noise: kind, take } => noise(kind, take),
        }
    }
}

#[cfg(test)]
mod tests {
    use num_rational::Ratio;

    use super::*;
    use crate::practice::score::{Clap, Pace, PaceGiven, PaceUnit, Pulses, Sound, Strike, Strings};

    fn event(at: Pulses, kind: Kind, strings: &[(u8, u8, u8)]) -> Event {
        let sound = |(string, fret, pitch): &(u8, u8, u8)| Sound {
            string: *string,
            fret: *fret,
            pitch: *pitch,
        };
        Event {
            length: Ratio::from_integer(1),
            kind,
            strikes: vec![Strike {
                after: Ratio::from_integer(0),
                finger: None,
                up: kind == Kind::Up,
            }],
            sounds: strings.iter().map(sound).collect(),
            level: 80,
            hand: None,
            ..Event::hand_only(at, [None; 6])
        }
    }

    fn score(events: Vec<Event>) -> Score {
        let strings = Strings {
            tuning: crate::music::pitch::STANDARD_TUNING,
            capo: 0,
        };
        let tempo = Pace {
            unit: PaceUnit::Count,
            unit_pulses: 1,
            start: 60,
            goal: 60,
            top: 60,
            given: PaceGiven::Said,
        };
        Score {
            length: Ratio::from_integer(4),
            events,
            ..Score::empty("core", "", strings, tempo)
        }
    }

    fn placed(score: &Score, choice: &Choice) -> Vec<Placed> {
        let mut stage = Stage::new(choice, score.strings.capo, score.strings.tuning);
        stage.play(score, 0.0);
        stage.placed
    }

    fn whole(pulses: i64) -> Pulses {
        Ratio::from_integer(pulses)
    }

    #[test]
    fn a_strum_starts_on_its_count_with_the_first_string_it_meets() {
        let down = event(whole(1), Kind::Down, &[(5, 0, 45), (4, 2, 52), (3, 2, 57)]);
        let score = score(vec![down]);
        let placed = placed(&score, &Choice::of(&score));
        let starts: Vec<f64> = placed.iter().map(|one| one.at).collect();
        assert_eq!(starts, [1.0, 1.005, 1.01]);
        assert!(matches!(
            placed.first().map(|one| one.source),
            Some(Source::Tone { string: 5, .. })
        ));
    }

    #[test]
    fn a_strum_never_takes_more_than_half_of_its_time() {
        let mut quick = event(
            whole(0),
            Kind::Down,
            &[(6, 0, 40), (5, 0, 45), (4, 0, 50), (3, 0, 55), (2, 0, 59), (1, 0, 64)],
        );
        quick.length = Ratio::new(1, 30);
        let score = score(vec![quick]);
        let last = placed(&score, &Choice::of(&score)).last().map(|one| one.at);
        assert!(last.is_some_and(|at| (at - 1.0 / 60.0).abs() < 1e-9), "{last:?}");
    }

    #[test]
    fn a_string_ends_when_struck_again_when_left_and_when_damped() {
        let mut lifted = Event::hand_only(whole(2), [None; 6]);
        lifted.hand = Some([None; 6]);
        let events = vec![
            event(whole(0), Kind::Pluck, &[(2, 1, 60)]),
            event(whole(1), Kind::Pluck, &[(2, 3, 62), (1, 0, 64)]),
            lifted,
            event(whole(3), Kind::Damp, &[]),
        ];
        let score = score(events);
        let ends: Vec<_> = placed(&score, &Choice::of(&score))
            .iter()
            .map(|one| one.ended)
            .collect();
        assert_eq!(
            ends,
            [
                Some((1.0, FALL_AGAIN)),
                Some((2.0, FALL_LIFTED)),
                Some((3.0, FALL_DAMPED)),
            ],
            "the open first string rings on when the hand lifts, until it is damped"
        );
    }

    #[test]
    fn an_open_item_is_silent_and_so_is_a_muted_voice() {
        let mut open = event(whole(0), Kind::Down, &[]);
        open.open = Some("no chord was said".to_owned());
        let mut score = score(vec![open, event(whole(1), Kind::Golpe, &[])]);
        score.palmas.push(Clap {
            at: whole(0),
            layer: Layer::Contra,
            muffled: false,
            level: 100,
        });
        let choice = Choice::of(&score);
        assert_eq!(placed(&score, &choice).len(), 1, "the golpe");
        let quiet = Choice {
            golpe: false,
            ..choice.clone()
        };
        assert!(placed(&score, &quiet).is_empty());
        let clapped = Choice {
            palmas: Palmas::Both,
            ..quiet
        };
        assert_eq!(placed(&score, &clapped).len(), 1, "the contra");
    }

    #[test]
    fn nothing_reaches_full_scale_whatever_is_struck_at_once() {
        let chord = [(6, 0, 40), (5, 0, 45), (4, 2, 52), (3, 2, 57), (2, 2, 61), (1, 0, 64)];
        let mut loud = event(whole(0), Kind::Pluck, &chord);
        loud.level = 200;
        loud.rest_stroke = Some(true);
        let score = score(vec![loud, event(whole(0), Kind::Golpe, &[])]);
        let track = render(None, &score, &Choice::of(&score));
        let peak = track
            .left
            .iter()
            .chain(&track.right)
            .fold(0.0_f32, |most, s| most.max(s.abs()));
        assert!(peak > 0.5 && peak < 0.9, "{peak}");
    }
}
