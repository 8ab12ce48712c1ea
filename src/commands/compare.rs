use super::{Outcome, Terminal};
use crate::cli::CompareArgs;
use crate::failure::Failure;

pub(super) fn run(_args: &CompareArgs, _terminal: &Terminal) -> Result<Outcome, Failure> {
    Err(Failure::Refused(
        "`compare` is not there yet in this version".to_owned(),
    ))
}
