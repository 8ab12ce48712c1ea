//! A line that begins with a count: `1: i down, & i up`, `1-3 A: dn dn dn`, `10: thirds p s3 f2 A, …`.

use num_rational::Ratio;

use crate::music::chord::ChordName;
use crate::music::hand::{Finger, Fret, GuitarString};
use crate::music::left_hand::{Change, LeftAction, LeftEvent};
use crate::music::pattern::{ClaimAbout, CountSpan};
use crate::music::position::Position;
use crate::music::stroke::Action;
use crate::text::Place;

use super::item::{Covers, Item};
use super::parser::Parser;
use super::shorthand::Meaning;
use super::strokes::Draft;

/// Most notes that one line may spread over its counts.
const MOST_SLOTS: i64 = 400;

/// Where the line is, while it is being read.
#[derive(Debug, Clone)]
pub struct Run {
    pub at: Position,
    /// The counts that the line announced.
    pub span: Option<CountSpan>,
    /// Whether a stroke stands at `at` already: then only chords and the left hand may follow without a new count.
    pub struck: bool,
    passage: Passage,
    /// The last single note, for slurs.
    last_note: Option<(GuitarString, Fret)>,
}

/// What was said once for a list of notes: "picado i m i m:".
#[derive(Debug, Clone, Default)]
struct Passage {
    action: Option<Action>,
    fingers: Vec<Finger>,
    strings: Vec<GuitarString>,
    rest_stroke: Option<bool>,
    given: usize,
}

impl Run {
    pub fn new(at: Position, span: Option<CountSpan>) -> Self {
        Self {
            at,
            span,
            struck: false,
            passage: Passage::default(),
            last_note: None,
        }
    }
}

impl Parser<'_, '_> {
    /// The whole line.
    pub fn count_line(&mut self) -> Option<()> {
        let _ = self.attempt(|line| {
            let beat = line.meaning(Meaning::Beat);
            (beat && line.ahead().number().is_some()).then_some(())
        });
        self.attempt(Parser::span_line)
            .or_else(|| self.attempt(Parser::moment_line))
    }

    fn span_line(&mut self) -> Option<()> {
        let start = self.at;
        let _ = self.spaced_sign('(');
        let span = self.span()?;
        let _ = self.spaced_sign(')');
        let mut run = Run::new(Position::count(span.first), Some(span));
        if self.attempt(|line| line.same_counts(&mut run)).is_some() {
            return Some(());
        }
        let _ = self.attempt(|line| {
            line.spaced_sign(',').then_some(())?;
            line.ahead().chord_word().map(|_| ())
        });
        let chord = self.chord_word();
        let (chord, still) = chord.map_or((None, false), |(chord, still)| (Some(chord), still));
        self.push(
            start,
            Item::Covers(Covers {
                span,
                chord: chord.clone(),
                still,
            }),
        );
        let ended = self.lead_end();
        let _ = !ended && chord.is_some() && self.spaced_sign(',');
        if chord.is_some() && self.line_is_done() {
            return Some(());
        }
        self.attempt(|line| line.same_counts(&mut run))
            .or_else(|| self.attempt(|line| line.divided(&mut run.clone())))
            .or_else(|| self.attempt(|line| line.one_a_count(&mut run.clone(), ended)))
            .or_else(|| self.attempt(|line| line.moments(&mut run, false)))
    }

    fn moment_line(&mut self) -> Option<()> {
        let at = self.position(self.context.count)?;
        let mut run = Run::new(at, None);
        while let Some((start, chord, implied)) = self.bracketed_chord() {
            self.change(start, at, chord, implied);
            if self.line_is_done() {
                return Some(());
            }
        }
        if self.attempt(|line| line.same_counts(&mut run)).is_some() {
            return Some(());
        }
        let _ = self.lead_end();
        self.attempt(|line| line.same_counts(&mut run))
            .or_else(|| self.attempt(|line| line.divided(&mut run.clone())))
            .or_else(|| self.attempt(|line| line.slots(&mut run.clone())))
            .or_else(|| self.attempt(|line| line.announced_run(&mut run.clone())))
            .or_else(|| self.attempt(|line| line.moments(&mut run, true)))
    }

