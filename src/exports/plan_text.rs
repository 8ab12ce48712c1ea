//! A practice plan as text for the terminal, and for a sheet of paper.

use std::fmt::Write;

use crate::practice::plan::{Block, Day, Plan, Remark};

/// Letters to a line.
const WIDTH: usize = 92;
/// Where the words of a block begin.
const MARGIN: usize = 17;

/// The whole plan.
pub fn text(plan: &Plan) -> String {
    let mut text = format!("{}: {}\n{}\n", plan.labels.plan, plan.title, plan.summary);
    for day in &plan.days {
        write_day(&mut text, plan, day);
    }
    write_remarks(&mut text, &plan.labels.cautions, &plan.cautions);
    write_remarks(&mut text, &plan.labels.about, &plan.about);
    if !plan.left_out.is_empty() {
        let _ = writeln!(text, "\n{}", plan.labels.left_out);
        for line in &plan.left_out {
            write_folded(&mut text, "  - ", line);
        }
    }
    text
}

fn write_day(text: &mut String, plan: &Plan, day: &Day) {
    let minutes = &plan.labels.minutes;
    if day.blocks.is_empty() {
        let _ = writeln!(text, "\n{} · {}", day.title, plan.labels.day_off);
        return;
    }
    let _ = writeln!(text, "\n{} · {} {minutes}", day.title, day.minutes());
    for block in &day.blocks {
        write_block(text, block, minutes);
    }
}

fn write_block(text: &mut String, block: &Block, minutes: &str) {
    let _ = writeln!(
        text,
        "  {:>4}' {:>3} {minutes}  {}",
        block.start, block.minutes, block.title
    );
    for detail in &block.details {
        write_folded(text, &" ".repeat(MARGIN), detail);
    }
}

fn write_remarks(text: &mut String, heading: &str, remarks: &[Remark]) {
    let _ = writeln!(text, "\n{heading}");
    for remark in remarks {
        let sources = if remark.sources.is_empty() {
            String::new()
        } else {
            format!(" [{}]", remark.sources.join(", "))
        };
        write_folded(text, "  - ", &format!("{}{sources}", remark.text));
    }
}

/// Words after a start, folded under the first of them.
fn write_folded(text: &mut String, start: &str, words: &str) {
    let margin = " ".repeat(start.chars().count());
    let mut line = start.to_owned();
    let mut empty = true;
    for word in words.split_whitespace() {
        if !empty && line.chars().count() + 1 + word.chars().count() > WIDTH {
            let _ = writeln!(text, "{line}");
            line = margin.clone();
            empty = true;
        }
        if !empty {
            line.push(' ');
        }
        line.push_str(word);
        empty = false;
    }
    let _ = writeln!(text, "{line}");
}
