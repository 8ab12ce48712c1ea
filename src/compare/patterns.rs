//! What a pattern is, what it covers, what it runs on into; which are new and which are gone.

use super::pairing::Pair;
use super::words::Words;
use super::{Difference, Kind, moments, strokes};
use crate::music::lesson::Lesson;
use crate::music::pattern::{CountSpan, Pattern, Role};
use crate::music::position::Counts;
use crate::text::fold;

pub(super) fn differences(old: &Lesson, new: &Lesson, pairs: &[Pair], words: Words) -> Vec<Difference> {
    let mut found = Vec::new();
    for (was, is) in pairs {
        let was = was.and_then(|index| old.patterns.get(index));
        let is = is.and_then(|index| new.patterns.get(index));
        match (was, is) {
            (Some(was), Some(is)) => found.extend(kept(was, is, words)),
            (None, Some(is)) => found.push(alone("pattern-new", Kind::PatternNew, is, words)),
            (Some(was), None) => found.push(alone("pattern-gone", Kind::PatternGone, was, words)),
            (None, None) => {}
        }
    }
    found
}

/// The patterns that stayed stand in another order: no music, but the page reads otherwise.
pub(super) fn order(new: &Lesson, pairs: &[Pair], words: Words) -> Option<String> {
    let mut both: Vec<(usize, usize)> = pairs.iter().filter_map(|(old, new)| Some(((*old)?, (*new)?))).collect();
    if both.is_sorted_by_key(|(old, _)| *old) {
        return None;
    }
    let names = |lesson: &Lesson, index: usize| lesson.patterns.get(index).map(|pattern| words.pattern(pattern));
    let is: Vec<String> = both.iter().filter_map(|(_, index)| names(new, *index)).collect();
    both.sort_unstable();
    let was: Vec<String> = both.iter().filter_map(|(_, index)| names(new, *index)).collect();
    Some(words.turn("order", &was.join(", "), &is.join(", ")))
}

/// "a new variation on 3-4: the fan"
fn alone(key: &str, kind: Kind, pattern: &Pattern, words: Words) -> Difference {
    let name = words.pattern(pattern);
    let (role, span) = (words.role(pattern.role), pattern.span.map(|span| span.to_string()));
    let key = if span.is_some() {
        key.to_owned()
    } else {
        format!("{key}-open")
    };
    let holes = [
        ("role", role.as_str()),
        ("span", span.as_deref().unwrap_or_default()),
        ("name", name.as_str()),
    ];
    about(kind, words.say(&key, &holes), name.clone())
}

fn about(kind: Kind, words: String, pattern: String) -> Difference {
    Difference {
        kind,
        words,
        pattern: Some(pattern),
        at: None,
    }
}

fn kept(was: &Pattern, is: &Pattern, words: Words) -> Vec<Difference> {
    let name = words.pattern(is);
    let mut found = Vec::new();
    let mut add = |kind: Kind, words: String| found.push(about(kind, words, name.clone()));
    let before = words.pattern(was);
    if fold(&before).text != fold(&name).text {
        add(Kind::PatternRenamed, words.turn("pattern-renamed", &before, &name));
    }
    if was.role != is.role {
        let (before, after) = (words.role(was.role), words.role(is.role));
        add(
            Kind::Pattern,
            words.say("pattern-role", &[("name", &name), ("was", &before), ("is", &after)]),
        );
    }
    let moved = shift(was, is).filter(|_| was.span != is.span);
    if let Some((key, before, after)) = spans(was.span, is.span, moved.is_some()) {
        let holes = [
            ("name", name.as_str()),
            ("was", before.as_str()),
            ("is", after.as_str()),
        ];
        add(Kind::Pattern, words.say(key, &holes));
    }
    if moved.is_some() {
        return found;
    }
    let until = |pattern: &Pattern| pattern.runs_on.map(|at| at.to_string());
    let runs_on = match (until(was), until(is)) {
        (None, Some(is)) => Some(words.say("runs-on-new", &[("name", &name), ("is", &is)])),
        (Some(_), None) => Some(words.say("runs-on-gone", &[("name", &name)])),
        (Some(was), Some(is)) if was != is => {
            Some(words.say("runs-on", &[("name", &name), ("was", &was), ("is", &is)]))
        }
        (Some(_), Some(_)) | (None, None) => None,
    };
    if let Some(words) = runs_on {
        add(Kind::Pattern, words);
    }
    found.extend(moments::differences(was, is, &name, words));
    found
}

fn spans(was: Option<CountSpan>, is: Option<CountSpan>, moved: bool) -> Option<(&'static str, String, String)> {
    let shown = |span: Option<CountSpan>| span.map(|span| span.to_string()).unwrap_or_default();
    let key = match (was, is) {
        (Some(was), Some(is)) if was == is => return None,
        (None, None) => return None,
        (Some(_), Some(_)) if moved => "pattern-moved",
        (Some(_), Some(_)) => "pattern-span",
        (None, Some(_)) => "pattern-span-new",
        (Some(_), None) => "pattern-span-gone",
    };
    Some((key, shown(was), shown(is)))
}

/// By how many counts everything in it moved, where it all moved together.
fn shift(was: &Pattern, is: &Pattern) -> Option<Counts> {
    if was.role == Role::Core {
        return None;
    }
    let by = Counts::from_integer(is.span?.first - was.span?.first);
    let moved = Pattern {
        span: is.span,
        strokes: was.strokes.iter().map(|stroke| strokes::moved(stroke, by)).collect(),
        changes: was
            .changes
            .iter()
            .map(|change| strokes::moved_change(change, by))
            .collect(),
        left: was.left.iter().map(|event| strokes::moved_event(event, by)).collect(),
        runs_on: was.runs_on.map(|at| at.plus(by)),
        ..was.clone()
    };
    let same_length = was.span.map(|span| span.last - span.first) == is.span.map(|span| span.last - span.first);
    (same_length && moments::differing(&moved, is).is_empty() && moved.runs_on == is.runs_on).then_some(by)
}
