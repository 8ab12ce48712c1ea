//! One session: warm-up, playing, rests, within the minutes there are.

use super::{Arrangement, Block, BlockKind};
use crate::practice::words::Words;

/// How the minutes of a day are divided.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Session {
    pub warm_up: u32,
    /// A short rest early in the session.
    pub rest: u32,
    /// Rests of ten minutes.
    pub breaks: u32,
    /// Minutes left for playing.
    pub playing: u32,
}

/// One thing to do.
#[derive(Debug, Clone, PartialEq)]
pub struct Task {
    pub kind: BlockKind,
    pub title: String,
    pub minutes: u32,
    pub details: Vec<String>,
    pub lines: Vec<String>,
    pub tempo: Option<(u32, u32)>,
}

/// Ten minutes off in the hour at least (Horvath, quoted; `music::source` HOR).
const BREAK: u32 = 10;
/// Turns of three minutes, as in Carter and Grahn 2016 (doi 10.3389/fpsyg.2016.01251).
const TURN: u32 = 3;
/// A rest may come so many minutes sooner or later than it should, so that it interrupts nothing.
const NEAR: u32 = 4;

impl Session {
    /// No source gives minutes for a warm-up: a tenth of the session, one to five minutes, is a figure of ours.
    ///
    /// One rest of five minutes early in a session gave more overnight than a late one or none (Duke and others 2009,
    /// doi 10.1111/j.1749-6632.2009.04795.x); in short sessions it is shorter.
    pub fn of(minutes: u32) -> Self {
        let warm_up = (minutes / 10).clamp(1, 5).min(minutes);
        let breaks = minutes / 60;
        let rest = match minutes {
            0..10 => 0,
            10..20 => 1,
            20..40 => 3,
            _ => 5,
        };
        Self {
            warm_up,
            rest,
            breaks,
            playing: minutes.saturating_sub(warm_up + rest + breaks * BREAK),
        }
    }

    /// Minutes kept for the end of the session.
    pub fn close(&self) -> u32 {
        match self.playing {
            0..6 => 0,
            6..12 => 1,
            playing => playing / 6,
        }
    }

    /// The session as blocks: the warm-up first, the early rest after about a third of the playing, the long breaks
    /// spread over it.
    pub fn blocks(&self, tasks: Vec<Task>, arrangement: Arrangement, words: Words) -> Vec<Block> {
        if tasks.is_empty() {
            return Vec::new();
        }
        let turns = match arrangement {
            Arrangement::Blocked => tasks,
            Arrangement::Rotated => in_turns(tasks),
        };
        let warm = Task {
            kind: BlockKind::WarmUp,
            title: words.say("plan-warm-up", &[]),
            minutes: self.warm_up,
            details: vec![words.say("plan-warm-up-about", &[])],
            lines: Vec::new(),
            tempo: None,
        };
        let mut pauses = self.pauses(&turns);
        let mut blocks = vec![warm.block(0, self.warm_up)];
        let mut at = self.warm_up;
        let mut played = 0;
        for task in &turns {
            let mut left = task.minutes;
            while left > 0 {
                let until_pause = pauses.first().map(|(after, _)| after.saturating_sub(played));
                let stretch = until_pause.map_or(left, |until| until.min(left));
                if stretch > 0 {
                    let mut block = task.block(at, stretch);
                    if left < task.minutes {
                        // How it is done stands before the rest.
                        block.details.clear();
                    }
                    blocks.push(block);
                    at += stretch;
                    played += stretch;
                    left -= stretch;
                }
                if pauses.first().is_some_and(|(after, _)| *after <= played) {
                    let (_, minutes) = pauses.remove(0);
                    if left > 0 || played < self.playing {
                        blocks.push(rest(at, minutes, words));
                        at += minutes;
                    }
                }
            }
        }
        // A rest with nothing after it is no rest.
        while blocks.last().is_some_and(|block| block.kind == BlockKind::Rest) {
            blocks.pop();
        }
        blocks
    }

