//! A practice plan as one page of HTML that needs nothing beside it, to read, print or send.

use crate::music::source;
use crate::practice::plan::{Block, BlockKind, Day, Plan, Remark};
use crate::text::escaped;

/// The page.
pub fn page(plan: &Plan) -> String {
    let labels = &plan.labels;
    let days: String = plan.days.iter().map(|day| day_section(plan, day)).collect();
    let left_out = if plan.left_out.is_empty() {
        String::new()
    } else {
        let items: String = plan
            .left_out
            .iter()
            .map(|line| format!("<li>{}</li>\n", escaped(line)))
            .collect();
        format!(
            "<section>\n<h2>{}</h2>\n<ul>\n{items}</ul>\n</section>\n",
            escaped(&labels.left_out)
        )
    };
    format!(
        "<!doctype html>\n<html lang=\"{language}\">\n<head>\n<meta charset=\"utf-8\">\n\
         <meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n<title>{plan_word}: {title}</title>\n\
         <style>\n{STYLE}</style>\n</head>\n<body>\n<main>\n<h1>{plan_word}: {title}</h1>\n<p>{summary}</p>\n\
         {cautions}{days}{about}{left_out}{sources}</main>\n</body>\n</html>\n",
        language = plan.language,
        plan_word = escaped(&labels.plan),
        title = escaped(&plan.title),
        summary = escaped(&plan.summary),
        cautions = remarks(&labels.cautions, &plan.cautions),
        about = remarks(&labels.about, &plan.about),
        sources = sources(plan),
    )
}

const STYLE: &str = "\
:root { color-scheme: light dark; }
body { font: 1rem/1.5 Georgia, 'Times New Roman', serif; margin: 0 auto; max-width: 44rem; padding: 1rem; }
h1 { font-size: 1.6rem; }
h2 { font-size: 1.15rem; margin: 1.6rem 0 0.4rem; }
table { border-collapse: collapse; width: 100%; }
th, td { border-top: 1px solid; padding: 0.35rem 0.5rem; text-align: start; vertical-align: top; }
th { font-weight: normal; white-space: nowrap; width: 5.5rem; }
td p { margin: 0; }
td ul { margin: 0.2rem 0 0; padding-inline-start: 1.1rem; }
.rest, .off { font-style: italic; }
@media print { body { font-size: 10pt; max-width: none; } section { break-inside: avoid; } h2 { break-after: avoid; } }
";

fn day_section(plan: &Plan, day: &Day) -> String {
    let title = escaped(&day.title);
    let minutes = escaped(&plan.labels.minutes);
    if day.blocks.is_empty() {
        let off = escaped(&plan.labels.day_off);
        return format!("<section>\n<h2>{title}</h2>\n<p class=\"off\">{off}</p>\n</section>\n");
    }
    let rows: String = day.blocks.iter().map(|block| row(block, &minutes)).collect();
    format!(
        "<section>\n<h2>{title} · {} {minutes}</h2>\n<table>\n<tbody>\n{rows}</tbody>\n</table>\n</section>\n",
        day.minutes()
    )
}

fn row(block: &Block, minutes: &str) -> String {
    let class = match block.kind {
        BlockKind::Rest | BlockKind::WarmUp => " class=\"rest\"",
        _ => "",
    };
    let details = match block.details.as_slice() {
        [] => String::new(),
        details => {
            let items: String = details
                .iter()
                .map(|detail| format!("<li>{}</li>", escaped(detail)))
                .collect();
            format!("<ul>{items}</ul>")
        }
    };
    format!(
        "<tr{class}><th scope=\"row\">{}′ · {} {minutes}</th><td><p>{}</p>{details}</td></tr>\n",
        block.start,
        block.minutes,
        escaped(&block.title)
    )
}

fn remarks(heading: &str, remarks: &[Remark]) -> String {
    let item = |remark: &Remark| {
        let keys: Vec<String> = remark
            .sources
            .iter()
            .map(|key| format!("<a href=\"#{0}\">{0}</a>", escaped(key)))
            .collect();
        let keys = if keys.is_empty() {
            String::new()
        } else {
            format!(" [{}]", keys.join(", "))
        };
        format!("<li>{}{keys}</li>\n", escaped(&remark.text))
    };
    let items: String = remarks.iter().map(item).collect();
    format!(
        "<section>\n<h2>{}</h2>\n<ul>\n{items}</ul>\n</section>\n",
        escaped(heading)
    )
}

fn sources(plan: &Plan) -> String {
    let remarks = plan.about.iter().chain(&plan.cautions);
    let mut keys: Vec<&String> = remarks.flat_map(|remark| &remark.sources).collect();
    keys.sort();
    keys.dedup();
    let item = |key: &String| {
        let cite = source::citation(key).map_or("", |citation| citation.cite.as_str());
        format!("<li id=\"{0}\">{0}: {1}</li>\n", escaped(key), escaped(cite))
    };
    let items: String = keys.into_iter().map(item).collect();
    format!(
        "<section>\n<h2>{}</h2>\n<ul>\n{items}</ul>\n</section>\n",
        escaped(&plan.labels.sources)
    )
}
