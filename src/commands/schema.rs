use super::{Outcome, Terminal};
use crate::cli::{Schema, SchemaArgs};
use crate::failure::Failure;

const FACTS: &str = include_str!("../data/facts.schema.json");
const COMPARISON: &str = include_str!("../data/comparison.schema.json");
const FINDINGS: &str = include_str!("../data/findings.schema.json");

pub(super) fn run(args: &SchemaArgs, terminal: &Terminal) -> Result<Outcome, Failure> {
    terminal.print(match args.which {
        Schema::Facts => FACTS,
        Schema::Findings => FINDINGS,
        Schema::Comparison => COMPARISON,
    })?;
    Ok(Outcome::Fine)
}
