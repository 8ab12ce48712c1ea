use super::{Outcome, Terminal};
use crate::cli::BuildArgs;
use crate::failure::Failure;

pub(super) fn run(_args: &BuildArgs, _terminal: &Terminal) -> Result<Outcome, Failure> {
    Err(Failure::Refused("`build` is not there yet in this version".to_owned()))
}
