use std::ops::Range;

use super::super::context::Context;
use super::super::lexicon::Concept;
use super::super::moments::{MOMENT, Part, When, before, moment_at, token};
use super::super::sayings::{among, sayings};
use super::super::says::Says;
use super::super::statement::{SameAs, Told};
use super::super::tokens::Token;
use super::Reader;
use super::fingers::{RIGHT_FINGER, named_finger, right_fingers};
use super::is_count::is_count;
use super::together::is_together;

/// A stroke or a moment, as they follow each other in a sentence.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Thing {
    Stroke,
    Moment,
}

/// "Thumb down on one, golpe on two, index down on three": where moments stand behind their strokes, the tokens with which
/// a clause of its own begins. A clause that told its moment first ("on one thumb down") ends by itself at the next moment.
pub fn beginnings(tokens: &[Token], context: &Context) -> Vec<usize> {
    let mut found = Vec::new();
    let mut things = Vec::new();
    for segment in segments(tokens) {
        if !holds_a_moment(tokens.get(segment.clone()).unwrap_or_default()) {
            continue;
        }
        things.clear();
        gather(tokens, segment.clone(), context, &mut things);
        let told_behind = things.first().is_some_and(|first| first.0 == Thing::Stroke)
            && things.last().is_some_and(|last| last.0 == Thing::Moment);
        if !told_behind || refers_back(tokens.get(segment.clone()).unwrap_or_default()) {
            continue;
        }
        found.push(segment.start);
        let turns = things
            .windows(2)
            .filter(|pair| matches!(pair, [(Thing::Moment, _), (Thing::Stroke, _)]));
        found.extend(turns.filter_map(|pair| pair.get(1)).map(|(_, at)| *at));
    }
    found
}

/// Whether a moment, or a bare count, can begin anywhere in it.
fn holds_a_moment(segment: &[Token]) -> bool {
    segment.iter().any(|token| token.says().any_of(MOMENT))
}

/// "It's the rasgueado you did on 3", "the same golpe as on 4": the moment is that of another stroke.
fn refers_back(segment: &[Token]) -> bool {
    let done = &sayings().words.done_before;
    segment
        .iter()
        .any(|token| token.is_any(&[Concept::Same, Concept::AsUsual]) || among(done, &token.word))
}

/// What may part a segment from the next.
const JOINTS: Says = Says::NOTHING
    .meaning(&[Concept::And, Concept::Then])
    .mark(',')
    .mark(';')
    .mark('.')
    .mark(':');

/// What stands between two marks, an "and" or a "then".
fn segments(tokens: &[Token]) -> impl Iterator<Item = Range<usize>> {
    let parts = move |at: &usize| {
        let here = token(tokens, *at);
        if *at < tokens.len() && !here.says().any_of(JOINTS) {
            return false;
        }
        let mark = matches!(here.mark, Some(',' | ';' | '.' | ':')) && !names_a_fret(tokens, *at + 1);
        // "on the and of three": no joint.
        let joins = here.is_any(&[Concept::And, Concept::Then]) && !is_part(tokens, *at) && !at_one_moment(tokens, *at);
        mark || joins || *at == tokens.len()
    };
    let mut start = 0;
    (0..=tokens.len()).filter(parts).filter_map(move |end| {
        let segment = start..end;
        start = end + 1;
        (!segment.is_empty()).then_some(segment)
    })
}

/// "the sixth string, third fret": the comma stands between a string and where it is stopped.
fn names_a_fret(tokens: &[Token], at: usize) -> bool {
    let (here, next) = (token(tokens, at), token(tokens, at + 1));
    let fret =
        here.ordinal.is_some() && next.is(Concept::FretWord) || here.is(Concept::FretWord) && next.number.is_some();
    fret || here.is(Concept::Open)
}

