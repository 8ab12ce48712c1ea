//! Lists of notes without counts of their own, spread evenly: `thirds …`, `1-3 A: dn dn dn`, `1: p dn / - / up`.

use num_rational::Ratio;

use crate::music::pattern::ClaimAbout;
use crate::music::position::Position;
use crate::music::stroke::Action;

use super::item::Item;
use super::parser::Parser;
use super::run::{Passage, Run};
use super::shorthand::Meaning;

/// Most notes that one line may spread over its counts.
pub const MOST_SLOTS: i64 = 400;

impl Parser<'_, '_> {
    /// `thirds p s3 f2 A, pull-off …`; `four semiquavers, picado i m i m: …`; `two notes a beat: …` over a span.
    pub fn divided(&mut self, run: &mut Run) -> Option<()> {
        let start = self.at;
        let _ = self.attempt(|line| {
            line.meaning(Meaning::Passage).then_some(())?;
            let _ = line.spaced_sign(',');
            Some(())
        });
        let parts = self.division()?;
        let _ = self.attempt(|line| line.passage(run));
        let counts = run.span.map_or(Some(1), |span| self.counts_in(span))?;
        let slots = counts.checked_mul(parts).filter(|slots| *slots <= MOST_SLOTS)?;
        let from = run.at;
        let place_at = |slot: i64| from.plus(Ratio::new(slot, parts));
        let given = self.spread(run, place_at)?;
        let rolled = self.rolled(&given);
        let given_count = i64::try_from(rolled.unwrap_or(given.len())).unwrap_or(i64::MAX);
        if given_count != slots {
            if rolled.is_none() {
                self.unsure(&given, from, counts, parts);
            }
            self.push(
                start,
                Item::Claim(ClaimAbout::Divided {
                    from,
                    counts,
                    per_count: parts,
                    given: rolled.unwrap_or(given.len()),
                }),
            );
        }
        Some(())
    }

    /// "four semiquavers: rasg x a m i": the one rasgueado is as many strokes as it has fingers.
    fn rolled(&self, given: &[(usize, usize)]) -> Option<usize> {
        let [(first, past)] = given else { return None };
        let mut strokes = self
            .items
            .get(*first..*past)?
            .iter()
            .filter_map(|item| match &item.value {
                Item::Stroke(stroke) => Some(stroke),
                _ => None,
            });
        let rasgueado = strokes.find(|stroke| stroke.action == Action::Rasgueado)?;
        Some(rasgueado.fingers.len()).filter(|fingers| *fingers > 1)
    }

    /// The word for a division, with a number said beside it only when the two agree.
    fn division(&mut self) -> Option<i64> {
        self.meaning_of(Meaning::division).or_else(|| {
            self.attempt(|line| {
                let number = line.spoken_number()?;
                line.meaning_of(Meaning::division).filter(|parts| *parts == number)
            })
        })
    }

    /// Contents separated by commas (or by gaps where that is clear), one a slot; gives the slot each ended in.
    fn spread(&mut self, run: &mut Run, place_at: impl Fn(i64) -> Position) -> Option<Vec<(usize, usize)>> {
        let mut given = Vec::new();
        loop {
            let slot = i64::try_from(given.len()).ok().filter(|slot| *slot < MOST_SLOTS)?;
            run.at = place_at(slot);
            run.struck = false;
            let before = self.items.len();
            if self.gap().is_none() {
                self.content(run, true)?;
            }
            let chords_only =
                self.items.len() > before && self.items.iter().skip(before).all(|item| item.value.is_chord());
            if chords_only && !given.is_empty() {
                // "…, p dn, on A": said of the whole list.
                for item in self.items.iter_mut().skip(before) {
                    item.value.set_moment(place_at(0));
                }
            } else {
                given.push((before, self.items.len()));
            }
            if self.line_is_done() {
                return Some(given);
            }
            let _ = self.spaced_sign(',') || self.spaced_sign('/') || self.spaced_sign(';');
        }
    }

    /// `-`: nothing is played in this slot.
    pub fn gap(&mut self) -> Option<()> {
        self.attempt(|line| {
            line.spaces();
            (line.sign('-') || line.sign('–') || line.sign('.')).then_some(())?;
            (!line.next_is_alphanumeric() && line.peek() != Some('>')).then_some(())
        })
    }

    /// More or fewer notes than the division has room for: they are set evenly, and marked.
    fn unsure(&mut self, given: &[(usize, usize)], from: Position, counts: i64, parts: i64) {
        let slots = counts * parts;
        let count = i64::try_from(given.len()).unwrap_or(i64::MAX).max(1);
        let step = if count > slots {
            Ratio::new(counts, count)
        } else {
            Ratio::new(1, parts)
        };
        let rule = format!("the text says {slots} notes and gives {count}");
        let mut at = from;
        for (first, past) in given {
            for item in self.items.get_mut(*first..*past).unwrap_or_default() {
                item.value.set_moment(at);
                item.value.mark_implied(&rule);
            }
            at = at.plus(step);
        }
    }

