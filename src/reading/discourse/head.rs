use super::super::statement::Statement;
use super::Discourse;
use crate::music::position::Position;
use crate::text::Place;

/// What the head said, once all of it is heard.
#[derive(Debug, Default)]
pub struct OfHead {
    /// What comes is prose.
    closed: bool,
    /// The accents are the head's.
    accents: bool,
    /// Facts of the head that the prose has told once.
    told_again: Vec<&'static str>,
}

impl Discourse {
    /// The head is at its end: what it said holds from here on.
    pub fn close_head(&mut self) {
        self.of_head.closed = true;
        self.of_head.accents = !self.lesson.meter.accents.is_empty();
    }

    /// True when the head has said it. The first telling in the prose is held against the head;
    /// the words of both are filled in where the texts are at hand.
    pub fn held_by_head(&mut self, statement: &Statement, place: Place) -> bool {
        if !self.of_head.closed {
            return false;
        }
        let lesson = &self.lesson;
        let (about, held) = match statement {
            Statement::Palo(slug) => {
                let alike = |held: &String| held.contains(slug.as_str()) || slug.contains(held.as_str());
                let fits = |held: &String| self.sentence > 2 || alike(held);
                ("palo", lesson.palo.as_ref().map(|said| (fits(&said.value), said.place)))
            }
            Statement::Beats(beats) => {
                let fits = |held: i64| held % beats.max(&1) == 0 || beats % held.max(1) == 0;
                let held = lesson.meter.beats.as_ref();
                ("beats", held.map(|said| (fits(said.value), said.place)))
            }
            Statement::Tempo(tempo) => {
                let held = lesson.tempo.as_ref();
                let fits = held.map(|said| (said.value.low <= tempo.high && tempo.low <= said.value.high, said.place));
                ("tempo", fits)
            }
            Statement::Key(key) => ("key", lesson.key.as_ref().map(|said| (said.value == *key, said.place))),
            Statement::Capo(fret) => (
                "capo",
                lesson.capo.as_ref().map(|said| (said.value == *fret, said.place)),
            ),
            Statement::Accents(accents) if self.of_head.accents => {
                let known = |at: &Position| lesson.meter.accents.iter().any(|accent| accent.value == *at);
                let first = lesson.meter.accents.first();
                ("accents", first.map(|said| (accents.iter().all(known), said.place)))
            }
            _ => return false,
        };
        let first_telling = !self.of_head.told_again.contains(&about);
        if first_telling {
            self.of_head.told_again.push(about);
        }
        if let Some((false, first_place)) = held.filter(|_| first_telling) {
            self.conflict(about, String::new(), String::new(), first_place, place);
        }
        held.is_some() && about == "accents"
    }
}
