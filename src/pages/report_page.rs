//! The teacher's report as one page by itself: the site's look, and never part of the site.

use super::labels::Labels;
use super::pieces::Page;
use super::templates::Press;
use crate::failure::Failure;
use crate::report::Report;

pub(super) fn page(report: &Report, language: &str) -> Result<String, Failure> {
    let labels = Labels::of(language);
    let title = labels.get("report_title").to_owned();
    let page = Page::alone("report alone", title, report.course.clone(), labels.language);
    let file = Press::new()?.print("report.html", "report.html", &page, labels, ("view", report))?;
    String::from_utf8(file.bytes).map_err(|error| Failure::Template(error.to_string()))
}
