use super::{Outcome, Terminal};
use crate::cli::{CheckArgs, CheckFormat};
use crate::failure::Failure;
use crate::findings::{Finding, Severity, json};
use crate::pipeline;

pub(super) fn run(args: &CheckArgs, terminal: &Terminal) -> Result<Outcome, Failure> {
    let Some(notes) = &args.notes else {
        return Err(Failure::Refused("there are no checks yet in this version".to_owned()));
    };
    let review = pipeline::review_telling(notes, &terminal.counting("reading"))?;
    match args.format {
        CheckFormat::Json => {
            let report = json::report(&review.findings, &review.folder.files);
            terminal.print(&super::json(&report)?)?;
        }
        CheckFormat::Text => {
            for finding in &review.findings {
                terminal.print(&format!("{}: {}\n", finding.rule, finding.message))?;
            }
        }
    }
    Ok(outcome(&review.findings))
}

fn outcome(findings: &[Finding]) -> Outcome {
    if findings.iter().any(|finding| finding.severity == Severity::Error) {
        Outcome::Found
    } else {
        Outcome::Fine
    }
}
