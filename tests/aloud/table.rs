//! The figures, form by form and kind by kind, with the worst examples.

use std::collections::BTreeMap;

use crate::forms::Make;
use crate::judged::{Tally, Verdict};
use crate::told::Told;

/// Examples shown without having been asked for.
const EXAMPLES: usize = 2;

#[derive(Default)]
pub struct Table {
    forms: BTreeMap<String, [Tally; 3]>,
    kinds: BTreeMap<&'static str, [Tally; 3]>,
    examples: Vec<(String, String)>,
    texts: usize,
    sentences: usize,
}

impl Table {
    pub fn take(&mut self, make: Make, told: &Told, verdicts: Vec<Verdict>) {
        self.texts += 1;
        self.sentences += told.sentences;
        for verdict in verdicts {
            let said = &told.said[verdict.said];
            self.forms.entry(said.form.clone()).or_default()[make as usize].add(verdict.tally);
            self.kinds.entry(said.kind).or_default()[make as usize].add(verdict.tally);
            for fault in verdict.faults {
                let words = format!(
                    "{} | {} | {make:?} | {fault}\n      [{}] in: {}",
                    said.form,
                    said.kind,
                    &told.text[said.range.clone()],
                    told.text[said.sentence.clone()].trim_end(),
                );
                self.examples.push((said.form.clone(), words));
            }
        }
    }

    pub fn total(&self) -> Tally {
        let mut total = Tally::default();
        self.forms.values().flatten().for_each(|tally| total.add(*tally));
        total
    }

    pub fn printed(&self, language: &str) -> String {
        let mut lines = vec![format!(
            "{language}: {} texts, {} sentences\n{:40} {:^23} {:^23} {:^23}",
            self.texts, self.sentences, "", "transcript, marks", "transcript, plain", "typed"
        )];
        let head = format!("{:>5} {:>5} {:>5} {:>5}", "said", "right", "open", "wrong");
        lines.push(format!("{:40} {head} {head} {head}", "form"));
        lines.extend(rows(self.forms.iter().map(|(form, tallies)| (form.as_str(), tallies))));
        lines.push("what was said".to_owned());
        lines.extend(rows(self.kinds.iter().map(|(kind, tallies)| (*kind, tallies))));
        lines.extend(self.shown());
        let total = self.total();
        let of = |part: usize| 100.0 * part as f64 / total.said.max(1) as f64;
        lines.push(format!(
            "{language}: said {}, right {} ({:.1} %), open {} ({:.1} %), wrong {} ({:.1} %)",
            total.said,
            total.right,
            of(total.right),
            total.open,
            of(total.open),
            total.wrong,
            of(total.wrong)
        ));
        lines.join("\n")
    }

    /// The first faults of each form, or all that hold the words asked for.
    fn shown(&self) -> Vec<String> {
        let asked = std::env::var("ALOUD").ok();
        let mut shown: BTreeMap<&str, usize> = BTreeMap::new();
        let mut lines = Vec::new();
        for (form, words) in &self.examples {
            let many = shown.entry(form).or_default();
            let wanted = asked.as_ref().map_or(*many < EXAMPLES, |asked| words.contains(asked));
            if wanted {
                *many += 1;
                lines.push(format!("    {words}"));
            }
        }
        lines
    }
}

fn rows<'a>(of: impl Iterator<Item = (&'a str, &'a [Tally; 3])>) -> Vec<String> {
    let mut total = [Tally::default(); 3];
    let mut lines = Vec::new();
    let row = |name: &str, tallies: &[Tally; 3]| {
        let cells = tallies
            .iter()
            .map(|tally| format!("{:5} {:5} {:5} {:5}", tally.said, tally.right, tally.open, tally.wrong));
        format!("{name:40} {}", cells.collect::<Vec<_>>().join(" "))
    };
    for (name, tallies) in of {
        lines.push(row(name, tallies));
        total
            .iter_mut()
            .zip(tallies)
            .for_each(|(total, tally)| total.add(*tally));
    }
    lines.push(row("all", &total));
    lines
}
