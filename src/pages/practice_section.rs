//! Practice on a lesson's page: what to do, readable without scripts, and the data that the player plays.

use serde::Serialize;

use super::course::{Course, Ready};
use super::pieces::Links;
use super::player_files::{PLAYER_SCRIPTS, PLAYER_STYLE};
use crate::practice::page::{JoinDrill, Learning};
use crate::practice::{PageData, page_data};

#[derive(Debug, Serialize)]
pub(super) struct PracticeView {
    course: String,
    style: String,
    /// The player's scripts in their order: where they lie, or, on a page sent by itself, what is in them.
    scripts: Vec<String>,
    /// The player's data, safe inside a script element.
    json: String,
    learning: Vec<Group>,
    ladder: Vec<u32>,
    joins: Vec<JoinView>,
    remarks: Vec<String>,
    left_out: Vec<String>,
}

#[derive(Debug, Serialize)]
struct Group {
    name: String,
    lines: Vec<String>,
}

#[derive(Debug, Serialize)]
struct JoinView {
    title: String,
    why: String,
}

/// None where there is nothing to play.
pub(super) fn practice(course: &Course, ready: &Ready, links: &Links) -> Option<PracticeView> {
    let data = page_data(&[ready.lesson()], course.palos);
    if data.learning.is_empty() || data.book.lines.is_empty() {
        return None;
    }
    let json = serde_json::to_string(&data).ok()?.replace('<', "\\u003c");
    let at = |path: &str| format!("{}{path}", links.root);
    Some(PracticeView {
        course: ready.slug.clone(),
        style: at(PLAYER_STYLE.0),
        scripts: PLAYER_SCRIPTS
            .iter()
            .map(|(path, text)| if links.alone { (*text).to_owned() } else { at(path) })
            .collect(),
        json,
        learning: learning(&data),
        ladder: data.ladder.iter().map(|rung| rung.tempo).collect(),
        joins: joins(&data),
        remarks: data.remarks.clone(),
        left_out: data.left_out.clone(),
    })
}

fn title(data: &PageData, id: &str) -> String {
    let line = data.book.lines.iter().find(|line| line.id == id);
    line.map(|line| line.title.clone()).unwrap_or_default()
}

fn learning(data: &PageData) -> Vec<Group> {
    let group = |learning: &Learning| Group {
        name: data.book.versions.get(learning.version).cloned().unwrap_or_default(),
        lines: learning.steps.iter().map(|step| title(data, &step.line)).collect(),
    };
    data.learning.iter().map(group).collect()
}

fn joins(data: &PageData) -> Vec<JoinView> {
    let drills = data.join_drills.iter().filter(|drill| drill.cost > 0);
    let view = |drill: &JoinDrill| JoinView {
        title: title(data, &drill.line),
        why: drill.why.join(" "),
    };
    drills.map(view).collect()
}
