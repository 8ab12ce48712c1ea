use std::fs;
use std::path::Path;

use regex::{Captures, Regex};

use crate::gold::Gold;
use crate::oracle::{pitch_class, shape_fits, sounds};

pub struct SoundNote {
    pub name: String,
    pub text: String,
    pub gold: Gold,
}

/// A note with one thing wrong.
pub struct Damage {
    pub kind: &'static str,
    pub text: String,
    /// Checks that may say so.
    pub rules: &'static [&'static str],
    /// Lines it may be said on.
    pub lines: Vec<u32>,
    /// Both have to stand in the message.
    pub names: Vec<String>,
    pub what: String,
    /// By the reckoning of this test, the damage still adds up: nobody could tell.
    pub adds_up: bool,
}

/// Folders of lessons, and those of their facts.
pub const OURS: &[(&str, &str)] = &[
    ("tests/corpus/lessons", "tests/corpus/lessons"),
    ("sample-notes", "tests/demo-gold"),
    ("tests/voices/sound", "tests/voices/sound"),
];
pub const OTHERS: &[(&str, &str)] = &[
    ("tests/voices/en", "tests/voices/en"),
    ("tests/voices/es", "tests/voices/es"),
    ("tests/voices/second", "tests/voices/second"),
    ("tests/voices/third", "tests/voices/third"),
];

/// Every sound lesson of some folders with its facts: notes, transcripts, captions.
pub fn sound_notes(folders: &[(&str, &str)]) -> Vec<SoundNote> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut notes = Vec::new();
    for (folder, facts) in folders {
        let mut paths: Vec<_> = fs::read_dir(root.join(folder))
            .unwrap()
            .map(|entry| entry.unwrap().path())
            .collect();
        paths.sort();
        for path in paths {
            let name = path.file_name().unwrap().to_string_lossy().into_owned();
            let stem = name.split('.').next().unwrap_or("");
            let facts = root.join(facts).join(format!("{stem}.gold.json"));
            let is_lesson = [".notes.txt", ".spoken.txt", ".vtt", ".srt"]
                .iter()
                .any(|ending| name.ends_with(ending));
            if is_lesson && facts.is_file() {
                notes.push(SoundNote {
                    text: fs::read_to_string(&path).unwrap(),
                    gold: serde_json::from_str(&fs::read_to_string(&facts).unwrap()).unwrap(),
                    name,
                });
            }
        }
    }
    notes
}

pub fn all(note: &SoundNote) -> Vec<Damage> {
    let text = note.text.as_str();
    let mut damages = crate::speech::all(text, &note.gold);
    damages.extend(crate::head::all(text, &note.gold));
    if !note.name.ends_with(".notes.txt") {
        return damages;
    }
    for (index, line) in text.lines().enumerate() {
        let here = Line { text, index, line };
        damages.extend(here.shapes());
        damages.extend(here.frets());
        damages.extend(here.spans());
        damages.extend(here.lists());
        damages.extend(here.fingers());
    }
    damages
}

struct Line<'a> {
    text: &'a str,
    index: usize,
    line: &'a str,
}

fn number(text: &str) -> i32 {
    text.parse().unwrap_or(0)
}

