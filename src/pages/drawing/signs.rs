//! The signs of the right and left hand: shapes of our own, each told apart without colour.
//!
//! A sign stands at its moment: `x` is that moment, `top` and `foot` the height it may use.

use super::svg::{Svg, number};

/// A sign of the drawing, for the drawing itself and for its key.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Sign {
    Accent,
    Down,
    Up,
    Pluck,
    Picado,
    RestStroke,
    FreeStroke,
    Rasgueado,
    Roll,
    Tremolo,
    Alzapua,
    Damp,
    Rest,
    StrokeAccent,
    Golpe,
    Hammer,
    PullOff,
    Fingertip,
    Lift,
    Keep,
    Slide,
    Shape,
    WorkedOut,
    Open,
    OpenArrival,
    Implied,
    Beyond,
    Held,
}

/// Where the rays of a rasgueado end, from the moment on: each finger as wide as its letters.
pub fn fan_ends(letters: &[String]) -> Vec<f64> {
    if letters.is_empty() {
        return (0..4).map(|finger| 11.5 * f64::from(finger)).collect();
    }
    let mut ends = vec![0.0];
    let mut at = 0.0;
    for pair in letters.windows(2) {
        let halves: f64 = pair.iter().map(|letter| half_width(letter)).sum();
        at += (halves + 3.5).max(11.5);
        ends.push(at);
    }
    ends
}

/// Half the width of a finger's letters as they are drawn: an m is wider than the others.
fn half_width(letters: &str) -> f64 {
    letters
        .chars()
        .map(|letter| if letter == 'm' { 6.5 } else { 4.0 })
        .sum()
}

/// Draws a sign of the right hand's row.
pub fn right(svg: &mut Svg, sign: Sign, x: f64, top: f64, foot: f64) {
    let middle = (top + foot) / 2.0;
    match sign {
        Sign::Down => {
            svg.line("d-stem", (x, top), (x, foot - 6.0));
            svg.path("d-sign", &triangle(x, foot, -11.0, 6.5));
        }
        Sign::Up => {
            svg.line("d-stem", (x, top + 6.0), (x, foot));
            svg.path("d-sign", &triangle(x, top, 11.0, 6.5));
        }
        Sign::Pluck => svg.circle("d-sign", (x, middle), 5.2),
        Sign::Picado => svg.path("d-sign", &seed(x, middle)),
        Sign::Tremolo => {
            svg.circle("d-sign", (x, foot - 4.5), 4.5);
            svg.line("d-thin", (x + 4.5, foot - 5.0), (x + 4.5, top));
            for step in 0..3 {
                let y = top + 4.0 + 4.5 * f64::from(step);
                svg.line("d-slash", (x, y + 2.5), (x + 9.0, y - 1.5));
            }
        }
        Sign::Roll => svg.path("d-wave", &wave(x, top, foot)),
        Sign::Alzapua => {
            let d = format!(
                "M{a} {t}L{a} {f}L{b} {t}L{b} {f}",
                a = number(x - 1.0),
                b = number(x + 9.0),
                t = number(top + 3.0),
                f = number(foot - 3.0)
            );
            svg.path("d-zigzag", &d);
            svg.path("d-sign", &triangle(x + 9.0, foot, -8.0, 5.0));
        }
        Sign::Damp => {
            svg.rect("d-sign", (x - 8.0, middle - 5.0), (16.0, 5.0), 1.5);
            for dx in [-8.0, -2.0, 4.0] {
                svg.rect("d-sign", (x + dx, middle - 2.0), (4.0, 9.0), 1.5);
            }
        }
        _ => {}
    }
}

/// The same fan over a longer time: each finger stands where it falls.
pub fn stretched(ends: Vec<f64>, reach: f64) -> Vec<f64> {
    let natural = ends.last().copied().unwrap_or(0.0);
    if natural <= 0.0 || reach <= natural {
        return ends;
    }
    ends.into_iter().map(|end| end * reach / natural).collect()
}

/// How far to the left of its end a ray begins: the hand opens no wider for being slow.
pub fn slant(reach: f64) -> f64 {
    (reach * 0.75).min(34.0)
}

/// The hand that opens: one ray a finger, the first at the moment itself.
pub fn fan(svg: &mut Svg, class: &str, x: f64, top: f64, foot: f64, ends: &[f64]) {
    for reach in ends {
        svg.line(class, (x + reach - slant(*reach), top + 1.0), (x + reach, foot - 2.0));
        svg.circle("d-sign", (x + reach, foot - 2.0), 2.4);
    }
}

/// Rest stroke: the dot comes to lie on a line, as the finger does on the next string.
pub fn rest_stroke(svg: &mut Svg, x: f64, y: f64) {
    svg.rect("d-sign", (x - 8.0, y + 6.4), (16.0, 2.8), 0.0);
}

/// Free stroke: the finger clears the next string.
pub fn free_stroke(svg: &mut Svg, x: f64, y: f64) {
    svg.path("d-thin", &format!("M{} {}q7 0 7 -9", number(x + 6.0), number(y + 3.0)));
}

