//! Whether a later record answered what a flag asked.

use crate::clinical::{Assessment, Case, OpenFlag, settled};
use crate::registry::flags::Flag;

/// Answered by the record at `case.on`; only a record later than the last that raised the flag can settle it.
pub(super) fn settles(flag: &Flag, case: &Case, assessment: &Assessment) -> bool {
    let open = OpenFlag {
        rule: &flag.rule,
        urgency: flag.highest,
        raised_at: flag.last_raised_at,
    };
    settled(case, assessment, &[open]) == [true]
}
