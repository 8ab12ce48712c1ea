use std::path::Path;

use crate::disk::{CopiedFile, Site};
use crate::failure::Failure;
use crate::pages::{self, Choices, CourseHead, SiteInput};
use crate::pipeline::Review;

/// What a course was made into, and what is to be said of it.
pub(super) struct Made {
    pub(super) site: Site,
    /// Lessons in the site.
    pub(super) lessons: usize,
    /// Lessons whose reading the teacher has not checked: in the site, or left out of it when strict.
    pub(super) unreviewed: usize,
}

/// The site of a course that was read and judged.
pub(super) fn make(notes: &Path, review: &Review, choices: Choices) -> Result<Made, Failure> {
    let said = &review.folder.course;
    let head = CourseHead {
        title: said.title.clone(),
        about: said.about.clone(),
        language: said.language.clone(),
    };
    let input = SiteInput {
        head: &head,
        lessons: &review.published,
        folder: &review.folder,
        palos: &review.palos,
        choices,
    };
    let copies = pages::recordings(&input).into_iter().map(|copy| CopiedFile {
        path: copy.to,
        from: review.folder.root.join(copy.from),
    });
    let unreviewed = review.lessons.iter().filter(|lesson| lesson.reviewed.is_none()).count();
    Ok(Made {
        site: Site {
            files: pages::site(&input)?,
            copies: copies.collect(),
            notes: Some(notes.to_path_buf()),
            hasty: false,
        },
        lessons: review.lessons.len() - if choices.strict { unreviewed } else { 0 },
        unreviewed,
    })
}
