//! A lesson said aloud: its text, and what was said in which words.

use std::ops::Range;

use compasario::music::hand::Finger;
use compasario::music::position::Position;
use compasario::music::stroke::Action;

use crate::chance::Chance;
use crate::forms::{Frame, Make, Order};
use crate::lesson::{At, Event, Lesson, Pattern};
use crate::words::{Voice, kind};

/// What a listener writes down of one stroke.
#[derive(Debug, Clone, PartialEq)]
pub struct Stroke {
    pub at: Position,
    pub action: Action,
    pub fingers: Vec<Finger>,
    pub strings: Vec<u8>,
    pub fret: Option<u8>,
}

/// Words that say something by one form.
pub struct Said {
    pub form: String,
    /// What it says, for the table of kinds.
    pub kind: &'static str,
    pub range: Range<usize>,
    pub sentence: Range<usize>,
    /// 0 is the core.
    pub pattern: usize,
    pub strokes: Vec<Stroke>,
    pub chord: Option<(Position, String)>,
    pub span: Option<(i64, i64)>,
}

pub struct Told {
    pub text: String,
    pub sentences: usize,
    pub said: Vec<Said>,
}

struct Teller<'a> {
    voice: &'a Voice<'a>,
    chance: Chance,
    text: String,
    said: Vec<Said>,
    /// Where the sentence being said begins.
    sentence: usize,
    sentences: usize,
    order: Order,
}

pub fn told(lesson: &Lesson, voice: &Voice, seed: u64) -> Told {
    let mut teller = Teller {
        voice,
        chance: Chance::new(seed),
        text: String::new(),
        said: Vec::new(),
        sentence: 0,
        sentences: 0,
        order: Order::Front,
    };
    let title = teller.chance.one_of(&voice.forms.title).clone();
    let beats = voice.count(lesson.beats);
    teller.whole(&title.replace("{palo}", lesson.palo).replace("{beats}", &beats));
    let core = teller.chance.one_of(&voice.forms.core).clone();
    teller.whole(&core);
    teller.pattern(&lesson.core, 0, 0);
    for (index, variation) in lesson.variations.iter().enumerate() {
        let done = teller.variation(variation, index + 1);
        teller.pattern(variation, index + 1, done);
    }
    Told {
        text: format!("{}\n", teller.text.trim_end()),
        sentences: teller.sentences,
        said: teller.said,
    }
}

