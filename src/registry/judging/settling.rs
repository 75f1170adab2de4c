//! Whether a later record answered what a flag asked.

use crate::clinical::{Assessment, Case};
use crate::registry::flags::Flag;

pub(super) fn settles(_flag: &Flag, _case: &Case, _assessment: &Assessment) -> bool {
    false
}
