//! The only clock of the pages: the machine's, or one that stands still until it is moved.

use std::sync::Arc;
use std::sync::atomic::{AtomicI64, Ordering};

use chrono::{DateTime, SubsecRound, TimeDelta, Utc};

use crate::clinical::Moment;

/// Tells the time, in UTC to the second.
#[derive(Debug, Clone, Default)]
pub struct Clock(Option<Arc<AtomicI64>>);

impl Clock {
    /// The machine's clock.
    #[must_use]
    pub const fn of_the_machine() -> Self {
        Self(None)
    }

    /// A clock that shows `moment` until [`Clock::advance`] moves it; its clones move with it.
    #[must_use]
    pub fn standing_at(moment: Moment) -> Self {
        Self(Some(Arc::new(AtomicI64::new(moment.and_utc().timestamp()))))
    }

    /// Moves a standing clock on. The machine's clock takes no notice.
    pub fn advance(&self, by: TimeDelta) {
        if let Some(seconds) = &self.0 {
            seconds.fetch_add(by.num_seconds(), Ordering::SeqCst);
        }
    }

    /// Now, in UTC to the second.
    #[must_use]
    #[expect(
        clippy::disallowed_methods,
        reason = "this is `web::clock`, from which the pages have the time"
    )]
    pub fn now(&self) -> Moment {
        let standing = self
            .0
            .as_ref()
            .and_then(|seconds| DateTime::from_timestamp(seconds.load(Ordering::SeqCst), 0));
        standing
            .unwrap_or_else(Utc::now)
            .naive_utc()
            .trunc_subsecs(0)
    }
}
