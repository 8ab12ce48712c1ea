//! Strokes under a row of counts, on two lines or more.

use super::item::{Item, LineContext, Spanned};

pub fn block(_text: &str, _context: &LineContext) -> Option<Vec<Spanned<Item>>> {
    None
}