impl Line<'_> {
    fn number(&self) -> u32 {
        self.index as u32 + 1
    }

    /// The note with this line in place of the sound one.
    fn with(&self, line: &str) -> String {
        let lines = self
            .text
            .lines()
            .enumerate()
            .map(|(index, old)| if index == self.index { line } else { old });
        lines.collect::<Vec<_>>().join("\n") + "\n"
    }

    /// The line with one capture of a match replaced.
    fn replaced(&self, found: &Captures, group: usize, by: &str) -> String {
        let place = found.get(group).unwrap();
        format!("{}{by}{}", &self.line[..place.start()], &self.line[place.end()..])
    }

    /// `E7 = 020100`: each fret one higher. Where root and third are left, nobody could tell.
    fn shapes(&self) -> Vec<Damage> {
        let shape = Regex::new(r"\b([A-G][b#]?)(m7|maj7|m|7)?\s?[=:]?\s?([x0-4]{6})\b").unwrap();
        let mut damages = Vec::new();
        for found in shape.captures_iter(self.line) {
            let (root, quality, frets) = (
                &found[1],
                found.get(2).map_or("", |quality| quality.as_str()),
                &found[3],
            );
            let minor = quality.starts_with('m') && quality != "maj7";
            if shape_fits(root, minor, frets) != Some(true) {
                continue;
            }
            for (at, fret) in frets.char_indices() {
                let Some(fret) = fret.to_digit(10) else { continue };
                let new = format!("{}{}{}", &frets[..at], fret + 1, &frets[at + 1..]);
                damages.push(Damage {
                    kind: "a shape and its name",
                    adds_up: shape_fits(root, minor, &new) != Some(false),
                    text: self.with(&self.replaced(&found, 3, &new)),
                    rules: &["shape-contradicts-name"],
                    lines: vec![self.number()],
                    names: vec![new.clone(), format!("{root}{quality}")],
                    what: format!("{root}{quality} {frets} -> {new}"),
                });
            }
        }
        damages
    }

    /// `s5 f3 (C)`: one fret higher.
    fn frets(&self) -> Vec<Damage> {
        let note = Regex::new(r"\bs([1-6]) f(\d) \(([A-G][b#]?)\)").unwrap();
        let mut damages = Vec::new();
        for found in note.captures_iter(self.line) {
            let (string, fret, name) = (found[1].parse::<usize>().unwrap(), number(&found[2]), &found[3]);
            let sound = pitch_class(name) == Some(sounds(string, fret));
            if !sound {
                continue;
            }
            let new = (fret + 1).to_string();
            damages.push(Damage {
                kind: "a fret and its note",
                adds_up: false,
                text: self.with(&self.replaced(&found, 2, &new)),
                rules: &["note-contradicts-fret"],
                lines: vec![self.number()],
                names: vec![
                    format!("string {string} fret {new}|la cuerda {string} en el traste {new}"),
                    format!("called {name}|llama {name}"),
                ],
                what: format!("s{string} f{fret} ({name}) -> f{new}"),
            });
        }
        damages
    }

    /// `4-6 G: 4 …, 6 …`: the counts in front begin or end one count off.
    fn spans(&self) -> Vec<Damage> {
        let group = Regex::new(r"^(?:\[[0-9:]+\] )?(\d+)-(\d+)[ ,:]").unwrap();
        let Some(found) = group.captures(self.line) else {
            return Vec::new();
        };
        let (first, last) = (number(&found[1]), number(&found[2]));
        let strokes = Regex::new(r"(?:[:,;] )(\d+) (?:p |i |m |a |rasg|rest|golpe|silencio)").unwrap();
        let told: Vec<i32> = strokes
            .captures_iter(self.line)
            .map(|stroke| number(&stroke[1]))
            .collect();
        let mut damages = Vec::new();
        if last <= first || !told.contains(&first) || !told.contains(&last) {
            return damages;
        }
        let later = first + 1;
        if later < last {
            damages.push(Damage {
                kind: "a line's counts and strokes",
                adds_up: false,
                text: self.with(&self.replaced(&found, 1, &later.to_string())),
                rules: &["stroke-outside-its-line"],
                lines: vec![self.number()],
                names: vec![
                    format!("{later}-{last}"),
                    format!("stroke for {first}|toque para {first}"),
                ],
                what: format!("{first}-{last} -> {later}-{last}"),
            });
        }
        let next = self
            .text
            .lines()
            .nth(self.index + 1)
            .and_then(|line| group.captures(line));
        let follows = next.is_some_and(|next| number(&next[1]) == last + 1 && number(&next[2]) > last + 1);
        if follows {
            let longer = format!("{first}-{}", last + 1);
            damages.push(Damage {
                kind: "two lines and a count",
                adds_up: false,
                text: self.with(&self.replaced(&found, 2, &(last + 1).to_string())),
                rules: &["overlapping-spans"],
                lines: vec![self.number(), self.number() + 1],
                names: vec![longer.clone(), format!("count {}|el tiempo {}", last + 1, last + 1)],
                what: format!("{first}-{last} -> {longer}"),
            });
        }
        damages
    }

    /// `four semiquavers: a, b, c, d`: one more, one less; `triplet: a, b, c` one more.
    fn lists(&self) -> Vec<Damage> {
        let list = Regex::new(
            r"(?:(four semiquavers|four sixteenths|cuatro semicorcheas)|(triplet|tresillo))[^:;]*: ((?:[^,;()]+\([A-G][b#]?\)|[^,;()]* s\d f\d)(?:, (?:[^,;()]+\([A-G][b#]?\)|[^,;()]* ?s\d f\d))+)",
        )
        .unwrap();
        let Some(found) = list.captures(self.line) else {
            return Vec::new();
        };
        let items: Vec<&str> = found[3].split(", ").collect();
        let (wanted, few, many): (usize, &'static [&'static str], &'static [&'static str]) = if found.get(1).is_some() {
            (4, &["too-few-notes"], &["too-many-notes"])
        } else {
            (3, &["notes-in-triplet"], &["notes-in-triplet"])
        };
        if items.len() != wanted {
            return Vec::new();
        }
        let damage = |items: Vec<&str>, rules| Damage {
            kind: "a number and its list",
            adds_up: false,
            text: self.with(&self.replaced(&found, 3, &items.join(", "))),
            rules,
            lines: vec![self.number()],
            names: vec![items.len().to_string()],
            what: format!("{wanted} said, {} given", items.len()),
        };
        let less = items[..wanted - 1].to_vec();
        let more = [items.clone(), vec![items[wanted - 1]]].concat();
        vec![damage(less, few), damage(more, many)]
    }

    /// `A x02220: LH 2 on s4 f2`: a finger one fret off its shape.
    fn fingers(&self) -> Vec<Damage> {
        let shape = Regex::new(r"\b([A-G][b#]?(?:m7|maj7|m|7)?) ([x0-9]{6}): LH").unwrap();
        let finger = Regex::new(r"\b([1-4]) on s([1-6]) f(\d)\b").unwrap();
        let Some(chord) = shape.captures(self.line) else {
            return Vec::new();
        };
        let mut damages = Vec::new();
        for found in finger.captures_iter(self.line) {
            let (string, fret) = (found[2].parse::<usize>().unwrap(), number(&found[3]));
            if chord[2].chars().nth(6 - string).and_then(|has| has.to_digit(10)) != Some(fret as u32) {
                continue;
            }
            let new = (fret + 1).to_string();
            damages.push(Damage {
                kind: "a finger and its shape",
                adds_up: false,
                text: self.with(&self.replaced(&found, 3, &new)),
                rules: &["fingers-contradict-shape"],
                lines: vec![self.number()],
                names: vec![
                    format!("string {string} fret {new}|cuerda {string} traste {new}"),
                    chord[2].to_owned(),
                ],
                what: format!("finger {} s{string} f{fret} -> f{new}", &found[1]),
            });
        }
        damages
    }
}
