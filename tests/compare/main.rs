//! Two states of a lesson: what the comparison says. `edits.txt` is the table, for musicians.

/// The table of edits.
mod edits;

/// The whole story: folders, records, pages, the program.
mod courses;
