use super::super::lexicon::{Concept, Language};
use super::super::moments::{before, token};
use super::super::placed::{Placed, lists_fingers, placed_fingers};
use super::super::statement::StringSaid;
use super::Asked;
use crate::music::chord::ChordName;

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
    let fingers = if lists_fingers(asked.tokens) {
        placed_fingers(asked.tokens)
    } else {
        Vec::new()
    };
    let mut reader = Reader {
        asked,
        fingers,
        named: None,
        named_row: Vec::new(),
        going_on,
        out: vec![blank(None, 0)],
        string: None,
        queue: Vec::new(),
        shared: None,
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

pub(super) struct Reader<'a> {
    pub(super) asked: &'a Asked<'a>,
    /// Fingers listed with their places.
    fingers: Vec<Placed>,
    /// The string named last.
    pub(super) named: Option<u8>,
    /// The strings named since the last fret.
    pub(super) named_row: Vec<u8>,
    /// A chord told in the sentence before is not whole.
    going_on: bool,
    out: Vec<ShapeTalk>,
    /// The string that the next fret goes to.
    pub(super) string: Option<u8>,
    /// Frets told before their string.
    pub(super) queue: Vec<u8>,
    /// The fret told last in front of its string: strings linked on to that one have it as well.
    pub(super) shared: Option<u8>,
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
        if let Some(placed) = self.fingers.iter().find(|placed| placed.start == index) {
            let (string, fret, end) = (placed.string, placed.fret, placed.end);
            if let Some(string) = string {
                self.set(string, StringSaid::Fret(fret));
                self.reach(end);
            }
            return end;
        }
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
        if let Some(end) = self.rest_open(index) {
            return end;
        }
        if let Some(end) = self.several_open(index) {
            return end;
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
        if let Some(word) = self.asked.name_at(index) {
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
        if let Some(string) = self.left_out(index).or_else(|| self.by_its_number(index)) {
            return Some((string, index + 1));
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
                article.word == "the"
                    || article.is_any(&[Concept::And, Concept::Open])
                    || follows.is(Concept::Open)
                    || article.is_mark(',')
                    // "fourth third and second are all open"
                    || article.ordinal.is_some()
                    || follows.ordinal.is_some() && !token(tokens, end + 1).is(Concept::StringWord)
                    || follows.is(Concept::And) && token(tokens, end + 1).ordinal.is_some()
            }
            Language::Spanish => {
                // "el la menor, que es quinta al aire"
                let open = follows.is(Concept::Open) && !self.asked.context.typed;
                // "quinta en el uno, cuarta tercera y segunda en el tres"
                let stopped = follows.word == "en" && token(tokens, end + 2).number.is_some();
                let open = open || stopped && !self.asked.context.typed;
                // "dos dos dos en cuarta tercera y segunda", "quinta uno cuarta tres", "y sin sexta"
                let fretted = !self.queue.is_empty() && (article.word == "en" || article.ordinal.is_some())
                    || article.word == "en" && self.shared.is_some()
                    || self.going_on && follows.number.is_some() && !self.asked.context.punctuated
                    || article.word == "sin";
                let row = follows.is_mark(',') || follows.is(Concept::And) || follows.ordinal.is_some();
                let listed = article.is_mark(',') && (follows.word == "en" || follows.is(Concept::Open))
                    || row && article.word != "la" && token(tokens, end + 1).ordinal.is_some();
                (article.word == "la" || article.is(Concept::And) || listed || open || fretted)
                    && here.word.ends_with('a')
            }
        };
        let going = self.going_on || self.string.is_some() || self.out.len() > 1 || follows.is(Concept::Open);
        (named && !other && (going || self.mutes(end))).then_some((number, end))
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
            let names_chord = self.asked.name_at(index + 1).is_some() && !next.is_mark(',');
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
        // "primero en segunda"
        let nth = here
            .ordinal
            .filter(|_| here.word.ends_with('o') && self.leads_to_string(index + 1));
        if let Some(nth) = nth {
            return u8::try_from(nth).ok().map(|fret| (fret, index + 1));
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
        // "dos dos dos en cuarta, tercera y segunda"
        let row = (index + 1..index + 4).find(|at| token(tokens, *at).number.is_none());
        let cued = self.string.is_some()
            || !self.queue.is_empty()
            || row.is_some_and(|end| self.leads_to_string(end))
            || next.is_mark(',');
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
            || self.numbered_behind_the(at)
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
        let row = std::mem::take(&mut self.named_row);
        self.shared = None;
        if self.leads_to_string(end) {
            self.queue.push(fret);
            return;
        }
        // "cuarta, tercera y segunda al aire"
        if row.len() > 1 && self.queue.is_empty() {
            for string in row {
                self.set(string, StringSaid::Fret(fret));
            }
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
        // "three three three on the fourth third and second"
        let row = (self.queue.len() >= 2 || self.shared.is_some()) && link.is(Concept::And);
        let listed = !self.queue.is_empty() && (link.ordinal.is_some() || row);
        let linked = linked || listed;
        // "open fifth": the string's fret stands right in front of it.
        let opened = link.is(Concept::Open) && self.queue.last() == Some(&0);
        let open_already = link.is(Concept::Open) && self.said_of(string);
        if open_already {
            self.string = (string > 1).then_some(string.saturating_sub(1));
        } else if opened {
            self.queue.pop();
            self.set(string, StringSaid::Fret(0));
            self.string = (string > 1).then_some(string.saturating_sub(1));
        } else if linked && !self.queue.is_empty() {
            let fret = self.queue.remove(0);
            self.set(string, StringSaid::Fret(fret));
            self.shared = Some(fret);
            self.named_row.clear();
            self.string = (string > 1).then_some(string.saturating_sub(1));
        } else if let Some(fret) = self.shared.filter(|_| self.shares_its_fret(index)) {
            self.set(string, StringSaid::Fret(fret));
            self.string = (string > 1).then_some(string.saturating_sub(1));
        } else {
            self.shared = None;
            self.string = Some(string);
        }
        if self.muted_before(index) {
            self.set(string, StringSaid::Muted);
            self.string = (string > 1).then_some(string.saturating_sub(1));
        }
        self.reach(index + 1);
    }

    pub(super) fn set(&mut self, string: u8, said: StringSaid) {
        if let Some(talk) = self.out.last_mut()
            && let Some(slot) = talk.frets.get_mut(usize::from(6 - string.clamp(1, 6)))
            && *slot == StringSaid::NotSaid
        {
            *slot = said;
        }
    }

    pub(super) fn reach(&mut self, end: usize) {
        let end = token(self.asked.tokens, end.saturating_sub(1)).end;
        if let Some(talk) = self.out.last_mut() {
            talk.end = talk.end.max(end);
        }
    }
}