    /// `1-3 A: dn dn dn`; in groups, `1-2 D: dn dn dn, dn dn dn`, each group fills its count.
    pub fn one_a_count(&mut self, run: &mut Run, ended: bool) -> Option<()> {
        let span = run.span.filter(|_| ended)?;
        let counts = usize::try_from(self.counts_in(span)?).ok()?;
        let mut groups: Vec<Vec<(usize, usize)>> = vec![Vec::new()];
        let mut commas = 0;
        loop {
            run.struck = false;
            let before = self.items.len();
            if self.gap().is_none() {
                self.content(run, true)?;
            }
            groups.last_mut()?.push((before, self.items.len()));
            if self.line_is_done() {
                break;
            }
            if self.spaced_sign(',') || self.spaced_sign(';') || self.spaced_sign('/') {
                commas += 1;
                groups.push(Vec::new());
            }
        }
        if commas == 0 {
            groups = groups.into_iter().flatten().map(|content| vec![content]).collect();
        }
        let size = groups.first()?.len();
        let even = groups.len() == counts && groups.iter().all(|group| group.len() == size);
        if !even {
            return None;
        }
        let parts = i64::try_from(size).ok()?;
        let mut at = Position::count(span.first);
        for (first, past) in groups.into_iter().flatten() {
            for item in self.items.get_mut(first..past).unwrap_or_default() {
                item.value.set_moment(at);
            }
            at = at.plus(Ratio::new(1, parts));
        }
        Some(())
    }

    /// `1: p dn (g) / - / up`: equal slots of one count.
    pub fn slots(&mut self, run: &mut Run) -> Option<()> {
        if !self.rest().contains('/') {
            return None;
        }
        let from = run.at;
        let mut given = Vec::new();
        loop {
            let before = self.items.len();
            run.struck = false;
            if self.gap().is_none() {
                self.content(run, true)?;
            }
            given.push((before, self.items.len()));
            if !self.spaced_sign('/') {
                break;
            }
        }
        let parts = i64::try_from(given.len()).ok().filter(|parts| *parts > 1)?;
        let mut at = from;
        for (first, past) in given {
            for item in self.items.get_mut(first..past).unwrap_or_default() {
                item.value.set_moment(at);
            }
            at = at.plus(Ratio::new(1, parts));
        }
        self.line_is_done().then_some(())
    }

    /// `7: f7 f5 f3 f5` where "four to the beat" was announced.
    pub fn announced_run(&mut self, run: &mut Run) -> Option<()> {
        let parts = self.context.per_count.filter(|parts| (2..=12).contains(parts))?;
        let from = run.at;
        let given = self.spread(run, |slot| from.plus(Ratio::new(slot, parts)))?;
        let notes = self.items.iter().all(|item| match &item.value {
            Item::Stroke(stroke) => stroke.fret.is_some() || !stroke.strings.is_empty(),
            _ => true,
        });
        if given.len() < 2 {
            return None;
        }
        if i64::try_from(given.len()) != Ok(parts) {
            notes.then_some(())?;
            self.unsure(&given, from, 1, parts);
            let claim = ClaimAbout::Divided {
                from,
                counts: 1,
                per_count: parts,
                given: given.len(),
            };
            self.push(0, Item::Claim(claim));
        }
        Some(())
    }

    /// "picado i m i m:", "on s5:", "all p, rest stroke:" before a list of notes.
    fn passage(&mut self, run: &mut Run) -> Option<()> {
        let mut passage = Passage::default();
        let _ = self.spaced_sign(',');
        loop {
            let _ = self.meaning(Meaning::With);
            if passage.action.is_none()
                && let Some(action) = self.meaning_of(Meaning::action)
            {
                passage.action = Some(action);
            } else if passage.strings.is_empty()
                && let Some(strings) = self.attempt(|line| {
                    let _ = line.meaning(Meaning::On);
                    line.strings()
                })
            {
                passage.strings = strings;
            } else if passage.fingers.is_empty()
                && let Some((fingers, _)) = self.fingers()
            {
                passage.fingers = fingers;
                let _ = self.meaning(Meaning::Alternating);
            } else if self.meaning(Meaning::Apoyando) {
                passage.rest_stroke = Some(true);
            } else if self.meaning(Meaning::Tirando) {
                passage.rest_stroke = Some(false);
            } else {
                break;
            }
            let _ = self.spaced_sign(',');
        }
        self.spaced_sign(':').then_some(())?;
        run.passage = passage;
        Some(())
    }
}
