use clap_mangen::Man;

use super::{Outcome, Terminal};
use crate::failure::Failure;

/// The manual page in roff: the program, then a section for each command.
pub(super) fn run(terminal: &Terminal) -> Result<Outcome, Failure> {
    terminal.print_bytes(&page().map_err(|error| Failure::Refused(error.to_string()))?)?;
    Ok(Outcome::Fine)
}

fn page() -> std::io::Result<Vec<u8>> {
    let mut program = super::command_line();
    // Fills in the names by which the commands are called.
    program.build();
    let mut page = Vec::new();
    let front = Man::new(program.clone());
    front.render_title(&mut page)?;
    front.render_name_section(&mut page)?;
    front.render_synopsis_section(&mut page)?;
    front.render_description_section(&mut page)?;
    front.render_options_section(&mut page)?;
    for command in program.get_subcommands().filter(|command| command.get_name() != "help") {
        let name = command.get_bin_name().unwrap_or(command.get_name()).to_uppercase();
        page.extend_from_slice(format!(".SH \"{}\"\n", name.replace('-', "\\-")).as_bytes());
        page.extend_from_slice(&section(command)?);
    }
    front.render_extra_section(&mut page)?;
    Ok(without_repeated_preamble(&page))
}

/// Each section brings the two lines that define the apostrophe; once is enough.
fn without_repeated_preamble(page: &[u8]) -> Vec<u8> {
    let text = String::from_utf8_lossy(page);
    let defines = |line: &str| line.starts_with(".ie \\n(.g .ds Aq") || line.starts_with(".el .ds Aq");
    let lines = text
        .lines()
        .enumerate()
        .filter(|(index, line)| *index < 2 || !defines(line));
    lines
        .map(|(_, line)| format!("{line}\n"))
        .collect::<String>()
        .into_bytes()
}

/// A command's own page, its headings one step lower.
fn section(command: &clap::Command) -> std::io::Result<Vec<u8>> {
    let man = Man::new(command.clone());
    let mut section = Vec::new();
    man.render_description_section(&mut section)?;
    man.render_synopsis_section(&mut section)?;
    man.render_options_section(&mut section)?;
    man.render_extra_section(&mut section)?;
    let text = String::from_utf8_lossy(&section);
    let lines = text.lines().filter(|line| *line != ".SH DESCRIPTION");
    let lower = lines.map(|line| {
        line.strip_prefix(".SH ")
            .map_or(line.to_owned(), |title| format!(".SS {title}"))
    });
    Ok(lower.map(|line| line + "\n").collect::<String>().into_bytes())
}
