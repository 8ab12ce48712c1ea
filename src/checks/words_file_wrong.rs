use super::{Check, Example, Family, Run};
use crate::findings::Severity;

/// Found where the words in force are put together, explained here.
pub(crate) const CHECK: Check = Check {
    id: "words-file-wrong",
    severity: Severity::Error,
    family: Family::Files,
    example: Example {
        trips: "[golp]\nen = [\"tapita\"]",
        right: "[golpe]\nen = [\"tapita\"]",
    },
    run: Run::Elsewhere,
};
