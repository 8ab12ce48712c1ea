use super::{About, Check, Family, Run};
use crate::findings::Severity;

/// Found where the words in force are put together, explained here.
pub(crate) const CHECK: Check = Check {
    id: "words-file-wrong",
    severity: Severity::Error,
    family: Family::Files,
    about: About {
        finds: "The folder's own `words.toml` has a fault, so none of it is used.",
        matters: "Sentences with the teacher's own words would be half read.",
        trips: "[golp]\nen = [\"tapita\"]",
        right: "[golpe]\nen = [\"tapita\"]",
    },
    run: Run::Elsewhere,
};
