use jiff::civil::{Date, Time};

use super::{Outcome, Terminal};
use crate::cli::{Arrangement, DaysArgs, PlanArgs, PlanFormat};
use crate::exports::{icalendar, plan_page, plan_text};
use crate::failure::Failure;
use crate::music::lesson::Lesson;
use crate::music::palo::PaloTable;
use crate::pipeline;
use crate::practice;
use crate::practice::plan::{self, Plan, Wishes};

pub(super) fn run(args: &PlanArgs, terminal: &Terminal) -> Result<Outcome, Failure> {
    let review = pipeline::review(&args.note)?;
    let lesson = super::the_published_lesson(&args.note, &review)?;
    let text = match args.format {
        PlanFormat::Text => plan_text::text(&make(lesson, &args.days, &review.palos)?),
        PlanFormat::Html => plan_page::page(&make(lesson, &args.days, &review.palos)?),
        PlanFormat::Json => super::json(&make(lesson, &args.days, &review.palos)?)?,
        PlanFormat::Ics => calendar(lesson, &args.days, &review.palos)?,
    };
    terminal.print_bytes(text.as_bytes())?;
    Ok(Outcome::Fine)
}

/// The plan as iCalendar.
pub(super) fn calendar(lesson: &Lesson, days: &DaysArgs, palos: &PaloTable) -> Result<String, Failure> {
    let at = start_time(&days.at)?;
    if first_day(days.from.as_deref())?.is_none() {
        return Err(Failure::Refused(
            "a calendar needs a first day: add --from YYYY-MM-DD".to_owned(),
        ));
    }
    Ok(icalendar::calendar(&make(lesson, days, palos)?, at))
}

fn make(lesson: &Lesson, days: &DaysArgs, palos: &PaloTable) -> Result<Plan, Failure> {
    let arrangement = match days.arrange {
        Arrangement::Blocked => plan::Arrangement::Blocked,
        Arrangement::Rotated => plan::Arrangement::Rotated,
    };
    let wishes = Wishes {
        minutes: days.minutes,
        from: first_day(days.from.as_deref())?,
        arrangement,
    };
    let practice = practice::page_data(&[lesson], palos);
    Ok(plan::plan(super::title(lesson), &practice, &wishes))
}

/// The day as typed, or that of SOURCE_DATE_EPOCH; None where neither is given.
pub(super) fn first_day(typed: Option<&str>) -> Result<Option<Date>, Failure> {
    if let Some(typed) = typed {
        let date = typed.parse::<Date>();
        return date
            .map(Some)
            .map_err(|_| Failure::Refused(format!("`{typed}` is no date: write it as 2027-01-31")));
    }
    let Ok(epoch) = std::env::var("SOURCE_DATE_EPOCH") else {
        return Ok(None);
    };
    let refused = || Failure::Refused(format!("SOURCE_DATE_EPOCH is `{epoch}`: that is no time in seconds"));
    let seconds: i64 = epoch.trim().parse().map_err(|_| refused())?;
    let days = jiff::Span::new()
        .try_days(seconds.div_euclid(86_400))
        .map_err(|_| refused())?;
    let date = jiff::civil::date(1970, 1, 1).checked_add(days).map_err(|_| refused())?;
    Ok(Some(date))
}

fn start_time(typed: &str) -> Result<Time, Failure> {
    let refused = || Failure::Refused(format!("`{typed}` is no time of day: write it as 19:30"));
    let (hour, minute) = typed.split_once(':').ok_or_else(refused)?;
    let number = |text: &str| text.parse::<i8>().map_err(|_| refused());
    Time::new(number(hour)?, number(minute)?, 0, 0).map_err(|_| refused())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn days_and_times_as_typed() {
        assert_eq!(
            first_day(Some("2026-12-07")).ok().flatten(),
            Some(jiff::civil::date(2026, 12, 7))
        );
        assert!(first_day(Some("7.12.2026")).is_err() && first_day(Some("2026-02-30")).is_err());
        assert_eq!(start_time("19:30").ok(), Time::new(19, 30, 0, 0).ok());
        assert!(start_time("25:00").is_err() && start_time("7").is_err() && start_time("-1:10").is_err());
    }
}
