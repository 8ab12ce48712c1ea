use super::super::lexicon::{Concept, Language};
use super::super::moments::{before, token};
use super::super::pitch_words::{pitch_at, shape_at};
use super::super::statement::{Located, Statement, StringSaid};
use super::super::tokens::Token;
use super::Asked;
use crate::music::chord::{ChordName, Fingered};

/// `A = x02220`, `Bb x13331 (LH 1 bars, 2 3 4 on top)`, `E 022100, B7 x21202`.
pub fn read(asked: &Asked) -> Vec<Located> {
    let tokens = asked.tokens;
    let mut out = Vec::new();
    let mut index = 0;
    while index < tokens.len() {
        let Some((shape, length)) = shape_at(tokens, index) else {
            index += 1;
            continue;
        };
        if let Some((chord, start)) = chord_before(asked, index) {
            let behind = index + length;
            let next = (behind..tokens.len())
                .find(|at| shape_at(tokens, *at).is_some())
                .unwrap_or(tokens.len());
            out.push(Located {
                statement: Statement::WholeShape {
                    chord,
                    shape,
                    fingers: fingers(tokens.get(behind..next).unwrap_or(&[]), &shape),
                },
                start,
                end: token(tokens, behind - 1).end,
            });
        }
        index += length;
    }
    out
}

/// The chord that a shape belongs to: named up to four tokens before it.
fn chord_before(asked: &Asked, index: usize) -> Option<(ChordName, usize)> {
    (index.saturating_sub(6)..index).rev().find_map(|at| {
        let word = pitch_at(asked.tokens, at, asked.context.language, true).or_else(|| small_name(asked, at))?;
        let reaches = at + word.length <= index;
        let gap = asked.tokens.get(at + word.length..index)?;
        let linked = gap.iter().all(|token| {
            token.mark.is_some()
                || token.is_any(&[Concept::ChordWord, Concept::Is, Concept::Minor, Concept::Major])
                || token.word == "shape"
        });
        (reaches && linked).then(|| (word.chord(), token(asked.tokens, at).start))
    })
}

/// A chord written small in front of its shape: `am x02210`, `la x02220`.
fn small_name(asked: &Asked, index: usize) -> Option<super::super::pitch_words::PitchWord> {
    let here = token(asked.tokens, index);
    let first = here.word.chars().next()?;
    let typed = asked.context.typed && here.word.len() <= 3 && ('a'..='g').contains(&first);
    if !typed {
        return solfa_name(here);
    }
    let mut name = first.to_ascii_uppercase().to_string();
    name.push_str(here.word.get(1..)?);
    let chord = ChordName::parse(&name)?;
    Some(super::super::pitch_words::PitchWord {
        root: chord.root,
        quality: chord.quality,
        added: chord.added,
        qualified: true,
        length: 1,
    })
}

pub fn solfa_name(here: &Token) -> Option<super::super::pitch_words::PitchWord> {
    let letter = match here.word.as_str() {
        "do" => 'C',
        "re" => 'D',
        "mi" => 'E',
        "fa" => 'F',
        "sol" => 'G',
        "la" => 'A',
        "si" => 'B',
        _ => return None,
    };
    Some(super::super::pitch_words::PitchWord {
        root: crate::music::pitch::NoteName::new(letter, 0),
        quality: String::new(),
        added: String::new(),
        qualified: true,
        length: 1,
    })
}

/// Left-hand fingers behind a shape: "LH 1 on s2 f1, 2 on s4 f2", or "(LH 2 3 4)" given to the stopped strings from low to high.
fn fingers(tokens: &[Token], shape: &crate::music::chord::ChordShape) -> Vec<Fingered> {
    let said_hand = tokens
        .iter()
        .position(|token| token.is_any(&[Concept::LeftHand, Concept::FingerWord]));
    let Some(from) = said_hand else { return Vec::new() };
    let mut out: Vec<Fingered> = Vec::new();
    let mut bare = Vec::new();
    let mut index = from;
    while index < tokens.len() {
        if let Some((finger, string, fret, behind)) = placed_finger(tokens, index) {
            out.push(Fingered {
                finger,
                string,
                fret,
                to_string: string,
            });
            index = behind;
            continue;
        }
        if let Some(number) = token(tokens, index).number.filter(|n| (1..=4).contains(n)) {
            bare.push(number as u8);
        }
        index += 1;
    }
    if out.is_empty() && !tokens.iter().any(|token| token.is(Concept::Barre)) {
        let stopped: Vec<(u8, u8)> = (1..=6)
            .rev()
            .filter_map(|string| shape.fret(string).filter(|fret| *fret > 0).map(|fret| (string, fret)))
            .collect();
        if stopped.len() == bare.len() {
            out = stopped
                .iter()
                .zip(bare)
                .map(|((string, fret), finger)| Fingered {
                    finger,
                    string: *string,
                    fret: *fret,
                    to_string: *string,
                })
                .collect();
        }
    }
    out
}