    pub fn line_is_done(&mut self) -> bool {
        let mut here = self.ahead();
        let _ = here.spaced_sign('.');
        here.at_end() || here.rest().starts_with("~ ")
    }

    /// Moments with their counts, up to the end of the line.
    pub fn moments(&mut self, run: &mut Run, mut placed: bool) -> Option<()> {
        loop {
            // "3: & i up" goes on from its own count; a new number does not.
            let goes_on = placed && self.ahead().number().is_none();
            let moved = (!placed || goes_on) && self.next_moment(run)?;
            if self.attempt(|line| line.division_inside(run)).is_none() {
                self.content(run, placed || moved)?;
            }
            placed = false;
            let comma = self.spaced_sign(',') || self.spaced_sign(';');
            if self.line_is_done() {
                return (!comma).then_some(());
            }
        }
    }

    /// `10 triplet p up, m dn, p dn` inside a longer line: only at its end, so that its commas are its own.
    fn division_inside(&mut self, run: &mut Run) -> Option<()> {
        self.divided(run)?;
        self.line_is_done().then_some(())
    }

    /// Goes to the next count named; false when none is named. None when counts run backwards.
    fn next_moment(&mut self, run: &mut Run) -> Option<bool> {
        let Some(at) = self.attempt(|line| {
            let at = line.position(Some(run.at.whole()))?;
            let _ = line.lead_end();
            Some(at)
        }) else {
            return Some(false);
        };
        let wraps = self.context.first.is_some() || run.span.is_some_and(|span| span.first > span.last);
        if at < run.at && !wraps {
            return None;
        }
        run.struck = run.struck && at == run.at;
        run.at = at;
        Some(true)
    }

    /// All that happens at one moment: chords, the left hand, strokes joined by `+`. At least one thing.
    pub fn content(&mut self, run: &mut Run, placed: bool) -> Option<()> {
        let mut any = false;
        // A `+` waits for its other half.
        let mut plus = false;
        let mut struck_here = false;
        loop {
            let may_strike = if struck_here { plus } else { placed || !run.struck };
            let left = self.attempt(|line| line.left_event(run)).is_some();
            if !left && may_strike && self.attempt(|line| line.struck(run)).is_some() {
                struck_here = true;
            } else if !left && plus {
                return None;
            } else if !left {
                let said = self.attempt(|line| line.chord_here(run, struck_here)).is_some()
                    || self.meaning(Meaning::RingOn)
                    || (any && self.meaning(Meaning::Alone));
                if !said {
                    break;
                }
            }
            any = true;
            plus = self.joins();
        }
        run.struck = run.struck || struck_here;
        any.then_some(())
    }

    /// `+`, or "with" before another stroke.
    fn joins(&mut self) -> bool {
        self.spaced_sign('+')
            || self
                .attempt(|line| {
                    line.meaning(Meaning::With).then_some(())?;
                    let mut here = line.ahead();
                    let stroke = here.own_word().is_some_and(|own| own.meaning.action().is_some());
                    (stroke || line.look()?.0.action().is_some()).then_some(())
                })
                .is_some()
    }

    /// A stroke, with what its passage says for all.
    fn struck(&mut self, run: &mut Run) -> Option<()> {
        let start = self.at;
        let bracketed = self.ahead().spaced_sign('(');
        let draft = if bracketed {
            self.attempt(|line| {
                line.spaced_sign('(').then_some(())?;
                let draft = line.stroke(run.at)?;
                line.spaced_sign(')').then_some(draft)
            })?
        } else {
            self.stroke(run.at)?
        };
        let draft = run.apply_passage(draft)?;
        self.push(start, Item::Stroke(draft.stroke));
        // "p dn (g)": the golpe in brackets sounds with it.
        let _ = self.attempt(|line| {
            let start = line.at;
            line.spaced_sign('(').then_some(())?;
            let with = line.stroke(run.at).filter(|with| with.acts)?;
            line.spaced_sign(')').then_some(())?;
            line.push(start, Item::Stroke(with.stroke));
            Some(())
        });
        Some(())
    }

