use crate::checks::counts::show_list;
use crate::checks::{About, Check, Context, Family, Run};
use crate::findings::{Finding, Severity};
use crate::music::lesson::Lesson;
use crate::music::palo::{Compas, Palo};
use crate::music::position::Position;

pub(in crate::checks) const CHECK: Check = Check {
    id: "accents-not-of-palo",
    severity: Severity::Warning,
    family: Family::Compas,
    about: About {
        finds: "The accents fit no set of accents that is known for the palo.",
        matters: "The accents are the palo: clapped elsewhere, it is another one, and nobody can dance or sing to it.",
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
    let known = known(palo, beats);
    let message = format!(
        "the accents {} are not those of {}: {known}",
        show_list(&accents),
        palo.name.of(&lesson.language)
    );
    let help = "Correct the accents or the palo; if this is how you lean on it, let it stand with a reason".to_owned();
    Some(CHECK.found(place, message, help))
}

/// Every accent belongs to some attested set, in whatever number of counts the lesson counts the palo.
fn fits(palo: &Palo, beats: Option<i64>, accents: &[Position]) -> bool {
    let sets = palo.compas.iter().filter(|compas| !compas.accents.is_empty());
    let mut comparable = sets
        .filter(|compas| beats.is_none_or(|beats| is_comparable(compas, beats)))
        .peekable();
    if comparable.peek().is_none() {
        return true;
    }
    comparable.any(|compas| {
        accents
            .iter()
            .all(|accent| is_attested(compas, beats.unwrap_or(compas.counts), *accent))
    })
}

/// Counted in halves or in doubles of an attested compás.
fn is_comparable(compas: &Compas, beats: i64) -> bool {
    compas.counts > 0 && beats > 0 && (beats % compas.counts == 0 || compas.counts % beats == 0)
}

/// The accent, brought into one shared round, is in some attested set.
fn is_attested(compas: &Compas, beats: i64, accent: Position) -> bool {
    let round = beats.min(compas.counts).max(1);
    let within = |position: Position| position.plus((-(position.whole() - 1).div_euclid(round) * round).into());
    let wanted = within(accent);
    compas
        .accents
        .iter()
        .flat_map(|set| &set.at)
        .any(|attested| within(*attested) == wanted)
}

/// The attested sets, as a teacher would say them.
fn known(palo: &Palo, beats: Option<i64>) -> String {
    let comparable = |compas: &&Compas| beats.is_none_or(|beats| is_comparable(compas, beats));
    let mut same: Vec<&Compas> = palo.compas.iter().filter(comparable).collect();
    same.sort_by_key(|compas| Some(compas.counts) != beats);
    let sets = same.iter().flat_map(|compas| &compas.accents);
    let mut texts: Vec<String> = Vec::new();
    for set in sets {
        let text = set.at.iter().map(Position::to_string).collect::<Vec<_>>().join(" ");
        if !texts.contains(&text) {
            texts.push(text);
        }
    }
    texts.truncate(3);
    texts.join(", or ")
}
