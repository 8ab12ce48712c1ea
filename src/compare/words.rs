//! What is said of a change, in the lesson's language, from `src/data/changes.toml`.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use serde::Deserialize;

use crate::music::chord::ChordName;
use crate::music::hand::{Finger, Fret, GuitarString, LeftFinger};
use crate::music::left_hand::{LeftAction, LeftEvent};
use crate::music::pattern::{Pattern, Role};
use crate::music::pitch::NoteName;
use crate::music::position::Position;
use crate::music::stroke::{Action, Stroke};
use crate::text::fold;

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Catalogue {
    en: BTreeMap<String, String>,
    es: BTreeMap<String, String>,
}

static CATALOGUE: LazyLock<Catalogue> =
    LazyLock::new(|| toml::from_str(include_str!("../data/changes.toml")).expect("changes.toml is checked by a test"));

/// The words of one language.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Words {
    spanish: bool,
}

impl Words {
    /// Those of `en` or `es`; English for any other.
    pub fn of(language: &str) -> Self {
        Self {
            spanish: language == "es",
        }
    }

    /// The words under a key, its holes filled in one pass: what fills a hole is never read as a hole.
    pub fn say(self, key: &str, holes: &[(&str, &str)]) -> String {
        let table = if self.spanish { &CATALOGUE.es } else { &CATALOGUE.en };
        let mut rest = table.get(key).map_or(key, String::as_str);
        let mut said = String::new();
        while let Some((before, after)) = rest.split_once('{') {
            said.push_str(before);
            let (name, later) = after.split_once('}').unwrap_or((after, ""));
            let filling = holes.iter().find(|(hole, _)| *hole == name);
            said.push_str(filling.map_or("", |(_, filling)| filling));
            rest = later;
        }
        said.push_str(rest);
        said
    }

    pub fn plain(self, key: &str) -> String {
        self.say(key, &[])
    }

    /// `was` and `is` filled.
    pub fn turn(self, key: &str, was: &str, is: &str) -> String {
        self.say(key, &[("was", was), ("is", is)])
    }

    /// "count 5 of the core: …"
    pub fn at(self, at: Position, pattern: &str, what: &str) -> String {
        let part = part(at);
        let key = match part.as_str() {
            "" => "at-count",
            "1/2" => "at-and",
            _ => "at-part",
        };
        let count = at.whole().to_string();
        let holes = [
            ("count", count.as_str()),
            ("part", &part),
            ("pattern", pattern),
            ("what", what),
        ];
        self.say(key, &holes)
    }

    /// "the and of 5"
    pub fn on(self, at: Position) -> String {
        let part = part(at);
        let key = match part.as_str() {
            "" => "on-count",
            "1/2" => "on-and",
            _ => "on-part",
        };
        self.say(key, &[("count", &at.whole().to_string()), ("part", &part)])
    }

    /// "the core", "variation 2", or the name that the teacher gave it.
    pub fn pattern(self, pattern: &Pattern) -> String {
        let name = pattern.name.trim();
        // "V1: a run" is variation 1 wherever it is spoken of.
        let folded = fold(name.split([':', ',']).next().unwrap_or(name).trim()).text;
        let is_number = |rest: &&str| !rest.is_empty() && rest.chars().all(|letter| letter.is_ascii_digit());
        let openings = ["v", "variation ", "variacion "].iter();
        let number = openings
            .filter_map(|opening| folded.strip_prefix(opening))
            .find(is_number);
        match number {
            Some(n) => self.say("numbered", &[("n", n)]),
            None if pattern.role == Role::Core && (name.is_empty() || folded == "core" || folded == "base") => {
                self.plain("the-core")
            }
            None if name.is_empty() => self.plain("none-named"),
            None => name.to_owned(),
        }
    }

    pub fn role(self, role: Role) -> String {
        self.plain(match role {
            Role::Core => "role-core",
            Role::Variation => "role-variation",
            Role::Falseta => "role-falseta",
            Role::Llamada => "role-llamada",
            Role::Remate => "role-remate",
            Role::Cierre => "role-cierre",
        })
    }

    /// "G sharp"
    pub fn note(self, note: NoteName) -> String {
        let sign = if note.alter < 0 { "flat" } else { "sharp" };
        let mut name = note.letter.to_string();
        for _ in 0..note.alter.abs() {
            name.push_str(&self.plain(sign));
        }
        name
    }

    /// "B flat", "A7", "F sharpm" would not do: a chord's name is written with its signs.
    pub fn chord(self, chord: &ChordName) -> String {
        let mut out = chord.root.letter.to_string();
        let sign = if chord.root.alter < 0 { '♭' } else { '♯' };
        out.extend(std::iter::repeat_n(sign, usize::from(chord.root.alter.unsigned_abs())));
        out.push_str(&chord.quality);
        out.push_str(&chord.added.replace("(b", "(♭").replace('#', "♯"));
        out
    }

    pub fn right(self, finger: Finger) -> String {
        self.plain(match finger {
            Finger::P => "right-p",
            Finger::I => "right-i",
            Finger::M => "right-m",
            Finger::A => "right-a",
            Finger::X => "right-x",
        })
    }

