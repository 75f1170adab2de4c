//! Labour that does not go on.

mod clocks;
mod contractions;
mod descent;
mod moulding;
mod obstruction;

use super::rule::Rule;

/// In the order of the reference.
pub(super) static RULES: &[&[Rule]] = &[
    clocks::RULES,
    descent::RULES,
    moulding::RULES,
    obstruction::RULES,
    contractions::RULES,
];