    /// After how many minutes of playing a rest comes, and how long it is: where one thing ends, if that is near.
    fn pauses(&self, turns: &[Task]) -> Vec<(u32, u32)> {
        let mut ends = Vec::new();
        let mut playing = 0;
        for task in turns {
            playing += task.minutes;
            ends.push(playing);
        }
        let mut pauses = Vec::new();
        if self.rest > 0 {
            pauses.push((playing / 3, self.rest));
        }
        let stretches = self.breaks + 1;
        pauses.extend((1..stretches).map(|number| (playing * number / stretches, BREAK)));
        for (after, _) in &mut pauses {
            let nearest = ends.iter().copied().min_by_key(|end| end.abs_diff(*after));
            *after = nearest.filter(|end| end.abs_diff(*after) <= NEAR).unwrap_or(*after);
        }
        pauses.retain(|(after, _)| *after > 0 && *after < playing);
        pauses.sort_unstable();
        pauses
    }
}

fn rest(at: u32, minutes: u32, words: Words) -> Block {
    Block {
        start: at,
        minutes,
        kind: BlockKind::Rest,
        title: words.say("plan-rest", &[]),
        details: vec![words.say("plan-rest-about", &[])],
        lines: Vec::new(),
        tempo: None,
    }
}

/// Three minutes of each in turn, until all of each is done; the details stand at the first turn. What closes the
/// session stays whole, at the end.
fn in_turns(tasks: Vec<Task>) -> Vec<Task> {
    let closes = |task: &Task| matches!(task.kind, BlockKind::Drill | BlockKind::Circuit | BlockKind::Mix);
    let (closing, mut left): (Vec<Task>, Vec<Task>) = tasks.into_iter().partition(closes);
    let mut turns: Vec<Task> = Vec::new();
    while left.iter().any(|task| task.minutes > 0) {
        for task in left.iter_mut().filter(|task| task.minutes > 0) {
            let minutes = task.minutes.min(TURN);
            match turns
                .last_mut()
                .filter(|last| last.title == task.title && last.kind == task.kind)
            {
                Some(last) => last.minutes += minutes,
                None => turns.push(Task {
                    minutes,
                    ..task.clone()
                }),
            }
            task.minutes -= minutes;
            task.details.clear();
        }
    }
    turns.extend(closing);
    turns
}

#[cfg(test)]
mod tests {
    use super::*;

    fn task(title: &str, minutes: u32) -> Task {
        Task {
            kind: BlockKind::Review,
            title: title.to_owned(),
            minutes,
            details: vec!["how".to_owned()],
            lines: Vec::new(),
            tempo: None,
        }
    }

    fn written(minutes: u32, tasks: Vec<Task>, arrangement: Arrangement) -> String {
        let blocks = Session::of(minutes).blocks(tasks, arrangement, Words::of("en"));
        let block = |block: &Block| match block.kind {
            BlockKind::WarmUp => format!("warm {}", block.minutes),
            BlockKind::Rest => format!("rest {}", block.minutes),
            _ => format!("{} {}", block.title, block.minutes),
        };
        blocks.iter().map(block).collect::<Vec<_>>().join(", ")
    }

    #[test]
    fn one_thing_at_a_time() {
        let tasks = vec![task("a", 12), task("b", 9), task("c", 3)];
        assert_eq!(
            written(30, tasks, Arrangement::Blocked),
            "warm 3, a 12, rest 3, b 9, c 3"
        );
    }

    #[test]
    fn in_turns_of_three_minutes() {
        let tasks = vec![task("a", 8), task("b", 5), task("c", 3)];
        let expected = "warm 2, a 3, b 3, rest 3, c 3, a 3, b 2, a 2";
        assert_eq!(written(20, tasks, Arrangement::Rotated), expected);
    }

    #[test]
    fn an_hour_has_ten_minutes_off() {
        for minutes in 5..=240 {
            let session = Session::of(minutes);
            let all = session.warm_up + session.rest + session.breaks * 10 + session.playing;
            assert_eq!(all, minutes);
            assert!(session.playing > 0 && session.close() < session.playing);
        }
        let tasks = vec![task("a", 40)];
        assert_eq!(
            written(60, tasks, Arrangement::Blocked),
            "warm 5, a 13, rest 5, a 7, rest 10, a 20"
        );
    }
}
