//! Signs that endanger the mother or the baby at once.

mod circulation;
mod contractions;
mod told;

use super::rule::Rule;

pub(super) use contractions::{contraction_words, counted};

/// In the order of the reference.
pub(super) static RULES: &[&[Rule]] = &[told::RULES, circulation::RULES, contractions::RULES];
