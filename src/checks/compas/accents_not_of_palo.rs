use crate::checks::check::words_of;
use crate::checks::{Check, Context, Example, Family, Run};
use crate::findings::{Finding, Holes, Severity, Words};
use crate::music::lesson::Lesson;
use crate::music::palo::{AccentSet, Compas, Palo};
use crate::music::position::Position;

pub(in crate::checks) const CHECK: Check = Check {
    id: "accents-not-of-palo",
    severity: Severity::Warning,
    family: Family::Compas,
    example: Example {
        trips: "[0:00] cantiñas\n[0:06] count 12, accents 2 5 9 11",
        right: "[0:00] cantiñas\n[0:06] count 12, accents 3 6 8 10 12",
    },
    run: Run::Lesson(look),
};

fn look(lesson: &Lesson, context: &Context) -> Vec<Finding> {
    finding(lesson, context).into_iter().collect()
}

fn finding(lesson: &Lesson, context: &Context) -> Option<Finding> {
    let palo = context
        .palos
        .find(&lesson.palo.as_ref()?.value)
        .filter(|palo| !palo.free)?;
    let first = lesson.meter.accents.first()?;
    let beats = lesson.meter.beats.as_ref().map(|beats| beats.value);
    let accents: Vec<Position> = lesson.meter.accents.iter().map(|accent| accent.value).collect();
    let beyond = |beats: i64| accents.iter().all(|accent| (1..=beats).contains(&accent.whole()));
    // An accent on a count that is not there is another check's business.
    if !beats.is_none_or(beyond) || fits(palo, beats, &accents) {
        return None;
    }
    let place = lesson.meter.accents.iter().fold(first.place, |place, accent| {
        if accent.place.file == place.file && accent.place.line == place.line {
            place.to(accent.place)
        } else {
            place
        }
    });
    let words = words_of(lesson);
    let (known, shown) = (known(words, palo, beats), words.list(&accents));
    let name = palo.name.of(&lesson.language);
    let holes: Holes = &[("accents", &shown), ("palo", &name), ("known", &known)];
    Some(CHECK.says(words, place, "", holes))
}

/// Some attested set holds every accent. A lesson that leans on fewer moments contradicts nothing.
fn fits(palo: &Palo, beats: Option<i64>, accents: &[Position]) -> bool {
    let ways = comparable(palo, beats);
    ways.is_empty()
        || ways
            .iter()
            .any(|way| way.holds_accents(accents) || holds_in_rounds(way, beats, accents))
}

/// The ways of counting that the lesson's can be held against: those of its own number of counts, or else those that
/// are a half or a double of it. Without a number, all.
fn comparable(palo: &Palo, beats: Option<i64>) -> Vec<&Compas> {
    let ways = palo
        .compas
        .iter()
        .filter(|way| !way.accents.is_empty() && way.counts > 0);
    let Some(beats) = beats.filter(|beats| *beats > 0) else {
        return ways.collect();
    };
    let (same, other): (Vec<&Compas>, Vec<&Compas>) = ways.partition(|way| way.counts == beats);
    if same.is_empty() {
        let multiple = |way: &&Compas| beats % way.counts == 0 || way.counts % beats == 0;
        other.into_iter().filter(multiple).collect()
    } else {
        same
    }
}

/// The same in a round of half or twice the counts: 6 of 8 is 2 of 4.
fn holds_in_rounds(way: &Compas, beats: Option<i64>, accents: &[Position]) -> bool {
    let Some(beats) = beats.filter(|beats| *beats != way.counts) else {
        return false;
    };
    let round = beats.min(way.counts).max(1);
    let within = |position: Position| position.plus((-(position.whole() - 1).div_euclid(round) * round).into());
    let holds = |set: &AccentSet| {
        let attested: Vec<Position> = set.at.iter().map(|at| within(*at)).collect();
        accents.iter().all(|accent| attested.contains(&within(*accent)))
    };
    way.accents.iter().any(holds)
}

/// The attested sets, as a teacher would say them.
fn known(words: &Words, palo: &Palo, beats: Option<i64>) -> String {
    let ways = comparable(palo, beats);
    let sets = ways.iter().flat_map(|way| &way.accents);
    let mut texts: Vec<String> = Vec::new();
    for set in sets {
        let text = set.at.iter().map(Position::to_string).collect::<Vec<_>>().join(" ");
        if !texts.contains(&text) {
            texts.push(text);
        }
    }
    texts.truncate(3);
    let Some((last, rest)) = texts.split_last().filter(|(_, rest)| !rest.is_empty()) else {
        return texts.join("");
    };
    words.phrase("or", &[("list", &rest.join(", ")), ("last", last)])
}
