use std::fs;

use super::{Outcome, Terminal, track};
use crate::cli::{ExportArgs, ExportFormat};
use crate::exports::facts;
use crate::failure::Failure;
use crate::pipeline;

pub(super) fn run(args: &ExportArgs, terminal: &Terminal) -> Result<Outcome, Failure> {
    let review = pipeline::review(&args.note)?;
    let lesson = super::the_published_lesson(&args.note, &review)?;
    let bytes = match args.to {
        ExportFormat::Json => super::json(&facts::from_lesson(lesson))?.into_bytes(),
        ExportFormat::Wav => track::track(lesson, &review, &args.track, terminal)?,
    };
    match &args.out {
        Some(path) => fs::write(path, bytes).map_err(|error| Failure::Unwritable {
            path: path.clone(),
            reason: error.to_string(),
        })?,
        None if is_sound(args) && terminal.prints_to_a_person() => {
            return Err(Failure::Refused(
                "a sound is no text: name a file with --out FILE".to_owned(),
            ));
        }
        None => terminal.print_bytes(&bytes)?,
    }
    Ok(Outcome::Fine)
}

fn is_sound(args: &ExportArgs) -> bool {
    args.to == ExportFormat::Wav && args.track.play.as_deref() != Some("list")
}
