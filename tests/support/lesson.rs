use compasario::checks::{self, Context};
use compasario::findings::Finding;
use compasario::intake::{Cue, Folder, Note, NoteKind};
use compasario::music::chord::{Chord, ChordName, ChordShape, Fingered};
use compasario::music::hand::Finger;
use compasario::music::key::Tempo;
use compasario::music::left_hand::{Change, LeftEvent};
use compasario::music::lesson::{Caution, Lesson, Said};
use compasario::music::palo::PaloTable;
use compasario::music::pattern::{Claim, ClaimAbout, CountSpan, Pattern, Role};
use compasario::music::pitch::NoteName;
use compasario::music::position::{Counts, Position};
use compasario::music::stroke::{Action, Stroke};
use compasario::text::{ClockTime, FileId, Place, SourceText, Span};

/// A lesson told line by line: what is added stands on the line last written.
pub struct Told {
    pub lesson: Lesson,
    pub kind: NoteKind,
    file: FileId,
    text: String,
    line: (usize, usize),
    times: Vec<Option<ClockTime>>,
}

pub fn told(id: &str) -> Told {
    told_in(id, 0)
}

pub fn told_in(id: &str, file: u32) -> Told {
    Told {
        lesson: Lesson {
            id: id.to_owned(),
            language: "en".to_owned(),
            ..Lesson::default()
        },
        kind: NoteKind::Typed,
        file: FileId(file),
        text: String::new(),
        line: (0, 0),
        times: Vec::new(),
    }
}

pub fn span(first: i64, last: i64) -> CountSpan {
    CountSpan { first, last }
}

pub fn at(position: &str) -> Position {
    Position::parse(position).unwrap_or_else(|| panic!("{position} is no position"))
}

impl Told {
    pub fn line(mut self, text: &str) -> Self {
        let start = self.text.len();
        self.text.push_str(text);
        self.line = (start, self.text.len());
        self.text.push('\n');
        let time = text.strip_prefix('[').and_then(|rest| rest.split_once(']'));
        self.times.push(time.and_then(|(time, _)| ClockTime::parse(time)));
        self
    }

    pub fn spoken(mut self) -> Self {
        self.kind = NoteKind::Spoken;
        self
    }

    pub fn place(&self) -> Place {
        let source = SourceText::new(self.file, "", self.text.clone());
        source.place(
            Span::new(self.line.0, self.line.1),
            self.times.last().copied().flatten(),
        )
    }

    /// The place of some words of the line last written.
    pub fn words(&self, words: &str) -> Place {
        let line = &self.text[self.line.0..self.line.1];
        let start = self.line.0
            + line
                .find(words)
                .unwrap_or_else(|| panic!("`{words}` is not in `{line}`"));
        let source = SourceText::new(self.file, "", self.text.clone());
        source.place(
            Span::new(start, start + words.len()),
            self.times.last().copied().flatten(),
        )
    }

    pub fn said<T>(&self, value: T) -> Said<T> {
        Said::new(value, self.place())
    }

    pub fn palo(mut self, palo: &str) -> Self {
        self.lesson.palo = Some(self.said(palo.to_owned()));
        self
    }

    pub fn beats(mut self, beats: i64) -> Self {
        self.lesson.meter.beats = Some(self.said(beats));
        self
    }

    pub fn accents(mut self, accents: &str) -> Self {
        let said = accents.split(' ').map(|accent| self.said(at(accent))).collect();
        self.lesson.meter.accents = said;
        self
    }

    pub fn tempo(mut self, low: u32, high: u32) -> Self {
        self.lesson.tempo = Some(self.said(Tempo { low, high }));
        self
    }

    pub fn capo(mut self, fret: u8) -> Self {
        self.lesson.capo = Some(self.said(fret));
        self
    }

    pub fn order(mut self, order: i64) -> Self {
        self.lesson.order = Some(self.said(order));
        self
    }

    pub fn needs(mut self, id: &str) -> Self {
        let needs = self.said(id.to_owned());
        self.lesson.needs.push(needs);
        self
    }

