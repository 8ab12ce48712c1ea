use std::collections::BTreeMap;

use crate::checks::check::words_of;
use crate::checks::{Check, Context, Example, Family, Run};
use crate::findings::{Finding, Holes, Severity};
use crate::music::lesson::Lesson;
use crate::music::position::Position;

pub(in crate::checks) const CHECK: Check = Check {
    id: "palo-with-two-accent-sets",
    severity: Severity::Note,
    family: Family::Course,
    example: Example {
        trips: "[0:06] bulería, count 12, accents 12 3 6 8 10\n\n(and in another note: accents 12 3 7 8 10)",
        right: "[0:06] bulería, count 12, accents 12 3 6 8 10\n\n(and in the other note the same)",
    },
    run: Run::Course(look),
};

fn look(lessons: &[Lesson], context: &Context) -> Vec<Finding> {
    let mut first: BTreeMap<(&str, i64), (&Lesson, Vec<Position>)> = BTreeMap::new();
    let mut findings = Vec::new();
    for lesson in lessons {
        let Some((palo, beats)) = lesson.palo.as_ref().zip(lesson.meter.beats.as_ref()) else {
            continue;
        };
        let mut accents: Vec<Position> = lesson.meter.accents.iter().map(|accent| accent.value).collect();
        accents.sort();
        let Some(said) = lesson.meter.accents.first() else {
            continue;
        };
        let (home, other) = first
            .entry((&palo.value, beats.value))
            .or_insert((lesson, accents.clone()));
        if *other == accents {
            continue;
        }
        let words = words_of(lesson);
        let known = context.palos.find(&palo.value);
        let name = known.map_or(palo.value.as_str(), |known| known.name.of(&lesson.language));
        let holes: Holes = &[
            ("palo", &name),
            ("accents", &words.list(&accents)),
            ("others", &words.list(other)),
            ("lesson", &home.id),
        ];
        let finding = CHECK.says(words, said.place, "", holes);
        let there = home.meter.accents.first().map(|accent| accent.place);
        findings.push(match there {
            Some(place) => finding.see_also(place, "", holes),
            None => finding,
        });
    }
    findings
}
