use std::fs;

use super::{Outcome, Terminal};
use crate::cli::{ClickHeard, ExportArgs, ExportFormat, PalmasHeard, TrackArgs};
use crate::exports::facts;
use crate::failure::Failure;
use crate::music::lesson::Lesson;
use crate::pipeline::{self, Review};
use crate::practice;
use crate::practice::score::{Book, Score};
use crate::sound::{self, Choice, Click, Palmas};

pub(super) fn run(args: &ExportArgs, terminal: &Terminal) -> Result<Outcome, Failure> {
    let review = pipeline::review(&args.note)?;
    let lesson = super::the_lesson(&args.note, &review)?;
    let bytes = match args.to {
        ExportFormat::Json => super::json(&facts::from_lesson(lesson))?.into_bytes(),
        ExportFormat::Wav => track(lesson, &review, &args.track)?,
    };
    match &args.out {
        Some(path) => fs::write(path, bytes).map_err(|error| Failure::Unwritable {
            path: path.clone(),
            reason: error.to_string(),
        })?,
        None if args.to == ExportFormat::Wav && terminal.prints_to_a_person() => {
            return Err(Failure::Refused(
                "a sound is no text: name a file with --out FILE".to_owned(),
            ));
        }
        None => terminal.print_bytes(&bytes)?,
    }
    Ok(Outcome::Fine)
}

/// A line of the lesson's book, sounded.
fn track(lesson: &Lesson, review: &Review, args: &TrackArgs) -> Result<Vec<u8>, Failure> {
    let data = practice::page_data(&[lesson], &review.palos);
    let (id, score) = line(&data.book, args.play.as_deref())?;
    let of_score = Choice::of(&score);
    let choice = Choice {
        per_minute: args.tempo.unwrap_or(of_score.per_minute),
        palmas: palmas(args.palmas),
        click: click(args.click),
        times: args.times,
        ..of_score
    };
    let lead = sound::count_in(&data.book, &id).filter(|_| args.count_in);
    Ok(sound::wav(&sound::render(lead.as_ref(), &score, &choice)))
}

/// The line asked for, or the first: the core by itself.
fn line(book: &Book, asked: Option<&str>) -> Result<(String, Score), Failure> {
    let ids: Vec<&str> = book.lines.iter().map(|line| line.id.as_str()).collect();
    let id = asked.or(ids.first().copied());
    let id = id.ok_or_else(|| Failure::Refused("this lesson holds nothing that could be played".to_owned()))?;
    let score = book.score(id);
    let unknown = || {
        Failure::Refused(format!(
            "there is nothing called `{id}` to play. There are: {}",
            ids.join(", ")
        ))
    };
    Ok((id.to_owned(), score.ok_or_else(unknown)?))
}

fn palmas(heard: PalmasHeard) -> Palmas {
    match heard {
        PalmasHeard::None => Palmas::None,
        PalmasHeard::Base => Palmas::Base,
        PalmasHeard::Contra => Palmas::Contra,
        PalmasHeard::Both => Palmas::Both,
    }
}

fn click(heard: ClickHeard) -> Click {
    match heard {
        ClickHeard::None => Click::None,
        ClickHeard::Counts => Click::Counts,
        ClickHeard::Accents => Click::Accents,
        ClickHeard::Between => Click::Between,
        ClickHeard::Once => Click::Once,
    }
}