/// "1 on s2 f1", "finger 2 on s4 f2": finger, string, fret, index behind.
fn placed_finger(tokens: &[Token], index: usize) -> Option<(u8, u8, u8, usize)> {
    let finger = token(tokens, index)
        .number
        .filter(|n| (1..=4).contains(n) && !token(tokens, index).joined)?;
    let mut at = index + 1;
    while token(tokens, at).is(Concept::On) || matches!(token(tokens, at).word.as_str(), "the" | "la" | "a") {
        at += 1;
    }
    let letter = |at: usize, letters: &[&str]| {
        letters.contains(&token(tokens, at).word.as_str()) && token(tokens, at + 1).joined
    };
    let string = token(tokens, at + 1)
        .number
        .filter(|n| letter(at, &["s", "c"]) && (1..=6).contains(n))?;
    let fret = token(tokens, at + 3)
        .number
        .filter(|n| letter(at + 2, &["f", "t", "tr"]) && (0..=22).contains(n))?;
    Some((finger as u8, string as u8, fret as u8, at + 4))
}

/// What a sentence says of a chord's strings, one chord at a time. The first entry may go on with the chord told before.
#[derive(Debug, Clone, PartialEq)]
pub struct ShapeTalk {
    /// None: the chord told before.
    pub chord: Option<ChordName>,
    pub frets: [StringSaid; 6],
    pub start: usize,
    pub end: usize,
}

impl ShapeTalk {
    pub fn said(&self) -> usize {
        self.frets.iter().filter(|fret| **fret != StringSaid::NotSaid).count()
    }
}

/// Reads strings and frets of a chord told aloud: "fifth string open, then second fret on the fourth, …".
pub fn shape_talk(asked: &Asked, going_on: bool) -> Vec<ShapeTalk> {
    let mut reader = Reader {
        asked,
        named: None,
        named_row: Vec::new(),
        going_on,
        out: vec![blank(None, 0)],
        string: None,
        queue: Vec::new(),
    };
    let mut index = 0;
    while index < asked.tokens.len() {
        index = reader.step(index).max(index + 1);
    }
    reader.six_in_a_row();
    reader.out
}

fn blank(chord: Option<ChordName>, start: usize) -> ShapeTalk {
    ShapeTalk {
        chord,
        frets: [StringSaid::NotSaid; 6],
        start,
        end: start,
    }
}

struct Reader<'a> {
    asked: &'a Asked<'a>,
    /// The string named last.
    named: Option<u8>,
    /// The strings named since the last fret.
    named_row: Vec<u8>,
    /// A chord told in the sentence before is not whole.
    going_on: bool,
    out: Vec<ShapeTalk>,
    /// The string that the next fret goes to.
    string: Option<u8>,
    /// Frets told before their string.
    queue: Vec<u8>,
}

