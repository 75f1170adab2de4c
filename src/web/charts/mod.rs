//! Pictures as inline SVG: what the hands and the tape found, never more than the clinical layer concluded.
//!
//! Words first: every picture comes with a title, a description and rows for a table. Colour never stands alone:
//! felt is firm, concluded is faint, unsure is dotted, not examined is not drawn.

pub mod abdomen;
mod geometry;
pub mod height;
mod marks;

use std::fmt;

use askama::filters::HtmlSafe;

/// Markup made by a template of this room, so a page may show it as it is.
///
/// Only charts make one; text that somebody typed was escaped by the template that drew it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Drawing(String);

impl Drawing {
    /// The markup itself, for a file or a test.
    #[must_use]
    pub fn as_str(&self) -> &str {
        &self.0
    }

    fn of(template: &impl askama::Template) -> Self {
        // Writing into a String cannot fail; should a template ever refuse, the words beside the picture remain.
        Self(template.render().unwrap_or_default())
    }
}

impl fmt::Display for Drawing {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

impl HtmlSafe for Drawing {}

/// One row of the table beside a picture: what, and what it came to.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct WordRow {
    /// Where or when.
    pub label: &'static str,
    /// What was found there.
    pub said: String,
}
