use std::collections::BTreeSet;

use super::{Building, Discourse, Placed};
use crate::music::hand::Finger;
use crate::music::lesson::{Lesson, Said, Untold};
use crate::music::pattern::{Claim, ClaimAbout, CountSpan, Role};
use crate::music::position::Position;
use crate::music::remark::{Remark, Things};
use crate::music::stroke::{Action, Stroke};
use crate::reading::remarks::{Named, Together};
use crate::text::Place;

/// Patterns are closed: blanket sayings go onto their strokes, spans are worked out, names made distinct.
pub fn lesson(mut discourse: Discourse) -> Lesson {
    spread_chords(&mut discourse);
    let beats = discourse.beats().or_else(|| discourse.palo_counts());
    let mut lesson = std::mem::take(&mut discourse.lesson);
    lesson.untold = untold(&discourse.patterns);
    lesson.remarks.extend(accents_listed(&discourse, &lesson));
    let mut called = Vec::new();
    let lines: Vec<u32> = discourse.patterns.iter().map(|pattern| pattern.place.line).collect();
    let others = discourse.patterns.iter().filter(|pattern| pattern.role != Role::Core);
    let core_ends = others.map(|pattern| pattern.place.line).min().unwrap_or(u32::MAX);
    lesson
        .remarks
        .extend(discourse.variations.not_told(&discourse.patterns));
    let mut number = 0;
    for mut building in std::mem::take(&mut discourse.patterns) {
        let bare_core = building.role == Role::Core && !building.changes.is_empty();
        if building.strokes.is_empty() && !bare_core {
            continue;
        }
        blankets(&mut building, &discourse.golpe_fingers, discourse.strum_finger);
        building
            .strokes
            .sort_by_key(|placed| (placed.stroke.at, placed.stroke.action));
        span(&mut building, beats);
        lesson
            .remarks
            .extend(count_its_notes(&mut building, discourse.context.typed));
        if building.role != Role::Core {
            number += 1;
            if building.name == "variation" || building.name == "variación" {
                building.name = format!("{} {number}", building.name);
            }
        }
        called.push(Called::of(&building, number));
        on_each_count(&mut building);
        lesson.remarks.extend(each_count(&building));
        lesson.remarks.extend(building.filled.map(|place| {
            let pattern = building.name.clone();
            Said::new(Remark::Filled { pattern }, place)
        }));
        lesson.remarks.extend(named_only(&building, &lines, &discourse.named));
        lesson
            .remarks
            .extend(left_out(&building, beats, &discourse.named, core_ends));
        let strokes: Vec<Stroke> = building.strokes.iter().map(|placed| placed.stroke.clone()).collect();
        let changes = building.changes.clone();
        let past = building
            .span
            .filter(|_| building.role != Role::Core && building.runs_on);
        let runs_on = past.and_then(|span| {
            strokes
                .iter()
                .map(|stroke| stroke.at)
                .filter(|at| at.whole() > span.last)
                .max()
        });
        lesson.patterns.push(building.pattern(strokes, changes, runs_on));
    }
    lesson.remarks.extend(together(&discourse.together, &called));
    let used: Vec<_> = lesson
        .patterns
        .iter()
        .flat_map(|pattern| pattern.changes.iter().map(|change| change.chord.clone()))
        .collect();
    lesson
        .chords
        .retain(|chord| chord.shape.is_some() || used.contains(&chord.name) || chord.implied.is_none());
    lesson
}

/// "there are five accents", held against their list.
fn accents_listed(discourse: &Discourse, lesson: &Lesson) -> Option<Said<Remark>> {
    let (said, place) = discourse.accents_announced?;
    let (what, given) = (Things::Accents, lesson.meter.accents.len());
    (given > 0).then(|| Said::new(Remark::Listed { what, said, given }, place))
}

