//! The only clock of the commands; everything below them is told the time.

use chrono::Timelike;

use crate::clinical::Moment;

/// Now, in UTC, to the second.
#[expect(
    clippy::disallowed_methods,
    reason = "one of the two clocks of the house; everything else is told the time"
)]
pub(super) fn now() -> Moment {
    let now = chrono::Utc::now().naive_utc();
    now.with_nanosecond(0).unwrap_or(now)
}
