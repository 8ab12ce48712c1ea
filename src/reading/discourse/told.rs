use super::moment::only_moves;
use super::{Discourse, Run};
use crate::music::left_hand::LeftAction;
use crate::music::pattern::{Claim, ClaimAbout, CountSpan};
use crate::music::position::Position;
use crate::music::stroke::Action;
use crate::reading::moments::{Part, When};
use crate::reading::statement::Told;
use crate::text::Place;
use num_rational::Ratio;

impl Discourse {
    /// A clause about strokes takes effect.
    pub fn told(&mut self, told: &Told, place: Place) {
        if let Some(fingered) = self.with_the_same_finger(told) {
            return self.told(&fingered, place);
        }
        if self.counts_what_was_told(told) {
            let loose = Told {
                when: None,
                ..told.clone()
            };
            return self.told(&loose, place);
        }
        let plain = told.fingers.is_empty() && told.golpe_fingers.is_empty() && !told.has_note() && !self.context.typed;
        if told.every_half {
            return self.on_every_half(told, place);
        }
        // "2: the triplet from 6, ring middle index, all dn"
        let figure =
            told.same.is_some_and(|same| same.counts.is_some()) && told.division.is_some() && told.fingers.len() >= 3;
        if figure && !told.negated {
            let bare = Told {
                actions: Vec::new(),
                fingers: Vec::new(),
                division: None,
                ..told.clone()
            };
            return self.told_whole(&bare, place);
        }
        // "up in the last third, the same as on 2": the part of the count is told, and what is played on it.
        let of_a_part = told.when.is_some_and(|when| when.part != Part::Whole) && told.sounds();
        if of_a_part && !told.negated && told.same.is_some_and(|same| same.counts.is_some()) {
            let alone = Told {
                same: None,
                ..told.clone()
            };
            return self.told(&alone, place);
        }
        let described = !told.negated && told.same.is_some_and(|same| same.counts.is_some()) && plain
            || !told.negated && self.likened && plain && told.when.is_none() && told.sounds();
        if described {
            let mut bare = told.clone();
            bare.actions.clear();
            bare.golpe = false;
            bare.silence = false;
            self.likened = true;
            return self.told_whole(&bare, place);
        }
        if self.tells_the_figure_again(told) {
            let bare = Told {
                actions: Vec::new(),
                fingers: Vec::new(),
                ..told.clone()
            };
            self.likened = true;
            return self.told_whole(&bare, place);
        }
        self.likened &= told.when.is_none();
        self.told_whole(told, place);
    }

    /// "on every and the index and middle": on the half of each count that the variation covers, or that has been told.
    fn on_every_half(&mut self, told: &Told, place: Place) {
        let pattern = self.pattern();
        let covers = pattern.and_then(|pattern| pattern.span);
        let counts: Vec<i64> = match covers {
            Some(span) => (span.first..=span.last).collect(),
            None => {
                let told = pattern.map_or(&[][..], |pattern| pattern.strokes.as_slice());
                let counts: std::collections::BTreeSet<i64> =
                    told.iter().map(|placed| placed.stroke.at.whole()).collect();
                counts.into_iter().collect()
            }
        };
        for count in counts {
            let when = When {
                count: Some(count),
                part: Part::And,
            };
            let one = Told {
                when: Some(when),
                every_half: false,
                ..told.clone()
            };
            self.told(&one, place);
        }
    }

    /// "On 2 the same finger plays the fifth string": that of the stroke told last, if it was one.
    fn with_the_same_finger(&self, told: &Told) -> Option<Told> {
        let plays = told.plays || !told.actions.is_empty();
        if !told.same_finger || !plays || !told.fingers.is_empty() || told.left.is_some() || told.lifts || told.still {
            return None;
        }
        let pattern = self.pattern()?;
        let before = pattern.strokes.iter().rev();
        let before = before
            .map(|placed| &placed.stroke)
            .find(|stroke| Some(stroke.at) == self.last)?;
        let [finger] = before.fingers.as_slice() else {
            return None;
        };
        Some(Told {
            fingers: vec![*finger],
            same_finger: false,
            ..told.clone()
        })
    }

