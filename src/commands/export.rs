use std::fs;

use super::{Outcome, Terminal, plan, track};
use crate::cli::{ExportArgs, ExportFormat};
use crate::exports::{facts, midi, musicxml, webvtt};
use crate::failure::Failure;
use crate::music::lesson::Lesson;
use crate::pipeline::{self, Review};

pub(super) fn run(args: &ExportArgs, terminal: &Terminal) -> Result<Outcome, Failure> {
    let review = pipeline::review(&args.note)?;
    let lesson = super::the_published_lesson(&args.note, &review)?;
    let bytes = if is_list(args) {
        track::list(lesson, &review).into_bytes()
    } else {
        exported(args, lesson, &review, terminal)?
    };
    match &args.out {
        Some(path) => fs::write(path, bytes).map_err(|error| Failure::Unwritable {
            path: path.clone(),
            reason: error.to_string(),
        })?,
        None if !is_text(args) && terminal.prints_to_a_person() => {
            return Err(Failure::Refused(
                "a sound is no text: name a file with --out FILE".to_owned(),
            ));
        }
        None => terminal.print_bytes(&bytes)?,
    }
    Ok(Outcome::Fine)
}

fn exported(args: &ExportArgs, lesson: &Lesson, review: &Review, terminal: &Terminal) -> Result<Vec<u8>, Failure> {
    let refused = |why: &str| Failure::Refused(why.to_owned());
    let no_moment = "the note gives no moment of the recording to what is taught";
    Ok(match args.to {
        ExportFormat::Json => super::json(&facts::from_lesson(lesson))?.into_bytes(),
        ExportFormat::Wav => track::track(lesson, review, &args.track, terminal)?,
        ExportFormat::Midi => {
            let notes = track::notes(lesson, review, &args.track)?;
            let file = midi::midi(notes.lead.as_ref(), &notes.score, &notes.choice);
            file.ok_or_else(|| refused("that would be too long a file"))?
        }
        ExportFormat::MusicXml => {
            let notes = track::notes(lesson, review, &args.track)?;
            let file = musicxml::musicxml(lesson, &notes.score, notes.choice.per_minute);
            file.ok_or_else(|| refused("there is nothing to write as notes"))?
                .into_bytes()
        }
        ExportFormat::Chapters => webvtt::chapters(lesson).ok_or_else(|| refused(no_moment))?.into_bytes(),
        ExportFormat::Captions => webvtt::captions(lesson).ok_or_else(|| refused(no_moment))?.into_bytes(),
        ExportFormat::Ics => plan::calendar(lesson, &args.days, &review.palos)?.into_bytes(),
    })
}

fn is_list(args: &ExportArgs) -> bool {
    let played = matches!(args.to, ExportFormat::Wav | ExportFormat::Midi | ExportFormat::MusicXml);
    played && args.track.play.as_deref() == Some("list")
}

fn is_text(args: &ExportArgs) -> bool {
    is_list(args) || !matches!(args.to, ExportFormat::Wav | ExportFormat::Midi)
}
