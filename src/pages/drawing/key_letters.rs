//! What a drawing writes instead of drawing: parts of a count, and the letter of the little finger.

use num_rational::Ratio;

use super::key::KeyItem;
use super::rows::part_sign;
use super::scene::Scene;
use super::svg::Svg;
use crate::pages::labels::Labels;

/// Parts of a count that the page on reading the drawings explains.
pub fn usual_parts() -> [Ratio<i64>; 5] {
    [(1, 2), (1, 3), (2, 3), (1, 4), (3, 4)].map(|(over, under)| Ratio::new(over, under))
}

/// The parts of counts that one drawing writes, each once.
pub fn parts_used(scene: &Scene) -> Vec<Ratio<i64>> {
    if scene.axis.free {
        return Vec::new();
    }
    let columns = &scene.axis.columns;
    let drawn =
        |accent: &crate::music::position::Position| columns.iter().any(|column| column.in_round == accent.whole());
    let accents = scene.compas.accents.iter().copied().filter(drawn);
    let moments = scene.moments.iter().map(|moment| moment.at);
    let mut parts: Vec<Ratio<i64>> = moments.chain(accents).map(|at| at.fraction()).collect();
    parts.retain(|part| *part.numer() != 0);
    parts.sort();
    parts.dedup();
    parts
}

pub fn part_of_count(part: Ratio<i64>, labels: &Labels) -> KeyItem {
    let words = match (*part.numer(), *part.denom()) {
        (1, 2) => "key_part_half",
        (1, 3) => "key_part_third",
        (2, 3) => "key_part_two_thirds",
        (1, 4) => "key_part_quarter",
        (3, 4) => "key_part_three_quarters",
        _ => "key_part_other",
    };
    written("d-part", &part_sign(part, labels), labels.get(words))
}

/// As the writer of the note writes it: x, e, c or ch.
pub fn little_finger(letter: &str, labels: &Labels) -> KeyItem {
    written("d-finger", letter, labels.get("key_little_finger"))
}

fn written(class: &str, text: &str, words: &str) -> KeyItem {
    let mut svg = Svg::default();
    svg.text(class, (11.0, 19.0), text);
    KeyItem {
        svg: svg.finish_silent("drawing-sign", 22.0, 30.0),
        words: words.to_owned(),
        only: None,
    }
}
