use super::{Discourse, Placed, Run, only_moves};
use crate::music::hand::Finger;
use crate::music::pattern::{Claim, ClaimAbout, Role};
use crate::music::position::Position;
use crate::music::stroke::{Action, Stroke};
use crate::reading::moments::{Part, When};
use crate::reading::statement::{ChordSaid, SameAs, Told};
use crate::text::Place;
use num_rational::Ratio;

impl Discourse {
    /// A clause about strokes takes effect.
    pub fn told(&mut self, told: &Told, place: Place) {
        let plain = told.fingers.is_empty() && told.golpe_fingers.is_empty() && !told.has_note() && !self.context.typed;
        let described = told.same.is_some_and(|same| same.counts.is_some()) && plain
            || self.likened && plain && told.when.is_none() && told.sounds();
        if described {
            let mut bare = told.clone();
            bare.actions.clear();
            bare.golpe = false;
            bare.silence = false;
            self.likened = true;
            return self.told_whole(&bare, place);
        }
        self.likened &= told.when.is_none();
        self.told_whole(told, place);
    }

    /// The rasgueado told last, while its fingers are still to come.
    fn rasgueado_waits(&self) -> bool {
        let Some(pattern) = self.current.and_then(|index| self.patterns.get(index)) else {
            return false;
        };
        self.last.is_some_and(|last| {
            pattern.strokes.iter().any(|placed| {
                placed.stroke.at == last
                    && placed.stroke.action == Action::Rasgueado
                    && placed.stroke.fingers.is_empty()
            })
        })
    }

    fn told_whole(&mut self, told: &Told, place: Place) {
        if told.fingers.len() >= 3 && told.when.is_none() && !told.has_note() && self.rasgueado_waits() {
            self.details(told);
            return;
        }
        if told.corrects {
            self.take_back();
        }
        if told.negated {
            return;
        }
        self.move_to(told, place);
        if only_moves(told) {
            return;
        }
        if told.as_usual && told.same.is_none() && !told.sounds() {
            return;
        }
        if let Some(same) = told.same {
            self.same(told, same, place);
        }
        self.chord_told(told, place);
        if told.silence && told.actions.is_empty() && !told.golpe {
            self.silence(told, place);
        } else if told.sounds()
            || self.context.typed && told.when.is_some() && !told.fingers.is_empty() && told.golpe_fingers.is_empty()
            || told.has_note()
                && !(told.fingers.is_empty() && told.frets.is_empty() && told.notes.is_empty() && told.when.is_none())
        {
            self.event(told, place);
        } else {
            self.details(told);
        }
    }

    /// The count, run or division that the clause names.
    fn move_to(&mut self, told: &Told, place: Place) {
        if let Some((first, last)) = told.span {
            self.set_cursor(first);
            self.sentence_has_count = true;
            self.focus = Some((first, last));
        }
        if let Some(count) = told.when.and_then(|when| when.count) {
            self.set_cursor(count);
            self.sentence_has_count = true;
            if self
                .run
                .as_ref()
                .is_some_and(|run| !(run.from..run.from + run.counts).contains(&count))
            {
                self.close_run();
            }
        }
        if told.when.is_some() {
            self.loose = 0;
        }
        let goes_on = self
            .run
            .as_ref()
            .is_some_and(|run| run.told > 0 && Some(run.per_count) == told.division && Some(run.from) == self.cursor);
        if let Some(count) = self.cursor.filter(|_| !told.figure.is_empty()) {
            let mut at = Ratio::from_integer(0);
            let mut offsets = Vec::new();
            for length in &told.figure {
                offsets.push(at);
                at += length;
            }
            let per_count = i64::try_from(offsets.len()).unwrap_or(1);
            self.run = Some(Run {
                from: count,
                counts: 1,
                per_count,
                told: 0,
                place,
                said: true,
                offsets,
            });
        }
        if let Some(division) = told.division.filter(|_| !goes_on) {
            self.division(told, division, place);
        }
    }

    fn set_cursor(&mut self, count: i64) {
        if self.cursor != Some(count) {
            self.previous_count = self.cursor;
        }
        self.cursor = Some(count);
    }

