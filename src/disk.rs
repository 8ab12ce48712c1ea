//! The only writer: pages and exports are values until they come here.

/// A file to be written, its path relative to the output folder, with `/`.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct OutputFile {
    pub path: String,
    pub bytes: Vec<u8>,
}
