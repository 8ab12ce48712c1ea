use super::before::by_id;
use crate::checks::check::words_of;
use crate::checks::{Check, Context, Example, Family, Run};
use crate::findings::{Finding, Holes, Severity, Words};
use crate::intake::Sibling;
use crate::music::lesson::{CrossReference, Lesson, Said};
use crate::text::{ClockTime, FileId, Place};

pub(in crate::checks) const CHECK: Check = Check {
    id: "link-to-nowhere",
    severity: Severity::Warning,
    family: Family::Course,
    example: Example {
        trips: "[0:11] for the golpe look at the lesson farruca-prologue",
        right: "[0:11] for the golpe look at the lesson farruca-prelude",
    },
    run: Run::Course(look),
};

fn look(lessons: &[Lesson], context: &Context) -> Vec<Finding> {
    let in_lesson = |lesson: &Lesson| {
        let words = words_of(lesson);
        let links = lesson
            .links
            .iter()
            .filter_map(|link| of_link(words, link, lessons, context));
        let needs = lesson
            .needs
            .iter()
            .filter_map(|needs| of_needs(words, needs, lessons, context));
        let moments = lesson
            .moments
            .iter()
            .filter_map(|moment| of_moment(words, lesson, moment, context));
        links.chain(needs).chain(moments).collect::<Vec<_>>()
    };
    lessons.iter().flat_map(in_lesson).collect()
}

/// A lesson still to come is announced, not missed. "The alegrías lesson" may be one that is not in this folder: a note.
fn of_link(words: &Words, link: &CrossReference, lessons: &[Lesson], context: &Context) -> Option<Finding> {
    if link.announced || is_there(&link.target, lessons, context) {
        return None;
    }
    let is_palo = context.palos.find(&link.target).is_some();
    let of_palo = |lesson: &Lesson| lesson.palo.as_ref().is_some_and(|palo| palo.value == link.target);
    let named_for_it = |sibling: &Sibling| sibling.id.starts_with(&link.target);
    if is_palo && (lessons.iter().any(of_palo) || context.folder.siblings.iter().any(named_for_it)) {
        return None;
    }
    let case = if is_palo { "palo" } else { "" };
    let finding = finding(
        words,
        link.place,
        case,
        (link.words.trim(), &link.target),
        lessons,
        context,
    );
    Some(if is_palo {
        finding.weighing(Severity::Note)
    } else {
        finding
    })
}

fn finding(
    words: &Words,
    place: Place,
    case: &str,
    (said, target): (&str, &str),
    lessons: &[Lesson],
    context: &Context,
) -> Finding {
    let near = nearest(target, lessons, context);
    let help = if near.is_some() { "near" } else { "" };
    let palo = context.palos.find(target).filter(|_| case == "palo");
    let name = palo.map_or(target, |palo| palo.name.of(words.language.code()));
    let holes: Holes = &[("words", &said), ("target", &name), ("near", &near.unwrap_or(""))];
    CHECK.tells(words, place, (case, help), holes)
}

fn is_there(id: &str, lessons: &[Lesson], context: &Context) -> bool {
    by_id(lessons, id).is_some() || context.folder.siblings.iter().any(|sibling| sibling.id == id)
}

fn of_needs(words: &Words, needs: &Said<String>, lessons: &[Lesson], context: &Context) -> Option<Finding> {
    if is_there(&needs.value, lessons, context) {
        return None;
    }
    let target = needs.value.as_str();
    Some(finding(words, needs.place, "needs", ("", target), lessons, context))
}

fn nearest<'a>(id: &str, lessons: &'a [Lesson], context: &'a Context) -> Option<&'a str> {
    let distance = |other: &&str| strsim::damerau_levenshtein(id, other);
    let here = lessons.iter().map(|lesson| lesson.id.as_str());
    let beside = context.folder.siblings.iter().map(|sibling| sibling.id.as_str());
    let most = id.chars().count() / 3;
    // A name much longer or shorter is never near: most need not be measured.
    let near = here
        .chain(beside)
        .filter(|other| other.len().abs_diff(id.len()) <= most);
    near.min_by_key(distance).filter(|other| distance(other) <= most)
}

/// "The lesson on alegrías", where the folder has one.
fn only_one_of<'a>(lessons: &'a [Lesson], palo: &str) -> Option<&'a Lesson> {
    let of_palo = |lesson: &&Lesson| lesson.palo.as_ref().is_some_and(|own| own.value == palo);
    let mut found = lessons.iter().filter(of_palo);
    found.next().filter(|_| found.next().is_none())
}

/// Milliseconds that a recording may go on behind the last time in its notes, where its length is not known.
const GOES_ON: u64 = 60_000;

/// A moment is of the lesson that the same line refers to, or else of this one.
fn of_moment(words: &Words, lesson: &Lesson, moment: &Said<ClockTime>, context: &Context) -> Option<Finding> {
    let on_line = |link: &&CrossReference| (link.place.file, link.place.line) == (moment.place.file, moment.place.line);
    let home = match lesson.links.iter().find(on_line) {
        Some(link) => by_id(context.lessons, &link.target).or_else(|| only_one_of(context.lessons, &link.target))?,
        None => lesson,
    };
    let files: Vec<FileId> = home.readings.iter().map(|reading| reading.place.file).collect();
    let notes = context.folder.notes.iter().filter(|note| files.contains(&note.file));
    let last = notes.flat_map(|note| &note.cues).filter_map(|cue| cue.time).max()?;
    let about = ClockTime::from_milliseconds(last.milliseconds.saturating_add(GOES_ON));
    let end = home.recording_length.unwrap_or(about);
    let holes: Holes = &[("target", &moment.value), ("lesson", &home.id), ("end", &last)];
    (moment.value > end).then(|| CHECK.says(words, moment.place, "moment", holes))
}