impl Teller<'_> {
    /// A sentence of one piece that says no stroke.
    fn whole(&mut self, words: &str) {
        if !words.is_empty() {
            self.open();
            self.put(words.trim_end_matches('.'));
            self.close();
        }
    }

    fn open(&mut self) {
        if self.sentences.is_multiple_of(4) {
            let seconds = self.sentences * 5;
            let gap = if self.text.is_empty() { "" } else { "\n\n" };
            let line = format!("{gap}[{}:{:02}] ", seconds / 60, seconds % 60);
            self.text.truncate(self.text.trim_end().len());
            self.text.push_str(&line);
        } else if self.voice.make == Make::Typed {
            self.text.push('\n');
        } else {
            self.text.push(' ');
        }
        self.sentences += 1;
        self.sentence = self.text.len();
    }

    fn put(&mut self, words: &str) -> Range<usize> {
        let start = self.text.len();
        if self.voice.make == Make::Plain {
            let spoken = |letter: &char| letter.is_alphanumeric() || matches!(letter, ' ' | '\'');
            self.text.extend(words.to_lowercase().chars().filter(spoken));
        } else if start == self.sentence && !opens_with_a_letter(words) {
            let mut letters = words.chars();
            let first = letters.next().into_iter().flat_map(char::to_uppercase);
            self.text.extend(first);
            self.text.push_str(letters.as_str());
        } else {
            self.text.push_str(words);
        }
        start..self.text.len()
    }

    fn close(&mut self) {
        if self.voice.make != Make::Plain {
            self.text.push('.');
        }
        let sentence = self.sentence..self.text.len();
        let of_it = self
            .said
            .iter_mut()
            .rev()
            .take_while(|said| said.range.start >= sentence.start);
        of_it.for_each(|said| said.sentence = sentence.clone());
    }

    fn record(&mut self, form: &str, kind: &'static str, range: Range<usize>, pattern: usize) -> &mut Said {
        self.said.push(Said {
            form: form.to_owned(),
            kind,
            range,
            sentence: 0..0,
            pattern,
            strokes: Vec::new(),
            chord: None,
            span: None,
        });
        self.said.last_mut().expect("just pushed")
    }

    /// Announces a variation; how many of its strokes were told on the way.
    fn variation(&mut self, variation: &Pattern, number: usize) -> usize {
        let forms = self.voice.forms;
        let known: Vec<&String> = forms.variation.keys().collect();
        let fits = |name: &&&String| number > 1 || !name.contains("the first one") && !name.contains("la primera va");
        let known: Vec<&&String> = known.iter().filter(fits).collect();
        let form = (**self.chance.one_of(&known)).clone();
        let nth = &forms.ordinals[number - 1];
        let words = self.chance.one_of(&forms.variation[&form]).replace("{nth}", nth);
        let words = self
            .voice
            .span(&mut self.chance, &words, variation.first, variation.last);
        let words = self.voice.mended(words);
        let (lead, strokes) = words
            .split_once("{strokes}")
            .map_or((words.as_str(), false), |(lead, _)| (lead, true));
        let parts: Vec<&str> = lead.trim_end_matches('.').split(". ").collect();
        let mut range = self.text.len()..0;
        for (index, part) in parts.iter().enumerate() {
            if index > 0 {
                self.close();
            }
            self.open();
            let put = self.put(part);
            range = range.start.min(put.start)..put.end;
        }
        let span = Some((variation.first, variation.last));
        self.record(&form, "span", range, number).span = span;
        let mut done = 0;
        if strokes {
            self.order = Order::Front;
            done = 1 + self.chance.below(variation.told.len().min(3));
            done = self.strokes(&variation.told[..done], number, true);
        }
        self.close();
        done
    }

    fn pattern(&mut self, pattern: &Pattern, number: usize, done: usize) {
        let chords_first = self.chance.percent(50);
        if chords_first {
            self.chords(pattern, number);
        }
        let mut rest = &pattern.told[done..];
        while !rest.is_empty() {
            if self.voice.make != Make::Plain || self.sentences.is_multiple_of(4) {
                let front = self.chance.percent(55);
                self.order = if front { Order::Front } else { Order::Behind };
            }
            self.open();
            let many = (1 + self.chance.below(4)).min(rest.len());
            let openers = if self.voice.make == Make::Plain {
                &self.voice.forms.breaks
            } else {
                &self.voice.forms.openers
            };
            let opener = self.chance.one_of(openers).clone();
            if !opener.is_empty() {
                self.put(&opener);
            }
            let told = self.strokes(&rest[..many], number, false);
            self.close();
            rest = &rest[told..];
        }
        if !chords_first {
            self.chords(pattern, number);
        }
    }

    fn chords(&mut self, pattern: &Pattern, number: usize) {
        for (chord, first, last) in &pattern.chords {
            let forms = self.voice.forms;
            let names: Vec<&String> = forms.chord_over.keys().collect();
            let form = (*self.chance.one_of(&names)).clone();
            let words = self
                .chance
                .one_of(&forms.chord_over[&form])
                .replace("{chord}", &forms.chords[*chord]);
            let words = self.voice.span(&mut self.chance, &words, *first, *last);
            self.open();
            if self.voice.make == Make::Plain {
                let opener = self.chance.one_of(&forms.breaks).clone();
                self.put(&opener);
            }
            let range = self.put(&words);
            self.record(&form, "chord", range, number).chord = Some((Position::count(*first), (*chord).to_owned()));
            self.close();
        }
    }

    /// Says strokes in one sentence, as many as go together; how many that were.
    fn strokes(&mut self, told: &[At], pattern: usize, opened: bool) -> usize {
        let mut frame: Option<&Frame> = None;
        let mut before: Option<&At> = None;
        for (index, at) in told.iter().enumerate() {
            let alone = matches!(at.event, Event::Triplet(_));
            let own = |order| self.voice.frames(&at.event, order);
            let mut frames = own(self.order);
            if frames.is_empty() && index == 0 {
                frames = own(Order::Front);
            }
            if opened || frame.is_some_and(|frame| !frame.words[0].contains(':')) {
                frames.retain(|frame| !frame.words[0].contains(':'));
            } else if index > 0 {
                frames.retain(|frame| frame.words[0].contains(':'));
            }
            if index > 0 && (alone || frames.is_empty()) {
                return index;
            }
            let again = frame.filter(|frame| frames.iter().any(|one| one.name == frame.name));
            let chosen = match again {
                Some(frame) if self.chance.percent(60) => frame,
                _ => *self.chance.one_of(&frames),
            };
            self.join(index, chosen);
            self.stroke(chosen, at, before, pattern);
            if alone {
                return index + 1;
            }
            frame = Some(chosen);
            before = Some(at);
        }
        told.len()
    }

    fn join(&mut self, index: usize, frame: &Frame) {
        if index > 0 {
            let join = if frame.words[0].contains(':') {
                ", "
            } else {
                self.chance.one_of(&self.voice.forms.joins).as_str()
            };
            let join = if self.voice.make == Make::Plain {
                join.trim_start_matches(',')
            } else {
                join
            };
            self.text.push_str(join);
        }
    }

    fn stroke(&mut self, frame: &Frame, at: &At, before: Option<&At>, pattern: usize) {
        let marks = self.voice.make != Make::Plain;
        let same = before.is_some_and(|before| before.count == at.count) && marks && self.chance.percent(50);
        let carried = matches!(
            (before.map(|before| (&before.event, before.count)), &at.event),
            (Some((Event::Strum(Action::Down, Some(one)), count)), Event::Strum(Action::Up, Some(other))) if one == other && count == at.count
        ) && frame.of.is_none()
            && self.chance.percent(50);
        let words = self.voice.say(&mut self.chance, frame, at, same, carried);
        let range = self.put(&words);
        let strokes = strokes(at);
        self.record(&frame.name, kind(&at.event), range, pattern).strokes = strokes;
    }
}

