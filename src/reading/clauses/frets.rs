use super::super::lexicon::{Concept, Language};
use super::super::moments::before;
use super::super::solfa::bare_name;
use super::super::statement::Told;
use super::Reader;
use super::strings::{feminine, ordinal_at};
use crate::music::fretboard::Guitar;
use crate::music::hand::{Fret, GuitarString};
use crate::music::pitch::NoteName;
use crate::music::stroke::Action;

/// A string, its fret told by a number alone, and where the words end.
struct Stopped {
    string: GuitarString,
    fret: Fret,
    end: usize,
}

impl Reader<'_> {
    /// "la sexta en el tres", "segunda en el uno, do": in Spanish the word for the fret goes without saying.
    pub(super) fn string_in_place(&mut self, index: usize) -> Option<usize> {
        if self.context.language != Language::Spanish {
            return None;
        }
        let stopped = self.stopped_at(index)?;
        let named = self.name_behind(stopped.end, stopped.string, stopped.fret).is_some();
        if !(named || self.counted_already() && self.ends_a_place(stopped.end)) {
            return None;
        }
        self.push_string(i64::from(stopped.string), index)?;
        self.push_fret(i64::from(stopped.fret));
        Some(stopped.end)
    }

    fn stopped_at(&self, index: usize) -> Option<Stopped> {
        let (string, mut at) = self.string_here(index)?;
        if !matches!(self.here(at).word.as_str(), "en" | "al") {
            return None;
        }
        at += 1;
        at += usize::from(self.here(at).word == "el");
        let (fret, end) = self.number_of_a_fret(at)?;
        Some(Stopped { string, fret, end })
    }

    /// "tres", "traste tres", "segundo": and the index behind.
    fn number_of_a_fret(&self, index: usize) -> Option<(Fret, usize)> {
        let at = index + usize::from(self.here(index).is(Concept::FretWord));
        let here = self.here(at);
        // "la tercera en el segundo": an ordinal of its own, unless a noun stands behind it.
        let ordinal = here.ordinal.filter(|_| here.word.ends_with('o'));
        let fret = here.number.or(ordinal).filter(|fret| (0..=14).contains(fret))?;
        let next = self.here(at + 1);
        let grown = next.joined && !matches!(next.mark, Some(',' | '.' | ')' | ';'));
        let other = grown
            || next.is_any(&[
                Concept::BeatWord,
                Concept::PartWord,
                Concept::StringWord,
                Concept::FingerWord,
                Concept::Unit,
            ]);
        let end = at + 1 + usize::from(next.is(Concept::FretWord));
        let fret = u8::try_from(fret).ok().filter(|_| !other)?;
        Some((fret, end))
    }

    /// "En el 3, do, quinta cuerda, tercer traste": the name stands in front of the place that sounds it.
    pub(super) fn name_in_front(&self, index: usize) -> Option<(NoteName, usize)> {
        let (name, end) = self.note_name(index)?;
        let parted = before(self.tokens, index).is_mark(',') && self.here(end).is_mark(',');
        let free = self.told.notes.is_empty() && !self.told.has_note() && self.context.language == Language::Spanish;
        let at = end + 1 + usize::from(self.here(end + 1).is(Concept::Article));
        let (string, fret) = self.place_told(at).filter(|_| parted && free)?;
        (Guitar::STANDARD.gives(string, fret, name) == Some(true)).then_some((name, end))
    }

    /// "quinta cuerda, tercer traste", "la quinta al aire", "sexta en el tres".
    fn place_told(&self, index: usize) -> Option<(GuitarString, Fret)> {
        if let Some(stopped) = self.stopped_at(index) {
            return Some((stopped.string, stopped.fret));
        }
        let (string, mut at) = self.string_here(index)?;
        at += usize::from(self.here(at).is_mark(','));
        at += usize::from(self.here(at).word == "en");
        at += usize::from(self.here(at).is(Concept::Article));
        if self.here(at).is(Concept::Open) {
            return Some((string, 0));
        }
        let behind = self.here(at + 1);
        let nth = self.here(at).ordinal.filter(|_| behind.is(Concept::FretWord));
        let numbered = behind.number.filter(|_| self.here(at).is(Concept::FretWord));
        let fret = u8::try_from(nth.or(numbered)?).ok()?;
        Some((string, fret))
    }

    /// "tocas el do, segunda en el uno": the place told behind a name gives that note.
    pub(super) fn place_follows(&self, index: usize, name: NoteName) -> bool {
        let played = (index.saturating_sub(3)..index).any(|at| self.here(at).is(Concept::Play));
        let gives = |at: usize| {
            let place = self.stopped_at(at).map(|stopped| (stopped.string, stopped.fret));
            let open = |(string, end): (GuitarString, usize)| self.here(end).is(Concept::Open).then_some((string, 0));
            let place = place.or_else(|| self.string_here(at).and_then(open));
            place.is_some_and(|(string, fret)| Guitar::STANDARD.gives(string, fret, name) == Some(true))
        };
        played && self.context.language == Language::Spanish && (index + 1..index + 8).any(gives)
    }

    /// "ligo al 2, y del 2 al aire": behind a slur one more, from the fret that it came to.
    pub(super) fn slurred_on(&mut self, index: usize) -> Option<usize> {
        let slurs = |told: &Told| matches!(told.actions.first(), Some(Action::PullOff | Action::HammerOn));
        let last = if self.told.is_blank() {
            self.out.last()
        } else {
            Some(&self.told)
        };
        let last = last.filter(|told| slurs(told) && self.here(index).word == "del")?;
        let came_to = last.frets.last().map(|fret| i64::from(*fret));
        let from = self.here(index + 1).number.filter(|from| came_to == Some(*from))?;
        let (open, to) = (self.here(index + 2), self.here(index + 3));
        let to = match open.is(Concept::Open) {
            true => Some((0, index + 3)),
            false => to.number.filter(|_| open.word == "al").map(|fret| (fret, index + 4)),
        };
        let (to, end) = to.filter(|(to, _)| (0..=20).contains(to) && *to != from)?;
        self.close();
        self.told.actions = vec![if to < from { Action::PullOff } else { Action::HammerOn }];
        self.push_fret(to);
        self.fresh = false;
        Some(end)
    }

    /// "tirón del 4, suena 1ª/1": the finger that pulls off, and no count.
    fn pulled_by(&self, index: usize) -> Option<usize> {
        let pulls = self.told.actions.first() == Some(&Action::PullOff) && self.told.frets.is_empty();
        let led = self.here(index).word == "del" && before(self.tokens, index).is(Concept::PullOff);
        let finger = self
            .here(index + 1)
            .number
            .is_some_and(|finger| (1..=4).contains(&finger));
        let next = self.here(index + 2);
        let ends = next.mark.is_some_and(|mark| matches!(mark, ',' | '.' | ';' | ':')) || next.is(Concept::Open);
        (pulls && led && finger && (ends || next.word.is_empty())).then_some(index + 2)
    }

    /// "tiras al dos", "y vuelve al uno, si bemol", "tiráis y suena el dos": behind a slur a number is a fret.
    pub(super) fn slurred_to(&mut self, index: usize) -> Option<usize> {
        if let Some(end) = self.slurred_on(index).or_else(|| self.pulled_by(index)) {
            return Some(end);
        }
        let slurs = matches!(self.told.actions.first(), Some(Action::PullOff | Action::HammerOn));
        let spanish = self.context.language == Language::Spanish;
        if !slurs || !spanish || !self.told.frets.is_empty() || self.soft && self.context.typed {
            return None;
        }
        let word = self.here(index).word.as_str();
        let sounds = matches!(
            before(self.tokens, index).word.as_str(),
            "suena" | "sale" | "queda" | "canta" | "da"
        );
        let leads = matches!(word, "al" | "a") || word == "el" && sounds;
        if !leads || self.here(index + 1).is(Concept::FretWord) {
            return None;
        }
        let (fret, end) = self.number_of_a_fret(index + 1)?;
        self.push_fret(i64::from(fret));
        Some(end)
    }

    /// "la sexta", "sexta cuerda", "6ª": the string and the index behind.
    fn string_here(&self, index: usize) -> Option<(GuitarString, usize)> {
        let (number, mut at) = ordinal_at(self.tokens, index)?;
        let named = self.here(at).is(Concept::StringWord);
        at += usize::from(named);
        let string = u8::try_from(number).ok().filter(|string| (1..=6).contains(string))?;
        (named || feminine(self.here(index))).then_some((string, at))
    }

    /// A count has been told in this sentence, for this clause or for notes in front of it.
    fn counted_already(&self) -> bool {
        let counted = |told: &Told| told.when.is_some() || told.span.is_some();
        // "la sexta en el 1 y la quinta en el 3": counts that stand behind their notes.
        let in_front = |told: &Told| counted(told) && told.when_at <= told.start + 3;
        let told_before = self.out.iter().any(in_front) && self.out.last().is_some_and(|last| !last.frets.is_empty());
        let own = counted(&self.told) && self.told.frets.is_empty() && self.told.strings.is_empty();
        self.context.punctuated && (own || told_before)
    }

    fn ends_a_place(&self, at: usize) -> bool {
        let next = self.here(at);
        next.mark.is_some()
            || next.word.is_empty()
            || next.is_any(&[Concept::And, Concept::With, Concept::Then, Concept::Same])
            || next.word.starts_with("que")
    }

    /// The name of a note behind a string and fret, where it is the one that sounds there, and the index behind it.
    fn name_behind(&self, mut at: usize, string: GuitarString, fret: Fret) -> Option<(NoteName, usize)> {
        while self.here(at).is_mark(',')
            || matches!(self.here(at).word.as_str(), "que" | "es" | "o sea" | "un" | "suena")
        {
            at += 1;
        }
        let (name, end) = self.note_name(at)?;
        let article = name.letter == 'A' && self.names_a_string(end);
        (!article && Guitar::STANDARD.gives(string, fret, name) == Some(true)).then_some((name, end))
    }

    /// "la sexta": the word is an article.
    fn names_a_string(&self, at: usize) -> bool {
        let next = self.here(at);
        next.ordinal.is_some() || next.is_any(&[Concept::StringWord, Concept::LeftHand, Concept::RightHand])
    }

    /// "fa", "si bemol", "sol sostenido", and the index behind.
    fn note_name(&self, at: usize) -> Option<(NoteName, usize)> {
        let name = bare_name(self.here(at))?;
        let sign = self.here(at + 1);
        let alter = if sign.is(Concept::Sharp) || sign.joined && matches!(sign.mark, Some('#' | '♯')) {
            1
        } else if sign.is(Concept::Flat) {
            -1
        } else {
            return Some((name, at + 1));
        };
        Some((NoteName::new(name.letter, alter), at + 2))
    }

    /// "traste tres do", "al aire la": without a mark a bare name is the note's where the string gives it there.
    pub(super) fn note_that_sounds(&self, index: usize) -> Option<(NoteName, usize)> {
        let told = &self.told;
        let wanted = self.context.language == Language::Spanish && told.notes.is_empty();
        let ([string], [fret], true) = (told.strings.as_slice(), told.frets.as_slice(), wanted) else {
            return None;
        };
        let (name, end) = self.name_behind(index, *string, *fret)?;
        let previous = before(self.tokens, index);
        let chord = previous.is(Concept::ChordWord) || self.here(end).is_any(&[Concept::Minor, Concept::Seventh]);
        let starts = bare_name(self.here(index)).is_some();
        (starts && !chord).then_some((name, end))
    }
}