/// "four notes to each count", said of a pattern.
fn each_count(building: &Building) -> Option<Said<Remark>> {
    let (per_count, place) = building.each_count?;
    let pattern = building.name.clone();
    Some(Said::new(Remark::EachCount { pattern, per_count }, place))
}

/// "down up down up down up, six strokes on each count": the row told for the first count is that of all of them.
fn on_each_count(building: &mut Building) {
    let span = building.span.filter(|_| building.role != Role::Core);
    let (Some(span), Some((per_count, _))) = (span, building.each_count) else {
        return;
    };
    let row: Vec<_> = building
        .strokes
        .iter()
        .filter(|placed| placed.stroke.at.whole() == span.first)
        .cloned()
        .collect();
    let whole = row.len() == building.strokes.len() && i64::try_from(row.len()) == Ok(per_count);
    if !whole {
        return;
    }
    for count in span.first + 1..=span.last {
        building.strokes.extend(row.iter().map(|placed| {
            let mut placed = placed.clone();
            placed.stroke.at = placed.stroke.at.plus((count - span.first).into());
            placed.stroke.implied = Some("told for each of its counts".to_owned());
            placed.copied = true;
            placed
        }));
    }
}

/// The one count of a typed core that no line names, between two that are told.
fn left_out(building: &Building, beats: Option<i64>, named: &[(u32, i64)], ends: u32) -> Option<Said<Remark>> {
    let span = building
        .span
        .filter(|span| building.role == Role::Core && Some(span.last) == beats && span.first == 1)?;
    let begins = building.strokes.iter().map(|placed| placed.stroke.place.line).min()?;
    let told = |count: i64| building.strokes.iter().find(|placed| placed.stroke.at.whole() == count);
    let mut open = (span.first..=span.last).filter(|count| told(*count).is_none());
    let (count, None) = (open.next()?, open.next()) else {
        return None;
    };
    let is_named = named
        .iter()
        .any(|(line, number)| (begins..ends).contains(line) && *number == count);
    told(count - 1)?;
    let next = told(count + 1)?;
    let sounds_on = building.strokes.iter().any(|placed| {
        let ends = placed.stroke.ends();
        ends.is_some_and(|end| placed.stroke.at.whole() < count && end > Position::count(count))
    });
    let typed = !named.is_empty() && !is_named && !sounds_on;
    typed.then(|| Said::new(Remark::LeftOut { count }, next.stroke.place))
}

/// "7: rasg x a m i, and 8 rings too": counts of a variation that its own lines name, though no stroke is told for them.
fn named_only(building: &Building, lines: &[u32], named: &[(u32, i64)]) -> Vec<Said<Remark>> {
    let Some(span) = building.span.filter(|_| building.role != Role::Core) else {
        return Vec::new();
    };
    let begins = building.place.line;
    let ends = lines
        .iter()
        .filter(|line| **line > begins)
        .min()
        .copied()
        .unwrap_or(u32::MAX);
    let told = |count: i64| building.strokes.iter().any(|placed| placed.stroke.at.whole() == count);
    let in_lines = |count: &i64| {
        named
            .iter()
            .any(|(line, number)| *line > begins && *line < ends && number == count)
    };
    let counts = (span.first..=span.last).filter(|count| !told(*count)).filter(in_lines);
    let remark = |count| {
        let pattern = building.name.clone();
        Said::new(Remark::NamedOnly { pattern, count }, building.place)
    };
    counts.map(remark).collect()
}

/// A variation by all that a sentence may call it.
struct Called {
    name: String,
    number: Option<i64>,
    /// Among the variations, from 1.
    nth: i64,
}

impl Called {
    fn of(building: &Building, nth: i64) -> Self {
        let nth = if building.role == Role::Core { 0 } else { nth };
        let (name, number) = (building.name.clone(), building.number);
        Self { name, number, nth }
    }

    /// By its title, its number, or where it stands.
    fn is(&self, name: &Named, numbered: bool) -> bool {
        match name {
            Named::Number(number) if numbered => self.number == Some(*number),
            Named::Number(number) => self.nth == *number,
            Named::Letter(letter) => self.name.split(' ').any(|word| word == letter.to_string()),
        }
    }
}