    pub fn fingers(self, fingers: &[Finger]) -> String {
        let named: Vec<String> = fingers.iter().map(|finger| self.right(*finger)).collect();
        if fingers.len() > 3 {
            return fingers
                .iter()
                .map(|finger| finger.letter().to_string())
                .collect::<Vec<_>>()
                .join(" ");
        }
        self.list(&named)
    }

    pub fn left(self, finger: Option<LeftFinger>) -> String {
        match finger {
            Some(finger @ 0..=4) => self.plain(&format!("left-{finger}")),
            Some(_) | None => self.plain("a-finger"),
        }
    }

    /// "a, b and c"
    pub fn list(self, items: &[String]) -> String {
        match items {
            [] => String::new(),
            [one] => one.clone(),
            [first @ .., last] => self.say("and", &[("first", &first.join(", ")), ("last", last)]),
        }
    }

    pub fn action(self, action: Action) -> String {
        self.plain(match action {
            Action::Down => "do-down",
            Action::Up => "do-up",
            Action::Golpe => "do-golpe",
            Action::Pluck => "do-pluck",
            Action::Rasgueado => "do-rasgueado",
            Action::Roll => "do-roll",
            Action::PullOff => "do-pull-off",
            Action::HammerOn => "do-hammer-on",
            Action::Damp => "do-damp",
            Action::Tremolo => "do-tremolo",
            Action::Picado => "do-picado",
            Action::Alzapua => "do-alzapua",
            Action::Rest => "do-rest",
        })
    }

    /// "down with the index", "the thumb's G": what a stroke is called beside others at its moment.
    pub fn stroke(self, stroke: &Stroke) -> String {
        let mut what = self.action(stroke.action);
        if !stroke.fingers.is_empty() {
            what = self.say("with", &[("what", &what), ("fingers", &self.fingers(&stroke.fingers))]);
        }
        let place = self.place(&stroke.strings, stroke.fret);
        let note = stroke.note.map(|note| self.note(note));
        let more: Vec<String> = [Some(place).filter(|place| !place.is_empty()), note]
            .into_iter()
            .flatten()
            .collect();
        if more.is_empty() {
            what
        } else {
            format!("{what} ({})", more.join(", "))
        }
    }

    /// "string 3, fret 1", "string 6 open", "strings 3 2 1"
    pub fn place(self, strings: &[GuitarString], fret: Option<Fret>) -> String {
        let string = match strings {
            [] => String::new(),
            [one] => self.say("on-string", &[("string", &one.to_string())]),
            many => {
                let many: Vec<String> = many.iter().map(u8::to_string).collect();
                self.say("on-strings", &[("strings", &many.join(" "))])
            }
        };
        match fret {
            None => string,
            Some(fret) if string.is_empty() => self.say("only-fret", &[("fret", &fret.to_string())]),
            Some(0) => self.say("open-string", &[("string", &string)]),
            Some(fret) => self.say("on-fret", &[("string", &string), ("fret", &fret.to_string())]),
        }
    }

    pub fn left_event(self, event: &LeftEvent) -> String {
        let finger = match (event.finger, event.action) {
            (Some(_), _) => self.left(event.finger),
            (None, LeftAction::Lift | LeftAction::Keep) => self.plain("left-hand"),
            (None, _) => self.left(None),
        };
        let strings: Vec<GuitarString> = event.string.into_iter().collect();
        let mut place = self.place(&strings, event.fret);
        if !place.is_empty() {
            place = format!(" ({place})");
        }
        let key = match event.action {
            LeftAction::Put => "left-put",
            LeftAction::Lift => "left-lift",
            LeftAction::Keep => "left-keep",
            LeftAction::Slide => "left-slide",
        };
        self.say(key, &[("finger", &finger), ("where", &place)])
    }
}

/// `1/3` of `4+1/3`; empty on the count.
fn part(at: Position) -> String {
    let fraction = at.fraction();
    if *fraction.numer() == 0 {
        String::new()
    } else {
        format!("{}/{}", fraction.numer(), fraction.denom())
    }
}

#[cfg(test)]
mod tests {
    use super::CATALOGUE;

    fn holes(words: &str) -> Vec<&str> {
        let parts = words.split('{').skip(1);
        let mut holes: Vec<&str> = parts.filter_map(|rest| rest.split('}').next()).collect();
        holes.sort_unstable();
        holes
    }

    #[test]
    fn both_languages_say_the_same_things() {
        let keys = |table: &std::collections::BTreeMap<String, String>| table.keys().cloned().collect::<Vec<String>>();
        assert_eq!(keys(&CATALOGUE.en), keys(&CATALOGUE.es));
        for (key, words) in &CATALOGUE.en {
            assert_eq!(holes(words), holes(&CATALOGUE.es[key]), "{key}");
        }
    }

    #[test]
    fn every_key_is_used_somewhere_in_this_room() {
        let sources = [
            include_str!("words.rs"),
            include_str!("lesson.rs"),
            include_str!("patterns.rs"),
            include_str!("moments.rs"),
            include_str!("strokes.rs"),
            include_str!("follows.rs"),
        ]
        .concat();
        let unused: Vec<&String> = CATALOGUE
            .en
            .keys()
            .filter(|key| {
                !sources.contains(&format!("\"{}\"", key.trim_end_matches("-open"))) && !key.starts_with("left-")
            })
            .collect();
        assert!(unused.is_empty(), "{unused:?}");
    }
}
