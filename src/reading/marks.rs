//! What a note says to the checks: `(let stand RULE-ID: reason)`, in Spanish `(se queda RULE-ID: motivo)`.

use std::sync::LazyLock;

use regex::Regex;

use crate::intake::{Folder, Note};
use crate::music::lesson::LetStand;

static MARK: LazyLock<Option<Regex>> =
    LazyLock::new(|| Regex::new(r"(?i)\((?:let\s+stand|se\s+queda)\s+([a-z][a-z-]*)\s*(?::\s*([^)]*))?\)").ok());

/// Takes the marks out of a note: blanks stand where they stood, so that every other word keeps its place.
pub fn take_out(folder: &Folder, note: &mut Note) -> Vec<LetStand> {
    let mut marks = Vec::new();
    let Some(mark) = MARK.as_ref() else { return marks };
    for cue in &mut note.cues {
        let Some(file) = folder.files.get(cue.file.0 as usize) else {
            continue;
        };
        if !cue.text.contains('(') {
            continue;
        }
        let mut blanked = cue.text.clone();
        for found in mark.captures_iter(&cue.text) {
            let Some(whole) = found.get(0) else { continue };
            let words = |group: usize| found.get(group).map_or("", |words| words.as_str());
            marks.push(LetStand {
                rule: words(1).to_owned(),
                reason: words(2).split_whitespace().collect::<Vec<_>>().join(" "),
                place: file.place(cue.source_span(whole.start(), whole.end()), cue.time_at(whole.start())),
            });
            let blanks: String = whole
                .as_str()
                .bytes()
                .map(|byte| if byte == b'\n' { '\n' } else { ' ' })
                .collect();
            blanked.replace_range(whole.range(), &blanks);
        }
        cue.text = blanked;
    }
    marks
}
