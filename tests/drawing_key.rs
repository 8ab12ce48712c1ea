//! What stands below a drawing: every sign that is in it, on the sheet that it is on; and how wide a rasgueado is.
#![allow(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    dead_code,
    reason = "a test may panic, and shares its lessons with others"
)]

#[path = "pages/by_hand.rs"]
mod by_hand;
#[path = "pages/fixtures.rs"]
mod fixtures;

use by_hand::{at, change, pattern, stroke};
use compasario::music::hand::Finger::{self, A, I, M, P, X};
use compasario::music::lesson::Lesson;
use compasario::music::palo::PaloTable;
use compasario::music::pattern::{Pattern, Role};
use compasario::music::stroke::{Action, Stroke};
use compasario::pages::compas::Compas;
use compasario::pages::drawing::{self, Drawing, Naming};
use compasario::pages::labels::Labels;

const NAMING: Naming = Naming {
    id: "d",
    title: "core",
    about: "",
};

fn draw(pattern: Pattern, language: &str) -> Drawing {
    let lesson = by_hand::lesson("one", "solea", vec![pattern]);
    drawn(&lesson, language)
}

fn drawn(lesson: &Lesson, language: &str) -> Drawing {
    let compas = Compas::of(lesson, PaloTable::ours());
    drawing::pattern(&lesson.patterns[0], &compas, lesson, Labels::of(language), NAMING).unwrap()
}

fn core(strokes: Vec<Stroke>) -> Pattern {
    pattern("core", Role::Core, Some((1, 12)), strokes)
}

fn up(moment: &str) -> Stroke {
    stroke(moment, Action::Up, &[I], &[])
}

fn rasgueado(moment: &str, arrival: Option<&str>, fingers: &[Finger]) -> Stroke {
    Stroke {
        arrival: arrival.map(at),
        ..stroke(moment, Action::Rasgueado, fingers, &[])
    }
}

/// A stroke, and the words that its drawing's key has for what is written in it.
#[test]
fn what_is_written_in_a_drawing_is_explained() {
    let little = |written: Option<&str>| Stroke {
        little_finger_as: written.map(str::to_owned),
        ..rasgueado("3", None, &[X, A, M, I])
    };
    let table = [
        (up("1"), "en", ""),
        (up("1+1/2"), "en", "& halfway through the count"),
        (up("1+1/2"), "es", "y a la mitad del tiempo"),
        (up("1+1/3"), "en", "⅓ a third into the count"),
        (up("1+2/3"), "en", "⅔ two thirds into the count"),
        (up("1+2/3"), "es", "⅔ a dos tercios del tiempo"),
        (up("1+3/4"), "en", "¾ three quarters into the count"),
        (up("1+2/5"), "en", "2/5 that part of the count"),
        (little(None), "en", "x little finger of the right hand"),
        (little(Some("ch")), "es", "ch meñique de la derecha"),
        (rasgueado("3", None, &[A, M, I]), "en", ""),
        (stroke("1", Action::Pluck, &[P], &[5]), "en", ""),
    ];
    for (stroke, language, expected) in table {
        let key = draw(core(vec![stroke]), language).key;
        let text = |svg: &str| {
            let inner = svg.split_once("<text")?.1.split_once('>')?.1.split_once('<')?.0;
            Some(inner.replace("&amp;", "&"))
        };
        let said = ["count", "tiempo", "little", "meñique"];
        let items = key
            .iter()
            .filter(|item| said.iter().any(|word| item.words.contains(word)) && item.svg.contains("<text"));
        let found: Vec<String> = items
            .map(|item| format!("{} {}", text(&item.svg).unwrap(), item.words))
            .collect();
        assert_eq!(found.join(", "), expected);
    }
}

/// A chord that goes on past the end of a line stands in brackets on the next, and the key of that sheet says so.
#[test]
fn a_chord_carried_on_is_explained_where_it_is() {
    let every_count = |changes: &[(&str, &str)]| {
        let strokes = (1..=12).flat_map(|count| [up(&count.to_string()), up(&format!("{count}+1/2"))]);
        let mut pattern = core(strokes.collect());
        pattern.changes = changes.iter().map(|(moment, chord)| change(moment, chord)).collect();
        pattern
    };
    let table: [(&[(&str, &str)], &str); 3] = [
        (&[("1", "E7")], "narrow (E7)"),
        (&[("1", "E"), ("4", "F"), ("7", "C"), ("10", "E")], ""),
        (&[], ""),
    ];
    for (changes, expected) in table {
        let drawing = draw(every_count(changes), "en");
        let brackets = |svg: &str| {
            svg.split_once("d-held")
                .and_then(|(_, rest)| Some(rest.split_once('>')?.1.split_once('<')?.0.to_owned()))
        };
        let (narrow, wide) = (brackets(&drawing.narrow), brackets(&drawing.wide));
        let held = drawing.key.iter().find(|item| item.words == "chord still held");
        let found = match held {
            None => String::new(),
            Some(item) => format!(
                "{} {}",
                serde_json::to_value(item.only).unwrap().as_str().unwrap_or("both"),
                narrow.clone().unwrap_or_default()
            ),
        };
        assert_eq!(found, expected, "{changes:?}");
        assert_eq!(narrow.is_some() || wide.is_some(), held.is_some(), "{changes:?}");
    }
}

/// Where the fan's last finger stands, from its first, in counts: at the arrival, or before the next sign of the row.
#[test]
fn a_rasgueado_is_as_wide_as_it_lasts() {
    let table = [
        (
            "arrives a count later, nothing there",
            rasgueado("3", Some("4"), &[X, A, M, I]),
            "6",
            (0.99, 1.01),
        ),
        (
            "two counts later",
            rasgueado("3", Some("5"), &[X, A, M, I]),
            "6",
            (1.99, 2.01),
        ),
        (
            "three, where another stroke stands",
            rasgueado("3", Some("6"), &[X, A, M, I]),
            "6",
            (2.5, 2.9),
        ),
        ("arrival not said", rasgueado("3", None, &[X, A, M, I]), "6", (0.3, 0.8)),
    ];
    for (case, fan, next, (least, most)) in table {
        let drawing = draw(core(vec![up("1"), up("2"), fan, up(next), up("7")]), "en");
        let counts: Vec<f64> = numbers(&drawing.wide, "class=\"d-count", "x=\"");
        let count = counts[1] - counts[0];
        let dots: Vec<f64> = numbers(&drawing.wide, "<circle class=\"d-sign\"", "cx=\"");
        assert_eq!(dots.len(), 4, "{case}: a ray a finger");
        let width = (dots[3] - dots[0]) / count;
        assert!((least..=most).contains(&width), "{case}: {width:.2} counts");
        let steps: Vec<f64> = dots.windows(2).map(|pair| pair[1] - pair[0]).collect();
        assert!(steps.iter().all(|step| *step >= 10.0), "{case}: {steps:?}");
    }
}

/// The number behind `name` in every element that begins with `element`.
fn numbers(svg: &str, element: &str, name: &str) -> Vec<f64> {
    let found = svg.split(element).skip(1).filter_map(|rest| {
        let inside = rest.split_once('>')?.0;
        inside.split_once(name)?.1.split_once('"')?.0.parse().ok()
    });
    found.collect()
}
