use super::{Building, Discourse, Placed};
use crate::music::pattern::{Claim, ClaimAbout, CountSpan, Role};
use crate::music::position::Position;
use crate::music::stroke::{Action, Stroke};
use crate::reading::moments::{Part, When};
use crate::reading::statement::{SameAs, Told};
use crate::text::Place;

impl Discourse {
    pub(super) fn same(&mut self, told: &Told, same: SameAs, place: Place) {
        let target = told
            .span
            .or(told.when.and_then(|when| when.count).map(|count| (count, count)))
            .or_else(|| {
                self.cursor
                    .filter(|_| self.sentence_has_count && same.counts.is_some())
                    .map(|count| (count, count))
            })
            .or(self.counts_just_listed(same))
            // "5 and 6, that's B flat, once more the same"
            .or(self
                .focus
                .filter(|_| same.counts.is_none() && !same.core && !told.sounds()));
        if let Some(number) = same.variation {
            self.copy_of_variation(
                number,
                told.span
                    .or(told.when.and_then(|when| when.count).map(|count| (count, count))),
                place,
            );
            return;
        }
        let explicit = told.sounds() && !told.fingers.is_empty();
        if same.core && target.is_none() {
            let span = self
                .building()
                .filter(|building| building.role != Role::Core && building.strokes.is_empty())
                .and_then(|building| building.span);
            if let Some(span) = span {
                self.copy((span.first, span.last), (span.first, span.last), true, place);
            }
            return;
        }
        if let Some(when) = told
            .when
            .filter(|when| when.part != Part::Whole && same.counts.is_none())
        {
            self.same_part(when, place);
            return;
        }
        let Some((first, last)) = target else { return };
        if told.when.is_some_and(|when| when.part != Part::Whole) {
            return;
        }
        let source = match same.counts {
            Some(counts) => counts,
            None if same.core => (first, last),
            None if explicit => return,
            None if last > first && 2 * first > last + 1 => (first - (last - first + 1), first - 1),
            // "Two and three, the same again": not so many stand in front of them, so each is as the one before.
            None if last > first => (first - 1, first - 1),
            None => {
                let Some(previous) = self.previous_count.filter(|previous| *previous != first) else {
                    return;
                };
                (previous, previous)
            }
        };
        if source.0 == first && !same.core {
            return;
        }
        self.copy(source, (first, last), same.core, place);
    }

    /// "Now 4, 5, 6. The right hand is exactly the same as 1, 2, 3.": as many counts, by themselves in the sentence before.
    fn counts_just_listed(&self, same: SameAs) -> Option<(i64, i64)> {
        let (first, last, sentence) = self.listed?;
        let (from, to) = same.counts?;
        (sentence + 1 == self.sentence && last - first == to - from && first > to).then_some((first, last))
    }

    /// "the third is like the first one, but …", "1 to 3 as in the first variation".
    fn copy_of_variation(&mut self, number: i64, counts: Option<(i64, i64)>, place: Place) {
        let variations = || {
            self.patterns
                .iter()
                .enumerate()
                .filter(|(_, pattern)| pattern.role != Role::Core)
        };
        let nth = usize::try_from(number - 1).unwrap_or(0);
        let source = variations()
            .find(|(_, pattern)| pattern.number == Some(number))
            .or_else(|| variations().nth(nth))
            .map(|(at, pattern)| (at, pattern.span, pattern.clone()));
        let (Some((at, span, mut source)), Some(index)) = (source, self.current) else {
            return;
        };
        // What was said once for all of it comes along.
        super::finish::blankets(&mut source, &self.golpe_fingers, self.strum_finger);
        let Building { strokes, changes, .. } = source;
        let within = |count: i64| counts.is_none_or(|(first, last)| (first..=last).contains(&count));
        if at == index {
            return;
        }
        if let Some(building) = self
            .building()
            .filter(|building| building.span.is_none() && counts.is_none())
        {
            building.span = span;
        }
        for placed in strokes.into_iter().filter(|placed| within(placed.stroke.at.whole())) {
            let mut stroke = placed.stroke;
            stroke.place = place;
            stroke.implied = Some(format!("as in variation {number}"));
            self.add(index, stroke, true, false);
        }
        for change in changes.into_iter().filter(|change| within(change.at.whole())) {
            self.change(index, change.at, &change.chord, place);
        }
        self.note(format!("as in variation {number}"), place);
    }

    /// A count told anew in a variation that is like another one: nothing of the other is left there.
    pub(super) fn take_back_the_lent(&mut self, at: Position) {
        let sentence = self.sentence;
        let Some(building) = self.building() else { return };
        building.strokes.retain(|placed| {
            let lent = placed
                .stroke
                .implied
                .as_ref()
                .is_some_and(|rule| rule.starts_with("as in variation"));
            !(lent && placed.copied && placed.sentence != sentence && placed.stroke.at.whole() == at.whole())
        });
    }

