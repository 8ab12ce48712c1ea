use super::super::context::OwnSign;
use super::super::statement::{Passage, Statement};
use super::Building;
use super::Discourse;
use crate::music::lesson::Said;
use crate::music::pattern::{CountSpan, Role};
use crate::music::position::Position;
use crate::text::Place;
use crate::written::{Meaning, OwnWord};

impl Discourse {
    /// One thing said takes effect.
    pub fn hear(&mut self, statement: Statement, place: Place) {
        if self.held_by_head(&statement, place) {
            return;
        }
        let stated = usize::from(!matches!(statement, Statement::Told(_)));
        self.taken += stated;
        self.stated += stated;
        match statement {
            Statement::Palo(slug) => self.palo(slug, place),
            Statement::Beats(beats) => {
                if self.lesson.meter.beats.is_none() {
                    self.note(format!("{beats} counts in a compás"), place);
                    self.lesson.meter.beats = Some(Said::new(beats, place));
                    self.context_mut().beats = Some(beats);
                }
            }
            Statement::First(first) => {
                if self.lesson.meter.first.is_none() {
                    self.note(format!("the round begins on {first}"), place);
                    self.lesson.meter.first = Some(Said::new(first, place));
                }
            }
            Statement::Accents(accents) => self.accents(accents, place),
            Statement::Lengths(lengths) => {
                if self.lesson.meter.lengths.is_none() {
                    self.context_mut().thirds = true;
                    self.note("short and long counts".to_owned(), place);
                    self.lesson.meter.lengths = Some(Said::new(lengths, place));
                }
            }
            Statement::SomeLengths(pairs) => self.some_lengths(pairs, place),
            Statement::Tempo(tempo) => {
                if self.lesson.tempo.is_none() || self.has_been_corrected() {
                    self.note(format!("tempo {} to {}", tempo.low, tempo.high), place);
                    self.lesson.tempo = Some(Said::new(tempo, place));
                }
            }
            Statement::Key(key) => {
                if self.lesson.key.is_none() {
                    self.note(format!("key {} {:?}", key.tonic, key.mode).to_lowercase(), place);
                    self.lesson.key = Some(Said::new(key, place));
                }
            }
            Statement::Capo(fret) => {
                if self.lesson.capo.is_none() || self.has_been_corrected() {
                    self.note(format!("capo on fret {fret}"), place);
                    self.lesson.capo = Some(Said::new(fret, place));
                }
            }
            Statement::Repeats(times) => {
                if self.lesson.repeats.is_none() {
                    self.note(format!("{times} times round"), place);
                    self.lesson.repeats = Some(Said::new(times, place));
                }
            }
            Statement::Shape {
                chord,
                frets,
                fingers: _,
            } => self.shape_told(chord, frets, place),
            Statement::WholeShape { chord, shape, fingers } => self.whole_shape(chord, shape, fingers, place),
            Statement::ChordsNamed(names) => {
                for name in names {
                    if !self.lesson.chords.iter().any(|known| known.name == name) {
                        self.note(format!("the chord {name} is used"), place);
                    }
                    self.use_chord(&name, place);
                }
            }
            Statement::ChordOver {
                chord,
                first,
                last,
                strokes_follow,
            } => self.chord_over(chord, first, last, strokes_follow, place),
            Statement::ChordThroughout(chord) => self.chord_throughout(&chord, place),
            Statement::Begin { role, name, number } => self.begin(role, name, number, place),
            Statement::Replaces { first, last } => self.replaces(first, last, place),
            Statement::RunsOn => {
                if let Some(building) = self.building().filter(|building| building.role != Role::Core) {
                    building.runs_on = true;
                    self.note("runs on past the end".to_owned(), place);
                }
            }
            Statement::Define {
                alias,
                word,
                action,
                fingers,
                strings,
            } => {
                let what = action.map_or_else(|| "fingers".to_owned(), |action| format!("{action:?}"));
                self.note(format!("{} stands for {what}", alias.join("")), place);
                if let Some(meaning) = action.and_then(Meaning::of_action) {
                    self.own_words.push(OwnWord {
                        word,
                        meaning,
                        fingers: fingers.clone(),
                        strings: strings.clone(),
                    });
                }
                self.context_mut().aliases.push(OwnSign {
                    words: alias,
                    action,
                    fingers,
                    strings,
                });
            }
            Statement::FingerStrings(strings) => {
                self.note("the string of each finger".to_owned(), place);
                self.context_mut().own_strings = strings;
            }
            Statement::Passage(passage) => self.passage(passage, place),
            Statement::Told(told) => self.told(&told, place),
            Statement::Parts(parts) => {
                if parts == 3 {
                    self.context_mut().thirds = true;
                }
                self.parts = Some(parts);
                self.note(format!("each count has {parts} parts"), place);
            }
            Statement::Reference {
                target,
                words,
                announced,
            } => {
                self.lesson.links.push(crate::music::lesson::CrossReference {
                    target,
                    words,
                    announced,
                    place,
                });
            }
        }
    }