/// Which patterns are asked for in one vuelta.
fn together(asked: &[(Together, Place)], called: &[Called]) -> Vec<Said<Remark>> {
    let numbered = called.iter().any(|called| called.number.is_some());
    let variations = || called.iter().filter(|called| called.nth > 0);
    let patterns = |together: &Together| -> Vec<String> {
        match together {
            Together::These(names) => {
                let meant = |name: &Named| variations().find(|called| called.is(name, numbered));
                names
                    .iter()
                    .filter_map(meant)
                    .map(|called| called.name.clone())
                    .collect()
            }
            Together::All(many) if variations().count() == *many => {
                variations().map(|called| called.name.clone()).collect()
            }
            Together::All(_) => Vec::new(),
        }
    };
    let asked = asked.iter().map(|(together, place)| (patterns(together), *place));
    let asked = asked.filter(|(patterns, _)| patterns.len() >= 2);
    asked
        .map(|(patterns, place)| Said::new(Remark::Together { patterns }, place))
        .collect()
}

/// "five notes", said in front of the counts of a variation, is held against the notes told. Aloud only where each is told
/// in full: what was said and not understood may be the note that is missing.
fn count_its_notes(building: &mut Building, typed: bool) -> Option<Said<Remark>> {
    let (said, place) = building.notes_said?;
    let notes = building
        .strokes
        .iter()
        .filter(|placed| super::add::note_like(placed.stroke.action));
    let given = notes.clone().count();
    let at = building.strokes.first()?.stroke.at;
    if given < building.strokes.len() {
        return None;
    }
    if typed {
        let about = ClaimAbout::Numbered { at, said, given };
        building.claims.push(Claim { place, about });
        return None;
    }
    let in_full = |stroke: &Stroke| stroke.strings.len() == 1 && stroke.fret.is_some() && stroke.implied.is_none();
    let what = Things::Notes;
    // Where a count of the variation has no note, one that was said may not have been read.
    let told = |count: i64| building.strokes.iter().any(|placed| placed.stroke.at.whole() == count);
    let every = building.span.is_some_and(|span| (span.first..=span.last).all(told));
    let whole = notes.map(|placed| &placed.stroke).all(in_full) && every;
    whole.then(|| Said::new(Remark::Listed { what, said, given }, place))
}

/// Variations that take the place of some counts and then have no stroke, unless those counts are told of further on.
fn untold(patterns: &[Building]) -> Vec<Untold> {
    let bare = |building: &&Building| building.role != Role::Core && building.strokes.is_empty();
    let told_later = |span: CountSpan, place: Place| {
        let later = patterns
            .iter()
            .filter(|other| other.place.span.start > place.span.start);
        later.filter(|other| !bare(other)).any(|other| other.span == Some(span))
    };
    let spans = patterns.iter().filter(bare);
    spans
        .filter_map(|building| Some((building.span?, building.place)))
        .filter(|(span, place)| !told_later(*span, *place))
        .map(|(span, place)| Untold { span, place })
        .collect()
}

/// "A 1-2, Bb 3-6" said before the strokes holds for the core.
fn spread_chords(discourse: &mut Discourse) {
    let spans = std::mem::take(&mut discourse.chord_spans);
    let Some(core) = discourse
        .patterns
        .iter()
        .position(|pattern| pattern.role == Role::Core && !pattern.strokes.is_empty())
    else {
        return;
    };
    let first_change = discourse
        .patterns
        .get(core)
        .map(|pattern| pattern.changes.clone())
        .unwrap_or_default();
    for (chord, first, last, place) in spans {
        if let Some(pattern) = discourse.patterns.get_mut(core) {
            let span = CountSpan { first, last };
            let about = ClaimAbout::Covers {
                span,
                chord: Some(chord.clone()),
            };
            pattern.claims.push(Claim { place, about });
        }
        if first_change.iter().any(|change| change.at == Position::count(first)) {
            continue;
        }
        let in_force = first_change
            .iter()
            .filter(|change| change.at <= Position::count(first))
            .max_by_key(|change| change.at);
        if in_force.is_some_and(|change| change.chord == chord) {
            continue;
        }
        discourse.change(core, Position::count(first), &chord, place);
    }
}