    pub fn chord(mut self, name: &str, shape: &str) -> Self {
        let place = self.place();
        self.lesson.chords.push(Chord {
            name: ChordName::parse(name).unwrap_or_else(|| panic!("{name} is no chord name")),
            shape: ChordShape::parse(shape),
            fingers: Vec::new(),
            place,
            shape_place: None,
            fingers_place: None,
            implied: None,
        });
        self
    }

    /// `finger string fret` each: `1 2 1`.
    pub fn fingers(mut self, fingers: &[(u8, u8, u8)]) -> Self {
        let fingers = fingers.iter().map(|(finger, string, fret)| Fingered {
            finger: *finger,
            string: *string,
            fret: *fret,
            to_string: *string,
        });
        let chord = self.lesson.chords.last_mut().expect("a chord before its fingers");
        chord.fingers = fingers.collect();
        self
    }

    pub fn pattern(mut self, name: &str, role: Role, covers: Option<CountSpan>) -> Self {
        let place = self.place();
        self.lesson.patterns.push(Pattern {
            name: name.to_owned(),
            role,
            span: covers,
            strokes: Vec::new(),
            changes: Vec::new(),
            left: Vec::new(),
            runs_on: None,
            claims: Vec::new(),
            place,
        });
        self
    }

    pub fn core(self, first: i64, last: i64) -> Self {
        self.pattern("core", Role::Core, Some(span(first, last)))
    }

    fn last_pattern(&mut self) -> &mut Pattern {
        self.lesson.patterns.last_mut().expect("a pattern first")
    }

    pub fn runs_on(mut self, until: &str) -> Self {
        self.last_pattern().runs_on = Some(at(until));
        self
    }

    pub fn claim(mut self, about: ClaimAbout) -> Self {
        let place = self.place();
        self.last_pattern().claims.push(Claim { place, about });
        self
    }

    /// `4-6 G`: the words at the front of the line, and the span they announce.
    pub fn covers(mut self, words: &str, first: i64, last: i64) -> Self {
        let place = self.words(words);
        let chord = words.split(' ').find_map(ChordName::parse);
        let about = ClaimAbout::Covers {
            span: span(first, last),
            chord,
        };
        self.last_pattern().claims.push(Claim { place, about });
        self
    }

    pub fn change(mut self, position: &str, chord: &str) -> Self {
        let place = self.place();
        self.last_pattern().changes.push(Change {
            at: at(position),
            chord: ChordName::parse(chord).unwrap(),
            place,
            implied: None,
        });
        self
    }

    /// `keep 3 s5 f3`, `lift 3`, `lift`, `put 1 s3 f1`, `slide 1 f3`.
    pub fn left(mut self, position: &str, what: &str) -> Self {
        let place = self.place();
        let mut words = what.split(' ');
        let action = serde_json::from_value(words.next().unwrap_or_default().into());
        let mut event = LeftEvent {
            at: at(position),
            action: action.unwrap_or_else(|_| panic!("{what} is nothing a left hand does")),
            finger: None,
            string: None,
            fret: None,
            place,
            implied: None,
        };
        for word in words {
            let number = |letter: char| word.strip_prefix(letter).map(|digits| digits.parse().unwrap());
            match (number('s'), number('f')) {
                (Some(string), _) => event.string = Some(string),
                (_, Some(fret)) => event.fret = Some(fret),
                _ => event.finger = Some(word.parse().unwrap()),
            }
        }
        self.last_pattern().left.push(event);
        self
    }

    /// How long the stroke last given lasts, in counts.
    pub fn lasts(mut self, over: i64, under: i64) -> Self {
        let last = self.line.1;
        let strokes = &mut self.last_pattern().strokes;
        let stroke = strokes.iter_mut().rfind(|stroke| stroke.place.span.end == last);
        stroke.expect("a stroke on this line").length = Some(Counts::new(over, under));
        self
    }

