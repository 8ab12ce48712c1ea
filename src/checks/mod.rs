//! 4. Does the lesson hold together?
//!
//! Comes in: lessons. Goes out: findings. This room never looks at the text of a note and never changes a lesson.
//! Start reading at [`CHECKS`]: it is the table of contents.

use crate::findings::Finding;
use crate::intake::Folder;
use crate::music::lesson::Lesson;

/// What came out of looking at a folder's lessons.
#[derive(Debug, Default)]
pub struct Judged {
    pub findings: Vec<Finding>,
    /// Findings that a note asks to let stand, with its reason.
    pub let_stand: Vec<(Finding, String)>,
}

/// Runs every check over every lesson.
pub fn judge(_folder: &Folder, _lessons: &[Lesson]) -> Judged {
    Judged::default()
}
