//! Pitches and chords as people name them: `Bb`, "B flat", "si bemol", `lam`, "E seven".

use super::clauses::FINGERS;
use super::lexicon::{Concept, Language};
use super::says::Kind;
use super::solfa::{may_begin_solfa, solfa};
use super::spans::{count_list, span_at};
use super::tokens::{Token, compact};
use crate::music::chord::ChordName;
use crate::music::pitch::NoteName;

/// A pitch or chord named in the text; which of the two it is, its neighbours tell.
#[derive(Debug, Clone, PartialEq)]
pub struct PitchWord {
    pub root: NoteName,
    /// `""` when nothing was said about the quality.
    pub quality: String,
    pub added: String,
    /// Major, minor or the like was said, or stands in the name: it must be a chord (or a key).
    pub qualified: bool,
    /// How many tokens it takes.
    pub length: usize,
}

impl PitchWord {
    pub fn chord(&self) -> ChordName {
        ChordName {
            root: self.root,
            quality: self.quality.clone(),
            added: self.added.clone(),
        }
    }
}

/// Whether a word, as written and folded, may begin the name of a note or chord.
pub fn may_begin_name(raw: &str, word: &str) -> bool {
    may_begin_chord(raw) || may_begin_solfa(word)
}

/// A letter, and behind it nothing but what may follow a root: `E`, `Bb`, `f`, `am`, `Csus`.
fn may_begin_chord(raw: &str) -> bool {
    let letter = matches!(raw.as_bytes(), [b'A'..=b'G' | b'a'..=b'g', ..]);
    letter && raw.get(1..).is_some_and(may_follow_root)
}

/// Whether some letters behind a root may be its flat and its quality, from the letters that all qualities are written
/// with: more words may than are one.
pub fn may_follow_root(letters: &str) -> bool {
    const WRITTEN_WITH: &str = "maj min M sus dim aug add b ø";
    let quality = letters.strip_prefix('b').unwrap_or(letters);
    match quality.chars().next() {
        None | Some('m' | 'M' | 'ø') => quality.chars().all(|letter| WRITTEN_WITH.contains(letter)),
        Some('s' | 'd' | 'a') => quality.len() >= 3 && quality.chars().all(|letter| WRITTEN_WITH.contains(letter)),
        Some(_) => false,
    }
}

/// A pitch or chord at a token.
#[inline]
pub fn pitch_at(tokens: &[Token], index: usize, language: Language, typed: bool) -> Option<PitchWord> {
    let may = tokens.get(index)?.has(Kind::Name);
    may.then(|| named(tokens, index, language, typed))?
}

/// The same, whatever the token looks like.
pub(super) fn named(tokens: &[Token], index: usize, language: Language, typed: bool) -> Option<PitchWord> {
    // In Spanish notes `Ab` is abajo; A flat is la bemol.
    let down = || {
        let token = tokens.get(index);
        language == Language::Spanish && token.is_some_and(|token| token.raw == "Ab" || token.raw == "AB")
    };
    written(tokens, index, typed)
        .filter(|_| !down())
        .or_else(|| spoken_letter(tokens, index, language, typed))
        .or_else(|| {
            (language == Language::Spanish || typed)
                .then(|| solfa(tokens, index, language, typed))
                .flatten()
        })
}

