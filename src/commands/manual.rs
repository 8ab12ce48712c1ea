use super::{Outcome, Terminal};
use crate::failure::Failure;

/// The manual page of the program, followed by those of its commands, in roff.
pub(super) fn run(terminal: &Terminal) -> Result<Outcome, Failure> {
    terminal.print_bytes(&page().map_err(|error| Failure::Refused(error.to_string()))?)?;
    Ok(Outcome::Fine)
}

fn page() -> std::io::Result<Vec<u8>> {
    let mut page = Vec::new();
    clap_mangen::Man::new(super::command_line()).render(&mut page)?;
    Ok(page)
}