/// What was said once for the passage goes onto every stroke it covers.
pub(super) fn blankets(building: &mut Building, golpe_fingers: &[Finger], strum_finger: Option<Finger>) {
    let passages = building.passages.clone();
    building
        .strokes
        .sort_by_key(|placed| (placed.stroke.at, placed.stroke.action));
    let picado = passages.iter().any(|passage| passage.picado);
    let rest_stroke = passages.iter().rev().find_map(|passage| passage.rest_stroke);
    let alternating = passages
        .iter()
        .rev()
        .find(|passage| passage.alternating && passage.fingers.len() >= 2);
    let whole = passages
        .iter()
        .rev()
        .find(|passage| !passage.alternating && passage.fingers.len() == 1);
    let string = passages.iter().rev().find_map(|passage| passage.string);
    let mut turn = 0;
    for placed in &mut building.strokes {
        let stroke = &mut placed.stroke;
        if super::add::note_like(stroke.action) && stroke.strings.is_empty() && stroke.fret.is_some() {
            stroke.strings.extend(string);
        }
        let note = matches!(stroke.action, Action::Pluck | Action::Picado);
        if picado
            && stroke.action == Action::Pluck
            && stroke
                .fingers
                .iter()
                .all(|finger| matches!(finger, Finger::I | Finger::M | Finger::A))
            && stroke.strings.len() <= 1
        {
            stroke.action = Action::Picado;
        }
        if note && stroke.rest_stroke.is_none() {
            stroke.rest_stroke = rest_stroke;
        }
        if let Some(passage) = alternating.filter(|_| note) {
            match stroke.fingers.first() {
                Some(finger) => {
                    turn = passage
                        .fingers
                        .iter()
                        .position(|known| known == finger)
                        .map_or(turn + 1, |at| at + 1)
                }
                None => {
                    let finger = passage.fingers.get(turn % passage.fingers.len().max(1)).copied();
                    stroke.fingers.extend(finger);
                    turn += 1;
                }
            }
        } else if let Some(passage) = whole {
            let covered = note || passage.every && matches!(stroke.action, Action::Down | Action::Up | Action::Alzapua);
            if covered && stroke.fingers.is_empty() {
                stroke.fingers.clone_from(&passage.fingers);
            }
        }
        if matches!(stroke.action, Action::Down | Action::Up) && stroke.fingers.is_empty() {
            stroke.fingers.extend(strum_finger);
        }
        if stroke.action == Action::Golpe && stroke.fingers.is_empty() {
            stroke.fingers = golpe_fingers.to_vec();
        }
    }
}

/// A core covers whole compases; a variation whose counts were not said covers those of its strokes.
fn span(building: &mut Building, beats: Option<i64>) {
    let moments = || building.strokes.iter().map(|placed: &Placed| placed.stroke.at.whole());
    let (Some(first), Some(last)) = (moments().min(), moments().max()) else {
        return;
    };
    if building.role == Role::Core {
        let beats = beats.unwrap_or(last).max(1);
        // One count past the compás is a slip or a landing, not a second compás.
        let past: BTreeSet<i64> = moments().filter(|count| *count > beats).collect();
        let last = if past.len() > 1 { last } else { last.min(beats) };
        let compases = ((last.max(1) + beats - 1) / beats).max(1);
        building.span = building.span.or(Some(CountSpan {
            first: first.min(1),
            last: beats * compases,
        }));
    } else if building.span.is_none() {
        building.span = Some(CountSpan { first, last });
    }
}
