use super::{Outcome, Terminal};
use crate::cli::{PageFormat, ReadArgs};
use crate::exports::facts;
use crate::failure::Failure;
use crate::{pipeline, understood};

pub(super) fn run(args: &ReadArgs, terminal: &Terminal) -> Result<Outcome, Failure> {
    let review = pipeline::review(&args.note)?;
    let lesson = super::the_lesson(&args.note, &review)?;
    let shown = || understood::understood(lesson, &review.folder);
    terminal.print(&match args.format {
        PageFormat::Json => super::json(&facts::from_lesson(lesson))?,
        PageFormat::Text => understood::text(&shown(), terminal.width()),
        PageFormat::Html => understood::page(&shown(), &lesson.language),
    })?;
    Ok(Outcome::Fine)
}
