//! `said …`: what the text says about its own strokes, kept to be held against them.

use super::parser::Parser;

impl Parser<'_, '_> {
    pub fn said(&mut self) -> Option<()> {
        None
    }
}
