use super::{Check, Example, Family, Run};
use crate::findings::{Holes, Severity, Words};
use crate::music::palo::PaloFault;

/// Found where the palos in force are put together, explained here.
pub(crate) const CHECK: Check = Check {
    id: "palos-file-wrong",
    severity: Severity::Error,
    family: Family::Files,
    example: Example {
        trips: "[[palo]]\nslug = \"Our Tangos\"",
        right: "[[palo]]\nslug = \"our-tangos\"",
    },
    run: Run::Elsewhere,
};

/// What is wrong with the file, in words.
pub(crate) fn fault(words: &Words, fault: &PaloFault) -> String {
    let say = |case: &str, holes: Holes| words.say(CHECK.id, "fault", case, holes);
    match fault {
        PaloFault::Shape(told) => say("shape", &[("words", told)]),
        PaloFault::Slug(slug) => say("slug", &[("slug", slug)]),
        PaloFault::Twice(slug) => say("twice", &[("slug", slug)]),
        PaloFault::Like { slug, like } => say("like", &[("slug", slug), ("like", like)]),
        PaloFault::NoCompas(slug) => say("no_compas", &[("slug", slug)]),
        PaloFault::FreeWithCompas(slug) => say("free_with_compas", &[("slug", slug)]),
        PaloFault::Counts(counts) => say("counts", &[("counts", counts)]),
        PaloFault::Lengths { counts, lengths } => say("lengths", &[("given", lengths), ("counts", counts)]),
        PaloFault::Length(length) => say("length", &[("given", length)]),
        PaloFault::Groups { sum, counts } => say("groups", &[("given", sum), ("counts", counts)]),
        PaloFault::Spoken { given, counts } => say("spoken", &[("given", given), ("counts", counts)]),
        PaloFault::Outside { what, at, counts } => {
            let what = words.say(CHECK.id, "what", what, &[]);
            say("outside", &[("what", &what), ("at", at), ("counts", counts)])
        }
        PaloFault::StrongWithoutClap(at) => say("strong", &[("at", at)]),
        PaloFault::Tempo { low, high } => say("tempo", &[("low", low), ("high", high)]),
        PaloFault::TempoCounts(counts) => say("tempo_counts", &[("counts", counts)]),
        PaloFault::Level(level) => say("level", &[("given", level)]),
    }
}