/// `Bb`, `Am`, `E7`, `F#m`: a capital and at least one more sign; small letters only with a sign that words do not have.
fn written(tokens: &[Token], index: usize, typed: bool) -> Option<PitchWord> {
    let token = tokens.get(index)?;
    let begins = token.raw.bytes().next()?;
    let goes_on = tokens.get(index + 1).is_some_and(|next| next.joined);
    let may = match begins {
        b'A'..=b'G' => goes_on || token.raw.len() > 1,
        b'a'..=b'g' => typed && (goes_on || token.raw.len() == 2),
        _ => false,
    };
    if !may {
        return None;
    }
    if token.joined
        && tokens
            .get(index.wrapping_sub(1))
            .is_some_and(|before| before.number.is_some())
    {
        return None;
    }
    let (word, mut length) = compact(tokens, index);
    let first = word.chars().next()?;
    let added = bracket(tokens, index + length);
    // `A(b9)`: a letter is a name where something is added to it.
    if word.chars().count() < 2 && added.is_none() {
        return None;
    }
    let capital = first.is_ascii_uppercase();
    let small_ok = typed
        && ('a'..='g').contains(&first)
        && (word.contains(['7', '#'])
            || matches!(word.as_str(), "dm" | "em" | "gm" | "bb" | "eb" | "cm" | "fm" | "bm"));
    if !capital && !small_ok {
        return None;
    }
    let mut chord = if capital {
        ChordName::parse(&word)?
    } else {
        ChordName::parse(&(first.to_ascii_uppercase().to_string() + word.get(1..).unwrap_or("")))?
    };
    if let Some((added, more)) = added {
        chord.added = added;
        length += more;
    }
    let qualified = !chord.quality.is_empty() || !chord.added.is_empty();
    let mut word = PitchWord {
        root: chord.root,
        quality: chord.quality,
        added: chord.added,
        qualified,
        length,
    };
    if !word.qualified {
        quality_after(tokens, index, &mut word, typed);
    }
    Some(word)
}

/// `(b9)` and the like, joined to a chord's name.
fn bracket(tokens: &[Token], index: usize) -> Option<(String, usize)> {
    let open = tokens.get(index).filter(|token| token.is_mark('(') && token.joined)?;
    let close = tokens.iter().skip(index).position(|token| token.is_mark(')'))?;
    let inside = tokens.get(index + 1..index + close)?;
    let text: String = inside.iter().map(|token| token.raw.as_str()).collect();
    let known = text.chars().any(|c| c.is_ascii_digit()) && text.len() <= 6 && inside.iter().all(|token| token.joined);
    (known && open.joined).then(|| (format!("({text})"), close + 1))
}

/// What "a" stands in front of as an article: "that's a rasgueado".
const PLAYED: [Concept; 16] = [
    Concept::Rasgueado,
    Concept::Golpe,
    Concept::Tap,
    Concept::Down,
    Concept::Up,
    Concept::PullOff,
    Concept::HammerOn,
    Concept::Picado,
    Concept::Triplet,
    Concept::Quavers,
    Concept::Crotchets,
    Concept::Semiquavers,
    Concept::Silence,
    Concept::Strum,
    Concept::Arpeggio,
    Concept::Tremolo,
];

