use super::{About, Check, Family, Run};
use crate::findings::Severity;

/// Found where the palos in force are put together, explained here.
pub(crate) const CHECK: Check = Check {
    id: "palos-file-wrong",
    severity: Severity::Error,
    family: Family::Files,
    about: About {
        finds: "The folder's own `palos.toml` has a fault, so none of it is used.",
        matters: "A palo half read would be counted and clapped wrongly on every page.",
        trips: "[[palo]]\nslug = \"Our Tangos\"",
        right: "[[palo]]\nslug = \"our-tangos\"",
    },
    run: Run::Elsewhere,
};
