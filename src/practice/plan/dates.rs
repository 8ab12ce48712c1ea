//! Days in words.

use jiff::civil::Date;

use crate::practice::words::Words;

/// "Day 3 · Wednesday 9 December 2026", or "Day 3".
pub fn title(number: u32, date: Option<Date>, words: Words) -> String {
    let day = words.say("day-number", &[("n", &number.to_string())]);
    match date {
        Some(date) => format!("{day} · {}", in_words(date, words)),
        None => day,
    }
}

/// "Wednesday 9 December 2026", "miércoles 9 de diciembre de 2026".
fn in_words(date: Date, words: Words) -> String {
    let weekday = usize::try_from(date.weekday().to_monday_zero_offset()).unwrap_or(0);
    let month = usize::try_from(date.month() - 1).unwrap_or(0);
    let list = |key: &str, index: usize| {
        let all = words.say(key, &[]);
        all.split(' ').nth(index).unwrap_or_default().to_owned()
    };
    let holes = [
        ("weekday", list("weekdays", weekday)),
        ("day", date.day().to_string()),
        ("month", list("months", month)),
        ("year", date.year().to_string()),
    ];
    words.say(
        "date",
        &holes.each_ref().map(|(hole, filling)| (*hole, filling.as_str())),
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Weekdays of these dates: any calendar; 1 January 2000 was a Saturday.
    #[test]
    fn dates_in_both_languages() {
        let date = |year, month, day| jiff::civil::date(year, month, day);
        assert_eq!(in_words(date(2000, 1, 1), Words::of("en")), "Saturday 1 January 2000");
        assert_eq!(
            in_words(date(2026, 12, 9), Words::of("es")),
            "miércoles 9 de diciembre de 2026"
        );
    }
}