/// "A", "B flat", "F sharp minor", "E seven".
fn spoken_letter(tokens: &[Token], index: usize, language: Language, typed: bool) -> Option<PitchWord> {
    let token = tokens.get(index)?;
    if token.raw.len() != 1 {
        return None;
    }
    let letter = token.raw.chars().next()?;
    let capital = ('A'..='G').contains(&letter);
    let small = ('a'..='g').contains(&letter);
    let next = tokens.get(index + 1);
    if next.is_some_and(|next| next.is_mark('!') && next.joined) || token.joined && index > 0 && !capital {
        return None;
    }
    let follows = before_word(tokens, index);
    let bare_small = small
        && !typed
        && language == Language::English
        && !token.joined
        && (letter != 'a'
            && matches!(
                follows,
                "the"
                    | "that's"
                    | "is"
                    | "a"
                    | "then"
                    | "on"
                    | "in"
                    | "to"
                    | "of"
                    | "fret"
                    | "open"
                    | "flat"
                    | "note"
                    | "string"
                    | "so"
                    | "and"
                    | "c"
                    | "d"
                    | "e"
                    | "f"
                    | "g"
                    | "b"
            )
            || letter == 'a'
                && matches!(follows, "the" | "that's" | "open")
                && next.is_none_or(|next| {
                    !(next.concepts.is_empty() || follows == "that's" && next.is_any(&PLAYED))
                        || next.mark.is_some()
                        || next.word == "yeah"
                        || next.number.is_some()
                })
            // "fifth string open, which is a, and on six"
            || letter == 'a' && follows == "is" && next.is_none_or(|next| next.mark.is_some() || next.is(Concept::And)));
    let spoken = small && !typed && language == Language::English && !token.joined;
    let bare_small =
        bare_small || spoken && (is_over_counts(tokens, index) || letter != 'a' && follows.ends_with(" on"));
    // "it's in a major key"
    let of_a_key = |token: &Token| token.is(Concept::KeyWord) || token.word == "mode";
    let some_key =
        matches!(letter, 'a' | 'A') && next.is_some_and(|next| next.is_any(&[Concept::Major, Concept::Minor]));
    if some_key && tokens.get(index + 2).is_some_and(of_a_key) {
        return None;
    }
    // "c is third fret on the fifth string"
    let stops = |token: &Token| token.ordinal.is_some() || token.number.is_some() || token.is(Concept::Open);
    let told =
        follows.is_empty() && next.is_some_and(|next| next.word == "is") && tokens.get(index + 2).is_some_and(stops);
    // "c you know that's no sixth string, third fret on the fifth"
    let shown = next.is_some_and(|next| matches!(next.word.as_str(), "is" | "that's" | "you" | "you know"));
    let of_strings = |token: &Token| token.is_any(&[Concept::StringWord, Concept::FretWord]);
    let shaped = shown && tokens.iter().skip(index + 2).take(5).any(of_strings);
    let bare_small = bare_small || spoken && letter != 'a' && (told || shaped);
    let said_alter = next.is_some_and(|next| next.is_any(&[Concept::Flat, Concept::Sharp]));
    let said_quality = next.is_some_and(|next| {
        next.is_any(&[Concept::Major, Concept::Minor, Concept::Seventh])
            || (next.number == Some(7) && next.spelled && letter != 'a')
    });
    if !capital && !bare_small && !(small && (said_alter || said_quality)) {
        return None;
    }
    if letter == 'A' && language == Language::Spanish && !typed {
        return None;
    }
    let article = letter == 'A'
        && language == Language::English
        && tokens
            .get(index.wrapping_sub(1))
            .is_none_or(|before| before.mark.is_some())
        && next.is_some_and(|next| {
            next.concepts.is_empty()
                && next.mark.is_none()
                && next.number.is_none()
                && !next.joined
                && (next.word.chars().count() > 2 || next.word == "mi")
        });
    if article && !said_alter && !said_quality {
        return None;
    }
    // "A down with the index on 4."
    let plain_words = tokens.iter().skip(2).any(|token| token.is(Concept::On));
    let opens = letter == 'A' && index == 0 && language == Language::English && !said_alter && !said_quality;
    if opens && typed && plain_words && next.is_some_and(|next| next.is_any(&PLAYED)) {
        return None;
    }
    // "A triplet: p up, m down, p down"
    let figures = [
        Concept::Triplet,
        Concept::Semiquavers,
        Concept::Quavers,
        Concept::Arpeggio,
        Concept::Tremolo,
        Concept::Picado,
    ];
    if opens && typed && next.is_some_and(|next| next.is_any(&figures)) {
        return None;
    }
    // "A thumb tune."
    let of_a_thing = next.is_some_and(|next| next.is_any(&FINGERS.map(|(concept, _)| concept)))
        && tokens
            .get(index + 2)
            .is_some_and(|thing| thing.concepts.is_empty() && thing.mark.is_none() && thing.word.len() > 2);
    if opens && of_a_thing {
        return None;
    }
    if letter == 'A' && index == 0 && !typed && !said_alter && !said_quality {
        let chord = next.is_none_or(|next| {
            let called = next.is(Concept::ChordWord) || next.is(Concept::Phrygian) || next.word == "is";
            next.mark.is_some() || called || is_over_counts(tokens, index)
        });
        if !chord {
            return None;
        }
    }
    let mut word = PitchWord {
        root: NoteName::new(letter.to_ascii_uppercase(), 0),
        quality: String::new(),
        added: String::new(),
        qualified: false,
        length: 1,
    };
    quality_after(tokens, index, &mut word, typed);
    Some(word)
}

