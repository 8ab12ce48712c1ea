use std::collections::BTreeMap;

use crate::checks::counts::show_list;
use crate::checks::{About, Check, Context, Family, Run};
use crate::findings::{Finding, Severity};
use crate::music::lesson::Lesson;
use crate::music::position::Position;

pub(in crate::checks) const CHECK: Check = Check {
    id: "palo-with-two-accent-sets",
    severity: Severity::Note,
    family: Family::Course,
    about: About {
        finds: "Two lessons count one palo in the same number of counts and accent it differently.",
        matters: "Both may be right, but a student who claps along will want to know which one holds when.",
        trips: "[0:06] bulería, count 12, accents 12 3 6 8 10\n\n(and in another note: accents 12 3 7 8 10)",
        right: "[0:06] bulería, count 12, accents 12 3 6 8 10\n\n(and in the other note the same)",
    },
    run: Run::Course(look),
};

fn look(lessons: &[Lesson], _context: &Context) -> Vec<Finding> {
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
        let message = format!(
            "{} is accented on {} here and on {} in {}",
            palo.value,
            show_list(&accents),
            show_list(other),
            home.id
        );
        let help = "If both are meant, say which one holds when".to_owned();
        let finding = CHECK.found(said.place, message, help);
        let there = home.meter.accents.first().map(|accent| accent.place);
        findings.push(match there {
            Some(place) => finding.see_also(place, format!("the accents of {}", home.id)),
            None => finding,
        });
    }
    findings
}
