//! The head of a lesson, its compás, tempo and key: `title: …`, `count 12. acc 3 6 8 10 12. tempo 126`.

use crate::music::key::{Key, Mode, Tempo};
use crate::text::{ClockTime, fold};

use super::begins::Begins;
use super::item::{Head, Item};
use super::parser::Parser;
use super::shorthand::Meaning;

/// Counts in the longest round that a line may state.
const MOST_BEATS: i64 = 400;
/// Counts a minute beyond which a figure is no tempo.
const FASTEST: i64 = 1000;
/// The highest fret that a capo may sit on.
const LAST_CAPO: i64 = 12;

impl Parser<'_, '_> {
    /// One field as `name: value`.
    pub fn named_field(&mut self) -> Option<()> {
        self.spaces();
        let start = self.at;
        let rest = self.rest();
        let colon = rest.find(':')?;
        let name = fold(rest.get(..colon)?.trim()).text;
        self.at += colon + 1;
        self.field(start, &name)
    }

    /// The value of a field whose name is known, up to the end of the line.
    pub fn field(&mut self, start: usize, name: &str) -> Option<()> {
        match name {
            "title" | "titulo" => self.text_field(start, Head::Title),
            "lesson" | "leccion" => self.text_field(start, Head::Id),
            "palo" => {
                let named = self.free_text()?;
                // "Palo: zapateado. Tono: Do mayor.": sentences, and no line of the head.
                if named.trim_end().trim_end_matches('.').contains(['.', ';']) {
                    return None;
                }
                let palo = slug(&named)?;
                self.head(start, Head::Palo(palo));
                Some(())
            }
            "language" | "idioma" => {
                let word = fold(self.plain_word()?).text;
                let language = match word.as_str() {
                    "en" | "english" | "ingles" => "en",
                    "es" | "spanish" | "espanol" | "castellano" => "es",
                    _ => return None,
                };
                self.head(start, Head::Language(language.to_owned()));
                Some(())
            }
            "recording" | "grabacion" => self.text_field(start, Head::Recording),
            "recording length" | "duracion" => {
                let written = self.rest().trim();
                let time = ClockTime::parse(written)?;
                self.at = self.text.len();
                self.head(start, Head::RecordingLength(time));
                Some(())
            }
            "reviewed" | "revisado" => self.text_field(start, Head::Reviewed),
            "order" | "orden" => {
                let negative = self.spaced_sign('-');
                let order = self.number()?;
                self.head(start, Head::Order(if negative { -order } else { order }));
                Some(())
            }
            "needs" | "necesita" => self.list_field(Head::Need),
            "people" | "personas" => self.list_field(Head::Person),
            "tuning" | "afinacion" => {
                let tuning = self.tuning()?;
                self.head(start, Head::Tuning(tuning));
                Some(())
            }
            "lengths" | "pulses" | "duraciones" => {
                let mut lengths = vec![self.number()?];
                while let Some(length) = self.list_number() {
                    lengths.push(length);
                }
                lengths.iter().all(|length| *length > 0).then_some(())?;
                self.head(start, Head::Lengths(lengths));
                Some(())
            }
            "first count" | "first" | "begins on" | "empieza en" => {
                let first = self.count()?;
                self.head(start, Head::First(first));
                Some(())
            }
            "count" | "counts" | "meter" | "metre" | "compas" => self.beats_value(start),
            "accents" | "accent" | "acc" | "acentos" | "acento" => self.accents_value(),
            "tempo" | "tpo" | "velocidad" => self.tempo_value(start),
            "key" | "tono" | "tonalidad" => self.key_value(start),
            "capo" | "cejilla" => self.capo_value(start),
            _ => None,
        }
    }

    /// Several short statements on one line: `count 4, acc 2 3 4. tempo 58`.
    pub fn statements(&mut self) -> Option<()> {
        loop {
            self.statement()?;
            if self.line_is_done() {
                return Some(());
            }
            let apart = self.spaced_sign('.') || self.spaced_sign(',') || self.spaced_sign(';');
            apart.then_some(())?;
        }
    }

