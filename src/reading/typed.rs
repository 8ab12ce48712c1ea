//! Typed lines that are wholly in the written form go into the discourse as they stand.

use super::context::OwnSign;
use super::discourse::Discourse;
use super::statement::{Passage, Statement};
use crate::intake::{Folder, Note};
use crate::music::chord::Chord;
use crate::music::lesson::Said;
use crate::music::pattern::{Claim, Role};
use crate::music::stroke::Action;
use crate::text::{Place, Span};
use crate::written::{Begin, Covers, Head, Item, LineContext, Same, SameOf, unit_at};

/// Reads the line, or the stacked block, that begins at a byte of a cue. Returns where it ends in the cue; None where what
/// it could read ends before `least`.
pub fn take_line(
    discourse: &mut Discourse,
    folder: &Folder,
    note: &Note,
    cue_index: usize,
    start: usize,
    least: usize,
) -> Option<usize> {
    let cue = note.cues.get(cue_index)?;
    let file = folder.files.get(cue.file.0 as usize)?;
    let lengths = discourse.lesson.meter.lengths.as_ref();
    let context = LineContext {
        count: discourse.cursor,
        beats: discourse.beats(),
        first: discourse.lesson.meter.first.as_ref().map(|first| first.value),
        lengths: lengths.map_or(&[], |lengths| lengths.value.as_slice()),
        own_words: &discourse.own_words,
        indent: if start == 0 { column_of(cue, file) } else { 0 },
        ..LineContext::default()
    };
    let unit = unit_at(&cue.text, start, &context);
    let items = unit.items.filter(|_| unit.span.end >= least)?;
    let place_of = |span: Span| file.place(cue.source_span(span.start, span.end), cue.time);
    let struck: Vec<i64> = items
        .iter()
        .filter_map(|item| {
            if let Item::Stroke(stroke) = &item.value {
                Some(stroke.at.whole())
            } else {
                None
            }
        })
        .collect();
    let mut covered = None;
    for item in items {
        let place = place_of(item.span);
        match item.value {
            Item::Head(head, implied) => head_line(discourse, head, implied, place),
            Item::Chord(chord) => chord_shape(discourse, chord, place),
            Item::Begin(begin) => begin_pattern(discourse, begin, place),
            Item::Covers(covers) => discourse_covers(discourse, covers, place),
            Item::Stroke(mut stroke) => {
                stroke.place = place;
                discourse.take_stroke(stroke);
            }
            Item::Change(change) => {
                let at = change.at;
                discourse.take_change(at, &change.chord, place);
            }
            Item::Left(mut event) => {
                event.place = place;
                let index = discourse.pattern_for_stroke(place);
                if let Some(pattern) = discourse.patterns.get_mut(index) {
                    pattern.left.push(event);
                }
            }
            Item::Same(same) => covered = copy(discourse, &same, &struck, place).or(covered),
            Item::Repeats(times, _) => discourse.hear(Statement::Repeats(times), place),
            Item::Caution(mut caution) => {
                caution.place = place;
                if caution.counts.is_empty() {
                    caution.counts = discourse.counts_in(&caution.about);
                }
                discourse.lesson.cautions.push(caution);
                discourse.note("a caution".to_owned(), place);
            }
            Item::Advice(text, implied) => discourse.lesson.advice.push(said(text, implied, place)),
            Item::Link(mut link) => {
                link.place = place;
                discourse.lesson.links.push(link);
            }
            Item::Question(text, implied) => discourse.lesson.questions.push(said(text, implied, place)),
            Item::Technique(mut technique) => {
                technique.place = place;
                discourse.lesson.techniques.push(technique);
            }
            Item::Misheard(mut misheard) => {
                misheard.place = place;
                discourse.lesson.misheard.push(misheard);
            }
            Item::Unread(mut unread) => {
                unread.place = place;
                discourse.lesson.unread.push(unread);
            }
            Item::Conflict(mut conflict) => {
                conflict.place = place;
                conflict.first_place = place;
                discourse.lesson.conflicts.push(conflict);
            }
            Item::LetStand(mut let_stand) => {
                let_stand.place = place;
                discourse.lesson.let_stand.push(let_stand);
            }
            Item::Claim(about) => {
                let index = discourse.pattern_for_stroke(place);
                if let Some(pattern) = discourse.patterns.get_mut(index) {
                    pattern.claims.push(Claim { place, about });
                }
            }
            Item::Defines(own) => {
                if let (Some(action), true) = (own.meaning.action(), !own.word.is_empty()) {
                    let alias = own.word.chars().fold(Vec::new(), split_word);
                    discourse.context_mut().aliases.push(OwnSign {
                        words: alias,
                        action: Some(action),
                        fingers: own.fingers.clone(),
                        strings: Vec::new(),
                    });
                    if action == Action::Golpe && !own.fingers.is_empty() {
                        discourse.hear(
                            Statement::Passage(Passage {
                                fingers: own.fingers.clone(),
                                golpe: true,
                                ..Passage::default()
                            }),
                            place,
                        );
                    }
                }
                discourse.own_words.push(own);
            }
            Item::Comment(_) => {}
        }
    }
    if let (Some(first), Some(last)) = (struck.first(), struck.last()) {
        discourse.cursor = Some(*last);
        covered = covered.or(Some((*first, *last)));
    }
    discourse.line_before = covered.or(discourse.line_before);
    Some(unit.span.end)
}