/// `i down`, `a s1 f4`: a finger's letter is written small. "A down with the index" opens with an article.
fn opens_with_a_letter(words: &str) -> bool {
    let (first, rest) = words.split_once(' ').unwrap_or((words, ""));
    let placed = ["s1", "s2", "s3", "s4", "s5", "s6", "en la"]
        .iter()
        .any(|place| rest.starts_with(place));
    matches!(first, "p" | "i" | "m") || first == "a" && placed
}

fn strokes(at: &At) -> Vec<Stroke> {
    let stroke = |action: Action, fingers: Vec<Finger>| Stroke {
        at: at.position(),
        action,
        fingers,
        strings: Vec::new(),
        fret: None,
    };
    match &at.event {
        Event::Rest => vec![stroke(Action::Rest, Vec::new())],
        Event::Strum(action, finger) => vec![stroke(*action, finger.iter().copied().collect())],
        Event::Golpe(finger) => vec![stroke(Action::Golpe, finger.iter().copied().collect())],
        Event::Both(action, finger, golpe) => vec![
            stroke(*action, vec![*finger]),
            stroke(Action::Golpe, golpe.iter().copied().collect()),
        ],
        Event::Rasgueado(fingers) => vec![stroke(Action::Rasgueado, fingers.clone())],
        Event::Note(finger, string, fret) => vec![Stroke {
            strings: vec![*string],
            fret: Some(*fret),
            ..stroke(Action::Pluck, vec![*finger])
        }],
        Event::Triplet(notes) => (0..3)
            .map(|third| Stroke {
                at: Position::new(at.count, third, 3),
                strings: vec![notes[third as usize].1],
                ..stroke(Action::Pluck, vec![notes[third as usize].0])
            })
            .collect(),
    }
}
