//! What the plan rests on, and the cautions.

use super::{Arrangement, Remark};
use crate::practice::words::Words;

/// Keys of the words, with keys of their sources.
const RULES: [(&str, &str); 6] = [
    ("about-spacing", "SIM CEP LAT"),
    ("about-split", "CAR STA MAT"),
    ("about-twins", "ALL"),
    ("about-ladder", "HEN"),
    ("about-clean", "DUK"),
    ("about-rest", "DU2 HOR"),
];

const CAUTIONS: [(&str, &str); 4] = [
    ("caution-warm", "HOR"),
    ("caution-load", "ACK BAP"),
    ("caution-pain", "BAP"),
    ("caution-ears", "NIO"),
];

/// What the rules rest on, the chosen arrangement first.
pub fn about(arrangement: Arrangement, words: Words) -> Vec<Remark> {
    let chosen = match arrangement {
        Arrangement::Blocked => "about-blocked",
        Arrangement::Rotated => "about-rotated",
    };
    let chosen = Remark {
        text: words.say(chosen, &[]),
        sources: Vec::new(),
    };
    std::iter::once(chosen)
        .chain(RULES.map(|rule| remark(words, rule)))
        .collect()
}

pub fn cautions(words: Words) -> Vec<Remark> {
    CAUTIONS.map(|caution| remark(words, caution)).to_vec()
}

fn remark(words: Words, (key, sources): (&str, &str)) -> Remark {
    Remark {
        text: words.say(key, &[]),
        sources: sources.split(' ').map(str::to_owned).collect(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::music::source::citation;

    #[test]
    fn every_source_is_in_the_list() {
        for (key, sources) in RULES.iter().chain(&CAUTIONS) {
            for source in sources.split(' ') {
                assert!(citation(source).is_some(), "{key}: {source}");
            }
        }
    }
}
