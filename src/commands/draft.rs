use super::{Outcome, Terminal};
use crate::cli::DraftArgs;
use crate::failure::Failure;

pub(super) fn run(_args: &DraftArgs, _terminal: &Terminal) -> Result<Outcome, Failure> {
    Err(Failure::Refused("`draft` is not there yet in this version".to_owned()))
}
