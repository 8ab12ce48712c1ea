use crate::checks::check::words_of;
use crate::checks::{Check, Context, Example, Family, Run};
use crate::findings::{Finding, Holes, Severity};
use crate::music::lesson::Lesson;

pub(in crate::checks) const CHECK: Check = Check {
    id: "chords-miscounted",
    severity: Severity::Warning,
    family: Family::Chords,
    example: Example {
        trips: "[0:17] you only need two grips:\n[0:20] A x02220\n[0:22] D xx0232\n[0:24] E7 020100",
        right: "[0:17] you only need three grips:\n[0:20] A x02220\n[0:22] D xx0232\n[0:24] E7 020100",
    },
    run: Run::Lesson(look),
};

fn look(lesson: &Lesson, _context: &Context) -> Vec<Finding> {
    let Some(said) = &lesson.chords_said else {
        return Vec::new();
    };
    let mut lines: Vec<u32> = lesson
        .chords
        .iter()
        .filter_map(|chord| chord.shape_place)
        .filter(|place| place.file == said.place.file && place.line > said.place.line)
        .map(|place| place.line)
        .collect();
    lines.sort_unstable();
    // The list ends with the first line that is none of its.
    let listed = lines
        .iter()
        .zip(said.place.line + 1..)
        .take_while(|(line, next)| *line == next)
        .count();
    // A single line may hold more than one chord.
    if listed < 2 || listed == said.value {
        return Vec::new();
    }
    let holes: Holes = &[("said", &said.value), ("listed", &listed)];
    vec![CHECK.says(words_of(lesson), said.place, "", holes)]
}
