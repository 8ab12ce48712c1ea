//! Reads a drawing back from what can be seen in it: shapes, letters and where they stand. Attributes that only a
//! program sees (`data-…`) are not looked at. What comes back must be what was drawn.

use roxmltree::{Document, Node};

/// A stroke as a person would write it down from the picture.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Default)]
pub struct Seen {
    pub at: String,
    pub action: String,
    pub fingers: Vec<String>,
    pub strings: Vec<u8>,
    pub note: String,
    pub rest_stroke: bool,
}

struct Label {
    x: f64,
    y: f64,
    moment: String,
}

/// Strokes and chord changes (moment, name) of one drawing.
pub fn read(svg: &str) -> (Vec<Seen>, Vec<(String, String)>) {
    let document = Document::parse(svg).unwrap();
    let labels = labels(&document);
    let lines: Vec<f64> = with_class(&document, "d-string").map(|line| path(&line)[0].1).collect();
    let mut strokes: Vec<Seen> = Vec::new();
    let mut notes: Vec<(String, Vec<u8>, String)> = Vec::new();
    for group in with_class(&document, "stroke") {
        let parts: Vec<Node> = group.children().collect();
        let has = |class: &str| parts.iter().any(|part| is(part, class));
        let (x, y) = anchor(&parts);
        let at = moment(&labels, x, y);
        if has("d-fret") || has("d-plate") || has("d-reach") || (parts.len() == 1 && has("d-note")) {
            let strings = parts
                .iter()
                .filter(|part| is(part, "d-fret") || is(part, "d-sign") || is_open_string(part));
            let mut strings: Vec<u8> = strings
                .filter_map(|part| string(&lines, number(part, "y").or(number(part, "cy"))?))
                .collect();
            strings.sort();
            strings.dedup();
            let note = parts
                .iter()
                .find(|part| is(part, "d-note"))
                .and_then(Node::text)
                .unwrap_or_default();
            notes.push((at, strings, note.replace('♭', "b").replace('♯', "#")));
        } else if !has("d-damped") {
            strokes.push(Seen { at, ..stroke(&parts) });
        }
    }
    for (at, strings, note) in notes {
        let taker = strokes
            .iter_mut()
            .find(|stroke| stroke.at == at && !matches!(stroke.action.as_str(), "golpe" | "rest" | "damp"));
        let taker = taker.unwrap_or_else(|| panic!("notes at {at} belong to no stroke"));
        (taker.strings, taker.note) = (strings, note);
    }
    strokes.sort();
    let changes = with_class(&document, "d-chord").map(|text| {
        let at = moment(&labels, number(&text, "x").unwrap() + 6.0, number(&text, "y").unwrap());
        (at, text.text().unwrap().replace('♭', "b").replace('♯', "#"))
    });
    let mut changes: Vec<(String, String)> = changes.collect();
    changes.sort();
    (strokes, changes)
}

fn with_class<'a>(document: &'a Document, class: &'static str) -> impl Iterator<Item = Node<'a, 'a>> {
    document.descendants().filter(move |node| is(node, class))
}

fn is(node: &Node, class: &str) -> bool {
    node.attribute("class")
        .is_some_and(|classes| classes.split(' ').any(|one| one == class))
}

fn number(node: &Node, name: &str) -> Option<f64> {
    node.attribute(name)?.parse().ok()
}

/// The points of a path that are written out; the rest of a curve is left out.
fn path(node: &Node) -> Vec<(f64, f64)> {
    let d = node.attribute("d").unwrap_or_default();
    let mut points = Vec::new();
    for piece in d.split(['M', 'L']).skip(1) {
        let piece = piece
            .split(|c: char| c.is_ascii_alphabetic())
            .next()
            .unwrap_or_default();
        let mut numbers = piece.split(' ').filter_map(|number| number.parse::<f64>().ok());
        if let (Some(x), Some(y)) = (numbers.next(), numbers.next()) {
            points.push((x, y));
        }
    }
    points
}

/// What stands at the moment itself, in a group of shapes.
fn anchor(parts: &[Node]) -> (f64, f64) {
    for part in parts {
        if is(part, "d-rest") {
            let (x, y) = path(part)[0];
            return (x + 6.0, y);
        }
        if is(part, "d-zigzag") {
            let (x, y) = path(part)[0];
            return (x + 1.0, y);
        }
        if is(part, "d-knock") {
            return (number(part, "x").unwrap() + 5.0, number(part, "y").unwrap());
        }
        if is(part, "d-fret") || is(part, "d-note") {
            return (number(part, "x").unwrap(), number(part, "y").unwrap());
        }
        if is(part, "d-plate") || is(part, "d-damped") || (is(part, "d-sign") && part.has_tag_name("rect")) {
            if let Some(x) = number(part, "cx") {
                return (x, number(part, "cy").unwrap());
            }
            let middle = number(part, "x").unwrap() + number(part, "width").unwrap() / 2.0;
            return (middle, number(part, "y").unwrap());
        }
        if is(part, "d-left-line") {
            let points = path(part);
            return ((points[0].0 + points[1].0) / 2.0, points[0].1);
        }
        if part.has_tag_name("circle") {
            return (number(part, "cx").unwrap(), number(part, "cy").unwrap());
        }
        if (part.has_tag_name("path")) && !is(part, "d-thin") && !is(part, "d-slur") {
            return path(part)[0];
        }
    }
    panic!("nothing stands at a moment")
}