    /// `put LH1 s5 f1`, `lift LH2`, `lift`, `keep LH3 s5`, `slide LH4 s3 f5`.
    fn left_event(&mut self, run: &mut Run) -> Option<()> {
        let start = self.at;
        let action = self.meaning_of(|meaning| match meaning {
            Meaning::Put => Some(LeftAction::Put),
            Meaning::Lift => Some(LeftAction::Lift),
            Meaning::Keep => Some(LeftAction::Keep),
            Meaning::Slide => Some(LeftAction::Slide),
            _ => None,
        })?;
        let finger = self.attempt(|line| {
            line.meaning(Meaning::LeftHand).then_some(())?;
            line.left_finger()
        });
        let _ = self.meaning(Meaning::On) || self.meaning(Meaning::To);
        let string = self.strings();
        let string = match string.as_deref() {
            None => None,
            Some([one]) => Some(*one),
            Some(_) => return None,
        };
        let fret = self.fret();
        if self.next_is_alphanumeric() {
            return None;
        }
        let implied = self.mark();
        let event = LeftEvent {
            at: run.at,
            action,
            finger,
            string,
            fret,
            place: Place::default(),
            implied,
        };
        self.push(start, Item::Left(event));
        Some(())
    }

    /// A chord named at this moment. Named behind the strokes it is the chord of their whole count:
    /// `2: i down, & i up (F)`.
    fn chord_here(&mut self, run: &mut Run, struck: bool) -> Option<()> {
        let at = if struck || run.struck {
            Position::count(run.at.whole())
        } else {
            run.at
        };
        if let Some((start, chord, implied)) = self.bracketed_chord() {
            self.change(start, at, chord, implied);
            return Some(());
        }
        let start = self.at;
        let (chord, still) = self.chord_word()?;
        if still {
            let count = run.at.whole();
            let span = CountSpan {
                first: count,
                last: count,
            };
            let chord = Some(chord);
            self.push(start, Item::Covers(Covers { span, chord, still }));
        } else {
            self.change(start, at, chord, None);
        }
        Some(())
    }

    pub fn change(&mut self, start: usize, at: Position, chord: ChordName, implied: Option<String>) {
        self.push(
            start,
            Item::Change(Change {
                at,
                chord,
                place: Place::default(),
                implied,
            }),
        );
    }

    /// `(Bb)`, `(G now)`, with its mark.
    fn bracketed_chord(&mut self) -> Option<(usize, ChordName, Option<String>)> {
        self.attempt(|line| {
            line.spaces();
            let start = line.at;
            line.sign('(').then_some(())?;
            let (chord, still) = line.chord_word().filter(|(_, still)| !still)?;
            let _ = still;
            line.spaced_sign(')').then_some(())?;
            let implied = line.mark();
            Some((start, chord, implied))
        })
    }

    /// `A`, `on G`, `still A`, `E chord`, `back on the E shape`, `F now`, `en lam`, `acorde de la menor`; true when it goes on.
    pub fn chord_word(&mut self) -> Option<(ChordName, bool)> {
        self.attempt(|line| {
            if line.own_word().is_some() {
                return None;
            }
            let _ = line.meaning(Meaning::Now);
            let still = line.meaning(Meaning::Still);
            let announced = line.meaning(Meaning::On) || line.meaning(Meaning::Chord) || still;
            let chord = if announced {
                line.any_chord_name()
            } else {
                line.chord_name().or_else(|| line.named_solfa())
            }?;
            let _ = line.meaning(Meaning::Chord);
            let _ = line.meaning(Meaning::Now);
            (!line.next_is_alphanumeric()).then_some((chord, still))
        })
    }

