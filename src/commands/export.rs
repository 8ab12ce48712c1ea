use super::{Outcome, Terminal};
use crate::cli::ExportArgs;
use crate::failure::Failure;

pub(super) fn run(_args: &ExportArgs, _terminal: &Terminal) -> Result<Outcome, Failure> {
    Err(Failure::Refused("`export` is not there yet in this version".to_owned()))
}
