use crate::checks::check::words_of;
use crate::checks::{Check, Context, Example, Family, Run};
use crate::findings::{Finding, Holes, Severity};
use crate::music::key::Tempo;
use crate::music::lesson::{Lesson, Said};
use crate::music::palo::{Palo, TempoRange, TempoUnit};

pub(in crate::checks) const CHECK: Check = Check {
    id: "tempo-implausible",
    severity: Severity::Warning,
    family: Family::Compas,
    example: Example {
        trips: "[0:00] tientos\n[0:11] tempo 240",
        right: "[0:00] tientos\n[0:11] tempo 60",
    },
    run: Run::Lesson(look),
};

fn look(lesson: &Lesson, context: &Context) -> Vec<Finding> {
    finding(lesson, context).into_iter().collect()
}

fn finding(lesson: &Lesson, context: &Context) -> Option<Finding> {
    let Attested {
        palo,
        ranges,
        low,
        high,
    } = attested(lesson, context)?;
    let tempo = lesson.tempo.as_ref()?;
    let Tempo {
        low: slowest,
        high: fastest,
    } = tempo.value;
    if ranges.iter().any(|range| slowest <= range.high && fastest >= range.low) || (slowest >= low && fastest <= high) {
        return None;
    }
    let too_slow = fastest < low;
    let finding = told(lesson, tempo, palo, (low, high), too_slow);
    let far = is_absurd(lesson, context);
    Some(if far { finding } else { finding.weighing(Severity::Note) })
}

/// Beyond half or twice all that is attested of the palo: a slip of the pen, and nothing that is reckoned from it holds.
pub(in crate::checks) fn is_absurd(lesson: &Lesson, context: &Context) -> bool {
    let (Some(known), Some(tempo)) = (attested(lesson, context), &lesson.tempo) else {
        return false;
    };
    tempo.value.high < known.low / 2 || tempo.value.low > known.high * 2
}

/// What is attested of a lesson's palo, in its way of counting: the tempos, and the lowest and the highest of them.
struct Attested<'a> {
    palo: &'a Palo,
    ranges: Vec<&'a TempoRange>,
    low: u32,
    high: u32,
}

/// None for a free palo, and where nothing is known.
fn attested<'a>(lesson: &Lesson, context: &Context<'a>) -> Option<Attested<'a>> {
    let palo = context.palos.find(&lesson.palo.as_ref()?.value);
    let palo = palo.filter(|palo| !palo.free)?;
    let ranges = comparable(palo, lesson.meter.beats.as_ref().map(|beats| beats.value));
    let low = ranges.iter().map(|range| range.low).min()?;
    let high = ranges.iter().map(|range| range.high).max()?;
    Some(Attested {
        palo,
        ranges,
        low,
        high,
    })
}

/// The ranges of the lesson's way of counting; all of them where it does not say or none is known for it.
fn comparable(palo: &Palo, beats: Option<i64>) -> Vec<&TempoRange> {
    let all: Vec<&TempoRange> = palo.tempo.iter().collect();
    let Some(beats) = beats else {
        return all;
    };
    let same: Vec<&TempoRange> = all.iter().copied().filter(|range| range.counts == beats).collect();
    if same.is_empty() { all } else { same }
}

fn told(lesson: &Lesson, tempo: &Said<Tempo>, palo: &Palo, (low, high): (u32, u32), too_slow: bool) -> Finding {
    let said = if tempo.value.low == tempo.value.high {
        tempo.value.low.to_string()
    } else {
        format!("{}-{}", tempo.value.low, tempo.value.high)
    };
    let pulses = palo.tempo.iter().all(|range| range.per == TempoUnit::Pulse);
    let name = palo.name.of(&lesson.language);
    let holes: Holes = &[("tempo", &said), ("palo", &name), ("low", &low), ("high", &high)];
    let speed = if too_slow { "slow" } else { "fast" };
    let case = if pulses {
        format!("{speed}_pulses")
    } else {
        speed.to_owned()
    };
    CHECK.tells(words_of(lesson), tempo.place, (&case, speed), holes)
}