    /// A Spanish chord name that nothing announces has to show that it is one: `lam`, `mi7`, `do M`.
    fn named_solfa(&mut self) -> Option<ChordName> {
        self.attempt(|line| {
            let start = line.at;
            let chord = line.any_chord_name()?;
            let written = line.text.get(start..line.at)?.trim();
            let bare = written.chars().all(|c| c.is_lowercase()) && chord.quality.is_empty();
            (!bare).then_some(chord)
        })
    }

    /// `thirds p s3 f2 A, pull-off …`; `four semiquavers, picado i m i m: …`; `two notes a beat: …` over a span.
    fn divided(&mut self, run: &mut Run) -> Option<()> {
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
        let given_count = i64::try_from(given.len()).unwrap_or(i64::MAX);
        if given_count != slots {
            self.unsure(&given, from, counts, parts);
            self.push(
                start,
                Item::Claim(ClaimAbout::Divided {
                    from,
                    counts,
                    per_count: parts,
                    given: given.len(),
                }),
            );
        }
        Some(())
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
    fn one_a_count(&mut self, run: &mut Run, ended: bool) -> Option<()> {
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
    fn slots(&mut self, run: &mut Run) -> Option<()> {
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
    fn announced_run(&mut self, run: &mut Run) -> Option<()> {
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

    /// How many counts a span covers; None when it wraps and the round is not known.
    pub fn counts_in(&self, span: CountSpan) -> Option<i64> {
        let straight = span.last - span.first + 1;
        let counts = if straight > 0 {
            straight
        } else {
            straight + self.context.beats?
        };
        (1..=MOST_SLOTS).contains(&counts).then_some(counts)
    }
}

impl Run {
    /// Fills what the passage said for all its notes, and decides a slur by its two notes.
    fn apply_passage(&mut self, mut draft: Draft) -> Option<Draft> {
        let stroke = &mut draft.stroke;
        let passage = &mut self.passage;
        let slurred = draft.slur || matches!(stroke.action, Action::PullOff | Action::HammerOn);
        if let Some(action) = passage.action.filter(|_| !draft.acts && !draft.slur) {
            stroke.action = action;
        }
        if stroke.strings.is_empty() {
            stroke.strings.clone_from(&passage.strings);
        }
        if !slurred && stroke.fingers.is_empty() && !passage.fingers.is_empty() {
            let turn = passage.given % passage.fingers.len();
            stroke.fingers.extend(passage.fingers.get(turn));
        }
        if !slurred {
            stroke.rest_stroke = stroke.rest_stroke.or(passage.rest_stroke);
            passage.given += 1;
        }
        let string = match stroke.strings.as_slice() {
            [one] => Some(*one),
            _ => None,
        };
        if draft.slur {
            let (last_string, last_fret) = self.last_note?;
            let fret = stroke.fret?;
            if string.is_some_and(|string| string != last_string) || fret == last_fret {
                return None;
            }
            stroke.action = if fret < last_fret {
                Action::PullOff
            } else {
                Action::HammerOn
            };
        }
        if let (Some(string), Some(fret)) = (string.or(self.last_note.map(|(string, _)| string)), stroke.fret) {
            self.last_note = Some((string, fret));
        }
        Some(draft)
    }
}

impl Item {
    fn is_chord(&self) -> bool {
        matches!(self, Item::Change(_) | Item::Covers(_))
    }

    /// Moves the item to another moment.
    pub fn set_moment(&mut self, at: Position) {
        match self {
            Item::Stroke(stroke) => stroke.at = at,
            Item::Change(change) => change.at = at,
            Item::Left(event) => event.at = at,
            _ => {}
        }
    }

    /// Marks the item as implied by a rule, unless it carries a mark of its own.
    pub fn mark_implied(&mut self, rule: &str) {
        let mark = match self {
            Item::Head(_, mark) | Item::Repeats(_, mark) | Item::Advice(_, mark) | Item::Question(_, mark) => mark,
            Item::Chord(chord) => &mut chord.implied,
            Item::Stroke(stroke) => &mut stroke.implied,
            Item::Change(change) => &mut change.implied,
            Item::Left(event) => &mut event.implied,
            _ => return,
        };
        if mark.is_none() {
            *mark = Some(rule.to_owned());
        }
    }
}
