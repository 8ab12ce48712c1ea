//! One note from cue to lesson: sentence by sentence, each statement into the discourse.

use super::context::Context;
use super::count_lines::with_colons;
use super::discourse::Discourse;
use super::first_moment::places_follow;
use super::forms::{is_caution, is_musical};
use super::language::language_of;
use super::legend::learn_signs;
use super::lexicon::{Concept, Lexicon};
use super::listener::Listener;
use super::old_count::{says_old_row, settle};
use super::own_palos::OwnPalos;
use super::own_sounds::{learn, own_sounds};
use super::own_words::lexicon_of;
use super::pieces::{Piece, pieces};
use super::rows::block;
use super::said_over::{defines_pairs, quotes_another_paper};
use super::says::Kind;
use super::sentences::{is_punctuated, sentences};
use super::sounds::learn_sounds;
use super::tokens::{Token, Tokens, tokens_of};
use super::trade::{is_elsewhere, is_lesson};
use super::typed::{line_start, take_line};
use super::voices::{affirmed, main_speaker};
use super::{head, noticed, recital, remarks, unread};
use crate::intake::{Folder, Note, NoteKind};
use crate::music::lesson::{Caution, Lesson};
use crate::text::Place;

pub fn read_note(folder: &Folder, own_palos: &OwnPalos, note: &Note) -> Lesson {
    let rewritten = (note.kind != NoteKind::Spoken).then(|| with_colons(note)).flatten();
    let note = rewritten.as_ref().unwrap_or(note);
    let language = language_of(note);
    let typed = note.kind != NoteKind::Spoken;
    let mut words = lexicon_of(folder, own_palos, language);
    let sentences = sentences(note, language);
    let cut: Vec<Vec<Piece>> = sentences.iter().map(|sentence| pieces(&sentence.text)).collect();
    learn_signs(note, &cut, language, &mut words);
    learn_sounds(note, &cut, language, &mut words);
    let tokenise = |words: &Lexicon| -> Vec<Tokens> {
        let each = sentences.iter().zip(&cut);
        each.map(|(sentence, pieces)| Tokens::of(tokens_of(&sentence.text, pieces, language, words)))
            .collect()
    };
    let mut tokenised = tokenise(&words);
    let explained = if typed { Vec::new() } else { own_sounds(&tokenised) };
    if !explained.is_empty() {
        learn(&explained, &mut words);
        tokenised = tokenise(&words);
    }
    let words = &words;
    if tokenised.iter().any(says_old_row) {
        tokenised.iter_mut().for_each(|tokens| tokens.settle(settle));
    }
    let mut discourse = Discourse::new(Context {
        language,
        typed,
        punctuated: is_punctuated(&sentences),
        beats: None,
        aliases: Vec::new(),
        own_sounds: explained.into_iter().map(|(word, _)| word).collect(),
        own_strings: Vec::new(),
        gestures: Vec::new(),
        alternating: false,
        thirds: false,
        round: None,
        pairs: false,
        joins_with_ampersand: typed && words.concepts("+").contains(&Concept::Half),
        own_palos: own_palos.clone(),
        highest: 0,
    });
    discourse.lesson.language = language.code().to_owned();
    head::hear(&mut discourse, note, words);
    let timed = note.cues.iter().any(|cue| cue.time.is_some());
    let own_palo = |tokens: &Tokens| tokens.says.has(Kind::Palo) && discourse.context.own_palos.stands_in(tokens);
    if !is_lesson(&tokenised, timed) && !tokenised.iter().any(own_palo) {
        let place = sentences
            .first()
            .map(|first| first.place(folder, note, 0, first.text.len()));
        discourse
            .lesson
            .unread
            .extend(place.map(|place| unread::no_lesson(place, &discourse.context)));
        return discourse.finish();
    }
    let teacher = main_speaker(&sentences);
    let affirmed = affirmed(&sentences, &tokenised, teacher.as_deref());
    let mut read_to: Option<(usize, usize)> = None;
    let mut warned: Option<(usize, u32)> = None;
    let mut warning_begun = 0;
    let captions = note.is_captions(folder);
    let nothing = Tokens::default();
    for (index, sentence) in sentences.iter().enumerate() {
        let Some(tokens) = tokenised.get(index) else { continue };
        let previous = index
            .checked_sub(1)
            .and_then(|at| tokenised.get(at))
            .unwrap_or(&nothing);
        let next = tokenised.get(index + 1).unwrap_or(&nothing);
        let place = sentence.place(folder, note, 0, sentence.text.len());
        let listener = Listener {
            folder,
            note,
            sentence,
            place,
            tokens,
            previous,
            next,
            teacher: teacher.as_deref(),
            affirmed: affirmed.get(index).is_some_and(|affirmed| *affirmed),
        };
        let at = |start: usize, end: usize| sentence.place(folder, note, start, end);
        if !typed {
            noticed::misheard(&mut discourse.lesson, tokens, at);
        }
        noticed::techniques_named(&mut discourse.lesson, tokens, at);
        discourse.note_numbers(tokens, place);
        if read_to.is_some_and(|(cue, end)| cue == sentence.cue() && sentence.cue_offset() < end) {
            remarks::hear_in_a_line(&mut discourse, tokens, place);
            continue;
        }
        discourse.open_sentence(place, sentence.opens_line);
        let pairs = typed && defines_pairs(tokens);
        if pairs {
            discourse.context_mut().pairs = true;
        }
        let is_shape = |token: &Token| token.number.is_some_and(|number| number >= 100);
        if pairs && !tokens.iter().any(is_shape) && !discourse.in_pattern() {
            listener.hear_signs(&mut discourse);
            continue;
        }
        if typed && sentence.opens_line {
            let start = line_start(
                sentence.cue_offset(),
                note.cues.get(sentence.cue()).map_or("", |cue| cue.text.as_str()),
            );
            let text = note.cues.get(sentence.cue()).map_or("", |cue| cue.text.as_str());
            let block = block(text, start, &discourse.context, words);
            let least = block.as_ref().map_or(0, |(_, end)| *end);
            if let Some(end) = take_line(&mut discourse, folder, note, sentence.cue(), start, least) {
                read_to = Some((sentence.cue(), end));
                remarks::hear_in_a_line(&mut discourse, tokens, place);
                continue;
            }
            if let Some((rows, end)) = block {
                discourse.take_rows(rows, place);
                read_to = Some((sentence.cue(), end));
                continue;
            }
        }
        if discourse.row(tokens, &sentence.text, place) {
            continue;
        }
        discourse.lay_rows();
        if is_elsewhere(tokens) || quotes_another_paper(tokens) {
            continue;
        }
        if is_caution(tokens, &sentence.text, typed) && (is_musical(tokens) || is_musical(next)) {
            let near = warned.is_some_and(|(cue, line)| {
                if typed {
                    line == place.line
                } else {
                    let caption = captions && note.cues.get(cue).is_some_and(|cue| cue.text.len() < 160);
                    cue == sentence.cue() && index <= warning_begun + 4 || caption && place.line.abs_diff(line) <= 6
                }
            });
            if !near {
                let counts = discourse.counts_warned(tokens, next);
                discourse.lesson.cautions.push(Caution {
                    about: sentence.text.clone(),
                    place,
                    counts,
                });
                discourse.note("a caution".to_owned(), place);
            }
            warned = Some((sentence.cue(), place.line));
            warning_begun = index;
            continue;
        }
        let of_the_warning = typed && warned.is_some_and(|(_, line)| line == place.line) && !sentence.opens_line;
        if of_the_warning || tokens.says.means(Concept::Later) && discourse.in_pattern() {
            continue;
        }
        if !listener.is_aside() && remarks::hear(&mut discourse, tokens, place) {
            continue;
        }
        let placed = !typed && places_follow(next, &discourse.context);
        if listener.is_aside() || !placed && recital::hear(&mut discourse, tokens, &sentence.text, place) {
            continue;
        }
        let in_warning = !typed && warned.is_some_and(|(cue, _)| cue == sentence.cue()) && index <= warning_begun + 4;
        if let Some(hazy) = unread::hazy(
            tokens,
            &sentence.text,
            place,
            &discourse.context,
            discourse.in_pattern(),
        ) {
            discourse.lesson.unread.push(hazy);
            continue;
        }
        let before = (discourse.taken, discourse.in_pattern());
        let hands_before = discourse.taken - discourse.stated;
        let readings = discourse.lesson.readings.len();
        let plain = listener.hear(&mut discourse, in_warning);
        if !in_warning {
            remarks::hear_of_pattern(&mut discourse, tokens, place);
        }
        if discourse.taken == before.0 && !in_warning {
            let unread = unread::unread(tokens, &sentence.text, place, &discourse.context, before.1, plain);
            discourse.lesson.unread.extend(unread);
        } else if !in_warning && discourse.passed_over && discourse.lesson.readings.len() == readings {
            let plain = plain.unwrap_or_default();
            let unread = unread::told_otherwise(tokens, &sentence.text, place, &discourse.context, &plain);
            discourse.lesson.unread.extend(unread);
        } else if !in_warning && discourse.in_pattern() && discourse.taken - discourse.stated == hands_before {
            let new = discourse.lesson.readings.get(readings..).unwrap_or_default();
            let read: Vec<Place> = new.iter().map(|reading| reading.place).collect();
            let unread = unread::left_over(
                tokens,
                &sentence.text,
                &read,
                &discourse.context,
                discourse.announced().is_some(),
                at,
            );
            discourse.lesson.unread.extend(unread);
        }
    }
    discourse.lay_rows();
    discourse.close_run();
    let mut lesson = discourse.finish();
    noticed::techniques_played(&mut lesson);
    head::quote_conflicts(&mut lesson, folder, note);
    lesson
}