fn labels(document: &Document) -> Vec<Label> {
    let mut labels: Vec<Label> = Vec::new();
    let texts = document.descendants().filter(|node| node.has_tag_name("text"));
    let mut parts: Vec<(f64, f64, String)> = Vec::new();
    for text in texts {
        let (x, y) = (
            number(&text, "x").unwrap_or_default(),
            number(&text, "y").unwrap_or_default(),
        );
        let words = text.text().unwrap_or_default().to_owned();
        if is(&text, "d-count") || is(&text, "d-count-strong") || is(&text, "d-event") {
            labels.push(Label { x, y, moment: words });
        } else if is(&text, "d-part") || is(&text, "d-part-strong") {
            parts.push((x, y, words));
        }
    }
    for (x, _, words) in parts.iter().filter(|(_, _, words)| words.starts_with('=')) {
        let (_, y, _) = parts.iter().find(|part| &part.2 == words && part.0 == *x).unwrap();
        let label = labels
            .iter_mut()
            .filter(|label| label.x == *x && label.y < *y)
            .max_by(|a, b| a.y.total_cmp(&b.y));
        label.unwrap().moment = words.trim_start_matches('=').to_owned();
    }
    let counts: Vec<(f64, f64, String)> = labels
        .iter()
        .map(|label| (label.x, label.y, label.moment.clone()))
        .collect();
    for (x, y, words) in parts.into_iter().filter(|(_, _, words)| !words.starts_with('=')) {
        let before = counts
            .iter()
            .filter(|count| count.1 == y && count.0 < x)
            .max_by(|a, b| a.0.total_cmp(&b.0))
            .unwrap();
        let fraction = match words.as_str() {
            "&" | "y" => "1/2",
            "⅓" => "1/3",
            "⅔" => "2/3",
            "¼" => "1/4",
            "¾" => "3/4",
            other => other,
        };
        labels.push(Label {
            x,
            y,
            moment: format!("{}+{fraction}", before.2),
        });
    }
    labels
}

/// The moment of what stands at `x`: the label above it in its own line of the drawing.
fn moment(labels: &[Label], x: f64, y: f64) -> String {
    let line = labels
        .iter()
        .map(|label| label.y)
        .filter(|above| *above < y + 1.0)
        .fold(0.0, f64::max);
    let near = labels.iter().find(|label| label.y == line && (label.x - x).abs() < 0.6);
    near.unwrap_or_else(|| panic!("nothing is counted above {x} {y}"))
        .moment
        .clone()
}

fn string(lines: &[f64], y: f64) -> Option<u8> {
    let index = lines.iter().position(|line| (line - y).abs() < 5.0)?;
    Some(index as u8 % 6 + 1)
}

fn is_open_string(part: &Node) -> bool {
    is(part, "d-plate") && part.has_tag_name("circle")
}

fn stroke(parts: &[Node]) -> Seen {
    let has = |class: &str| parts.iter().any(|part| is(part, class));
    let count = |class: &str| parts.iter().filter(|part| is(part, class)).count();
    let circle = parts
        .iter()
        .any(|part| is(part, "d-sign") && part.has_tag_name("circle"));
    let bar = |part: &&Node| part.has_tag_name("rect") && number(part, "width") == Some(16.0);
    let action = if has("d-knock") {
        "golpe"
    } else if has("d-rest") {
        "rest"
    } else if has("d-ray") || has("d-ray-open") {
        "rasgueado"
    } else if has("d-zigzag") {
        "alzapua"
    } else if has("d-wave") {
        "roll"
    } else if has("d-slash") {
        "tremolo"
    } else if has("d-left-line") {
        if count("d-left-line") == 1 {
            "hammer-on"
        } else {
            "pull-off"
        }
    } else if has("d-stem") {
        let head = parts.iter().find(|part| is(part, "d-sign")).map(path).unwrap();
        if head[0].1 > head[1].1 { "down" } else { "up" }
    } else if circle {
        "pluck"
    } else if parts.iter().any(|part| is(part, "d-sign") && part.has_tag_name("path")) {
        "picado"
    } else {
        "damp"
    };
    let letters = parts.iter().filter(|part| is(part, "d-finger")).filter_map(Node::text);
    Seen {
        action: action.to_owned(),
        fingers: letters.flat_map(|text| text.split(' ').map(str::to_owned)).collect(),
        rest_stroke: action != "damp" && parts.iter().filter(bar).count() == 1,
        ..Seen::default()
    }
}