    fn division(&mut self, told: &Told, division: i64, place: Place) {
        let here = told.when.and_then(|when| when.count).or(told.span.map(|span| span.0));
        let span = told.span.or(self.focus);
        let at = here.or(self.cursor.filter(|_| self.sentence_has_count || self.context.typed));
        match at {
            Some(count) => {
                let counts = span.map_or(1, |(first, last)| (last - first + 1).max(1));
                self.run = Some(Run {
                    from: span.map_or(count, |span| span.0),
                    counts,
                    per_count: division,
                    told: 0,
                    place,
                    said: true,
                    offsets: Vec::new(),
                });
            }
            None => {
                if let Some(building) = self.building() {
                    building.division = Some(division);
                }
            }
        }
    }

    /// A run that has ended is held against what was said of it.
    pub fn close_run(&mut self) -> bool {
        let Some(run) = self.run.take() else { return false };
        if run.said && run.told > 1 {
            let given = usize::try_from(run.told).unwrap_or(0);
            let place = run.place.to(self.sentence_place);
            let claim = Claim {
                place,
                about: ClaimAbout::Divided {
                    from: Position::count(run.from),
                    counts: run.counts,
                    per_count: run.per_count,
                    given,
                },
            };
            if let Some(building) = self.building() {
                building.claims.push(claim);
            }
            return true;
        }
        false
    }

    /// A number said beside a list, or a string said to sound twice, is kept to be held against the rest.
    pub fn claim(&mut self, about: ClaimAbout, place: Place) {
        let index = self.pattern_for_stroke(place);
        if let Some(pattern) = self.patterns.get_mut(index) {
            pattern.claims.push(Claim { place, about });
        }
    }

    /// What was placed for this count in this sentence is taken back.
    fn take_back(&mut self) {
        let (sentence, cursor) = (self.sentence, self.cursor);
        if let Some(building) = self.building() {
            let count = building
                .strokes
                .iter()
                .rev()
                .find(|placed| placed.sentence == sentence)
                .map(|placed| placed.stroke.at)
                .or(cursor.map(Position::count));
            if let Some(at) = count {
                building
                    .strokes
                    .retain(|placed| !(placed.sentence == sentence && placed.stroke.at == at));
            }
        }
        self.loose = 0;
    }

    // ---- same as -----------------------------------------------------------------------------------------------

