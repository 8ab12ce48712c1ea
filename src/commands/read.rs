use super::{Outcome, Terminal};
use crate::cli::{PageFormat, ReadArgs};
use crate::exports::facts;
use crate::failure::Failure;
use crate::pipeline;

pub(super) fn run(args: &ReadArgs, terminal: &Terminal) -> Result<Outcome, Failure> {
    let review = pipeline::review(&args.note)?;
    let lesson = super::the_lesson(&args.note, &review)?;
    match args.format {
        PageFormat::Json => terminal.print(&super::json(&facts::from_lesson(lesson))?)?,
        PageFormat::Text | PageFormat::Html => {
            return Err(Failure::Refused(
                "`read` prints only `--format json` yet in this version".to_owned(),
            ));
        }
    }
    Ok(Outcome::Fine)
}
