//! What a guitarist means: counts, strokes, hands, chords, keys, patterns, lessons.
//!
//! Plain data and arithmetic; no parsing of prose, no files, no HTML. Time is exact.
//! Start reading at [`lesson`], then [`pattern`], [`stroke`], [`position`].

/// A moment in the compás: a count and an exact fraction of it.
pub mod position;

/// The right-hand fingers, the strings, the fingers of the left hand.
pub mod hand;

/// What the right hand does at a moment.
pub mod stroke;

/// Names of pitches, and strings with frets as pitches.
pub mod pitch;

/// Pitches as numbers: MIDI, frequency, written against sounding.
pub mod tone;

/// The neck: pitches at frets, distances in millimetres.
pub mod fretboard;

/// How a pitch is written in a key; the scales of the modes.
pub mod spelling;

/// The toques and their cadences.
pub mod cadence;

/// Chord names and chord shapes.
pub mod chord;

/// The notes that a chord's name asks for.
pub mod chord_tones;

/// What a shape sounds, and whether it contradicts its name.
pub mod chord_naming;

/// Shapes for a name, the easiest reach first.
pub mod chord_shaping;

/// The key as fingered, and the capo that moves it.
pub mod key;

/// What the left hand does over time.
pub mod left_hand;

/// Core, variation, falseta: strokes over a span of counts.
pub mod pattern;

/// Everything one lesson taught.
pub mod lesson;

/// What a text says that the rest of its lesson can be held against.
pub mod remark;

/// What a figure rests on.
pub mod source;

/// The palos: compás, accents, palmas, tempo ranges, keys, each figure with its source.
pub mod palo;

/// The techniques: ids, names, what they are.
pub mod technique;

/// The words of the trade.
pub mod glossary;

/// The compás that a lesson turns in, its tempo, and where moments fall.
pub mod round;

/// Measures on rhythms: distances, off-beatness, evenness.
pub mod rhythm;

/// Palos near each other, variations near and far, beats against the accents.
pub mod leaning;

/// The core with variations in place: vueltas as they are played.
pub mod version;

/// What the left hand holds over time, and what stands in the way.
pub mod held;

/// One version followed by another: whether, and what it costs the hands.
pub mod joins;

/// How far a left hand reaches.
pub mod reach;

/// Strokes a second of each finger of the right hand.
pub mod right_hand;

/// Rasgueados, tremolos and alzapúas stroke by stroke.
pub mod rolled_out;

/// Fingers of the right hand that cross in a quick run.
pub mod crossing;

/// Notes that the left hand sounds by itself.
pub mod ligado;
