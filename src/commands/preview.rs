use super::{Outcome, Terminal};
use crate::cli::PreviewArgs;
use crate::failure::Failure;

pub(super) fn run(_args: &PreviewArgs, _terminal: &Terminal) -> Result<Outcome, Failure> {
    Err(Failure::Refused(
        "`preview` is not there yet in this version".to_owned(),
    ))
}
