//! The rows above the six lines: count, chord, right hand, golpe, left hand.

use num_rational::Ratio;

use super::plan::{Plan, System};
use super::scene::{Moment, Scene, is_ligado, letters, wants_finger};
use super::signs::{self, Sign};
use super::svg::Svg;
use crate::music::left_hand::{LeftAction, LeftEvent};
use crate::music::position::Position;
use crate::music::stroke::{Action, Stroke};
use crate::pages::labels::{Labels, show_name};

/// Counts and the parts of counts that something happens on; accents by weight and by a bar beneath.
pub fn counts(svg: &mut Svg, system: &System) {
    let Scene { compas, axis, .. } = system.scene;
    runs_on(svg, system);
    for column in system.columns() {
        let x = system.x(column.start);
        let accent = !axis.free && compas.is_accent(Position::count(column.count));
        svg.line(
            if accent { "d-guide-strong" } else { "d-guide" },
            (x, system.top + 32.0),
            (x, system.top + system.plan.height),
        );
        if column.new_round && column.start > system.from {
            let boundary = x - 13.0;
            svg.line(
                "d-end",
                (boundary, system.top + 4.0),
                (boundary, system.top + system.plan.height),
            );
        }
        let class = match (axis.free, accent) {
            (true, _) => "d-event",
            (false, true) => "d-count-strong",
            (false, false) => "d-count",
        };
        let numbers = format!(r#" data-count="{}" data-in-round="{}""#, column.count, column.in_round);
        svg.open("count", &numbers);
        svg.text(class, (x, system.top + 20.0), &column.shown.to_string());
        if accent {
            svg.rect("d-bar", (x - 8.0, system.top + 25.0), (16.0, 4.5), 0.0);
        }
        svg.close();
        if column.count != column.shown {
            svg.text("d-part", (x, system.top + 41.0), &format!("={}", column.count));
        }
    }
    for moment in system.moments() {
        if *moment.at.fraction().numer() == 0 {
            continue;
        }
        let x = system.x(moment.pulses);
        svg.line(
            "d-guide-part",
            (x, system.top + 26.0),
            (x, system.top + system.plan.height),
        );
        let accent = compas.is_accent(moment.at);
        let class = if accent { "d-part-strong" } else { "d-part" };
        svg.text(class, (x, system.top + 20.0), &part(moment.at, system.scene.labels));
        if accent {
            svg.rect("d-bar", (x - 5.0, system.top + 25.0), (10.0, 4.5), 0.0);
        }
    }
    let unheard = compas.accents.iter().filter(|accent| *accent.fraction().numer() != 0);
    for accent in unheard {
        // An accented "and" that nothing is played on is still an accent.
        for column in system
            .columns()
            .iter()
            .filter(|column| column.in_round == accent.whole())
        {
            let at = column.start + super::axis::ratio(accent.fraction()) * column.length;
            if system.moments().iter().all(|moment| (moment.pulses - at).abs() > 1e-6) && !axis.free {
                let x = system.x(at);
                svg.text(
                    "d-part-strong",
                    (x, system.top + 20.0),
                    &part(*accent, system.scene.labels),
                );
                svg.rect("d-bar", (x - 5.0, system.top + 25.0), (10.0, 4.5), 0.0);
            }
        }
    }
}

/// A broken line around the counts that the pattern runs on into.
fn runs_on(svg: &mut Svg, system: &System) {
    let mut beyond = system.columns().iter().filter(|column| column.beyond);
    let (Some(first), Some(last)) = (beyond.clone().next(), beyond.next_back()) else {
        return;
    };
    let x = system.x(first.start) - 13.0;
    let end = system.x(last.start + last.length) - 13.0;
    svg.rect("d-beyond", (x, system.top), (end - x, system.plan.height), 3.0);
}

/// How a part of a count is written: & (y in Spanish) for the half, ⅓ ⅔ ¼ ¾, `2/5` for the rest.
pub fn part(at: Position, labels: &Labels) -> String {
    part_sign(at.fraction(), labels)
}

pub fn part_sign(fraction: Ratio<i64>, labels: &Labels) -> String {
    match (*fraction.numer(), *fraction.denom()) {
        (1, 2) => labels.get("and_sign").to_owned(),
        (1, 3) => "⅓".to_owned(),
        (2, 3) => "⅔".to_owned(),
        (1, 4) => "¼".to_owned(),
        (3, 4) => "¾".to_owned(),
        (1, 6) => "⅙".to_owned(),
        (5, 6) => "⅚".to_owned(),
        (over, under) => format!("{over}/{under}"),
    }
}

/// The chord held, over the time that it is held.
pub fn chords(svg: &mut Svg, system: &System, y: f64) {
    let changes: Vec<&Moment> = system
        .scene
        .moments
        .iter()
        .filter(|moment| moment.change.is_some())
        .collect();
    for (index, moment) in changes.iter().enumerate() {
        let Some(change) = moment.change else { continue };
        let until = changes
            .get(index + 1)
            .map_or(system.scene.axis.end(), |next| next.pulses);
        if until <= system.from + 1e-9 || moment.pulses >= system.to - 1e-9 {
            continue;
        }
        let starts_here = moment.pulses >= system.from - 1e-9;
        let x = if starts_here {
            system.x(moment.pulses)
        } else {
            system.x(system.from)
        };
        let end = system.x(until.min(system.to)) - 16.0;
        let name = show_name(&change.chord.to_string());
        if starts_here {
            svg.open("chord", &format!(r#" data-at="{}""#, change.at));
            svg.path(
                "d-chord-tick",
                &format!("M{0} {1}v7", super::svg::number(x - 6.0), super::svg::number(y - 3.0)),
            );
            svg.text("d-chord", (x - 6.0, y - 7.0), &name);
            svg.line("d-band", (x - 6.0, y), (end.max(x + 4.0), y));
            if change.implied.is_some() {
                signs::implied(svg, x + 1.0, y + 4.0);
            }
            svg.close();
        } else {
            svg.text("d-held", (x - 6.0, y - 7.0), &format!("({name})"));
            svg.line("d-band-held", (x - 12.0, y), (end.max(x + 4.0), y));
        }
    }
}

pub fn right_hand(svg: &mut Svg, system: &System, plan: &Plan) {
    for moment in system.moments() {
        for (lane, (index, stroke)) in Scene::right_hand(moment).into_iter().enumerate() {
            let top = system.top + plan.right + plan.lane * lane as f64;
            open_stroke(svg, index, stroke);
            right_stroke(svg, system, moment, stroke, top);
            svg.close();
        }
    }
}

pub fn open_stroke(svg: &mut Svg, index: usize, stroke: &Stroke) {
    svg.open("stroke", &format!(r#" data-stroke="{index}" data-at="{}""#, stroke.at));
}

fn right_stroke(svg: &mut Svg, system: &System, moment: &Moment, stroke: &Stroke, top: f64) {
    let x = system.x(moment.pulses);
    let sign_top = top + system.plan.accent;
    let foot = sign_top + 25.0;
    let middle = (sign_top + foot) / 2.0;
    if stroke.accent {
        signs::stroke_accent(svg, x, top + 4.0);
    }
    let said = letters(stroke);
    match stroke.action {
        Action::Rasgueado => {
            rasgueado(svg, system, moment, stroke, (sign_top, foot), &said);
            return;
        }
        Action::Rest => {
            let to = x + rest_length(system, moment) * system.pulse - 15.0;
            signs::rest(svg, x, to.max(x + 14.0), foot - 4.0);
            svg.text(
                "d-rest-word",
                ((x - 6.0 + to.max(x + 14.0)) / 2.0, middle + 1.0),
                system.scene.labels.get("rest_sign"),
            );
            return;
        }
        action => signs::right(svg, sign(action), x, sign_top, foot),
    }
    match stroke.rest_stroke {
        Some(true) => signs::rest_stroke(svg, x, middle),
        Some(false) => signs::free_stroke(svg, x, middle),
        None => {}
    }
    if let Some(length) = stroke.length.filter(|_| !system.scene.axis.free) {
        let to = moment.pulses + super::axis::ratio(length) * column_length(system, moment);
        svg.line(
            "d-lasts",
            (x + 8.0, middle),
            ((system.x(to) - 9.0).max(x + 9.0), middle),
        );
    }
    let letters_at = foot + 13.0;
    if said.is_empty() {
        if wants_finger(stroke.action) {
            signs::open(svg, x, letters_at - 4.0, 6.0);
        }
    } else {
        svg.text("d-finger", (x, letters_at), &said.join(" "));
    }
    if stroke.implied.is_some() {
        signs::implied(svg, x, letters_at + 4.0);
    }
}

/// The fan from its start; where it arrives, when that is said, and an open end when it is not.
fn rasgueado(svg: &mut Svg, system: &System, moment: &Moment, stroke: &Stroke, at: (f64, f64), said: &[String]) {
    let x = system.x(moment.pulses);
    let (top, foot) = at;
    let class = if said.is_empty() { "d-ray-open" } else { "d-ray" };
    let arrival = stroke
        .arrival
        .and_then(|arrival| system.scene.axis.pulses(system.scene.compas, arrival))
        .map(|arrival| arrival.min(system.to));
    let reach = arrival.map_or(0.0, |arrival| fan_room(system, moment, arrival));
    let ends = signs::stretched(signs::fan_ends(said), reach);
    signs::fan(svg, class, x, top, foot, &ends);
    for (letter, end) in said.iter().zip(&ends) {
        svg.text("d-finger", (x + end, foot + 13.0), letter);
    }
    if said.is_empty() {
        signs::open(svg, x + 6.0, foot + 9.0, 6.0);
    }
    let spread = ends.last().copied().unwrap_or(0.0);
    let fan_end = x + spread;
    let behind_fan = fan_end - signs::slant(spread) * 0.8;
    match arrival {
        Some(arrival) => {
            let to = system.x(arrival).max(fan_end);
            svg.line("d-lasts", (behind_fan, top + 2.0), (to, top + 2.0));
            svg.line("d-stem", (to, top - 2.0), (to, top + 7.0));
        }
        None => {
            let to = x + spread * 0.25;
            svg.line("d-lasts-open", (to + 2.0, top + 2.0), (fan_end - 9.0, top + 2.0));
            signs::open(svg, fan_end - 4.0, top + 2.0, 5.0);
        }
    }
    if stroke.implied.is_some() {
        signs::implied(svg, x, foot + 17.0);
    }
}

/// How far a fan may reach: to its arrival, and not into the next sign of its row.
fn fan_room(system: &System, moment: &Moment, arrival: f64) -> f64 {
    let later = |other: &&Moment| other.pulses > moment.pulses + 1e-9 && !Scene::right_hand(other).is_empty();
    let next = system.scene.moments.iter().find(later);
    let next = next.map_or(system.to, |next| next.pulses.min(system.to));
    system.x(arrival).min(system.x(next) - 13.0) - system.x(moment.pulses)
}

pub fn golpes(svg: &mut Svg, system: &System, y: f64) {
    for moment in system.moments() {
        for (index, stroke) in moment
            .strokes
            .iter()
            .filter(|(_, stroke)| stroke.action == Action::Golpe)
        {
            let x = system.x(moment.pulses);
            open_stroke(svg, *index, stroke);
            signs::golpe(svg, x, y);
            let said = letters(stroke);
            if said.is_empty() {
                signs::open(svg, x + 12.0, y, 5.0);
            } else {
                svg.text("d-finger from", (x + 8.0, y + 4.0), &said.join(" "));
            }
            if stroke.accent {
                signs::stroke_accent(svg, x, y - 9.0);
            }
            if stroke.implied.is_some() {
                signs::implied(svg, x + 2.0, y + 8.0);
            }
            svg.close();
        }
    }
}

/// Ligados, the fingers that stop a note, and what else the left hand is told to do.
pub fn left_hand(svg: &mut Svg, system: &System, plan: &Plan) {
    for moment in system.moments() {
        let x = system.x(moment.pulses);
        for (index, stroke) in &moment.strokes {
            if is_ligado(stroke.action) {
                open_stroke(svg, *index, stroke);
                let sign = if stroke.action == Action::HammerOn {
                    Sign::Hammer
                } else {
                    Sign::PullOff
                };
                signs::ligado(svg, sign, x, system.top + plan.ligado + 8.0);
                if stroke.implied.is_some() {
                    signs::implied(svg, x, system.top + plan.ligado + 19.0);
                }
                svg.close();
            }
            if let Some(finger) = stroke.left {
                signs::fingertip(svg, x, system.top + plan.tips + 9.0, Some(finger));
            }
        }
        for (lane, event) in moment.left.iter().enumerate() {
            left_event(svg, system, event, (x, system.top + plan.events + 32.0 * lane as f64));
        }
    }
}

fn left_event(svg: &mut Svg, system: &System, event: &LeftEvent, at: (f64, f64)) {
    let (x, top) = at;
    let whole_hand = event.finger.is_none() && matches!(event.action, LeftAction::Lift | LeftAction::Keep);
    let rise = if event.action == LeftAction::Lift { 0.0 } else { 4.0 };
    let y = top + 6.0 + rise;
    if whole_hand {
        signs::hand(svg, x, y);
    } else {
        signs::fingertip(svg, x, y, event.finger);
    }
    let sign = match event.action {
        LeftAction::Put => Sign::Fingertip,
        LeftAction::Lift => Sign::Lift,
        LeftAction::Keep => Sign::Keep,
        LeftAction::Slide => Sign::Slide,
    };
    signs::after_fingertip(svg, sign, x, top);
    let labels = system.scene.labels;
    let mut words = Vec::new();
    if let Some(string) = event.string {
        words.push(labels.fill("string_short", &[("string", &string.to_string())]));
    }
    if let Some(fret) = event.fret {
        words.push(labels.fill("fret_short", &[("fret", &fret.to_string())]));
    }
    svg.text("d-where", (x, top + 30.0), &words.join(" "));
    if event.implied.is_some() {
        signs::implied(svg, x, top + 33.0);
    }
}

/// Counts from a rest to whatever comes next, at most its own count.
fn rest_length(system: &System, moment: &Moment) -> f64 {
    column_length(system, moment)
}

fn column_length(system: &System, moment: &Moment) -> f64 {
    let scene = system.scene;
    let column = scene
        .axis
        .column(scene.compas, moment.at)
        .and_then(|(index, _)| scene.axis.columns.get(index));
    column.map_or(1.0, |column| column.length)
}

pub fn sign(action: Action) -> Sign {
    match action {
        Action::Down => Sign::Down,
        Action::Up => Sign::Up,
        Action::Golpe => Sign::Golpe,
        Action::Pluck => Sign::Pluck,
        Action::Rasgueado => Sign::Rasgueado,
        Action::Roll => Sign::Roll,
        Action::PullOff => Sign::PullOff,
        Action::HammerOn => Sign::Hammer,
        Action::Damp => Sign::Damp,
        Action::Tremolo => Sign::Tremolo,
        Action::Picado => Sign::Picado,
        Action::Alzapua => Sign::Alzapua,
        Action::Rest => Sign::Rest,
    }
}