    fn statement(&mut self) -> Option<()> {
        self.spaces();
        let start = self.at;
        // "12 counts, accents 3 6 8 10 12"
        let counted = self.attempt(|line| {
            let beats = line.count().filter(|beats| (1..=MOST_BEATS).contains(beats))?;
            let said = line.meaning(Meaning::Count) || line.meaning(Meaning::Beat);
            said.then_some(beats)
        });
        if let Some(beats) = counted {
            self.push(start, Item::Head(Head::Beats(beats), None));
            return Some(());
        }
        let about = self.meaning_of(|meaning| ABOUT.contains(&meaning).then_some(meaning))?;
        if about == Meaning::NoCapo {
            self.head(start, Head::Capo(0));
            return Some(());
        }
        let _ = self.lead_end();
        match about {
            Meaning::Count => self.beats_value(start),
            Meaning::Accents => self.accents_value(),
            Meaning::Tempo => self.tempo_value(start),
            Meaning::Capo => self.capo_value(start),
            Meaning::Key => self.key_value(start),
            _ => None,
        }
    }

    fn beats_value(&mut self, start: usize) -> Option<()> {
        let _ = self.attempt(|line| (line.plain_word()? == "de").then_some(()));
        let beats = self.count().filter(|beats| (1..=MOST_BEATS).contains(beats))?;
        let _ = self.meaning(Meaning::Beat) || self.meaning(Meaning::Count);
        let implied = self.mark();
        self.push(start, Item::Head(Head::Beats(beats), implied));
        Some(())
    }

    fn accents_value(&mut self) -> Option<()> {
        let _ = self.meaning(Meaning::On);
        let mut count = self.accent(None)?;
        while let Some(next) = self.attempt(|line| {
            let _ = line.spaced_sign(',');
            let _ = line.attempt(|line| {
                line.meaning(Meaning::And).then_some(())?;
                line.ahead().count().map(|_| ())
            });
            line.accent(Some(count))
        }) {
            count = next;
        }
        Some(())
    }

    fn accent(&mut self, count: Option<i64>) -> Option<i64> {
        self.attempt(|line| {
            line.spaces();
            let start = line.at;
            let at = line.position(count)?;
            let implied = line.mark();
            (!line.next_is_alphanumeric()).then_some(())?;
            line.push(start, Item::Head(Head::Accent(at), implied));
            Some(at.whole())
        })
    }

    fn tempo_value(&mut self, start: usize) -> Option<()> {
        let low = self.figure()?;
        let high = self.attempt(|line| {
            let dash = line.spaced_sign('-') || line.spaced_sign('–') || line.meaning(Meaning::To);
            let dash = dash || line.attempt(|line| (line.plain_word()? == "a").then_some(())).is_some();
            line.figure().filter(|_| dash)
        });
        let high = high.unwrap_or(low);
        let fits = (1..=FASTEST).contains(&low) && (1..=FASTEST).contains(&high);
        fits.then_some(())?;
        let tempo = Tempo {
            low: u32::try_from(low).ok()?,
            high: u32::try_from(high).ok()?,
        };
        let implied = self.mark();
        self.push(start, Item::Head(Head::Tempo(tempo), implied));
        Some(())
    }

    fn figure(&mut self) -> Option<i64> {
        self.number().filter(|_| !self.next_is_alphanumeric())
    }

    fn key_value(&mut self, start: usize) -> Option<()> {
        let tonic = self.any_note_name()?;
        let mode = self.meaning_of(|meaning| match meaning {
            Meaning::Phrygian => Some(Mode::Phrygian),
            Meaning::Major => Some(Mode::Major),
            Meaning::Minor => Some(Mode::Minor),
            _ => None,
        })?;
        let implied = self.mark();
        self.push(start, Item::Head(Head::Key(Key { tonic, mode }), implied));
        Some(())
    }