/// "un abajo con el medio y un golpe del anular a la vez en el 2": what stands on both sides of the "and" has one moment.
fn at_one_moment(tokens: &[Token], and: usize) -> bool {
    let rest = tokens.get(and + 1..).unwrap_or_default();
    let clause = || {
        rest.iter()
            .take_while(|token| token.mark.is_none() && !token.is(Concept::And))
    };
    clause().any(is_together) && clause().any(|token| token.is(Concept::Golpe))
}

/// The half of a count: "the and of 3", "en el y del 3", "on the and".
fn is_part(tokens: &[Token], at: usize) -> bool {
    at.checked_sub(1).is_some_and(|before| {
        let lead = token(tokens, before);
        lead.is_any(&[Concept::Article, Concept::On]) || matches!(lead.word.as_str(), "el" | "the" | "al" | "del")
    })
}

/// The strokes and moments of a segment that begins with a stroke, none of any other; a finger behind "with" belongs to the stroke in front of it.
fn gather(tokens: &[Token], segment: Range<usize>, context: &Context, things: &mut Vec<(Thing, usize)>) {
    let mut at = segment.start;
    while at < segment.end && things.first().is_none_or(|(first, _)| *first == Thing::Stroke) {
        if !token(tokens, at).says().any_of(THINGS) {
            at += 1;
            continue;
        }
        let moment = moment_at(tokens, at, context).map(|(_, end)| end);
        // `5ª/2`: a string and its fret.
        let behind = token(tokens, at + 1);
        let string = behind.joined && matches!(behind.mark, Some('ª' | 'º' | '/'));
        let count = (!string && is_count(tokens, at, context, false)).then_some(at + 1);
        if let Some(end) = moment.or(count) {
            things.push((Thing::Moment, at));
            at = end.max(at + 1);
            continue;
        }
        let finger = right_fingers(tokens, at, context);
        let stroke_told = things.iter().any(|(thing, _)| *thing == Thing::Stroke);
        let closes = |end: usize| end >= segment.end;
        let behind =
            matches!(things.last(), Some((Thing::Moment, _))) && finger.as_ref().is_some_and(|found| closes(found.2));
        let of_the_stroke = finger.is_some() && stroke_told && (behind || is_detail(tokens, at));
        if !of_the_stroke && (finger.is_some() || is_stroke(token(tokens, at))) {
            things.push((Thing::Stroke, at));
        }
        at = finger.map_or(at + 1, |(_, _, end)| end.max(at + 1));
    }
}

const STROKE: Says = Says::NOTHING.meaning(&[
    Concept::Down,
    Concept::Up,
    Concept::Golpe,
    Concept::Tap,
    Concept::Rasgueado,
    Concept::Abanico,
    Concept::Alzapua,
    Concept::PullOff,
    Concept::HammerOn,
    Concept::Damp,
    Concept::Silence,
    Concept::StringWord,
]);

/// What a stroke or a moment may begin with.
const THINGS: Says = MOMENT.or(RIGHT_FINGER).or(STROKE);

fn is_stroke(token: &Token) -> bool {
    token.says().any_of(STROKE)
}

/// "golpe on two with the ring finger": the finger of what was told.
fn is_detail(tokens: &[Token], at: usize) -> bool {
    (at.saturating_sub(3)..at).any(|at| token(tokens, at).is(Concept::With) || token(tokens, at).word == "de")
}

