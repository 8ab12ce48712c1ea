//! Who of several voices is the teacher.

use super::sentences::Sentence;

/// Of several voices the one that says most; none where there is only one.
pub fn main_speaker(sentences: &[Sentence]) -> Option<String> {
    let mut voices: std::collections::BTreeMap<&str, usize> = std::collections::BTreeMap::new();
    for sentence in sentences {
        if let Some(speaker) = sentence.speaker.as_deref() {
            *voices.entry(speaker).or_default() += sentence.text.len();
        }
    }
    (voices.len() > 1)
        .then(|| {
            voices
                .into_iter()
                .max_by_key(|(_, length)| *length)
                .map(|(name, _)| name.to_owned())
        })
        .flatten()
}