    fn capo_value(&mut self, start: usize) -> Option<()> {
        let _ = self.meaning(Meaning::On) || self.meaning(Meaning::Fret);
        let capo = self.count().filter(|capo| (0..=LAST_CAPO).contains(capo))?;
        let implied = self.mark();
        self.push(start, Item::Head(Head::Capo(u8::try_from(capo).ok()?), implied));
        Some(())
    }

    /// Six pitches with octaves, from string 6 to string 1: `D2 A2 D3 G3 B3 E4`.
    fn tuning(&mut self) -> Option<[u8; 6]> {
        let mut tuning = [0u8; 6];
        for pitch in tuning.iter_mut().rev() {
            *pitch = self.pitch()?;
        }
        Some(tuning)
    }

    /// A pitch with its octave as a MIDI number: C4 is 60 (scientific pitch notation).
    fn pitch(&mut self) -> Option<u8> {
        self.attempt(|line| {
            line.spaces();
            let rest = line.rest();
            let name = rest
                .find(|c: char| !(c.is_ascii_alphabetic() || c == '#'))
                .unwrap_or(rest.len());
            let note = crate::music::pitch::NoteName::parse(rest.get(..name)?)?;
            line.at += name;
            let below = line.sign('-');
            let octave = line.digits().filter(|octave| *octave <= 9)?;
            let octave = if below { -octave } else { octave };
            // A spelling may cross the octave: Cb4 sounds as B3.
            let natural = crate::music::pitch::NoteName::new(note.letter, 0).pitch_class();
            let number = (octave + 1) * 12 + i64::from(natural) + i64::from(note.alter);
            u8::try_from(number).ok().filter(|number| *number <= 127)
        })
    }

    fn list_number(&mut self) -> Option<i64> {
        let _ = self.spaced_sign(',');
        self.count()
    }

    fn text_field(&mut self, start: usize, make: impl FnOnce(String) -> Head) -> Option<()> {
        let text = self.free_text()?;
        self.head(start, make(text));
        Some(())
    }

    /// Entries apart by commas; one that holds a comma itself stands in quotes.
    fn list_field(&mut self, make: impl Fn(String) -> Head) -> Option<()> {
        loop {
            self.spaces();
            let start = self.at;
            let entry = match self.quoted() {
                Some(entry) => entry,
                None => {
                    let rest = self.rest();
                    let length = rest.find([',', '~']).unwrap_or(rest.len());
                    self.at += length;
                    rest.get(..length)?.trim().to_owned()
                }
            };
            if entry.is_empty() {
                return None;
            }
            let implied = self.mark();
            self.push(start, Item::Head(make(entry), implied));
            if self.at_end() {
                return Some(());
            }
            self.spaced_sign(',').then_some(())?;
        }
    }

    fn head(&mut self, start: usize, head: Head) {
        let implied = self.mark();
        self.push(start, Item::Head(head, implied));
    }
}

/// What a statement begins with, where not with a number.
pub const STATED: Begins = Begins::NOTHING.meaning(&ABOUT);

/// What says what a number is that a statement begins with.
pub const COUNTED: Begins = Begins::NOTHING.meaning(&[Meaning::Count, Meaning::Beat]);

const ABOUT: [Meaning; 6] = [
    Meaning::Count,
    Meaning::Accents,
    Meaning::Tempo,
    Meaning::Capo,
    Meaning::NoCapo,
    Meaning::Key,
];

/// `Soleá por bulería` → `solea-por-buleria`. None when nothing is left.
pub fn slug(text: &str) -> Option<String> {
    let folded = fold(text).text;
    let words: Vec<&str> = folded
        .split(|c: char| !c.is_ascii_alphanumeric())
        .filter(|word| !word.is_empty())
        .collect();
    (!words.is_empty()).then(|| words.join("-"))
}