impl Reader<'_> {
    /// Six frets with no string named go from the sixth string to the first.
    fn six_in_a_row(&mut self) {
        let Ok(row) = <[u8; 6]>::try_from(std::mem::take(&mut self.queue)) else {
            return;
        };
        for (string, fret) in (1..=6).rev().zip(row) {
            self.set(string, StringSaid::Fret(fret));
        }
    }

    fn step(&mut self, index: usize) -> usize {
        let tokens = self.asked.tokens;
        let here = token(tokens, index);
        let fingers_follow = here.is(Concept::FingerWord) || here.is(Concept::LeftHand) || here.is(Concept::Capo);
        if fingers_follow {
            let mut at = index + 1;
            while token(tokens, at).number.is_some()
                || token(tokens, at).is_any(&[Concept::And])
                || token(tokens, at).is_mark(',')
            {
                at += 1;
            }
            return at;
        }
        if let Some((string, end)) = self.string_at(index) {
            self.on_string(string, index);
            return end;
        }
        if let Some((fret, end)) = self.fret_at(index) {
            self.on_fret(fret, end);
            return end;
        }
        if self.mutes(index) {
            self.mute(index);
            return index + 1;
        }
        if let Some(word) = pitch_at(tokens, index, self.asked.context.language, self.asked.context.typed) {
            let end = index + word.length;
            if !token(tokens, end).is(Concept::StringWord) && !before(tokens, index).is(Concept::Negation) {
                self.on_chord(&word.chord(), index);
            }
            return end;
        }
        index + 1
    }

    fn on_chord(&mut self, chord: &ChordName, index: usize) {
        let start = token(self.asked.tokens, index).start;
        if self.out.last().is_some_and(|talk| talk.chord.as_ref() == Some(chord)) {
            return;
        }
        self.out.push(blank(Some(chord.clone()), start));
        self.string = None;
        self.queue.clear();
    }

    fn string_at(&self, index: usize) -> Option<(u8, usize)> {
        let tokens = self.asked.tokens;
        let here = token(tokens, index);
        let next = token(tokens, index + 1);
        if matches!(here.word.as_str(), "s" | "c") && next.joined {
            return next
                .number
                .filter(|n| (1..=6).contains(n))
                .map(|n| (n as u8, index + 2));
        }
        if here.is(Concept::StringWord) {
            let number = next.number.filter(|n| {
                (1..=6).contains(n)
                    && (token(tokens, index + 2).is_any(&[Concept::Open, Concept::Is])
                        || token(tokens, index + 2).mark.is_some())
            })?;
            return Some((number as u8, index + 2));
        }
        let mut end = index + 1;
        let number = match here.ordinal {
            Some(number) => number,
            None => {
                let suffix =
                    next.joined && (next.is_mark('ª') || matches!(next.word.as_str(), "st" | "nd" | "rd" | "th" | "a"));
                end += 1;
                here.number.filter(|_| suffix)?
            }
        };
        let number = u8::try_from(number).ok().filter(|number| (1..=6).contains(number))?;
        let follows = token(tokens, end);
        if follows.is(Concept::StringWord) {
            return Some((number, end + 1));
        }
        let article = before(tokens, index);
        let other = follows.is_any(&[
            Concept::FretWord,
            Concept::FingerWord,
            Concept::BeatWord,
            Concept::Unit,
            Concept::ChordWord,
            Concept::PartWord,
            Concept::Times,
            Concept::FirstHalf,
        ]) || follows.word == "one";
        let named = match self.asked.context.language {
            Language::English => {
                article.word == "the" || article.is(Concept::And) || follows.is(Concept::Open) || article.is_mark(',')
            }
            Language::Spanish => (article.word == "la" || article.is(Concept::And)) && here.word.ends_with('a'),
        };
        let going = self.going_on || self.string.is_some() || self.out.len() > 1 || follows.is(Concept::Open);
        (named && !other && going).then_some((number, end))
    }

    fn fret_at(&self, index: usize) -> Option<(u8, usize)> {
        let tokens = self.asked.tokens;
        let here = token(tokens, index);
        let next = token(tokens, index + 1);
        if matches!(here.word.as_str(), "f" | "t") && next.joined {
            return next
                .number
                .filter(|n| (0..=22).contains(n))
                .map(|n| (n as u8, index + 2));
        }
        if here.is(Concept::Open) {
            let names_chord = pitch_at(tokens, index + 1, self.asked.context.language, self.asked.context.typed)
                .is_some()
                && !next.is_mark(',');
            let adjective = next.is(Concept::ChordWord) || next.word == "position";
            return (!names_chord && !adjective).then_some((0, index + 1));
        }
        if here.is(Concept::FretWord) {
            return next
                .number
                .filter(|n| (0..=22).contains(n))
                .map(|n| (n as u8, index + 2));
        }
        if let Some(ordinal) = here.ordinal.filter(|_| next.is(Concept::FretWord)) {
            return u8::try_from(ordinal).ok().map(|fret| (fret, index + 2));
        }
        let number = here.number.filter(|n| (0..=14).contains(n))?;
        let other = next.is_any(&[
            Concept::FretWord,
            Concept::FingerWord,
            Concept::StringWord,
            Concept::BeatWord,
            Concept::Unit,
            Concept::ChordWord,
            Concept::Times,
        ]) || next.is_mark('-') && next.joined
            || next.joined && next.mark.is_none()
            || here.word == "uno" && next.word == "de";
        let cued =
            self.string.is_some() || !self.queue.is_empty() || self.leads_to_string(index + 1) || next.is_mark(',');
        (!other && cued).then_some((number as u8, index + 1))
    }

    /// "… on the fifth", "… en la cuarta": a string follows that the fret before belongs to.
    fn leads_to_string(&self, index: usize) -> bool {
        let tokens = self.asked.tokens;
        if !matches!(token(tokens, index).word.as_str(), "on" | "en" | "de" | "of" | "for") {
            return false;
        }
        let at = if token(tokens, index + 1).is(Concept::Article) {
            index + 2
        } else {
            index + 1
        };
        token(tokens, at).ordinal.is_some() && !token(tokens, at + 1).is(Concept::FretWord)
            || matches!(token(tokens, at).word.as_str(), "s" | "c")
            || token(tokens, at).is(Concept::StringWord)
    }

    fn said_of(&self, string: u8) -> bool {
        self.out
            .last()
            .and_then(|talk| talk.frets.get(usize::from(6 - string.clamp(1, 6))))
            .is_some_and(|said| *said != StringSaid::NotSaid)
    }

    fn on_fret(&mut self, fret: u8, end: usize) {
        self.named_row.clear();
        if self.leads_to_string(end) {
            self.queue.push(fret);
            return;
        }
        match self.string {
            Some(string) => {
                self.set(string, StringSaid::Fret(fret));
                self.string = (string > 1).then_some(string.saturating_sub(1));
            }
            None => self.queue.push(fret),
        }
        self.reach(end);
    }

    fn on_string(&mut self, string: u8, index: usize) {
        if before(self.asked.tokens, index.saturating_sub(1)).is_mark(',')
            || !self.said_of(string) && self.named.is_none()
        {
            self.named_row.clear();
        }
        self.named_row.push(string);
        self.named = Some(string);
        let link = before(self.asked.tokens, index);
        let further = before(self.asked.tokens, index.saturating_sub(1));
        let linked = [link, further]
            .iter()
            .any(|token| matches!(token.word.as_str(), "on" | "en" | "de" | "of"));
        if linked && !self.queue.is_empty() {
            let fret = self.queue.remove(0);
            self.set(string, StringSaid::Fret(fret));
            self.string = (string > 1).then_some(string.saturating_sub(1));
        } else {
            self.string = Some(string);
        }
        if self.muted_before(index) {
            self.set(string, StringSaid::Muted);
            self.string = (string > 1).then_some(string.saturating_sub(1));
        }
        self.reach(index + 1);
    }

    /// "no sixth string", "don't touch the sixth string", "leave out the sixth".
    fn muted_before(&self, index: usize) -> bool {
        (index.saturating_sub(9)..index)
            .rev()
            .take_while(|at| token(self.asked.tokens, *at).mark.is_none())
            .any(|at| {
                let here = token(self.asked.tokens, at);
                here.is(Concept::Negation)
                    || matches!(
                        here.word.as_str(),
                        "skip" | "leave" | "miss" | "mute" | "without" | "sin" | "evita" | "avoid"
                    )
            })
    }

    fn mutes(&self, index: usize) -> bool {
        let here = token(self.asked.tokens, index);
        let next = token(self.asked.tokens, index + 1);
        let out = here.word == "out" && self.named.is_some()
            || here.word == "left" && next.word == "out"
            || here.word == "out" && before(self.asked.tokens, index).word == "leave";
        out || matches!(
            here.word.as_str(),
            "tampoco" | "muted" | "silent" | "no se toca" | "no se tocan" | "fuera" | "x"
        ) || here.is(Concept::Negation)
            && (index + 1..index + 5).any(|at| {
                token(self.asked.tokens, at).is_any(&[Concept::Play])
                    || matches!(
                        token(self.asked.tokens, at).word.as_str(),
                        "toca" | "touch" | "touched" | "used" | "suena" | "sounds" | "played"
                    )
            })
    }

    fn mute(&mut self, index: usize) {
        for string in std::mem::take(&mut self.named_row) {
            self.set(string, StringSaid::Muted);
        }
        if let Some(string) = self.named {
            self.set(string, StringSaid::Muted);
            self.string = (string > 1).then_some(string.saturating_sub(1));
        }
        self.reach(index + 1);
    }

    fn set(&mut self, string: u8, said: StringSaid) {
        if let Some(talk) = self.out.last_mut()
            && let Some(slot) = talk.frets.get_mut(usize::from(6 - string.clamp(1, 6)))
            && *slot == StringSaid::NotSaid
        {
            *slot = said;
        }
    }

    fn reach(&mut self, end: usize) {
        let end = token(self.asked.tokens, end.saturating_sub(1)).end;
        if let Some(talk) = self.out.last_mut() {
            talk.end = talk.end.max(end);
        }
    }
}