    /// "Capo on 2. No, hang on, that's for the other singer. Capo on 1.": before anything is played, what was said last holds.
    fn has_been_corrected(&self) -> bool {
        let lately = self.corrects_since.is_some_and(|since| self.sentence <= since + 2);
        lately && !self.in_pattern()
    }

    /// Counts told as short or long one after another; when all are told, the compás is known.
    fn some_lengths(&mut self, pairs: Vec<(i64, i64)>, place: Place) {
        for (count, length) in pairs {
            self.lengths_told.entry(count).or_insert(length);
        }
        let counts = self.beats().unwrap_or(5);
        let whole = self.lengths_told.keys().copied().eq(1..=counts);
        let uneven = [2, 3]
            .iter()
            .all(|length| self.lengths_told.values().any(|told| told == length));
        if whole && uneven {
            let lengths = self.lengths_told.values().copied().collect();
            self.hear(Statement::Lengths(lengths), place);
        }
    }

    fn palo(&mut self, slug: String, place: Place) {
        if self.lesson.palo.is_none() {
            self.note(format!("palo: {slug}"), place);
            self.lesson.palo = Some(Said::new(slug, place));
        }
    }

    fn accents(&mut self, accents: Vec<Position>, place: Place) {
        for accent in accents {
            let known = self.lesson.meter.accents.iter().any(|known| known.value == accent);
            if !known {
                self.lesson.meter.accents.push(Said::new(accent, place));
            }
        }
        self.lesson.meter.accents.sort_by_key(|accent| accent.value);
        let list: Vec<String> = self
            .lesson
            .meter
            .accents
            .iter()
            .map(|accent| accent.value.to_string())
            .collect();
        self.note(format!("accents on {}", list.join(", ")), place);
    }

    fn begin(&mut self, role: Role, name: String, number: Option<i64>, place: Place) {
        self.run = None;
        if role == Role::Core {
            if let Some(core) = self.patterns.iter().position(|pattern| pattern.role == Role::Core) {
                self.current = Some(core);
                return;
            }
        } else if let Some(building) = self
            .building()
            .filter(|building| building.role != Role::Core && building.strokes.is_empty())
            .filter(|building| number.is_none() || building.number.is_none() || building.number == number)
        {
            if role != Role::Variation || building.number.is_none() {
                building.name = name;
                building.role = if role == Role::Variation { building.role } else { role };
                building.number = building.number.or(number);
            }
            return;
        }
        self.note(format!("{name} begins"), place);
        self.start(role, name, number, place);
    }

    /// The pattern that a stroke belongs to; a core begins by itself.
    pub fn pattern_for_stroke(&mut self, place: Place) -> usize {
        if let Some(current) = self.current {
            return current;
        }
        let name = super::role_name(Role::Core, self.context.language).to_owned();
        let cursor = self.cursor;
        self.start(Role::Core, name, None, place);
        self.cursor = cursor;
        self.current.unwrap_or(0)
    }

