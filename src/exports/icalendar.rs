//! A practice plan as iCalendar (RFC 5545), written by hand so that the same plan gives the same bytes.
//!
//! Times are floating local ones (§3.3.5, form 1): seven in the evening is seven wherever the student is. The UID comes
//! from what the event says, and DTSTAMP from the first day of the plan: no clock is read.

use jiff::civil::{DateTime, Time};

use crate::practice::plan::{Block, Day, Plan};

/// Octets to a line at most, the line end not counted (RFC 5545 §3.1).
const LONGEST: usize = 75;
const PRODID: &str = "-//Compasario//Practice plan//EN";

/// A calendar with one event for each day of practice. Days without a date have no place in a calendar and are left
/// out; `at` is when a session begins.
pub fn calendar(plan: &Plan, at: Time) -> String {
    let mut lines = vec![
        "BEGIN:VCALENDAR".to_owned(),
        "VERSION:2.0".to_owned(),
        format!("PRODID:{PRODID}"),
        "CALSCALE:GREGORIAN".to_owned(),
    ];
    let stamp = plan
        .days
        .iter()
        .find_map(|day| day.date)
        .map(|date| date.to_datetime(Time::midnight()));
    for day in plan.days.iter().filter(|day| !day.blocks.is_empty()) {
        if let (Some(date), Some(stamp)) = (day.date, stamp) {
            lines.extend(event(plan, day, date.to_datetime(at), stamp));
        }
    }
    lines.push("END:VCALENDAR".to_owned());
    lines.iter().map(|line| folded(line)).collect()
}

fn event(plan: &Plan, day: &Day, start: DateTime, stamp: DateTime) -> Vec<String> {
    let summary = format!("{}: {}", plan.title, first_of(day));
    let description = description(plan, day);
    let own = format!("{}\n{}\n{}\n{description}", plan.title, day.number, basic(start));
    let name = blake3::hash(own.as_bytes()).to_hex();
    let name: String = name.chars().take(32).collect();
    vec![
        "BEGIN:VEVENT".to_owned(),
        format!("UID:{name}@compasario"),
        // The form with UTC is demanded of DTSTAMP (§3.8.7.2); the plan knows no zone, so midnight is taken as given.
        format!("DTSTAMP:{}Z", basic(stamp)),
        format!("DTSTART:{}", basic(start)),
        format!("DURATION:PT{}M", day.minutes()),
        format!("SUMMARY:{}", escaped(&summary)),
        format!("DESCRIPTION:{}", escaped(&description)),
        "TRANSP:OPAQUE".to_owned(),
        "END:VEVENT".to_owned(),
    ]
}

/// What the day is about: its first block that is neither warm-up nor rest.
fn first_of(day: &Day) -> &str {
    use crate::practice::plan::BlockKind::{Rest, WarmUp};
    let block = day.blocks.iter().find(|block| !matches!(block.kind, Rest | WarmUp));
    block.map_or("", |block| block.title.as_str())
}

fn description(plan: &Plan, day: &Day) -> String {
    let minutes = &plan.labels.minutes;
    let line = |block: &Block| {
        let details = block.details.iter().map(|detail| format!("\n  {detail}"));
        format!(
            "{}' {} {minutes}: {}{}",
            block.start,
            block.minutes,
            block.title,
            details.collect::<String>()
        )
    };
    let mut lines: Vec<String> = day.blocks.iter().map(line).collect();
    lines.extend(plan.cautions.iter().map(|caution| caution.text.clone()));
    lines.join("\n")
}

/// `19970714T133000` (§3.3.5).
fn basic(moment: DateTime) -> String {
    let (date, time) = (moment.date(), moment.time());
    format!(
        "{:04}{:02}{:02}T{:02}{:02}{:02}",
        date.year(),
        date.month(),
        date.day(),
        time.hour(),
        time.minute(),
        time.second()
    )
}

/// A text value (§3.3.11): backslash, semicolon and comma escaped, a line end as `\n`, other control letters left out.
fn escaped(text: &str) -> String {
    let mut escaped = String::new();
    for letter in text.chars() {
        match letter {
            '\\' | ';' | ',' => {
                escaped.push('\\');
                escaped.push(letter);
            }
            '\n' => escaped.push_str("\\n"),
            letter if letter.is_control() && letter != '\t' => {}
            letter => escaped.push(letter),
        }
    }
    escaped
}

/// A content line with its end, folded between letters so that no line is longer than 75 octets (§3.1).
fn folded(line: &str) -> String {
    let mut folded = String::new();
    let mut octets = 0;
    for letter in line.chars() {
        if octets + letter.len_utf8() > LONGEST {
            folded.push_str("\r\n ");
            octets = 1;
        }
        folded.push(letter);
        octets += letter.len_utf8();
    }
    folded.push_str("\r\n");
    folded
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Unfolding as RFC 5545 §3.1 describes it: a line end with a space after it is taken out.
    fn unfolded(text: &str) -> String {
        text.replace("\r\n ", "")
    }

    #[test]
    fn long_lines_are_folded_between_letters() {
        // The description line of RFC 5545 §3.1, long enough to be folded.
        let line = "DESCRIPTION:This is a long description that exists on a long line. Ñandú, soleá, 💃 and so on, until it ends.";
        let text = folded(line);
        assert!(text.split("\r\n").all(|part| part.len() <= LONGEST), "{text:?}");
        assert!(text.split("\r\n").next().is_some_and(|part| part.len() >= LONGEST - 3));
        assert_eq!(unfolded(&text), format!("{line}\r\n"));
        for length in 60..90 {
            let line = "é".repeat(length);
            let text = folded(&line);
            assert!(text.split("\r\n").all(|part| part.len() <= LONGEST));
            assert_eq!(unfolded(&text), format!("{line}\r\n"));
        }
    }

    /// The example of RFC 5545 §3.3.11, one of whose lines carries commas, a semicolon and line ends.
    #[test]
    fn text_is_escaped_as_in_the_rfc() {
        let text = "Project XYZ Final Review\nConference Room - 3B\nCome Prepared.";
        assert_eq!(
            escaped(text),
            "Project XYZ Final Review\\nConference Room - 3B\\nCome Prepared."
        );
        assert_eq!(escaped("a\\b;c,d\r\u{7}"), "a\\\\b\\;c\\,d");
    }

    /// Form 1 of RFC 5545 §3.3.5: DTSTART:19980118T230000 is local time with no zone.
    #[test]
    fn a_moment_is_written_as_floating_local_time() {
        let moment = jiff::civil::date(1998, 1, 18).at(23, 0, 0, 0);
        assert_eq!(basic(moment), "19980118T230000");
    }
}
