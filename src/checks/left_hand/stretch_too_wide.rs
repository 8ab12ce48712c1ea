use super::told::stories;
use super::words;
use crate::checks::check::words_of;
use crate::checks::{Check, Context, Example, Family, Run};
use crate::findings::{Finding, Severity, Words};
use crate::music::fretboard::Guitar;
use crate::music::held::{By, Hold};
use crate::music::lesson::Lesson;
use crate::music::reach::{Fingertip, Strain, StrainKind, fingertips, strains};
use crate::text::Place;

pub(in crate::checks) const CHECK: Check = Check {
    id: "stretch-too-wide",
    severity: Severity::Error,
    family: Family::LeftHand,
    example: Example {
        trips: "[0:15] C x32018: LH 1 on s2 f1, 2 on s4 f2, 3 on s5 f3, 4 on s1 f8",
        right: "[0:15] C x32013: LH 1 on s2 f1, 2 on s4 f2, 3 on s5 f3, 4 on s1 f3",
    },
    run: Run::Lesson(look),
};

fn look(lesson: &Lesson, context: &Context) -> Vec<Finding> {
    let (guitar, words) = (Guitar::of(lesson), words_of(lesson));
    let mut findings: Vec<Finding> = Vec::new();
    for chord in &lesson.chords {
        let place = chord.fingers_place.or(chord.shape_place).unwrap_or(chord.place);
        let strains = strains(&fingertips(chord), &guitar);
        findings.extend(strains.first().and_then(|strain| finding(words, strain, place)));
    }
    for told in stories(lesson, context.palos) {
        for grip in &told.grips {
            // A note counts at its own moment only: nobody says how long its finger stays.
            let down = |hold: &&Hold| hold.kept || hold.by == By::Put || (hold.by == By::Note && hold.since == grip.at);
            let holds: Vec<&Hold> = grip.holds.iter().filter(down).collect();
            let tips: Vec<Fingertip> = holds.iter().map(|hold| tip(hold)).collect();
            let Some(strain) = strains(&tips, &guitar).into_iter().next() else {
                continue;
            };
            let own = |hold: &&&Hold| [strain.one, strain.other].contains(&tip(hold));
            let last = holds.iter().filter(own).max_by_key(|hold| (hold.since, hold.place));
            findings.extend(last.and_then(|hold| finding(words, &strain, hold.place)));
        }
    }
    findings.sort();
    findings.dedup_by(|one, other| one.place == other.place);
    findings
}

fn tip(hold: &Hold) -> Fingertip {
    Fingertip {
        finger: hold.finger,
        string: hold.string,
        fret: hold.fret,
    }
}

fn finding(words: &Words, strain: &Strain, place: Place) -> Option<Finding> {
    let StrainKind::Wide { mm, impossible } = strain.what else {
        return None;
    };
    let (one, other) = (words::tip(words, &strain.one), words::tip(words, &strain.other));
    let mm = format!("{mm:.0}");
    let case = if impossible { "impossible" } else { "" };
    let finding = CHECK.says(words, place, case, &[("one", &one), ("other", &other), ("mm", &mm)]);
    Some(if impossible {
        finding
    } else {
        finding.weighing(Severity::Warning)
    })
}
