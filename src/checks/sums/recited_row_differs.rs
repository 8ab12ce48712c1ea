use crate::checks::{About, Check, Context, Family, Run};
use crate::findings::{Finding, Severity};
use crate::music::lesson::Lesson;
use crate::music::pattern::{Claim, ClaimAbout, Pattern};
use crate::music::pitch::NoteName;
use crate::music::position::Position;
use crate::music::stroke::Action;
use crate::text::Place;

pub(in crate::checks) const CHECK: Check = Check {
    id: "recited-row-differs",
    severity: Severity::Warning,
    family: Family::Sums,
    about: About {
        finds: "A row recited along with the playing (\"one down, two down up\") does not agree with the strokes given for those counts.",
        matters: "The ear learns the recited row and the eye the written one; a student has to hear and read the same.",
        trips: "[0:20] 1 i dn, 2 i dn, & i up\n[0:30] so: 1 down, 2 up",
        right: "[0:20] 1 i dn, 2 i dn, & i up\n[0:30] so: 1 down, 2 down, up",
    },
    run: Run::Lesson(look),
};

fn look(lesson: &Lesson, context: &Context) -> Vec<Finding> {
    let in_pattern = |pattern: &Pattern| {
        let rows: Vec<Row> = pattern.claims.iter().filter_map(|claim| row(pattern, claim)).collect();
        let agreeing = rows
            .iter()
            .flat_map(|row| &row.counts)
            .filter(|count| count.agrees())
            .count();
        let differing = rows
            .iter()
            .filter_map(|row| Some((row, row.counts.iter().find(|count| !count.agrees())?)));
        let found = differing.map(|(row, count)| {
            let finding = finding(row, count);
            // Speech is loose: it is held to a row only where most of it agrees.
            if row.named || context.is_typed(&row.place) || agreeing >= ENOUGH {
                finding
            } else {
                finding.weighing(Severity::Note)
            }
        });
        found.collect::<Vec<_>>()
    };
    lesson.patterns.iter().flat_map(in_pattern).collect()
}

/// Counts that agree before a spoken row is held against its strokes.
const ENOUGH: usize = 3;

/// A recited row, moment by moment.
struct Row {
    place: Place,
    /// A row of the names of notes.
    named: bool,
    counts: Vec<Said>,
}

/// What a row says for a moment, and what was told for it.
struct Said {
    at: Position,
    said: String,
    told: String,
}

impl Said {
    fn agrees(&self) -> bool {
        self.said == self.told
    }
}

fn row(pattern: &Pattern, claim: &Claim) -> Option<Row> {
    let (named, counts) = match &claim.about {
        ClaimAbout::Recited { row, .. } => (false, strums(pattern, row)),
        ClaimAbout::NamedAgain { row } => (true, row.iter().filter_map(|said| note(pattern, *said)).collect()),
        _ => return None,
    };
    let place = claim.place;
    Some(Row { place, named, counts })
}

/// The strums of each count that the row says. A count without strums, or with other strokes, is open, not different.
fn strums(pattern: &Pattern, row: &[(Option<Position>, Option<Action>)]) -> Vec<Said> {
    let strum = |action: Action| match action {
        Action::Down => Some("down"),
        Action::Up => Some("up"),
        _ => None,
    };
    let mut counts: Vec<i64> = row.iter().filter_map(|(at, _)| Some((*at)?.whole())).collect();
    counts.dedup();
    let in_count = |count: i64| {
        let said = row.iter().filter(|(at, _)| at.is_some_and(|at| at.whole() == count));
        let said: Vec<&str> = said.filter_map(|(_, action)| strum((*action)?)).collect();
        let told = pattern.strokes.iter().filter(|stroke| stroke.at.whole() == count);
        let told: Vec<&str> = told
            .filter(|stroke| stroke.action != Action::Golpe)
            .map(|stroke| strum(stroke.action).unwrap_or(""))
            .collect();
        let known = !said.is_empty() && !told.is_empty() && !told.contains(&"");
        known.then(|| Said {
            at: Position::count(count),
            said: said.join(" "),
            told: told.join(" "),
        })
    };
    counts.into_iter().filter_map(in_count).collect()
}

/// The name that the row says for a note, and the note's own.
fn note(pattern: &Pattern, (at, name): (Position, NoteName)) -> Option<Said> {
    let told = pattern
        .strokes
        .iter()
        .filter(|stroke| stroke.at == at)
        .find_map(|stroke| stroke.note)?;
    let same = told.pitch_class() == name.pitch_class();
    let (said, told) = (name.to_string(), told.to_string());
    let told = if same { said.clone() } else { told };
    Some(Said { at, said, told })
}

fn finding(row: &Row, count: &Said) -> Finding {
    let Said { at, said, told } = count;
    let what = if row.named {
        "the note there is"
    } else {
        "the strokes there are"
    };
    let message = format!("the recited row has {said} at {at}, but {what} {told}");
    CHECK.found(row.place, message, "Correct the one that is wrong".to_owned())
}
