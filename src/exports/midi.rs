//! A score as a Standard MIDI File (format 1): guitar, golpe, palmas and click on tracks of their own.
//!
//! Pitches are those that sound, capo included. Each string has a channel of its own, so that two strings may sound one
//! pitch. Strums are spread as on the practice track. Each version is marked where it begins; the metre is that of the
//! compás. What the lesson leaves open makes no note and stands as a text. Moments are rounded from the start of the
//! file: nothing drifts. A free palo has no metre, which the format cannot say: it gives none.

use midly::num::{u4, u7, u15, u24, u28};
use midly::{Format, Header, MetaMessage, MidiMessage, Smf, Timing, Track, TrackEvent, TrackEventKind};

use super::bars::{self, Measure};
use crate::practice::score::{Event, Kind, Layer, Pulses, Score};
use crate::sound::{self, Choice, Click, Palmas};

/// Ticks in a quarter note: halves, thirds, quarters, fifths, sixths, eighths fall on whole ticks.
const TICKS: u16 = 960;
/// General MIDI: acoustic guitar (nylon) is 25 in the printed list, 24 on the wire.
const NYLON: u8 = 24;
/// Channel 10 of the printed list is the percussion.
const PERCUSSION: u8 = 9;
/// General MIDI percussion: side stick for the golpe, hand clap for palmas, claves for the click.
const SIDE_STICK: u8 = 37;
const HAND_CLAP: u8 = 39;
const CLAVES: u8 = 75;
/// A nylon string is hardly heard after so many seconds: a figure of ours; it ends there at the latest.
const LONGEST: f64 = 4.0;
/// How long a knock or a clap is held, in ticks: percussion does not ring by its length.
const KNOCK: i64 = 60;

/// The bytes of the file: the count that leads in, if any, and the score as often as chosen. None for a score too long
/// or too slow to be written.
pub fn midi(lead: Option<&Score>, score: &Score, choice: &Choice) -> Option<Vec<u8>> {
    let header = Header::new(Format::Parallel, Timing::Metrical(u15::try_from(TICKS)?));
    let mut file = Smf::new(header);
    let sheet = Sheet::new(lead, score, choice);
    file.tracks.push(sheet.conductor()?);
    file.tracks.push(sheet.guitar()?);
    let knocks: [(&[u8], Vec<Note>); 4] = [
        (b"Golpe", sheet.golpes()),
        (b"Palmas", sheet.claps(Layer::Base)),
        (b"Palmas, contras", sheet.claps(Layer::Contra)),
        (b"Click", sheet.clicks()),
    ];
    for (name, notes) in knocks.into_iter().filter(|(_, notes)| !notes.is_empty()) {
        file.tracks.push(sheet.percussion(name, &notes)?);
    }
    let mut bytes = Vec::new();
    file.write_std(&mut bytes).ok()?;
    Some(bytes)
}

/// One note from a tick to a tick.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Note {
    from: i64,
    to: i64,
    channel: u8,
    key: u8,
    velocity: u8,
}

/// A string that sounds: its fret, and its note in the list.
#[derive(Debug, Clone, Copy)]
struct Ringing {
    string: u8,
    fret: u8,
    note: usize,
}

/// What is written, and where each of it stands in time.
struct Sheet<'a> {
    choice: &'a Choice,
    score: &'a Score,
    lead: Option<&'a Score>,
    pulses_in_quarter: i64,
    /// The moments, in pulses, at which the score is begun.
    starts: Vec<Pulses>,
    end: Pulses,
}

impl<'a> Sheet<'a> {
    fn new(lead: Option<&'a Score>, score: &'a Score, choice: &'a Choice) -> Self {
        let first = lead.map_or(Pulses::from_integer(0), |lead| lead.length);
        let start = |time: u32| first + score.length * Pulses::from_integer(i64::from(time));
        Self {
            pulses_in_quarter: bars::pulses_in_quarter(score),
            starts: (0..choice.times).map(start).collect(),
            end: start(choice.times),
            choice,
            score,
            lead,
        }
    }

    fn tick(&self, at: Pulses) -> i64 {
        let ticks = Pulses::new(i64::from(TICKS), self.pulses_in_quarter);
        (at * ticks).round().to_integer()
    }

    fn ticks_in(&self, seconds: f64) -> i64 {
        let pulses = seconds / self.choice.seconds_per_pulse();
        (pulses * f64::from(TICKS) / self.pulses_in_quarter as f64).round() as i64
    }

