//! Pages that need not be made again: what they come from is what it was.

use std::collections::BTreeMap;
use std::sync::{Mutex, PoisonError};

use super::course::Ready;
use crate::compare::History;
use crate::disk::OutputFile;
use crate::failure::Failure;
use crate::mark::Mark;

/// What was made before.
#[derive(Clone, Copy)]
pub struct Known<'a> {
    /// Of each lesson of the input: the mark of all that it was read from.
    pub lessons: &'a [Mark],
    /// Whether the page at this address, made from what has this mark, is still there.
    pub holds: &'a (dyn Fn(&str, Mark) -> bool + Sync),
}

/// A site, as far as it had to be made.
#[derive(Debug, Default)]
pub struct Pages {
    /// Sorted by path.
    pub files: Vec<OutputFile>,
    /// The addresses of pages that are what they were, sorted.
    pub kept: Vec<String>,
    /// The mark of every page of one or more lessons alone, made or kept.
    pub marks: BTreeMap<String, Mark>,
    /// The history as it stands when this site is published.
    pub history: History,
}

/// Decides, page by page, and writes down what was decided.
#[derive(Default)]
pub(super) struct Decisions<'a> {
    known: Option<Known<'a>>,
    /// What a lesson's pages may show of the rest of the course.
    context: Option<Mark>,
    marks: Mutex<BTreeMap<String, (Mark, bool)>>,
}

impl<'a> Decisions<'a> {
    pub fn new(known: Option<Known<'a>>, context: Mark) -> Self {
        Self {
            known,
            context: Some(context),
            marks: Mutex::default(),
        }
    }

    /// A page that shows these lessons, and of the rest of the course only what is in the context: made, unless it is known.
    pub fn page(
        &self,
        lessons: &[&Ready],
        address: &str,
        make: impl FnOnce() -> Result<OutputFile, Failure>,
    ) -> Result<Option<OutputFile>, Failure> {
        let read: Option<Vec<Mark>> = lessons.iter().map(|ready| ready.mark).collect();
        let (Some(known), Some(context), Some(read)) = (&self.known, &self.context, read) else {
            return make().map(Some);
        };
        let mut parts = vec![address.as_bytes()];
        parts.extend(read.iter().map(|lesson| lesson.as_bytes()));
        parts.push(context.as_bytes());
        let mark = Mark::of(&parts);
        let keeps = (known.holds)(address, mark);
        let mut marks = self.marks.lock().unwrap_or_else(PoisonError::into_inner);
        marks.insert(address.to_owned(), (mark, keeps));
        drop(marks);
        if keeps { Ok(None) } else { make().map(Some) }
    }

    /// The site, with these files made.
    pub fn into_pages(self, mut files: Vec<OutputFile>) -> Pages {
        files.sort();
        let marks = self.marks.into_inner().unwrap_or_else(PoisonError::into_inner);
        let kept = marks
            .iter()
            .filter(|(_, (_, keeps))| *keeps)
            .map(|(address, _)| address.clone());
        Pages {
            files,
            kept: kept.collect(),
            marks: marks.into_iter().map(|(address, (mark, _))| (address, mark)).collect(),
            history: History::default(),
        }
    }
}

impl std::fmt::Debug for Decisions<'_> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Decisions")
            .field("context", &self.context)
            .finish_non_exhaustive()
    }
}
