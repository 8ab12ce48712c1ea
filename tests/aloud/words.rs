//! One stroke put into words.

use compasario::music::hand::Finger;
use compasario::music::stroke::Action;

use crate::chance::Chance;
use crate::forms::{Forms, Frame, Make, Order, Phrase, fits};
use crate::lesson::{At, Event};

/// What is the same for all of one text.
pub struct Voice<'a> {
    pub forms: &'a Forms,
    pub make: Make,
    /// Counts as digits.
    pub digits: bool,
}

impl Voice<'_> {
    pub fn count(&self, count: i64) -> String {
        let word = || self.forms.counts[count as usize - 1].clone();
        if self.digits { count.to_string() } else { word() }
    }

    /// `{m}`, `{n}` and `{span}` of counts one behind the other.
    pub fn span(&self, chance: &mut Chance, words: &str, first: i64, last: i64) -> String {
        let many = ["one", "two"].get((last - first) as usize).unwrap_or(&"many");
        let span = chance.one_of(&self.forms.spans[*many]).clone();
        let filled = words.replace("{span}", &span);
        filled
            .replace("{m}", &self.count(first))
            .replace("{n}", &self.count(last))
    }

    /// The frames that may say an event with the count on this side of it.
    pub fn frames(&self, event: &Event, order: Order) -> Vec<&Frame> {
        let alone = matches!(event, Event::Rest | Event::Triplet(_));
        let kind = kind(event);
        let says = |frame: &&Frame| match (&frame.of, &frame.not) {
            (Some(of), _) => of == kind,
            (None, not) => !alone && not.as_deref() != Some(kind),
        };
        let frames = self.forms.frame.iter();
        frames
            .filter(|frame| frame.order == order && fits(frame.only, self.make))
            .filter(says)
            .collect()
    }

    /// A stroke said in a frame. `same` leaves out the count: it has just been said. `carried` leaves out the finger.
    pub fn say(&self, chance: &mut Chance, frame: &Frame, at: &At, same: bool, carried: bool) -> String {
        let words = chance.one_of(&frame.words).clone();
        let event = match (&at.event, carried) {
            (Event::Strum(action, _), true) => Event::Strum(*action, None),
            (event, _) => event.clone(),
        };
        let stroke = self.stroke(chance, &words, &event);
        let front = words.contains("{on},") && self.make != Make::Plain;
        let on = self.moment(chance, "on", at, same, front);
        let when = self.moment(chance, "at", at, same, front);
        self.mended(stroke.replace("{on}", &on).replace("{at}", &when))
    }

    /// "a up" as it is said.
    pub fn mended(&self, words: String) -> String {
        let mut mended = format!(" {words}");
        for (said, right) in &self.forms.mends {
            mended = mended.replace(said, right);
        }
        mended.split_off(1)
    }

    fn moment(&self, chance: &mut Chance, kind: &str, at: &At, same: bool, front: bool) -> String {
        let behind = match (at.half, same) {
            (false, _) => "",
            (true, false) => "_half",
            (true, true) => "_same",
        };
        let name = format!("{kind}{behind}");
        let only_in_front = self.forms.moments.get(&format!("{name}_front")).filter(|_| front);
        let all: Vec<&String> = self.forms.moments[&name]
            .iter()
            .chain(only_in_front.into_iter().flatten())
            .collect();
        chance.one_of(&all).replace("{n}", &self.count(at.count))
    }

    /// The stroke's words where the frame has room for them.
    fn stroke(&self, chance: &mut Chance, frame: &str, event: &Event) -> String {
        let mut said = frame.to_owned();
        for (slot, of) in [
            ("{noun}", (|phrase| &phrase.noun) as fn(&Phrase) -> &Vec<String>),
            ("{a}", |phrase| &phrase.a),
            ("{clause}", |phrase| &phrase.clause),
        ] {
            if said.contains(slot) {
                let phrase = self.phrase(chance, kind(event), of);
                said = said.replace(slot, &phrase);
            }
        }
        match event {
            Event::Rest => said,
            Event::Strum(action, finger) => self.strummed(&said, *action, *finger),
            Event::Golpe(finger) => self.strummed(&said, Action::Golpe, *finger),
            Event::Both(action, finger, golpe) => {
                let said = said.replace("{g}", &self.finger(golpe.unwrap_or(Finger::A)));
                self.strummed(&said, *action, Some(*finger))
            }
            Event::Rasgueado(_) => said,
            Event::Note(finger, string, fret) => self.note(chance, &said, *finger, *string, *fret),
            Event::Triplet(notes) => {
                let run: Vec<String> = (0..3).map(|index| self.run_note(chance, notes[index], index)).collect();
                said.replace("{run}", &run.join(", "))
            }
        }
    }

    fn phrase(&self, chance: &mut Chance, of: &str, words: fn(&Phrase) -> &Vec<String>) -> String {
        let fitting = self.forms.phrase.iter();
        let fitting = fitting.filter(|phrase| phrase.of == of && fits(phrase.only, self.make));
        let all: Vec<&String> = fitting.flat_map(words).collect();
        (*chance.one_of(&all)).clone()
    }

    fn finger(&self, finger: Finger) -> String {
        self.forms.fingers[&finger.letter().to_string()].clone()
    }

    fn strummed(&self, said: &str, action: Action, finger: Option<Finger>) -> String {
        let way = if action == Action::Up { "up" } else { "down" };
        let mut said = said.to_owned();
        for (slot, words) in [
            ("{way}", &self.forms.ways),
            ("{verb}", &self.forms.verbs),
            ("{you}", &self.forms.you),
        ] {
            said = said.replace(slot, words.get(way).map_or("", String::as_str));
        }
        let Some(finger) = finger else { return said };
        said.replace("{f}", &self.finger(finger))
            .replace("{l}", &finger.letter().to_string())
    }

    fn note(&self, chance: &mut Chance, said: &str, finger: Finger, string: u8, fret: u8) -> String {
        let held = if fret == 0 { "open" } else { "fretted" };
        let places = &self.forms.places;
        let place = chance.one_of(&places[held]).clone();
        let bare = chance.one_of(&places[&format!("bare_{held}")]).clone();
        let ordinals = if self.forms.fret_ordinals.is_empty() {
            &self.forms.ordinals
        } else {
            &self.forms.fret_ordinals
        };
        let nth = fret
            .checked_sub(1)
            .map_or("", |index| ordinals[usize::from(index)].as_str());
        said.replace("{place}", &place)
            .replace("{bare}", &bare)
            .replace("{s}", &self.forms.ordinals[usize::from(string) - 1])
            .replace("{nth}", nth)
            .replace("{fn}", &fret.to_string())
            .replace("{f}", &self.finger(finger))
            .replace("{l}", &finger.letter().to_string())
            .replace("{sn}", &string.to_string())
    }

    fn run_note(&self, chance: &mut Chance, (finger, string): (Finger, u8), index: usize) -> String {
        let ways = &self.forms.phrase.iter().find(|phrase| phrase.of == "triplet");
        let ways = ways.map(|phrase| phrase.note.as_slice()).unwrap_or_default();
        // Only behind a string that was named as one may the word be left out.
        let way = if index == 0 { &ways[0] } else { chance.one_of(ways) };
        way.replace("{f}", &self.finger(finger))
            .replace("{s}", &self.forms.ordinals[usize::from(string) - 1])
    }
}

/// The name of the phrases that say an event.
pub fn kind(event: &Event) -> &'static str {
    match event {
        Event::Rest => "rest",
        Event::Strum(_, Some(_)) => "strum",
        Event::Strum(_, None) => "bare strum",
        Event::Golpe(Some(_)) => "golpe with a",
        Event::Golpe(None) => "golpe",
        Event::Both(_, _, None) => "strum and golpe",
        Event::Both(_, _, Some(_)) => "strum and golpe with a",
        Event::Rasgueado(fingers) if fingers.is_empty() => "rasgueado",
        Event::Rasgueado(_) => "rasgueado x a m i",
        Event::Note(..) => "note",
        Event::Triplet(_) => "triplet",
    }
}