/// "A for 9 to 11", "one to four are on a": a letter beside counts, and nothing of which "a" could be the article.
fn is_over_counts(tokens: &[Token], index: usize) -> bool {
    let for_counts = tokens
        .get(index + 1)
        .is_some_and(|next| matches!(next.word.as_str(), "for" | "from" | "over"));
    let listed = |at: usize| count_list(tokens, at).is_some_and(|(first, last, _)| last > first);
    if for_counts && (span_at(tokens, index + 2).is_some() || listed(index + 2)) {
        return true;
    }
    let closes = tokens.get(index + 1).is_none_or(|next| next.mark.is_some());
    let linked = before_word(tokens, index);
    let linked = linked == "on" || linked.ends_with(" on") || linked == "it's";
    closes && linked && (0..index).any(|at| span_at(tokens, at).is_some() || listed(at))
}

fn before_word(tokens: &[Token], index: usize) -> &str {
    index
        .checked_sub(1)
        .and_then(|at| tokens.get(at))
        .map_or("", |token| token.word.as_str())
}

/// Reads "flat", "minor", "seventh" behind a name.
pub fn quality_after(tokens: &[Token], index: usize, word: &mut PitchWord, typed: bool) {
    let get = |word: &PitchWord| tokens.get(index + word.length);
    if let Some(token) = get(word) {
        if token.is(Concept::Flat) {
            word.root.alter = -1;
            word.length += 1;
        } else if token.is(Concept::Sharp) {
            word.root.alter = 1;
            word.length += 1;
        }
    }
    let mut major = false;
    if let Some(token) = get(word) {
        let capital_m = token.raw == "M" && !token.joined;
        let small_m = token.raw == "m" && !token.joined && get_after(tokens, index + word.length + 1);
        if token.is(Concept::Major) || capital_m {
            major = true;
            word.qualified = true;
            word.length += 1;
        } else if token.is(Concept::Minor) || small_m {
            "m".clone_into(&mut word.quality);
            word.qualified = true;
            word.length += 1;
        }
    }
    if let Some(token) = get(word) {
        let seven = token.number == Some(7)
            && (token.spelled || token.joined || !typed)
            && !count_follows(tokens, index + word.length);
        if seven || token.is(Concept::Seventh) {
            word.quality.push('7');
            word.qualified = true;
            word.length += 1;
            great_seventh(tokens, index, major, word);
        }
    }
}

/// "F major seven", "fa séptima mayor": the seventh is the great one.
fn great_seventh(tokens: &[Token], index: usize, major: bool, word: &mut PitchWord) {
    let behind = tokens.get(index + word.length);
    let said_behind = word.quality == "7" && behind.is_some_and(|token| token.is(Concept::Major));
    if major || said_behind {
        "maj7".clone_into(&mut word.quality);
        word.length += usize::from(said_behind && !major);
    }
}

fn get_after(tokens: &[Token], index: usize) -> bool {
    tokens.get(index).is_none_or(|token| token.mark.is_some())
}

fn count_follows(tokens: &[Token], index: usize) -> bool {
    // "all of that is still B flat, seven and eight and nine and"
    let counted_on = tokens.get(index + 1).is_some_and(|and| and.is(Concept::And))
        && tokens.get(index + 2).is_some_and(|next| next.number == Some(8))
        && tokens.get(index + 3).is_some_and(|next| next.number.is_some());
    let span = tokens
        .get(index + 1)
        .is_some_and(|token| token.is_mark('-') && token.joined);
    span || counted_on
}