    /// "like on four, but there's no up after it": of what was just taken over, strokes said not to be there go.
    fn leave_out(&mut self, told: &Told) {
        let said = told.when.and_then(|when| when.count);
        let (Some(count), false) = (
            said.or(self.cursor),
            !told.denies || told.actions.is_empty() && !told.golpe,
        ) else {
            return;
        };
        let (sentence, punctuated) = (self.sentence, self.context.punctuated);
        // "no, wait, I'm telling you wrong: on eleven there's no golpe"
        let corrected = self.corrects_since.is_some_and(|since| sentence <= since + 1);
        let gone = |action: Action| told.actions.contains(&action) || told.golpe && action == Action::Golpe;
        if let Some(building) = self.building() {
            building.strokes.retain(|placed| {
                // Without marks the "but" behind begins a sentence of its own.
                let near = placed.sentence == sentence || !punctuated && placed.sentence + 1 == sentence;
                let here = (placed.copied && near || corrected) && placed.stroke.at.whole() == count;
                !(here && gone(placed.stroke.action))
            });
        }
    }

    /// The rasgueado told last, while its fingers are still to come.
    pub(super) fn rasgueado_waits(&self) -> bool {
        let Some(pattern) = self.pattern() else {
            return false;
        };
        self.last.is_some_and(|last| {
            pattern.strokes.iter().any(|placed| {
                placed.stroke.at == last && placed.stroke.action == Action::Rasgueado && placed.stroke.fingers.len() < 3
            })
        })
    }

    /// "a rasgueado, and that's little finger first. Little finger, ring, middle, index": the whole row counts.
    fn roll_anew(&mut self) {
        let last = self.last;
        let Some(building) = self.building() else { return };
        let rolls =
            |placed: &&mut super::Placed| Some(placed.stroke.at) == last && placed.stroke.action == Action::Rasgueado;
        if let Some(placed) = building.strokes.iter_mut().find(rolls) {
            placed.stroke.fingers.clear();
        }
    }

    pub(super) fn told_whole(&mut self, told: &Told, place: Place) {
        if told.fingers.len() >= 3 && told.when.is_none() && !told.has_note() && self.rasgueado_waits() {
            self.roll_anew();
            self.taken += usize::from(self.details(told));
            return;
        }
        if told.corrects {
            self.corrects_since = Some(self.sentence);
            self.take_back(opens_with_a_place(told));
            if self.put_back_with(told) {
                return;
            }
            let fingers = self.strum_taken_back();
            let strums = |action: &Action| matches!(action, Action::Down | Action::Up);
            if self.sentence_has_count
                && told.fingers.is_empty()
                && !fingers.is_empty()
                && told.actions.iter().any(strums)
            {
                let corrected = Told {
                    fingers,
                    corrects: false,
                    ..told.clone()
                };
                self.corrected = told.actions.first().copied();
                return self.told_whole(&corrected, place);
            }
            self.corrected = told.actions.first().copied();
        } else if self.says_the_correction_again(told) {
            return;
        }
        if told.same_finger && told.still && !told.sounds() && told.fingers.is_empty() {
            self.taken += 1;
            return;
        }
        if told.negated {
            self.taken += 1;
            self.leave_out(told);
            // "En el 9 ya no hay tirones.": what comes is told for that count.
            let opens = told.leads && told.when_at <= told.start + 3;
            if let Some(count) = told
                .when
                .and_then(|when| when.count)
                .filter(|_| opens && !self.context.typed)
            {
                self.set_cursor(count);
                // Notes told evenly over the counts in front of it are over.
                self.run = self
                    .run
                    .take()
                    .filter(|run| (run.from..run.from + run.counts).contains(&count));
            }
            return;
        }
        // "and 3 is the B flat, just as you know it": behind what the variation covers the core goes on.
        let count = told.when.and_then(|when| when.count);
        let said = told.sounds() || told.chord.is_some();
        if said && told.as_usual && count.is_some_and(|count| !self.inside(Position::count(count))) {
            self.taken += 1;
            return;
        }
        if let Some(awaited) = self.at_the_moment_named_before(told) {
            return self.told_whole(&awaited, place);
        }
        self.move_to(told, place);
        if only_moves(told) {
            self.taken += 1;
            self.named_before = told.when.map(|when| (when, self.sentence));
            return;
        }
        if told.as_usual && told.same.is_none() && !told.sounds() && !(told.has_note() && told.when.is_some()) {
            self.taken += 1;
            return;
        }
        if let Some(same) = told.same {
            self.same(told, same, place);
        }
        if let Some(noted) = self.note_and_no_chord(told) {
            return self.told_whole(&noted, place);
        }
        self.chord_told(told, place);
        let put = told.left_leads && told.fingers.is_empty() && !told.sounds() && told.has_note();
        if put {
            return self.finger_put(told, place);
        }
        if let Some(completed) = self.string_of_the_finger(told) {
            return self.event(&completed, place);
        }
        if let Some(pointed) = self.note_pointed_at(told) {
            return self.event(&pointed, place);
        }
        if told.silence && told.actions.is_empty() && !told.golpe && !told.has_note() {
            self.silence(told, place);
        } else if told.sounds()
            || self.context.typed && told.when.is_none() && self.each_has_its_string(&told.fingers)
            || self.context.typed && told.when.is_some() && !told.fingers.is_empty() && told.golpe_fingers.is_empty()
            || told.has_note()
                && !(told.still && told.fingers.is_empty() && told.frets.is_empty())
                && !(told.fingers.is_empty() && told.frets.is_empty() && told.notes.is_empty() && told.when.is_none())
        {
            self.event(told, place);
        } else {
            self.taken += usize::from(self.details(told));
        }
    }