impl Reader<'_> {
    /// "seven thumb up middle down thumb down eight thumb up": without marks, where counts lead their strokes, the next count
    /// leads as well.
    pub(super) fn leads_its_strokes(&self, when: When, index: usize) -> bool {
        let bare = when.count.is_some()
            && when.part == Part::Whole
            && !before(self.tokens, index).is_any(&[Concept::On, Concept::Article]);
        let loose = self.told.sounds() && self.told.when.is_none() && !self.context.punctuated && !self.context.typed;
        let first = self.out.iter().find(|told| told.sounds() && !told.negated);
        let led = first.is_some_and(|first| {
            first.when.and_then(|when| when.count).is_some() && first.when_at <= first.start + "on the ".len()
        });
        let follows = self.here(index + 1);
        let strikes = follows.says().any_of(STROKE) || named_finger(follows).is_some();
        bare && loose && led && strikes
    }

    /// "a triplet, ring down, middle down, index down, and it starts exactly on the six": the moment is that of the first.
    pub(super) fn begins_the_group(&mut self, when: When) -> bool {
        let last = self.told.begins && self.told.sounds() && self.told.when.is_none() && when.count.is_some();
        let loose = |told: &&Told| told.when.is_none() && told.sounds() && !told.negated;
        let group = self.out.iter().rev().take_while(loose).count();
        let at = self.out.len() - group;
        let told = |told: &Told| told.when.and_then(|when| when.count) == when.count;
        let counted = at.checked_sub(1).and_then(|at| self.out.get(at)).is_some_and(told);
        if last && group > 0 && counted {
            return true;
        }
        let first = self.out.get_mut(at).filter(|_| last && !self.context.typed);
        let found = first.is_some();
        if let Some(first) = first {
            first.when = Some(when);
        }
        found
    }

    /// `p s6 f3, & i s3`: behind the comma the part of the count belongs to the stroke that follows it.
    pub(super) fn another_stroke(&self, moment: usize, behind: usize) -> bool {
        let strikes = self
            .here(behind)
            .is_any(&[Concept::Down, Concept::Up, Concept::Golpe, Concept::Rasgueado]);
        let follows = strikes || right_fingers(self.tokens, behind, self.context).is_some();
        // "p 5ª al aire, y 4ª tr 3": in a typed line the half stands in front of its own stroke.
        let half = self.here(moment).word == "y" && before(self.tokens, moment).mark.is_some();
        self.context.typed && self.has_event() && (self.soft && follows || half)
    }

    /// "abanico en el tres y silencio en el cuatro": the moment is that of a fan whose strokes nobody told.
    pub(super) fn of_a_fan(&self) -> bool {
        let at = self.told.when_at;
        let in_front = self.tokens.iter().rev().filter(|token| token.start < at).take(3);
        self.told.when.is_some() && in_front.into_iter().any(|token| token.is(Concept::Abanico))
    }

    /// "the triplet from 6", "the roll from the 4": as on that count.
    pub(super) fn taken_from(&mut self, index: usize) -> Option<usize> {
        let from = matches!(self.here(index).word.as_str(), "from");
        let lead = before(self.tokens, index);
        let figures = [
            Concept::Triplet,
            Concept::Semiquavers,
            Concept::Rasgueado,
            Concept::Arpeggio,
            Concept::Abanico,
        ];
        let figure = lead.is_any(&figures) || matches!(lead.word.as_str(), "roll" | "strum" | "strums" | "figure");
        let at =
            index + 1 + usize::from(self.here(index + 1).is(Concept::Article) || self.here(index + 1).word == "the");
        let count = self
            .here(at)
            .number
            .filter(|count| (1..=self.context.last_count()).contains(count));
        let other = self
            .here(at + 1)
            .is_any(&[Concept::StringWord, Concept::FretWord, Concept::Unit]);
        let count = count.filter(|_| from && figure && !other)?;
        self.told.same = Some(SameAs {
            counts: Some((count, count)),
            core: false,
            variation: None,
        });
        Some(at + 1)
    }

    /// "the rasgueado you did on 3": as on that count.
    pub(super) fn done_before(&mut self, index: usize) -> Option<usize> {
        let done = among(&sayings().words.done_before, &self.here(index).word);
        let on = self.here(index + 1).is(Concept::On);
        let at =
            index + 2 + usize::from(self.here(index + 2).is(Concept::Article) || self.here(index + 2).word == "el");
        let count = self
            .here(at)
            .number
            .filter(|_| is_count(self.tokens, at, self.context, false));
        let count = count.filter(|_| done && on && self.told.sounds())?;
        self.told.same = Some(SameAs {
            counts: Some((count, count)),
            core: false,
            variation: None,
        });
        Some(at + 1)
    }
}