    /// "on the and of 2, the same as before": what was last told for that part of a count.
    pub(super) fn same_part(&mut self, when: When, place: Place) {
        let (Some(at), Some(index)) = (self.resolve(when), self.current) else {
            return;
        };
        let Some(pattern) = self.patterns.get(index) else {
            return;
        };
        let source = pattern
            .strokes
            .iter()
            .map(|placed| placed.stroke.at)
            .filter(|known| *known < at && known.fraction() == at.fraction())
            .max();
        let Some(source) = source else { return };
        let found: Vec<Stroke> = pattern
            .strokes
            .iter()
            .filter(|placed| placed.stroke.at == source)
            .map(|placed| placed.stroke.clone())
            .collect();
        for mut stroke in found {
            stroke.at = at;
            stroke.place = place;
            stroke.implied = Some(format!("same as {source}"));
            self.add(index, stroke, true, false);
        }
        self.last = Some(at);
    }

    /// Strokes of some counts are taken over by others.
    pub(super) fn copy(&mut self, source: (i64, i64), target: (i64, i64), from_core: bool, place: Place) {
        let index = self.pattern_for_stroke(place);
        if !self.inside(Position::count(target.0)) {
            if !from_core {
                self.copied_past_the_span(index, target, place);
            }
            return;
        }
        let own = self
            .patterns
            .get(index)
            .filter(|pattern| !from_core || pattern.role == Role::Core);
        let within = |placed: &&Placed| {
            (source.0..=source.1).contains(&placed.stroke.at.whole()) && placed.stroke.action != Action::Rest
        };
        let mut found: Vec<Stroke> = own
            .into_iter()
            .flat_map(|pattern| pattern.strokes.iter().filter(within))
            .map(|placed| placed.stroke.clone())
            .collect();
        if found.is_empty() {
            found = self
                .core()
                .into_iter()
                .flat_map(|core| core.strokes.iter().filter(within))
                .map(|placed| placed.stroke.clone())
                .collect();
        }
        let width = source.1 - source.0 + 1;
        let before = target.1 - width + 1;
        let target =
            if target.0 == target.1 && width > 1 && self.previous_count == Some(target.1 - 1) && before > source.1 {
                (before, target.1)
            } else {
                target
            };
        for count in target.0..=target.1 {
            self.take_back_the_lent(Position::count(count));
        }
        let reach = target.1 - target.0 + 1;
        let times = (reach / width.max(1)).max(1);
        for round in 0..times {
            for stroke in &found {
                let shift = target.0 - source.0 + round * width;
                let mut copy = stroke.clone();
                copy.at = copy.at.plus(shift.into());
                copy.place = place;
                copy.implied = Some(format!("same as {}", source.0));
                self.add(index, copy, true, false);
            }
        }
        self.copied_span = (target.1 > target.0).then_some(target);
        self.set_cursor(target.1);
        self.note(
            format!("{} to {} as on {} to {}", target.0, target.1, source.0, source.1),
            place,
        );
    }

    /// "9: the same again" in a variation that takes the place of 7-8.
    fn copied_past_the_span(&mut self, index: usize, target: (i64, i64), place: Place) {
        let typed = self.context.typed;
        let Some(pattern) = self.patterns.get_mut(index).filter(|pattern| !pattern.runs_on) else {
            return;
        };
        let span = pattern
            .span
            .filter(|span| pattern.role != Role::Core && span.first <= span.last);
        // "7-12 as in the compás" is no copy of what stands before it.
        let single = target.0 == target.1;
        let past = |span: &CountSpan| single && target.1 > span.last && (typed || target.0 == span.last + 1);
        if let Some(span) = span.filter(past) {
            let at = Position::count(target.0.max(span.last + 1));
            let about = ClaimAbout::Outside { at, span };
            pattern.claims.push(Claim { place, about });
        }
    }

    /// "4, 5 and 6 the same on the D, with the thumb on the fourth string": the copied stroke of that finger moves.
    pub(super) fn changes_the_copy(&mut self, told: &Told) -> bool {
        let Some((first, last)) = self
            .copied_span
            .filter(|_| told.when.is_none() && told.actions.is_empty())
        else {
            return false;
        };
        let ([finger], false, true) = (told.fingers.as_slice(), told.strings.is_empty(), told.frets.len() < 2) else {
            return false;
        };
        let (finger, strings) = (*finger, told.strings.clone());
        let (fret, note) = (told.frets.first().copied(), told.notes.first().copied());
        let Some(building) = self.building() else { return false };
        let copied = building
            .strokes
            .iter_mut()
            .filter(|placed| {
                placed.copied && (first..=last).contains(&placed.stroke.at.whole()) && placed.stroke.fingers == [finger]
            })
            .min_by_key(|placed| placed.stroke.at);
        match copied {
            Some(placed) => {
                placed.stroke.strings = strings;
                placed.stroke.fret = fret;
                placed.stroke.note = note;
                true
            }
            None => false,
        }
    }

    /// Counts played as others are, but for those that the line gives strokes of its own.
    pub fn copy_but(&mut self, source: (i64, i64), target: (i64, i64), from_core: bool, but: &[i64], place: Place) {
        self.copy(source, target, from_core, place);
        if let Some(building) = self.building() {
            let (first, last) = target;
            building.strokes.retain(|placed| {
                let whole = placed.stroke.at.whole();
                !(placed.copied && (first..=last).contains(&whole) && but.contains(&whole))
            });
        }
    }
}