    /// "Three is the thumb again, but this time it's on the fourth string": the string completes the finger.
    fn string_of_the_finger(&mut self, told: &Told) -> Option<Told> {
        if self.context.typed || told.sounds() || told.left.is_some() {
            return None;
        }
        if !told.has_note() {
            if let (Some(count), [_]) = (told.when.and_then(|when| when.count), told.fingers.as_slice()) {
                self.finger_waits = Some((count, told.fingers.clone(), self.sentence));
            }
            return None;
        }
        let (count, fingers, sentence) = self.finger_waits.take()?;
        let near = self.sentence - sentence <= 2 && self.cursor == Some(count) && !self.has_told(count);
        let completes = told.when.is_none() && told.fingers.is_empty() && !told.strings.is_empty();
        (near && completes).then(|| Told {
            when: Some(When::count(count)),
            fingers,
            ..told.clone()
        })
    }

    /// "Put your third finger on the fourth string, second fret. On 4 the thumb plays that": the note just stopped.
    fn note_pointed_at(&self, told: &Told) -> Option<Told> {
        let pointing = told.plays && told.when.is_some() && !told.fingers.is_empty();
        if !pointing || told.sounds() || told.has_note() || told.chord.is_some() || self.context.typed {
            return None;
        }
        let pattern = self.pattern()?;
        let put = pattern.left.last().filter(|event| event.action == LeftAction::Put)?;
        let mut pointed = told.clone();
        pointed.strings.extend(put.string);
        pointed.frets.extend(put.fret);
        pointed.left = put.finger;
        Some(pointed)
    }

    /// The count, run or division that the clause names.
    pub(super) fn move_to(&mut self, told: &Told, place: Place) {
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

    pub(super) fn set_cursor(&mut self, count: i64) {
        if self.cursor != Some(count) {
            self.previous_count = self.cursor;
        }
        self.cursor = Some(count);
    }

    /// The pattern being told has a line that announces these counts.
    pub fn announces(&self, span: CountSpan, line: u32) -> bool {
        let pattern = self.pattern();
        let same = |claim: &Claim| {
            let covers = matches!(&claim.about, ClaimAbout::Covers { span: known, .. } if *known == span);
            covers && claim.place.line == line
        };
        pattern.is_some_and(|pattern| pattern.claims.iter().any(same))
    }

    /// A number said beside a list, or a string said to sound twice, is kept to be held against the rest.
    pub fn claim(&mut self, about: ClaimAbout, place: Place) {
        let index = self.pattern_for_stroke(place);
        if let Some(pattern) = self.patterns.get_mut(index) {
            pattern.claims.push(Claim { place, about });
        }
    }
}

/// "No, third. Third fret, it's an F.": a sentence that begins by saying another place.
fn opens_with_a_place(told: &Told) -> bool {
    let place = told.frets.iter().any(|fret| *fret > 0) || !told.strings.is_empty();
    told.leads && !told.negated && told.when.is_none() && !told.sounds() && place && told.fingers.is_empty()
}