/// Columns in front of a cue's text on its line: rows of a block are aligned by column.
fn column_of(cue: &crate::intake::Cue, file: &crate::text::SourceText) -> usize {
    let (_, column) = file.line_and_column(cue.source_offset(0));
    column.saturating_sub(1) as usize
}

/// A word as tokens see it: letters together, each mark by itself.
fn split_word(mut words: Vec<String>, letter: char) -> Vec<String> {
    let low = letter.to_lowercase().to_string();
    match words.last_mut() {
        Some(last) if letter.is_alphanumeric() && last.chars().all(char::is_alphanumeric) => last.push_str(&low),
        _ => words.push(low),
    }
    words
}

fn said<T>(value: T, implied: Option<String>, place: Place) -> Said<T> {
    Said { value, place, implied }
}

fn head_line(discourse: &mut Discourse, head: Head, implied: Option<String>, place: Place) {
    let statement = match head {
        Head::Palo(slug) => Statement::Palo(slug),
        Head::Beats(beats) => Statement::Beats(beats),
        Head::Accent(at) => Statement::Accents(vec![at]),
        Head::First(first) => Statement::First(first),
        Head::Lengths(lengths) => Statement::Lengths(lengths),
        Head::Tempo(tempo) => Statement::Tempo(tempo),
        Head::Key(key) => Statement::Key(key),
        Head::Capo(capo) => Statement::Capo(capo),
        Head::Title(title) => {
            discourse.lesson.title = Some(said(title, implied, place));
            return;
        }
        Head::Tuning(tuning) => {
            discourse.lesson.tuning = Some(said(tuning, implied, place));
            return;
        }
        Head::Order(order) => {
            discourse.lesson.order = Some(said(order, implied, place));
            return;
        }
        Head::Need(need) => {
            discourse.lesson.needs.push(said(need, implied, place));
            return;
        }
        Head::Recording(recording) => {
            discourse.lesson.recording = Some(said(recording, implied, place));
            return;
        }
        Head::RecordingLength(length) => {
            discourse.lesson.recording_length = Some(length);
            return;
        }
        Head::Reviewed(date) => {
            discourse.lesson.reviewed = Some(said(date, implied, place));
            return;
        }
        Head::Person(name) => {
            discourse.lesson.people.push(name);
            return;
        }
        Head::Id(_) | Head::Language(_) => return,
    };
    discourse.hear(statement, place);
}

fn chord_shape(discourse: &mut Discourse, chord: Chord, place: Place) {
    match chord.shape {
        Some(shape) => discourse.hear(
            Statement::WholeShape {
                chord: chord.name,
                shape,
                fingers: chord.fingers,
            },
            place,
        ),
        None => discourse.use_chord(&chord.name, place),
    }
}

fn begin_pattern(discourse: &mut Discourse, begin: Begin, place: Place) {
    let plain = super::discourse::role_name(begin.role, discourse.context.language).to_owned();
    let name = begin.name.unwrap_or(plain);
    discourse.hear(
        Statement::Begin {
            role: begin.role,
            name,
            number: None,
        },
        place,
    );
    let Some(building) = discourse
        .building()
        .filter(|building| building.role == begin.role || begin.role != Role::Core)
    else {
        return;
    };
    if let Some(span) = begin.span {
        building.span = Some(span);
    }
    building.runs_on |= begin.runs_on.is_some();
    if begin.role != Role::Core {
        discourse.cursor = begin.span.map(|span| span.first);
    }
}

fn discourse_covers(discourse: &mut Discourse, covers: Covers, place: Place) {
    discourse.covers(covers.span, covers.chord.as_ref(), covers.still, place);
}

fn copy(discourse: &mut Discourse, same: &Same, struck: &[i64], place: Place) -> Option<(i64, i64)> {
    let own = discourse.building().and_then(|building| building.span);
    let target = same.counts.or(own).map(|span| (span.first, span.last))?;
    let source = match same.of {
        SameOf::Counts(counts) => (counts.first, counts.last),
        SameOf::Core => target,
        SameOf::Before => discourse.line_before?,
    };
    discourse.copy_but(source, target, same.of == SameOf::Core, struck, place);
    Some(target)
}

/// The bytes of a cue that one line takes up.
pub fn line_start(discourse_position: usize, text: &str) -> usize {
    text.get(..discourse_position)
        .and_then(|before| before.rfind('\n'))
        .map_or(0, |at| at + 1)
}