    /// Tempo, metre and the names of what is played: the first track of a format 1 file.
    fn conductor(&self) -> Option<Track<'_>> {
        let quarter = self.choice.seconds_per_pulse() * self.pulses_in_quarter as f64;
        let micros = u24::try_from((quarter * 1e6).round() as u32)?;
        let mut metas = vec![
            (0, MetaMessage::TrackName(self.score.title.as_bytes())),
            (0, MetaMessage::Tempo(micros)),
        ];
        let mut metre = None;
        let zero = Pulses::from_integer(0);
        let lead = self.lead.map(|lead| (lead, zero)).into_iter();
        for (score, start) in lead.chain(self.starts.iter().map(|start| (self.score, *start))) {
            for measure in bars::measures(score) {
                let at = self.tick(start + measure.from);
                let said = time_signature(&measure, self.pulses_in_quarter);
                if said.is_some() && said != metre {
                    metre = said;
                    metas.extend(said.map(|(count, value)| (at, MetaMessage::TimeSignature(count, value, 24, 8))));
                }
            }
            for passage in &score.passages {
                metas.push((
                    self.tick(start + passage.from),
                    MetaMessage::Marker(passage.name.as_bytes()),
                ));
            }
        }
        metas.sort_by_key(|(at, _)| *at);
        let events = metas.into_iter().map(|(at, meta)| (at, TrackEventKind::Meta(meta)));
        timed(events.collect(), self.tick(self.end))
    }

    fn guitar(&self) -> Option<Track<'_>> {
        let mut events = vec![(0, TrackEventKind::Meta(MetaMessage::TrackName(b"Guitar")))];
        for channel in 0..6 {
            let (channel, program) = (u4::try_from(channel)?, u7::try_from(NYLON)?);
            let message = MidiMessage::ProgramChange { program };
            events.push((0, TrackEventKind::Midi { channel, message }));
        }
        if self.choice.guitar {
            for (start, event) in self.events() {
                if let Some(open) = &event.open {
                    let at = self.tick(start + event.at);
                    events.push((at, TrackEventKind::Meta(MetaMessage::Text(open.as_bytes()))));
                }
            }
            played(&mut events, &self.strings())?;
        }
        events.sort_by_key(|(at, _)| *at);
        timed(events, self.tick(self.end))
    }

    fn percussion(&self, name: &'static [u8], notes: &[Note]) -> Option<Track<'_>> {
        let mut events = vec![(0, TrackEventKind::Meta(MetaMessage::TrackName(name)))];
        played(&mut events, notes)?;
        timed(events, self.tick(self.end))
    }

    /// Every event of the score, as often as it is played.
    fn events(&self) -> impl Iterator<Item = (Pulses, &'a Event)> + '_ {
        let score = self.score;
        self.starts
            .iter()
            .flat_map(move |start| score.events.iter().map(|event| (*start, event)))
    }

    /// The strings by the rule of the score: struck again, damped, or left by the hand; or died away.
    fn strings(&self) -> Vec<Note> {
        let end = self.tick(self.end);
        let mut notes: Vec<Note> = Vec::new();
        let mut ringing: Vec<Ringing> = Vec::new();
        for (start, event) in self.events() {
            let at = self.tick(start + event.at);
            if let Some(hand) = event.hand {
                stop(&mut notes, &mut ringing, at, |one| {
                    sound::stops(&hand, one.string, one.fret)
                });
            }
            if event.kind == Kind::Damp {
                stop(&mut notes, &mut ringing, at, |_| true);
            }
            for touch in sound::touches(event, self.choice.seconds_per_pulse(), self.choice.hands) {
                let from = at + self.ticks_in(touch.after);
                stop(&mut notes, &mut ringing, from, |one| one.string == touch.string);
                ringing.push(Ringing {
                    string: touch.string,
                    fret: touch.fret,
                    note: notes.len(),
                });
                notes.push(Note {
                    from,
                    to: (from + self.ticks_in(LONGEST)).min(end.max(from + 1)),
                    channel: touch.string.clamp(1, 6) - 1,
                    key: touch.pitch.saturating_add(self.score.strings.capo).min(127),
                    velocity: velocity(event.level),
                });
            }
        }
        notes.retain(|note| note.from < note.to);
        notes
    }

    fn golpes(&self) -> Vec<Note> {
        if !self.choice.golpe {
            return Vec::new();
        }
        let golpes = self.events().filter(|(_, event)| event.kind == Kind::Golpe);
        golpes
            .map(|(start, event)| knock(self.tick(start + event.at), SIDE_STICK, event.level))
            .collect()
    }

    fn claps(&self, layer: Layer) -> Vec<Note> {
        let heard = match layer {
            Layer::Base => matches!(self.choice.palmas, Palmas::Base | Palmas::Both),
            Layer::Contra => matches!(self.choice.palmas, Palmas::Contra | Palmas::Both),
        };
        let claps = || self.score.palmas.iter().filter(|clap| heard && clap.layer == layer);
        let mut notes: Vec<Note> = Vec::new();
        for start in &self.starts {
            for clap in claps() {
                let note = knock(self.tick(*start + clap.at), HAND_CLAP, clap.level);
                // Two people who clap at one moment are one note, as loud as the louder.
                match notes.iter_mut().rfind(|known| known.from == note.from) {
                    Some(known) => known.velocity = known.velocity.max(note.velocity),
                    None => notes.push(note),
                }
            }
        }
        notes
    }

    fn clicks(&self) -> Vec<Note> {
        let tick =
            |start: Pulses, pulses: f64| self.tick(start) + self.ticks_in(pulses * self.choice.seconds_per_pulse());
        let click =
            |start: Pulses, (at, strong): (f64, bool)| knock(tick(start, at), CLAVES, if strong { 100 } else { 70 });
        let lead = self
            .lead
            .map(|lead| sound::clicks(lead, Click::Counts))
            .unwrap_or_default();
        let mut notes: Vec<Note> = lead
            .into_iter()
            .map(|one| click(Pulses::from_integer(0), one))
            .collect();
        for start in &self.starts {
            let clicks = sound::clicks(self.score, self.choice.click);
            notes.extend(clicks.into_iter().map(|one| click(*start, one)));
        }
        notes
    }
}

/// As the format writes it: so many, of two to the power of so many.
fn time_signature(measure: &Measure, pulses_in_quarter: i64) -> Option<(u8, u8)> {
    let metre = measure.metre(pulses_in_quarter)?;
    let count = u8::try_from(metre.parts.iter().sum::<i64>()).ok()?;
    Some((count, u8::try_from(metre.value.trailing_zeros()).ok()?))
}

fn knock(from: i64, key: u8, level: u8) -> Note {
    Note {
        from,
        to: from + KNOCK,
        channel: PERCUSSION,
        key,
        velocity: velocity(level),
    }
}

/// Level 0 to 100 as velocity 1 to 127.
fn velocity(level: u8) -> u8 {
    (u16::from(level.min(100)) * 127 / 100).clamp(1, 127) as u8
}

/// Ends the strings that `which` names.
fn stop(notes: &mut [Note], ringing: &mut Vec<Ringing>, at: i64, which: impl Fn(&Ringing) -> bool) {
    ringing.retain(|one| {
        let ends = which(one);
        if let Some(note) = notes.get_mut(one.note).filter(|_| ends) {
            note.to = note.to.min(at.max(note.from));
        }
        !ends
    });
}

/// Notes as messages; at one tick what ends comes before what begins.
fn played(events: &mut Vec<(i64, TrackEventKind)>, notes: &[Note]) -> Option<()> {
    let mut played: Vec<(i64, bool, Note)> = Vec::new();
    for note in notes {
        played.push((note.from, true, *note));
        played.push((note.to, false, *note));
    }
    played.sort_by_key(|(at, begins, note)| (*at, *begins, note.channel, note.key));
    for (at, begins, note) in played {
        let channel = u4::try_from(note.channel)?;
        let key = u7::try_from(note.key)?;
        let message = if begins {
            let vel = u7::try_from(note.velocity)?;
            MidiMessage::NoteOn { key, vel }
        } else {
            MidiMessage::NoteOff { key, vel: u7::from(0) }
        };
        events.push((at, TrackEventKind::Midi { channel, message }));
    }
    Some(())
}

/// Events at their ticks become a track that ends at `end` or with its last event.
fn timed<'a>(events: Vec<(i64, TrackEventKind<'a>)>, end: i64) -> Option<Track<'a>> {
    let mut track = Track::new();
    let mut before = 0;
    let last = events.last().map_or(0, |(at, _)| *at).max(end);
    let closing = (last, TrackEventKind::Meta(MetaMessage::EndOfTrack));
    for (at, kind) in events.into_iter().chain([closing]) {
        let delta = u28::try_from(u32::try_from(at - before).ok()?)?;
        track.push(TrackEvent { delta, kind });
        before = at;
    }
    Some(track)
}