    pub fn start(&mut self, role: Role, name: String, number: Option<i64>, place: Place) {
        self.close_shape(place);
        if role != Role::Core {
            let round = self.round_counts();
            self.context_mut().round = round;
        }
        self.patterns.push(Building {
            role,
            name,
            number,
            span: None,
            runs_on: false,
            strokes: Vec::new(),
            changes: Vec::new(),
            left: Vec::new(),
            claims: Vec::new(),
            passages: Vec::new(),
            division: None,
            each_count: None,
            filled: None,
            notes_said: None,
            place,
        });
        self.current = Some(self.patterns.len() - 1);
        self.cursor = None;
        self.last = None;
        self.string = None;
        self.chord = None;
    }

    fn replaces(&mut self, first: i64, last: i64, place: Place) {
        if !self.in_pattern() {
            return;
        }
        let same = self
            .building()
            .is_some_and(|building| building.role != Role::Core && building.span == Some(CountSpan { first, last }));
        if same {
            return;
        }
        if !self.fresh_variation() {
            // Nothing of it has been told: the counts are said more closely, unless they are others altogether.
            let closer = |building: &Building| {
                let meets = building
                    .span
                    .is_some_and(|span| first <= span.last && span.first <= last);
                building.place.line == place.line || meets
            };
            if self.announced().is_some_and(closer) {
                return;
            }
            let name = if self.context.language == super::super::lexicon::Language::Spanish {
                "variación"
            } else {
                "variation"
            };
            self.start(Role::Variation, name.to_owned(), None, place);
        }
        if let Some(building) = self.building() {
            building.span = Some(CountSpan { first, last });
        }
        self.cursor = Some(first);
        self.note(format!("takes the place of {}", CountSpan { first, last }), place);
    }

    fn passage(&mut self, passage: Passage, place: Place) {
        if passage.strum {
            self.strum_finger = passage.fingers.first().copied();
            self.note("the finger of every strum".to_owned(), place);
            return;
        }
        if passage.golpe {
            self.golpe_fingers.clone_from(&passage.fingers);
            self.note("the finger of every golpe".to_owned(), place);
            return;
        }
        self.context_mut().alternating = passage.alternating;
        match self.building() {
            Some(building) => building.passages.push(passage),
            None => {
                let name = if self.context.language == super::super::lexicon::Language::Spanish {
                    "base"
                } else {
                    "core"
                };
                self.start(Role::Core, name.to_owned(), None, place);
                if let Some(building) = self.building() {
                    building.passages.push(passage);
                }
            }
        }
        self.note("said of the whole passage".to_owned(), place);
    }
}

#[cfg(test)]
mod tests {
    use crate::reading::tests::{Notes, typed};

    /// What was said last of the capo and the tempo holds where the first was taken back, and the first where it was not.
    #[test]
    fn what_is_put_right_before_anything_is_played_holds() {
        let table = [
            (
                "Capo on 2. No, hang on, that's for the other singer. Capo on 1.",
                Some(1),
                None,
            ),
            ("Capo on 2. And if she's tired I put the capo on 1.", Some(2), None),
            (
                "I have it at 60. No, forget that, nobody can hold it. The tempo is 66 to 72.",
                None,
                Some((66, 72)),
            ),
            (
                "The tempo is 66 to 72. Tempo 100 is for the dancers.",
                None,
                Some((66, 72)),
            ),
        ];
        for (words, capo, tempo) in table {
            let text = format!("[0:00] Tientos, four counts. {words} On 1 the thumb goes down.\n");
            let lesson = Notes::of("put-right", &[("lesson.spoken.txt", &text)]).lesson();
            assert_eq!(lesson.capo.map(|capo| capo.value), capo, "{words}");
            assert_eq!(
                lesson.tempo.map(|tempo| (tempo.value.low, tempo.value.high)),
                tempo,
                "{words}"
            );
        }
    }

    /// A palo with more behind it on its line is no line of a head: the rest is read as well.
    #[test]
    fn what_stands_behind_the_palo_is_read() {
        let text = "[0:00] Palo: garrotin. Cheerful, hats. Key G major.\n[0:10] 1 p dn\n";
        let lesson = typed("palo-and-more", text);
        assert_eq!(lesson.palo.map(|palo| palo.value).as_deref(), Some("garrotin"));
        assert_eq!(lesson.key.map(|key| key.value.tonic.to_string()).as_deref(), Some("G"));
    }
}