    /// A caution on this line that names these counts.
    pub fn caution(mut self, counts: &str) -> Self {
        let caution = Caution {
            about: String::new(),
            place: self.place(),
            counts: counts.split(' ').map(at).collect(),
        };
        self.lesson.cautions.push(caution);
        self
    }

    /// `down i`, `pluck p s5 f0 (A)`, `golpe a`; `l3` is the left-hand finger.
    pub fn stroke(mut self, position: &str, what: &str) -> Self {
        let mut place = self.place();
        place.span.start = place.span.end.saturating_sub(1);
        let mut words = what.split(' ');
        let action = serde_json::from_value(words.next().unwrap_or_default().into());
        let action: Action = action.unwrap_or_else(|_| panic!("{what} is no stroke"));
        let mut stroke = Stroke::new(at(position), action, place);
        for word in words {
            add_word(&mut stroke, word);
        }
        let pattern = self.last_pattern();
        pattern.strokes.push(stroke);
        pattern.strokes.sort_by_key(|stroke| (stroke.at, stroke.action));
        self
    }

    pub fn folder(&self) -> Folder {
        let ids = 0..=self.file.0;
        let files = ids.map(|id| {
            let text = if id == self.file.0 {
                self.text.clone()
            } else {
                String::new()
            };
            SourceText::new(FileId(id), format!("note-{id}.notes.txt"), text)
        });
        let mut offset = 0;
        let cues = self.text.lines().zip(&self.times).map(|(line, time)| {
            let start = offset;
            offset += line.len() + 1;
            Cue {
                file: self.file,
                text: line.to_owned(),
                map: vec![(0, start)],
                time: *time,
                until: None,
                word_times: Vec::new(),
                speaker: None,
                private: false,
            }
        });
        let cues = cues.collect();
        Folder {
            files: files.collect(),
            notes: vec![Note {
                file: self.file,
                kind: self.kind,
                stem: self.lesson.id.clone(),
                language: None,
                head: Vec::new(),
                cues,
            }],
            ..Folder::default()
        }
    }

    /// All findings of the lesson by itself.
    pub fn findings(&self) -> Vec<Finding> {
        judge(&self.folder(), std::slice::from_ref(&self.lesson))
    }
}

fn add_word(stroke: &mut Stroke, word: &str) {
    let finger = match word {
        "p" => Some(Finger::P),
        "i" => Some(Finger::I),
        "m" => Some(Finger::M),
        "a" => Some(Finger::A),
        "x" => Some(Finger::X),
        _ => None,
    };
    if let Some(finger) = finger {
        stroke.fingers.push(finger);
    } else if let Some(string) = word.strip_prefix('s') {
        stroke.strings.push(string.parse().unwrap());
    } else if let Some(left) = word.strip_prefix('l') {
        stroke.left = Some(left.parse().unwrap());
    } else if let Some(fret) = word.strip_prefix('f') {
        stroke.fret = Some(fret.parse().unwrap());
    } else {
        stroke.note = NoteName::parse(word.trim_matches(['(', ')']));
    }
}

fn judge(folder: &Folder, lessons: &[Lesson]) -> Vec<Finding> {
    checks::judge(&Context::new(folder, lessons, PaloTable::ours())).findings
}

/// All findings of several lessons together, each in a file of its own.
pub fn findings_of(lessons: &[Told]) -> Vec<Finding> {
    let mut folder = Folder::default();
    for told in lessons {
        let mut own = told.folder();
        folder.files.push(own.files.pop().expect("its own file"));
        folder.notes.append(&mut own.notes);
    }
    let lessons: Vec<Lesson> = lessons.iter().map(|told| told.lesson.clone()).collect();
    judge(&folder, &lessons)
}

/// `rule@line severity` of each finding, as a table to compare with.
pub fn table(findings: &[Finding]) -> Vec<String> {
    let row = |finding: &Finding| {
        let severity = format!("{:?}", finding.severity).to_lowercase();
        format!("{}@{} {severity}", finding.rule, finding.place.line)
    };
    findings.iter().map(row).collect()
}
