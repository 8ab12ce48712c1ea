use super::{Outcome, Terminal};
use crate::cli::CompletionsArgs;
use crate::failure::Failure;

/// Made in memory first: the generator itself panics when the reader closes the pipe.
pub(super) fn run(args: &CompletionsArgs, terminal: &Terminal) -> Result<Outcome, Failure> {
    let mut script = Vec::new();
    clap_complete::generate(args.shell, &mut super::command_line(), "compasario", &mut script);
    terminal.print_bytes(&script)?;
    Ok(Outcome::Fine)
}