/// A whole count of silence: a bracket as long as the count.
pub fn rest(svg: &mut Svg, x: f64, to: f64, y: f64) {
    let d = format!(
        "M{x0} {a}V{y}H{x1}V{a}",
        x0 = number(x - 6.0),
        x1 = number(to),
        a = number(y - 5.0),
        y = number(y)
    );
    svg.path("d-rest", &d);
}

/// The accent of one stroke, as in any score.
pub fn stroke_accent(svg: &mut Svg, x: f64, y: f64) {
    svg.path(
        "d-thin",
        &format!("M{} {}l9 3.5l-9 3.5", number(x - 4.5), number(y - 3.5)),
    );
}

pub fn golpe(svg: &mut Svg, x: f64, y: f64) {
    svg.rect("d-knock", (x - 5.0, y - 5.0), (10.0, 10.0), 0.0);
}

/// A left-hand finger falls on the string (hammer-on) or leaves it sideways (pull-off).
pub fn ligado(svg: &mut Svg, sign: Sign, x: f64, y: f64) {
    if sign == Sign::Hammer {
        svg.path("d-left", &triangle(x, y + 4.0, -9.0, 6.0));
        svg.line("d-left-line", (x - 7.0, y + 5.5), (x + 7.0, y + 5.5));
    } else {
        svg.line("d-left-line", (x - 7.0, y + 5.5), (x + 7.0, y + 5.5));
        svg.path(
            "d-left-line",
            &format!("M{} {}q0 -8 9 -8", number(x - 3.0), number(y + 4.0)),
        );
        svg.path(
            "d-left",
            &format!("M{} {}l-5 -3.6v7.2z", number(x + 10.0), number(y - 4.0)),
        );
    }
}

/// A finger of the left hand: a fingertip with its number.
pub fn fingertip(svg: &mut Svg, x: f64, y: f64, number_said: Option<u8>) {
    let class = if number_said.is_some() { "d-tip" } else { "d-tip-open" };
    let d = format!("M{} {}v-8a6 6 0 0 1 12 0v8z", number(x - 6.0), number(y + 7.0));
    svg.path(class, &d);
    let words = number_said.map_or("?".to_owned(), |finger| {
        if finger == 0 {
            "T".to_owned()
        } else {
            finger.to_string()
        }
    });
    svg.text("d-tip-number", (x, y + 4.5), &words);
}

/// What the finger does, drawn beside its fingertip: leaves, stays, or goes along the string.
pub fn after_fingertip(svg: &mut Svg, sign: Sign, x: f64, top: f64) {
    let line = top + 19.0;
    let right_end = if sign == Sign::Keep { x + 20.0 } else { x + 8.0 };
    svg.line("d-left-line", (x - 8.0, line), (right_end, line));
    match sign {
        Sign::Lift => {
            svg.path("d-left", &triangle(x + 13.0, top, 6.0, 4.0));
            svg.line("d-left-line", (x + 13.0, top + 5.0), (x + 13.0, top + 14.0));
        }
        Sign::Keep => svg.circle("d-left", (x + 20.0, line), 2.4),
        Sign::Slide => {
            svg.line("d-left-line", (x + 8.0, top + 10.0), (x + 15.0, top + 10.0));
            svg.path(
                "d-left",
                &format!("M{} {}l-6 -4v8z", number(x + 21.0), number(top + 10.0)),
            );
        }
        _ => {}
    }
}

/// The whole hand: four fingertips close together.
pub fn hand(svg: &mut Svg, x: f64, y: f64) {
    for finger in 0..4 {
        let left = x - 12.0 + 6.0 * f64::from(finger);
        svg.path(
            "d-tip",
            &format!("M{} {}v-6a2.6 2.6 0 0 1 5.2 0v6z", number(left), number(y + 7.0)),
        );
    }
}

/// What is not said: hollow, with a question mark.
pub fn open(svg: &mut Svg, x: f64, y: f64, radius: f64) {
    svg.circle("d-open", (x, y), radius);
    svg.text(
        if radius < 6.0 {
            "d-open-mark d-small"
        } else {
            "d-open-mark"
        },
        (x, y + radius * 0.6),
        "?",
    );
}

/// The quiet mark of what was understood without being said.
pub fn implied(svg: &mut Svg, x: f64, y: f64) {
    svg.line("d-implied", (x - 6.0, y), (x + 6.0, y));
}

/// A triangle with its point at `(x, y)`; `height` below zero puts the body above the point.
fn triangle(x: f64, y: f64, height: f64, half: f64) -> String {
    format!(
        "M{} {}L{} {}L{} {}Z",
        number(x),
        number(y),
        number(x - half),
        number(y + height),
        number(x + half),
        number(y + height)
    )
}

/// A narrow seed standing on its point.
fn seed(x: f64, y: f64) -> String {
    format!("M{} {}q6.5 8 0 17q-6.5 -9 0 -17z", number(x), number(y - 8.5))
}

fn wave(x: f64, top: f64, foot: f64) -> String {
    let step = (foot - top) / 4.0;
    let mut d = format!("M{} {}", number(x), number(foot));
    for turn in 0..4 {
        let side = if turn % 2 == 0 { 5.0 } else { -5.0 };
        d.push_str(&format!(
            "q{} {} 0 {}",
            number(side),
            number(-step / 2.0),
            number(-step)
        ));
    }
    d
}
