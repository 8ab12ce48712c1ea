use num_rational::Ratio;

use super::element::{Element, el, text};
use super::{Page, in_divisions, note};
use crate::exports::bars::{Measure, Metre};
use crate::music::key::{Key, Mode};
use crate::music::spelling;
use crate::practice::score::{PaceGiven, PaceUnit};

/// Titles and the one part, without its music.
pub(super) fn document(page: &Page) -> Element {
    let title = page.lesson.title.as_ref().map(|title| title.value.trim());
    let work = title.filter(|title| !title.is_empty());
    let instrument = el("score-part")
        .attr("id", "P1")
        .with(text("part-name", "Guitar"))
        .with(
            el("score-instrument")
                .attr("id", "P1-I1")
                .with(text("instrument-name", "Guitar"))
                .with(text("instrument-sound", "pluck.guitar.nylon-string")),
        )
        .with(
            el("midi-instrument")
                .attr("id", "P1-I1")
                .with(text("midi-channel", 1))
                .with(text("midi-program", 25)),
        );
    el("score-partwise")
        .attr("version", "4.0")
        .with_all(work.map(|title| el("work").with(text("work-title", title))))
        .with(text("movement-title", &page.score.title))
        .with(el("identification").with(el("encoding").with(text("software", "Compasario"))))
        .with(el("part-list").with(instrument))
}

/// Metre, and at the first bar what holds throughout.
pub(super) fn attributes(page: &Page, divisions: i64, metre: Option<&Metre>, first: bool) -> Element {
    let time = time(metre, page.score.counts.is_empty());
    if !first {
        return el("attributes").with(time);
    }
    let capo = page.score.strings.capo;
    let tunings = page.score.strings.tuning.iter().enumerate().rev();
    let tunings = tunings.zip(1..).map(|((_, open), line)| {
        let (name, octave) = note::spelled(*open, None);
        el("staff-tuning")
            .attr("line", line)
            .with(text("tuning-step", name.letter))
            .with_all((name.alter != 0).then(|| text("tuning-alter", name.alter)))
            .with(text("tuning-octave", octave))
    });
    let clef = |number: u8, sign: &'static str, line: u8| {
        el("clef")
            .attr("number", number)
            .with(text("sign", sign))
            .with(text("line", line))
    };
    el("attributes")
        .with(text("divisions", divisions))
        .with_all(page.lesson.key.as_ref().and_then(|key| signature(key.value)))
        .with(time)
        .with(text("staves", 2))
        .with(clef(1, "G", 2).with(text("clef-octave-change", -1)))
        .with(clef(2, "TAB", 5))
        .with(
            el("staff-details")
                .attr("number", 2)
                .with(text("staff-lines", 6))
                .with_all(tunings)
                .with_all((capo > 0).then(|| text("capo", capo))),
        )
        .with_all((capo > 0).then(|| el("transpose").with(text("chromatic", capo))))
}

/// Sharps (or flats, below zero) of a key; None for one that no signature of seven writes.
fn signature(key: Key) -> Option<Element> {
    let mode = match key.mode {
        Mode::Major => "major",
        Mode::Minor => "minor",
        Mode::Phrygian => "phrygian",
    };
    let fifths: i64 = spelling::notes(key)?.iter().map(|note| i64::from(note.alter)).sum();
    (-7..=7)
        .contains(&fifths)
        .then(|| el("key").with(text("fifths", fifths)).with(text("mode", mode)))
}

fn time(metre: Option<&Metre>, free: bool) -> Element {
    let Some(metre) = metre else {
        let time = el("time").with(el("senza-misura"));
        return if free { time } else { time.attr("print-object", "no") };
    };
    let parts: Vec<String> = metre.parts.iter().map(i64::to_string).collect();
    el("time")
        .with(text("beats", parts.join("+")))
        .with(text("beat-type", metre.value))
}

/// What stands above a bar: the version that begins, the tempo, the counts as said aloud.
pub(super) fn directions(page: &Page, measure: &Measure, divisions: i64, first: bool) -> Vec<Element> {
    let above = || el("direction").attr("placement", "above");
    let kind = |inner: Element| el("direction-type").with(inner);
    let mut row = Vec::new();
    let name = measure.name.as_deref().map(str::trim).filter(|name| !name.is_empty());
    row.extend(name.map(|name| above().with(kind(text("rehearsal", name))).with(text("staff", 1))));
    let tempo = &page.score.tempo;
    if first && tempo.unit != PaceUnit::Move {
        let unit = if page.pulses_in_quarter == 2 {
            "eighth"
        } else {
            "quarter"
        };
        // What the lesson does not say stands in brackets.
        let said = if tempo.given == PaceGiven::Said { "no" } else { "yes" };
        let metronome = el("metronome")
            .attr("parentheses", said)
            .with(text("beat-unit", unit))
            .with(text("per-minute", i64::from(page.per_minute) * tempo.unit_pulses));
        let quarters = Ratio::new(i64::from(page.per_minute) * tempo.unit_pulses, page.pulses_in_quarter);
        let sound = el("sound").attr("tempo", *quarters.numer() as f64 / *quarters.denom() as f64);
        row.push(above().with(kind(metronome)).with(text("staff", 1)).with(sound));
    }
    let counts = measure.counts.iter().map(|mark| {
        let after = (mark.at - measure.from) / Ratio::from_integer(page.pulses_in_quarter);
        let weight = if mark.accent { "bold" } else { "normal" };
        let offset = in_divisions(after, divisions);
        above()
            .with(kind(text("words", mark.count).attr("font-weight", weight)))
            .with_all((offset != 0).then(|| text("offset", offset)))
            .with(text("staff", 1))
    });
    row.extend(counts);
    row
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::music::pitch::NoteName;

    /// The signatures of the keys that flamenco is played in: the circle of fifths (common knowledge of the trade);
    /// a Phrygian key has the signature of the major a major third below.
    #[test]
    fn signatures_of_keys() {
        let table = [
            ("E", Mode::Phrygian, 0),
            ("A", Mode::Phrygian, -1),
            ("B", Mode::Phrygian, 1),
            ("F#", Mode::Phrygian, 2),
            ("E", Mode::Major, 4),
            ("A", Mode::Minor, 0),
            ("D", Mode::Minor, -1),
        ];
        for (tonic, mode, fifths) in table {
            let tonic = NoteName::parse(tonic).unwrap();
            let written = signature(Key { tonic, mode });
            let mode = match mode {
                Mode::Major => "major",
                Mode::Minor => "minor",
                Mode::Phrygian => "phrygian",
            };
            let expected = el("key").with(text("fifths", fifths)).with(text("mode", mode));
            assert_eq!(written, Some(expected), "{tonic} {mode}");
        }
    }
}
