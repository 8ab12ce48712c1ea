use crate::checks::check::words_of;
use crate::checks::{Check, Context, Example, Family, Run};
use crate::findings::{Finding, Severity, Words};
use crate::music::lesson::Lesson;
use crate::music::pattern::{Claim, ClaimAbout, Pattern};
use crate::music::pitch::NoteName;
use crate::music::position::Position;
use crate::music::stroke::{Action, Stroke};
use crate::text::Place;

pub(in crate::checks) const CHECK: Check = Check {
    id: "recited-row-differs",
    severity: Severity::Warning,
    family: Family::Sums,
    example: Example {
        trips: "[0:00] tangos, count 4\n[0:20] 1 i dn, 2 i dn, & i up, 3 i dn, 4 p dn\n[0:30] So aloud it goes: one down, two up",
        right: "[0:00] tangos, count 4\n[0:20] 1 i dn, 2 i dn, & i up, 3 i dn, 4 p dn\n[0:30] So aloud it goes: one down, two down up",
    },
    run: Run::Lesson(look),
};

fn look(lesson: &Lesson, context: &Context) -> Vec<Finding> {
    let words = words_of(lesson);
    let in_pattern = |pattern: &Pattern| {
        let rows: Vec<Row> = pattern
            .claims
            .iter()
            .filter_map(|claim| row(words, pattern, claim))
            .collect();
        let agreeing = rows
            .iter()
            .flat_map(|row| &row.counts)
            .filter(|count| count.agrees())
            .count();
        let differing = rows
            .iter()
            .filter_map(|row| Some((row, row.counts.iter().find(|count| !count.agrees())?)));
        let found = differing.map(|(row, count)| {
            let finding = finding(words, row, count);
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

fn row(words: &Words, pattern: &Pattern, claim: &Claim) -> Option<Row> {
    let (named, counts) = match &claim.about {
        ClaimAbout::Recited { row, .. } if row.iter().all(|(_, action)| action.is_none()) => {
            (false, counted(words, pattern, row))
        }
        ClaimAbout::Recited { row, .. } => (false, strums(words, pattern, row)),
        ClaimAbout::NamedAgain { row } => (true, row.iter().filter_map(|said| note(pattern, *said)).collect()),
        _ => return None,
    };
    let place = claim.place;
    Some(Row { place, named, counts })
}

/// Counts said aloud with their halves, held against the counts that sound there. Where more than a half is played in a
/// count, or nothing, the row says nothing of it; a count is often said that is not played.
fn counted(words: &Words, pattern: &Pattern, row: &[(Option<Position>, Option<Action>)]) -> Vec<Said> {
    let half = |count: i64| Position::new(count, 1, 2);
    let sounds = |stroke: &&Stroke| !matches!(stroke.action, Action::Rest | Action::Damp);
    let show = |count: i64, halved: bool| {
        let case = if halved { "count_and_half" } else { "count_alone" };
        words.phrase(case, &[("count", &count)])
    };
    let said: Vec<i64> = row
        .iter()
        .filter_map(|(at, _)| *at)
        .filter(|at| *at == Position::count(at.whole()))
        .map(|at| at.whole())
        .collect();
    let in_count = |count: &i64| {
        let strokes: Vec<&Stroke> = pattern
            .strokes
            .iter()
            .filter(sounds)
            .filter(|stroke| stroke.at.whole() == *count)
            .collect();
        let plain = strokes
            .iter()
            .all(|stroke| stroke.at == Position::count(*count) || stroke.at == half(*count));
        let halved = |at: Position| at == half(*count);
        let told = strokes.iter().any(|stroke| halved(stroke.at));
        let aloud = row.iter().any(|(at, _)| at.is_some_and(halved));
        (plain && !strokes.is_empty()).then(|| Said {
            at: Position::count(*count),
            said: show(*count, aloud),
            told: show(*count, told),
        })
    };
    let counts: Vec<Said> = said.iter().filter_map(in_count).collect();
    // A row that differs in many places is another row.
    let differing = counts.iter().filter(|count| !count.agrees()).count();
    if differing > 2 || counts.len() < differing + ENOUGH {
        return Vec::new();
    }
    counts
}

/// The strokes of each count that the row says. A count without strokes, or with others than go down, up or stop the
/// strings, is open, not different; so is a finger said without its stroke.
fn strums(words: &Words, pattern: &Pattern, row: &[(Option<Position>, Option<Action>)]) -> Vec<Said> {
    let show = |strums: &[Option<&str>]| -> String {
        let said: Vec<String> = strums.iter().flatten().map(|strum| words.phrase(strum, &[])).collect();
        said.join(" ")
    };
    let mut counts: Vec<i64> = row.iter().filter_map(|(at, _)| Some((*at)?.whole())).collect();
    counts.dedup();
    let in_count = |count: i64| {
        let said = row.iter().filter(|(at, _)| at.is_some_and(|at| at.whole() == count));
        let said: Vec<Option<&str>> = said.map(|(_, action)| action.and_then(strum)).collect();
        let told = pattern.strokes.iter().filter(|stroke| stroke.at.whole() == count);
        let told = told.filter(|stroke| stroke.action != Action::Golpe);
        let told: Vec<Option<&str>> = told.map(|stroke| strum(stroke.action)).collect();
        let agree = agree(&said, &told)?;
        let shown = show(&said);
        let told = if agree { shown.clone() } else { show(&told) };
        Some(Said {
            at: Position::count(count),
            said: shown,
            told,
        })
    };
    counts.into_iter().filter_map(in_count).collect()
}

fn strum(action: Action) -> Option<&'static str> {
    match action {
        Action::Down => Some("down"),
        Action::Up => Some("up"),
        Action::Damp => Some("damp"),
        _ => None,
    }
}

/// Whether two rows are the same as far as both are known; None where that cannot be told.
fn agree(said: &[Option<&str>], told: &[Option<&str>]) -> Option<bool> {
    let known = |row: &[Option<&str>]| row.iter().all(Option::is_some);
    if said.is_empty() || told.is_empty() {
        return None;
    }
    if said.len() != told.len() {
        return (known(said) && known(told)).then_some(false);
    }
    let pairs = || {
        said.iter()
            .zip(told)
            .filter_map(|(said, told)| Some(((*said)?, (*told)?)))
    };
    pairs().next()?;
    Some(pairs().all(|(said, told)| said == told))
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

fn finding(words: &Words, row: &Row, count: &Said) -> Finding {
    let Said { at, said, told } = count;
    let case = if row.named { "note" } else { "" };
    CHECK.says(words, row.place, case, &[("said", said), ("at", at), ("told", told)])
}
