//! The facts of a lesson as this test reads them: nothing of the program is used.

use serde::Deserialize;
use serde_json::Value;

#[derive(Debug, Default, Deserialize)]
#[serde(default)]
pub struct Gold {
    pub lesson: OfLesson,
    pub chords: Vec<Chord>,
    pub patterns: Vec<Pattern>,
}

#[derive(Debug, Default, Deserialize)]
#[serde(default)]
pub struct OfLesson {
    pub palo: Option<String>,
    pub meter: Meter,
    pub tempo: Option<Tempo>,
    pub capo: Option<i64>,
}

#[derive(Debug, Default, Deserialize)]
#[serde(default)]
pub struct Meter {
    pub beats: Option<i64>,
    accents: Vec<Value>,
}

#[derive(Debug, Deserialize)]
pub struct Tempo {
    pub low: i64,
    pub high: i64,
}

#[derive(Debug, Deserialize)]
pub struct Chord {
    pub name: String,
    pub frets: Option<String>,
}

#[derive(Debug, Default, Deserialize)]
#[serde(default)]
pub struct Pattern {
    pub kind: String,
    pub beats: Option<[i64; 2]>,
    pub strokes: Vec<Struck>,
}

#[derive(Debug, PartialEq, Deserialize)]
pub struct Struck {
    pub at: String,
    #[serde(rename = "do")]
    action: String,
    #[serde(default)]
    with: Vec<String>,
    #[serde(default)]
    strings: Vec<i64>,
    pub note: Option<String>,
}

impl Gold {
    /// Counts as they are written: `3`, `2+1/2`.
    pub fn accents(&self) -> Vec<String> {
        let shown = |accent: &Value| accent.as_str().map_or_else(|| accent.to_string(), str::to_owned);
        self.lesson.meter.accents.iter().map(shown).collect()
    }
}

impl Struck {
    pub fn count(&self) -> i64 {
        self.at
            .split('+')
            .next()
            .and_then(|count| count.parse().ok())
            .unwrap_or(0)
    }
}
