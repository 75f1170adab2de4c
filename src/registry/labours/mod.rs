//! Labour records: opened once, rows added and never overwritten, closed by what ended the labour.

mod open;
mod read;
mod rows;
mod write;

pub use open::{NewLabour, open};
pub use read::{Labour, ended_since, in_labour, of_pregnancy, one, row, rows};
pub use rows::{NewRow, StoredRow};
pub(in crate::registry) use write::close_for;
pub use write::{add_row, amend_row, close, judge_now};

use super::error::{RegistryError, Result};
use crate::clinical::{LabourRow, Moment};
use chrono::Duration;

/// A row further back belongs to no labour that is still running [O].
const FURTHEST_BACK: Duration = Duration::days(3);

/// What no page lets through; for entries that come another way.
fn check_row(new: &NewRow, now: Moment, opened_at: Moment) -> Result<()> {
    let LabourRow { at, .. } = new.found;
    if at > now {
        return Err(RegistryError::field(
            "at_date",
            "This time has not come yet.",
        ));
    }
    if at < opened_at - FURTHEST_BACK {
        return Err(RegistryError::field(
            "at_date",
            "This is more than three days before the record was opened. Check the date.",
        ));
    }
    if !new.says_something() {
        return Err(RegistryError::refused(
            "Nothing is filled in. Write down at least one thing that you examined.",
        ));
    }
    Ok(())
}
