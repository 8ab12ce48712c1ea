use super::{Outcome, Terminal};
use crate::cli::PlanArgs;
use crate::failure::Failure;

pub(super) fn run(_args: &PlanArgs, _terminal: &Terminal) -> Result<Outcome, Failure> {
    Err(Failure::Refused("`plan` is not there yet in this version".to_owned()))
}