    fn same(&mut self, told: &Told, same: SameAs, place: Place) {
        let target = told
            .span
            .or(told.when.and_then(|when| when.count).map(|count| (count, count)))
            .or_else(|| {
                self.cursor
                    .filter(|_| self.sentence_has_count && same.counts.is_some())
                    .map(|count| (count, count))
            });
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
            None if last > first => (first - (last - first + 1), first - 1),
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

    /// "on the and of 2, the same as before": what was last told for that part of a count.
    fn same_part(&mut self, when: When, place: Place) {
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
    fn copy(&mut self, source: (i64, i64), target: (i64, i64), from_core: bool, place: Place) {
        let index = self.pattern_for_stroke(place);
        if !self.inside(Position::count(target.0)) {
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

    // ---- chords ------------------------------------------------------------------------------------------------

    fn chord_told(&mut self, told: &Told, place: Place) {
        let Some(ChordSaid::Named(chord)) = told.chord.clone() else {
            return;
        };
        let opens = self
            .current
            .and_then(|index| self.patterns.get(index))
            .is_some_and(|pattern| pattern.role != Role::Core && pattern.strokes.is_empty());
        if told.lifts || told.still && !told.sounds() && told.when.is_none() && !opens {
            return;
        }
        let vague = self.context.typed
            && told.when.is_none()
            && told.span.is_none()
            && !told.sounds()
            && !told.leads
            && !told.chord_cued;
        if vague {
            return;
        }
        let fresh_variation = self
            .current
            .and_then(|index| self.patterns.get(index))
            .filter(|pattern| pattern.role != Role::Core && pattern.strokes.is_empty());
        let at = if let Some((first, _)) = told.span {
            Some(Position::count(first))
        } else if let Some(when) = told.when {
            self.resolve(when)
        } else if let Some(span) = fresh_variation
            .and_then(|pattern| pattern.span)
            .filter(|_| !self.sentence_has_count)
        {
            Some(Position::count(span.first))
        } else if self.sentence_has_count || self.context.typed && told.leads && told.short {
            self.cursor.map(Position::count)
        } else {
            None
        };
        let at = match at {
            Some(at) if told.bracketed => Some(Position::count(at.whole())),
            other => other,
        };
        let Some(at) = at else { return };
        if !self.in_pattern() && !told.sounds() && told.when.is_none() {
            return;
        }
        let at = self
            .resolve(When {
                count: Some(at.whole()),
                part: Part::Exactly(at.fraction()),
            })
            .unwrap_or(at);
        let runs_on = self
            .current
            .and_then(|index| self.patterns.get(index))
            .is_some_and(|pattern| pattern.runs_on);
        let stands = self.inside(at) || runs_on && told.sounds();
        if !stands {
            return;
        }
        let index = self.pattern_for_stroke(place);
        self.change(index, at, &chord, place);
    }

    // ---- strokes -----------------------------------------------------------------------------------------------

    fn silence(&mut self, told: &Told, place: Place) {
        let Some(when) = told.when.filter(|when| when.part == Part::Whole) else {
            return;
        };
        let Some(at) = self.resolve(when) else { return };
        let index = self.pattern_for_stroke(place);
        let empty = self.patterns.get(index).is_some_and(|pattern| {
            !pattern
                .strokes
                .iter()
                .any(|placed| placed.stroke.at.whole() == at.whole() && !placed.copied)
        });
        if empty && self.inside(at) {
            self.add(index, Stroke::new(at, Action::Rest, place), false, false);
        }
    }

    /// Something sounds: where, and with what.
    fn event(&mut self, told: &Told, place: Place) {
        if self.is_recital(told) {
            return;
        }
        let heads_a_list = told.actions == [Action::Picado] && !told.has_note() && !told.golpe;
        if heads_a_list || self.changes_the_copy(told) {
            return;
        }
        let Some((at, implied)) = self.moment_of(told, place) else {
            return;
        };
        if !self.inside(at) && !self.may_stand_outside(told, at, place) {
            return;
        }
        let index = self.pattern_for_stroke(place);
        if told.has_note() && told.frets.len() > 1 && told.strings.len() <= 1 && told.actions.is_empty() {
            self.row_of_frets(told, index, at, place);
            return;
        }
        if self.arpeggio(told, index, at, place) {
            return;
        }
        let waiting = told.actions.is_empty()
            && !told.has_note()
            && !told.fingers.is_empty()
            && (!told.golpe || !told.golpe_fingers.is_empty())
            && self.context.typed;
        let action = told
            .actions
            .first()
            .copied()
            .or_else(|| self.slur_to_come(told))
            .or(
                (told.golpe && told.fingers == [Finger::P] && !told.has_note() && !self.context.typed)
                    .then_some(Action::Down),
            )
            .or((told.has_note() || waiting).then_some(Action::Pluck));
        if let Some(count) = told.how_many.filter(|count| *count > 1) {
            self.slurs_to_come = action.map(|action| (action, count - 1));
        }
        if let Some(action) = action {
            let action = if told.slur { self.slur_direction(told) } else { action };
            let mut stroke = Stroke::new(at, action, place);
            stroke.fingers = if matches!(action, Action::PullOff | Action::HammerOn | Action::Damp) {
                Vec::new()
            } else {
                told.fingers.clone()
            };
            if stroke.fingers.is_empty()
                && matches!(action, Action::Down | Action::Up)
                && let Some(finger) = self.finger_of_the_strum_before()
            {
                stroke.fingers = vec![finger];
            }
            stroke.strings = self.strings_of(told, action);
            stroke.fret = told.frets.first().copied();
            stroke.note = if matches!(action, Action::PullOff | Action::HammerOn) {
                told.notes.last()
            } else {
                told.notes.first()
            }
            .copied();
            stroke.left = told.left.filter(|left| *left > 0);
            stroke.rest_stroke = told
                .rest_stroke
                .filter(|_| matches!(action, Action::Pluck | Action::Picado));
            stroke.little_finger_as.clone_from(&told.little_finger_as);
            stroke.implied = implied;
            let tentative = told.actions.is_empty() && told.fingers.is_empty();
            self.add(index, stroke, false, tentative);
        }
        if told.golpe {
            let mut golpe = Stroke::new(at, Action::Golpe, place);
            golpe.fingers = if told.golpe_fingers.is_empty() && action.is_none() {
                told.fingers.clone()
            } else {
                told.golpe_fingers.clone()
            };
            if golpe.fingers.is_empty() {
                golpe.fingers.clone_from(&self.golpe_fingers);
            } else {
                self.golpe_fingers.clone_from(&golpe.fingers);
            }
            self.add(index, golpe, false, false);
        }
        self.last = Some(at);
        self.placed_in_sentence = true;
    }

    fn strings_of(&mut self, told: &Told, action: Action) -> Vec<u8> {
        let slur = matches!(action, Action::PullOff | Action::HammerOn);
        let mut strings = told.strings.clone();
        if strings.is_empty() && (told.same_string || slur || !told.frets.is_empty()) {
            strings.extend(self.string);
        }
        if matches!(
            action,
            Action::Pluck | Action::Picado | Action::PullOff | Action::HammerOn
        ) {
            if let [only] = strings.as_slice() {
                self.string = Some(*only);
            }
            strings
        } else {
            told.strings.clone()
        }
    }

    /// "p i m a: fourth, third, second and first strings": one finger, one string, one after another.
    fn arpeggio(&mut self, told: &Told, index: usize, at: Position, place: Place) -> bool {
        let count = told.strings.len();
        let run = self
            .run
            .as_ref()
            .filter(|run| run.said && run.from == at.whole())
            .map(|run| run.per_count);
        let pattern = self.patterns.get(index).and_then(|pattern| pattern.division);
        let per_count = run.or(pattern).filter(|per_count| *per_count > 1);
        let one_each = count >= 2
            && told.fingers.len() == count
            && !told.with
            && told.actions.iter().all(|action| *action == Action::Pluck);
        let Some(per_count) = per_count.filter(|_| one_each) else {
            return false;
        };
        for (number, (finger, string)) in told.fingers.iter().zip(&told.strings).enumerate() {
            let mut stroke = Stroke::new(at.plus(Ratio::new(number as i64, per_count)), Action::Pluck, place);
            stroke.fingers = vec![*finger];
            stroke.strings = vec![*string];
            self.add(index, stroke, false, false);
        }
        if let Some(run) = &mut self.run {
            run.told += count as i64 - 1;
        }
        self.last = Some(at);
        self.placed_in_sentence = true;
        true
    }

    /// A finger said for a down goes on for the up of the same sentence.
    fn finger_of_the_strum_before(&self) -> Option<Finger> {
        let last = self.last.filter(|_| self.placed_in_sentence)?;
        let pattern = self.current.and_then(|index| self.patterns.get(index))?;
        let before = pattern.strokes.iter().rev().find(|placed| {
            placed.stroke.at == last
                && placed.sentence == self.sentence
                && matches!(placed.stroke.action, Action::Down | Action::Up)
        })?;
        match before.stroke.fingers.as_slice() {
            [finger] => Some(*finger),
            _ => None,
        }
    }

    /// Of "two pull-offs" the second is told by its fret alone.
    fn slur_to_come(&mut self, told: &Told) -> Option<Action> {
        let (action, left) = self
            .slurs_to_come
            .filter(|(_, left)| *left > 0 && told.has_note() && told.fingers.is_empty())?;
        self.slurs_to_come = Some((action, left - 1));
        Some(action)
    }

    /// A ligado goes down to a lower fret and up to a higher one.
    fn slur_direction(&self, told: &Told) -> Action {
        let before = self.last.and_then(|last| {
            let pattern = self.current.and_then(|index| self.patterns.get(index))?;
            pattern
                .strokes
                .iter()
                .rev()
                .find(|placed| placed.stroke.at == last)?
                .stroke
                .fret
        });
        match (before, told.frets.first()) {
            (Some(before), Some(fret)) if *fret < before => Action::PullOff,
            (None, Some(0)) => Action::PullOff,
            _ => Action::HammerOn,
        }
    }

    /// `7: f7 f5 f3 f5`: notes of one string, evenly.
    fn row_of_frets(&mut self, told: &Told, index: usize, at: Position, place: Place) {
        let per = self
            .patterns
            .get(index)
            .and_then(|pattern| pattern.division)
            .unwrap_or(told.frets.len() as i64)
            .max(1);
        for (number, fret) in told.frets.iter().enumerate() {
            let mut stroke = Stroke::new(
                at.plus(num_rational::Ratio::new(number as i64, per)),
                Action::Pluck,
                place,
            );
            stroke.fingers.clone_from(&told.fingers);
            stroke.strings = if told.strings.is_empty() {
                self.string.into_iter().collect()
            } else {
                told.strings.clone()
            };
            stroke.fret = Some(*fret);
            self.add(index, stroke, false, false);
        }
    }

    /// "4, 5 and 6 the same on the D, with the thumb on the fourth string": the copied stroke of that finger moves.
    fn changes_the_copy(&mut self, told: &Told) -> bool {
        let Some((first, last)) = self
            .copied_span
            .filter(|_| told.when.is_none() && told.actions.is_empty())
        else {
            return false;
        };
        let ([finger], false, true) = (told.fingers.as_slice(), told.strings.is_empty(), told.frets.is_empty()) else {
            return false;
        };
        let (finger, strings) = (*finger, told.strings.clone());
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
                placed.stroke.fret = None;
                placed.stroke.note = None;
                true
            }
            None => false,
        }
    }

    /// Words of strokes alone, for a count that has been told: the teacher says the row over again.
    fn is_recital(&self, told: &Told) -> bool {
        let countless = told.when.is_none() && !self.sentence_has_count;
        if self.context.typed && countless && self.run.is_none() {
            return true;
        }
        let bare_strum = told.fingers.is_empty()
            && told.strings.is_empty()
            && matches!(told.actions.first(), Some(Action::Down | Action::Up))
            && !told.short
            && self.run.as_ref().is_none_or(|run| !run.said);
        let vague = told.fingers.is_empty() && told.strings.is_empty() && told.chord.is_some() || bare_strum;
        if countless && vague && !self.context.typed {
            return true;
        }
        let bare =
            told.when.and_then(|when| when.count).is_none() && !told.has_details() && told.golpe_fingers.is_empty();
        if !bare {
            return false;
        }
        let Some(count) = self.cursor else {
            return !self.context.typed;
        };
        let known = self
            .current
            .and_then(|index| self.patterns.get(index))
            .is_some_and(|pattern| {
                pattern.strokes.iter().any(|placed| {
                    placed.stroke.at.whole() == count && (placed.sentence != self.sentence && !placed.copied)
                })
            });
        let open_run = self
            .run
            .as_ref()
            .is_some_and(|run| run.said && run.told < run.per_count * run.counts);
        let waits_for_part = told.when.is_some();
        !self.context.typed && (known || told.recap) && !open_run && !waits_for_part
    }

    /// The moment of a clause, and the rule by which it was worked out when it was not said.
    fn moment_of(&mut self, told: &Told, place: Place) -> Option<(Position, Option<String>)> {
        let golpe_only = told.golpe && told.actions.is_empty() && told.when.is_none();
        if let Some(at) = self.last.filter(|at| golpe_only && self.golpe_at(*at)) {
            return Some((at, None));
        }
        if let Some(when) = told.when {
            let at = self.resolve(when)?;
            let division = self
                .current
                .and_then(|index| self.patterns.get(index))
                .and_then(|pattern| pattern.division);
            if when.part == Part::Whole {
                match &mut self.run {
                    Some(run) if run.from == at.whole() && run.counts == 1 => run.told += 1,
                    Some(run) if run.counts > 1 && run.said => {
                        run.told = run.told.max((at.whole() - run.from) * run.per_count) + 1
                    }
                    _ => {
                        let per_count = division.unwrap_or(0);
                        self.run = Some(Run {
                            from: at.whole(),
                            counts: 1,
                            per_count,
                            told: 1,
                            place,
                            said: false,
                            offsets: Vec::new(),
                        });
                    }
                }
            }
            return Some((at, None));
        }
        if told.with && self.placed_in_sentence {
            return self.last.map(|at| (at, None));
        }
        if let Some(run) = &mut self.run
            && run.per_count > 0
        {
            let offset = usize::try_from(run.told)
                .ok()
                .and_then(|told| run.offsets.get(told))
                .copied();
            let at = Position::count(run.from).plus(offset.unwrap_or(Ratio::new(run.told, run.per_count)));
            run.told += 1;
            let full = run.told > run.per_count * run.counts;
            if full && run.said {
                return None;
            }
            if !full {
                return Some((at, None));
            }
        }
        self.loose_moment(told)
    }

    fn golpe_at(&self, at: Position) -> bool {
        self.current
            .and_then(|index| self.patterns.get(index))
            .is_some_and(|pattern| {
                pattern
                    .strokes
                    .iter()
                    .any(|placed| placed.stroke.at == at && placed.stroke.action == Action::Golpe)
            })
    }

    /// A stroke with no moment of its own: the count itself if nothing is there yet, else the parts that follow it.
    fn loose_moment(&mut self, told: &Told) -> Option<(Position, Option<String>)> {
        let count = self.cursor?;
        let index = self.current;
        let taken = |at: Position, discourse: &Discourse| {
            index
                .and_then(|index| discourse.patterns.get(index))
                .is_some_and(|pattern| {
                    pattern
                        .strokes
                        .iter()
                        .any(|placed| placed.stroke.at == at && !placed.copied)
                })
        };
        let same_there = index.and_then(|index| self.patterns.get(index)).is_some_and(|pattern| {
            pattern.strokes.iter().any(|placed| {
                placed.stroke.at == Position::count(count)
                    && Some(placed.stroke.action) == told.actions.first().copied()
                    && placed.sentence != self.sentence
            })
        });
        if self.loose == 0 && (!taken(Position::count(count), self) || same_there && !self.placed_in_sentence) {
            self.loose = 1;
            return Some((Position::count(count), None));
        }
        if !self.placed_in_sentence && !self.context.typed && told.fingers.is_empty() {
            return None;
        }
        self.loose = self.loose.max(1) + 1;
        let rule = Some("strokes told one after another share their count evenly".to_owned());
        let parts = self.parts_of(count).filter(|parts| *parts > 1);
        let width = parts.unwrap_or(self.loose as i64).max(self.loose as i64);
        if width > 2 && parts.is_none() {
            self.spread(count, width);
        }
        Some((
            Position::count(count).plus(num_rational::Ratio::new(self.loose as i64 - 1, width)),
            rule,
        ))
    }

    /// Three or four strokes told for one count, with no word about how it is divided, are spread evenly.
    fn spread(&mut self, count: i64, width: i64) {
        let sentence = self.sentence;
        let Some(building) = self.building() else { return };
        let mut moments: Vec<Position> = building
            .strokes
            .iter()
            .filter(|placed| placed.stroke.at.whole() == count && placed.sentence == sentence && !placed.copied)
            .map(|placed| placed.stroke.at)
            .collect();
        moments.sort_unstable();
        moments.dedup();
        for placed in building
            .strokes
            .iter_mut()
            .filter(|placed| placed.sentence == sentence && !placed.copied)
        {
            if let Some(order) = moments.iter().position(|at| *at == placed.stroke.at) {
                placed.stroke.at = Position::count(count).plus(num_rational::Ratio::new(order as i64, width));
            }
        }
    }

    /// A moment outside of what a variation replaces: kept where the text says that it runs on, otherwise a claim.
    fn may_stand_outside(&mut self, told: &Told, at: Position, place: Place) -> bool {
        let typed = self.context.typed;
        let Some(building) = self.building() else { return true };
        let Some(span) = building.span else { return true };
        if building.runs_on && at.whole() > span.last {
            return true;
        }
        if told.as_usual || !typed {
            return false;
        }
        let told_note = told.has_note() || !told.fingers.is_empty();
        if told_note {
            building.claims.push(Claim {
                place,
                about: ClaimAbout::Outside { at, span },
            });
        }
        false
    }

    /// A stroke of a line in the written form: its moment stands.
    pub fn take_stroke(&mut self, mut stroke: Stroke) {
        let place = stroke.place;
        let index = self.pattern_for_stroke(place);
        let Some(pattern) = self.patterns.get_mut(index) else {
            return;
        };
        let past = pattern
            .span
            .filter(|_| pattern.role != Role::Core)
            .filter(|span| span.first <= span.last);
        if let Some(span) = past {
            let whole = stroke.at.whole();
            let stands = (span.first..=span.last).contains(&whole) || pattern.runs_on && whole > span.last;
            if !stands {
                pattern.claims.push(Claim {
                    place,
                    about: ClaimAbout::Outside { at: stroke.at, span },
                });
                return;
            }
        }
        if stroke.action == Action::Golpe {
            if stroke.fingers.is_empty() {
                stroke.fingers.clone_from(&self.golpe_fingers);
            } else {
                self.golpe_fingers.clone_from(&stroke.fingers);
            }
        }
        if let [string] = stroke.strings.as_slice() {
            self.string = Some(*string);
        }
        self.last = Some(stroke.at);
        self.set_cursor(stroke.at.whole());
        self.add(index, stroke, false, false);
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

    /// A stroke joins the pattern; what is told twice is one stroke.
    pub fn add(&mut self, index: usize, stroke: Stroke, copied: bool, tentative: bool) {
        let sentence = self.sentence;
        let Some(pattern) = self.patterns.get_mut(index) else {
            return;
        };
        let same = pattern
            .strokes
            .iter_mut()
            .find(|placed| placed.stroke.at == stroke.at && agree(&placed.stroke, &stroke));
        if let Some(placed) = same {
            if copied && !placed.copied {
                merge(&mut placed.stroke, &stroke, false);
                return;
            }
            merge(&mut placed.stroke, &stroke, placed.copied);
            placed.copied &= copied;
            if placed.sentence != sentence && !copied {
                placed.sentence = sentence;
            }
            return;
        }
        if tentative && note_like(stroke.action) {
            let known = pattern.strokes.iter_mut().find(|placed| {
                placed.stroke.at == stroke.at
                    && note_like(placed.stroke.action)
                    && (placed.stroke.strings.is_empty()
                        || stroke.strings.is_empty()
                        || placed.stroke.strings == stroke.strings)
            });
            if let Some(placed) = known {
                merge(&mut placed.stroke, &stroke, placed.copied);
                return;
            }
        }
        if sounding(stroke.action) {
            let rival = pattern
                .strokes
                .iter()
                .position(|placed| placed.stroke.at == stroke.at && sounding(placed.stroke.action));
            if let Some(rival) = rival {
                let known = pattern
                    .strokes
                    .get(rival)
                    .is_some_and(|placed| !placed.copied && !placed.tentative);
                if known && (copied || tentative || stroke.fingers.is_empty()) {
                    return;
                }
                let both = known && stroke.action == Action::Pluck && !stroke.fingers.is_empty();
                if !both {
                    pattern.strokes.remove(rival);
                }
            }
            pattern
                .strokes
                .retain(|placed| !(placed.stroke.at == stroke.at && placed.stroke.action == Action::Rest));
        }
        let what = describe(&stroke);
        let place = stroke.place;
        let implied = stroke.implied.clone();
        self.context.highest = self.context.highest.max(stroke.at.whole());
        pattern.strokes.push(Placed {
            stroke,
            copied,
            tentative,
            sentence,
        });
        if !copied {
            self.note(what, place);
            if let Some(reading) = self.lesson.readings.last_mut() {
                reading.implied = implied;
            }
        }
    }

    // ---- details -----------------------------------------------------------------------------------------------

    /// Words that add to the stroke told last: its fingers, its note, how it is played.
    fn details(&mut self, told: &Told) {
        let (sentence, last, cursor) = (self.sentence, self.last, self.cursor);
        let strings = self.string;
        let Some(building) = self.building() else { return };
        let target = told.when.map_or(last, |_| last);
        let Some(at) = target.filter(|at| cursor == Some(at.whole())) else {
            return;
        };
        let recent =
            building.strokes.iter_mut().rev().find(|placed| {
                placed.stroke.at == at && !placed.copied && sentence.saturating_sub(placed.sentence) <= 2
            });
        let Some(placed) = recent else { return };
        let stroke = &mut placed.stroke;
        if stroke.action == Action::Rasgueado
            && stroke.fingers.len() < 5
            && (placed.sentence == sentence || stroke.fingers.is_empty())
        {
            for finger in &told.fingers {
                if !stroke.fingers.contains(finger) || told.fingers.len() > 2 {
                    stroke.fingers.push(*finger);
                }
            }
        } else if stroke.fingers.is_empty()
            && !matches!(
                stroke.action,
                Action::PullOff | Action::HammerOn | Action::Damp | Action::Rest
            )
            && told.fingers.len() == 1
        {
            stroke.fingers.clone_from(&told.fingers);
        }
        if stroke.action == Action::Golpe && !stroke.fingers.is_empty() && !told.fingers.is_empty() {
            let fingers = stroke.fingers.clone();
            self.golpe_fingers = fingers;
            return;
        }
        let single = matches!(
            stroke.action,
            Action::Pluck | Action::Picado | Action::PullOff | Action::HammerOn
        );
        if single && stroke.note.is_none() && (!stroke.strings.is_empty() || stroke.fret.is_some()) {
            stroke.note = told.notes.first().copied().or(match &told.chord {
                Some(ChordSaid::Named(name)) if name.quality.is_empty() && told.when.is_none() => Some(name.root),
                _ => None,
            });
        }
        if single && stroke.strings.is_empty() {
            stroke.strings.clone_from(&told.strings);
            if stroke.strings.is_empty() && told.same_string {
                stroke.strings.extend(strings);
            }
        }
        if single && told.rest_stroke.is_some() {
            stroke.rest_stroke = told.rest_stroke;
        }
    }
}

/// A single note, plucked or slurred.
fn note_like(action: Action) -> bool {
    matches!(
        action,
        Action::Pluck | Action::Picado | Action::PullOff | Action::HammerOn
    )
}

fn sounding(action: Action) -> bool {
    !matches!(action, Action::Golpe | Action::Rest)
}

/// Whether two tellings can be of one stroke.
fn agree(a: &Stroke, b: &Stroke) -> bool {
    let note = |action: Action| matches!(action, Action::Pluck | Action::Picado);
    let strings = a.strings.is_empty() || b.strings.is_empty() || a.strings == b.strings;
    let fingers = a.fingers.is_empty() || b.fingers.is_empty() || a.fingers == b.fingers || !note(a.action);
    (a.action == b.action || note(a.action) && note(b.action)) && strings && fingers
}

/// The later telling adds what the earlier left open; over a copied stroke it decides.
fn merge(known: &mut Stroke, told: &Stroke, known_copied: bool) {
    if (known.fingers.is_empty() || known_copied) && !told.fingers.is_empty() {
        known.fingers.clone_from(&told.fingers);
    }
    if known.strings.is_empty() || known_copied && !told.strings.is_empty() {
        known.strings.clone_from(&told.strings);
    }
    known.fret = known.fret.or(told.fret);
    known.note = known.note.or(told.note);
    known.left = known.left.or(told.left);
    known.rest_stroke = known.rest_stroke.or(told.rest_stroke);
    known.length = known.length.or(told.length);
}

/// A stroke in a musician's words.
pub fn describe(stroke: &Stroke) -> String {
    let mut text = format!("{}: {}", stroke.at, action_word(stroke.action));
    if !stroke.fingers.is_empty() {
        let letters: Vec<String> = stroke
            .fingers
            .iter()
            .map(|finger: &Finger| finger.letter().to_string())
            .collect();
        text.push(' ');
        text.push_str(&letters.join(" "));
    }
    if !stroke.strings.is_empty() {
        let strings: Vec<String> = stroke.strings.iter().map(|string| format!("s{string}")).collect();
        text.push(' ');
        text.push_str(&strings.join(" "));
    }
    if let Some(fret) = stroke.fret {
        text.push_str(&format!(" f{fret}"));
    }
    if let Some(note) = stroke.note {
        text.push_str(&format!(" ({note})"));
    }
    text
}

fn action_word(action: Action) -> &'static str {
    match action {
        Action::Down => "down",
        Action::Up => "up",
        Action::Golpe => "golpe",
        Action::Pluck => "pluck",
        Action::Rasgueado => "rasgueado",
        Action::Roll => "roll",
        Action::PullOff => "pull-off",
        Action::HammerOn => "hammer-on",
        Action::Damp => "damp",
        Action::Tremolo => "tremolo",
        Action::Picado => "picado",
        Action::Alzapua => "alzapúa",
        Action::Rest => "rest",
    }
}
