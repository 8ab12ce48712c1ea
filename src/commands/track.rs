use std::fmt::Write;

use super::Terminal;
use crate::cli::{ClickHeard, HandsHeard, PalmasHeard, TrackArgs};
use crate::failure::Failure;
use crate::music::lesson::Lesson;
use crate::pipeline::Review;
use crate::practice::book::{Book, Line};
use crate::practice::score::{PaceUnit, Score};
use crate::practice::{PageData, page_data};
use crate::sound::{self, Choice, Click, Hands, Palmas};

/// Seconds that a track may last: what a player's patience and a 16-bit file of reasonable size bear.
const LONGEST: f64 = 3600.0;

/// The track asked for, as the bytes of a WAV file. What else is to be said of it goes to the terminal.
pub(super) fn track(
    lesson: &Lesson,
    review: &Review,
    args: &TrackArgs,
    terminal: &Terminal,
) -> Result<Vec<u8>, Failure> {
    let book = page_data(&[lesson], &review.palos).book;
    let score = score(args, &book)?;
    let choice = choice(args, &score);
    let seconds = choice.seconds(&score);
    if seconds > LONGEST {
        return Err(Failure::Refused(format!(
            "that would last {:.0} minutes; an hour is the most: play it fewer times",
            seconds / 60.0
        )));
    }
    let lead = args.count_in.then(|| sound::count_in(&book, &score.id)).flatten();
    terminal.say(&told(&score, &choice));
    Ok(sound::wav(&sound::render(lead.as_ref(), &score, &choice)))
}

/// A score written as notes, what of it is written, and the count that leads in.
pub(super) struct Notes {
    pub score: Score,
    pub choice: Choice,
    pub lead: Option<Score>,
}

/// The line asked for, or every version once.
pub(super) fn notes(lesson: &Lesson, review: &Review, args: &TrackArgs) -> Result<Notes, Failure> {
    if args.hands != HandsHeard::Both {
        let refused = "one hand alone is a sound, not notes: --hands is for --to wav";
        return Err(Failure::Refused(refused.to_owned()));
    }
    let data = page_data(&[lesson], &review.palos);
    let score = match &args.play {
        Some(_) => score(args, &data.book)?,
        None => everything(lesson, &data)?,
    };
    let lead = args.count_in.then(|| sound::count_in(&data.book, &score.id)).flatten();
    Ok(Notes {
        choice: choice(args, &score),
        score,
        lead,
    })
}

fn everything(lesson: &Lesson, data: &PageData) -> Result<Score, Failure> {
    let score = data.everything(super::title(lesson));
    if score.passages.is_empty() {
        return Err(Failure::Refused(
            "the note holds no pattern that could be played".to_owned(),
        ));
    }
    Ok(score)
}

fn score(track: &TrackArgs, book: &Book) -> Result<Score, Failure> {
    let Some(id) = track.play.clone().or_else(|| first_version(book)) else {
        return Err(Failure::Refused(
            "the note holds no pattern that could be played".to_owned(),
        ));
    };
    let missing = || Failure::Refused(format!("there is no `{id}` to play; these are there:\n{}", names(book)));
    book.score(&id).ok_or_else(missing)
}

/// The line that plays the first version whole.
fn first_version(book: &Book) -> Option<String> {
    let whole = |line: &&Line| match line.cuts.as_slice() {
        [cut] => {
            let bar = book.bars.get(cut.bar);
            let ground = bar.and_then(|bar| book.grounds.get(bar.ground));
            ground.is_some_and(|ground| cut.to - cut.from == ground.length)
        }
        _ => false,
    };
    book.lines
        .iter()
        .find(whole)
        .or(book.lines.first())
        .map(|line| line.id.clone())
}

fn choice(track: &TrackArgs, score: &Score) -> Choice {
    let usual = Choice::of(score);
    Choice {
        per_minute: track.tempo.unwrap_or(usual.per_minute),
        a4: track.a4,
        guitar: !track.no_guitar,
        golpe: !track.no_guitar,
        palmas: match track.palmas {
            PalmasHeard::None => Palmas::None,
            PalmasHeard::Base => Palmas::Base,
            PalmasHeard::Contra => Palmas::Contra,
            PalmasHeard::Both => Palmas::Both,
        },
        click: match track.click {
            ClickHeard::None => Click::None,
            ClickHeard::Counts => Click::Counts,
            ClickHeard::Accents => Click::Accents,
            ClickHeard::Between => Click::Between,
            ClickHeard::Once => Click::Once,
        },
        hands: match track.hands {
            HandsHeard::Both => Hands::Both,
            HandsHeard::Right => Hands::Right,
            HandsHeard::Left => Hands::Left,
        },
        times: track.times,
        ..usual
    }
}

/// Every line of a lesson's book: its name, and what it is in words.
pub(super) fn list(lesson: &Lesson, review: &Review) -> String {
    names(&page_data(&[lesson], &review.palos).book)
}

fn names(book: &Book) -> String {
    let width = book.lines.iter().map(|line| line.id.chars().count()).max().unwrap_or(0);
    let mut text = String::new();
    for line in &book.lines {
        let _ = writeln!(text, "  {:width$}  {}", line.id, line.title);
    }
    text
}

/// What was written, in a line; and what is silent in it, which nobody would look for otherwise.
fn told(score: &Score, choice: &Choice) -> String {
    let unit = match score.tempo.unit {
        PaceUnit::Count => "counts",
        PaceUnit::Pulse => "pulses",
        PaceUnit::Move => "moves",
    };
    let seconds = choice.seconds(score).round() as u64;
    let open = score.events.iter().filter(|event| event.open.is_some()).count();
    let silent = match open {
        0 => String::new(),
        1 => "; one stroke that the note leaves open is silent".to_owned(),
        open => format!("; {open} strokes that the note leaves open are silent"),
    };
    format!(
        "{}: {} {unit} a minute, {} times, {}:{:02}{silent}",
        score.title,
        choice.per_minute,
        choice.times,
        seconds / 60,
        seconds % 60
    )
}
