use std::collections::BTreeMap;
use std::path::Path;

use crate::compare::History;
use crate::disk::{CopiedFile, Site};
use crate::failure::Failure;
use crate::mark::Mark;
use crate::pages::{self, Choices, CourseHead, Known, Publication, SiteInput};
use crate::pipeline::Review;

/// What a course was made into, and what is to be said of it.
pub(super) struct Made {
    /// Without the files that are kept: who asked knows what they are.
    pub(super) site: Site,
    /// Pages that are what they were, by address.
    pub(super) kept: Vec<String>,
    /// The mark of every page of a single lesson.
    pub(super) marks: BTreeMap<String, Mark>,
    /// The history as it stands when this site is published.
    pub(super) history: History,
    /// Lessons in the site.
    pub(super) lessons: usize,
    /// Lessons whose reading the teacher has not checked: in the site, or left out of it when strict.
    pub(super) unreviewed: usize,
}

/// What the course is called.
pub(super) fn head(review: &Review) -> CourseHead {
    let said = &review.folder.course;
    CourseHead {
        title: said.title.clone(),
        about: said.about.clone(),
        language: said.language.clone(),
    }
}

/// All that a site is made from.
pub(super) fn input<'a>(
    review: &'a Review,
    head: &'a CourseHead,
    choices: Choices,
    publication: Publication<'a>,
) -> SiteInput<'a> {
    SiteInput {
        head,
        lessons: &review.published,
        folder: &review.folder,
        palos: &review.palos,
        choices,
        publication,
    }
}

/// The site of a course that was read and judged. `holds` says whether a page with a mark is there already.
pub(super) fn make(
    notes: &Path,
    review: &Review,
    choices: Choices,
    publication: Publication,
    holds: &(dyn Fn(&str, Mark) -> bool + Sync),
) -> Result<Made, Failure> {
    let head = head(review);
    let input = input(review, &head, choices, publication);
    let copies = pages::recordings(&input).into_iter().map(|copy| CopiedFile {
        path: copy.to,
        from: review.folder.root.join(copy.from),
    });
    let known = Known {
        lessons: &review.marks,
        holds,
    };
    let pages = pages::site_knowing(&input, Some(known))?;
    let unreviewed = review.lessons.iter().filter(|lesson| lesson.reviewed.is_none()).count();
    Ok(Made {
        site: Site {
            files: pages.files,
            copies: copies.collect(),
            notes: Some(notes.to_path_buf()),
            ..Site::default()
        },
        history: pages.history,
        kept: pages.kept,
        marks: pages.marks,
        lessons: review.lessons.len() - if choices.strict { unreviewed } else { 0 },
        unreviewed,
    })
}
