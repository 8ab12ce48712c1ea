use super::{Outcome, Terminal};
use crate::cli::DraftArgs;
use crate::failure::Failure;
use crate::{pipeline, written};

pub(super) fn run(args: &DraftArgs, terminal: &Terminal) -> Result<Outcome, Failure> {
    let review = pipeline::review(&args.transcript)?;
    let lesson = super::the_lesson(&args.transcript, &review)?;
    terminal.print(&written::draft(lesson))?;
    Ok(Outcome::Fine)
}
