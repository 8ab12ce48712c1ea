//! Why a run could not finish: the call or the files could not be used. Exit status 2.

use std::path::PathBuf;

/// One sentence for the person who typed the command.
#[derive(Debug, thiserror::Error)]
pub enum Failure {
    #[error("{path}: {reason}", path = path.display())]
    Unreadable { path: PathBuf, reason: String },
    #[error("{path}: {reason}", path = path.display())]
    Unwritable { path: PathBuf, reason: String },
    #[error("{0}")]
    Refused(String),
    #[error("template: {0}")]
    Template(String),
}
