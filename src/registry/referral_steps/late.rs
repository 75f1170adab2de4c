//! Told, overdue, lost: labels computed when asked, never stored; a later step clears them.

use crate::clinical::{Moment, Urgency};
use crate::registry::vocabulary::ReferralState;
use chrono::Duration;

/// Nobody is called late sooner than this after leaving or deciding [O].
const SHORTEST_WAIT: Duration = Duration::hours(2);
/// A booked journey that has not begun [O].
const SOON_LEAVES_WITHIN: Duration = Duration::hours(72);
/// After this without an arrival nobody knows where she is [O].
const LOST_AFTER: Duration = Duration::hours(7 * 24);

/// What the labels are computed from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Progress {
    /// Where the referral stands.
    pub state: ReferralState,
    /// Its urgency when decided.
    pub urgency: Urgency,
    /// When it was decided.
    pub decided: Moment,
    /// When she left, if that is known.
    pub left: Option<Moment>,
    /// First moment of the day for which it was booked, at the post; counts when later than `decided`.
    pub booked: Option<Moment>,
    /// Minutes door to door to its hospital, where the post has set them.
    pub travel_minutes: Option<i32>,
}

/// The labels of one referral at one moment.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Labels {
    /// Since when it is overdue.
    pub overdue_since: Option<Moment>,
    /// Since when she counts as lost.
    pub lost_since: Option<Moment>,
}

impl Progress {
    /// The labels at `now`.
    #[must_use]
    pub fn labels(&self, now: Moment) -> Labels {
        let reached = |limit: &Moment| *limit <= now;
        Labels {
            overdue_since: self.overdue_at().filter(reached),
            lost_since: self.lost_at().filter(reached),
        }
    }

    /// When she should have arrived (`now`) or left (`soon`) at the latest; none once a step has answered that.
    #[must_use]
    pub fn overdue_at(&self) -> Option<Moment> {
        match (self.urgency, self.state) {
            (Urgency::Now, ReferralState::Decided | ReferralState::Left) => {
                let travel = Duration::minutes(i64::from(self.travel_minutes.unwrap_or(0)));
                Some(self.left.unwrap_or(self.decided) + (travel * 2).max(SHORTEST_WAIT))
            }
            (Urgency::Soon, ReferralState::Decided) => {
                let decided = self.decided + SOON_LEAVES_WITHIN;
                // A day agreed with the hospital is not late before it is over [O].
                let agreed = self.booked_later().map(|day| day + Duration::days(1));
                Some(agreed.map_or(decided, |agreed| agreed.max(decided)))
            }
            _ => None,
        }
    }

    /// When she will count as lost; none once she arrived or the referral is closed.
    #[must_use]
    pub fn lost_at(&self) -> Option<Moment> {
        let on_her_way = matches!(self.state, ReferralState::Decided | ReferralState::Left);
        let since = self.left.or(self.booked_later()).unwrap_or(self.decided);
        on_her_way.then_some(since + LOST_AFTER)
    }

    fn booked_later(&self) -> Option<Moment> {
        self.booked.filter(|day| *day > self.decided)
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a test stops at the first surprise")]
    use super::*;

    fn at(text: &str) -> Moment {
        format!("2026-10-{text}:00").parse().unwrap()
    }

    fn left_on_1_october() -> Progress {
        Progress {
            state: ReferralState::Left,
            urgency: Urgency::Now,
            decided: at("01T08:00"),
            left: Some(at("01T08:30")),
            booked: None,
            travel_minutes: Some(90),
        }
    }

    #[test]
    fn she_is_lost_seven_days_after_leaving_to_the_minute() {
        let she = left_on_1_october();
        assert_eq!(she.labels(at("08T08:29")).lost_since, None);
        assert_eq!(she.labels(at("08T08:30")).lost_since, Some(at("08T08:30")));
    }

    #[test]
    fn without_a_time_of_leaving_the_decision_counts_or_the_day_she_was_booked_for() {
        let unknown = Progress {
            left: None,
            ..left_on_1_october()
        };
        assert_eq!(unknown.lost_at(), Some(at("08T08:00")));
        let booked = Progress {
            booked: Some(at("05T00:00")),
            state: ReferralState::Decided,
            ..unknown
        };
        assert_eq!(booked.lost_at(), Some(at("12T00:00")));
        let same_day = Progress {
            booked: Some(at("01T00:00")),
            ..unknown
        };
        assert_eq!(
            same_day.lost_at(),
            Some(at("08T08:00")),
            "a day already begun is not later"
        );
    }

    #[test]
    fn a_woman_referred_now_is_overdue_after_twice_the_journey_and_never_before_two_hours() {
        let she = left_on_1_october();
        assert_eq!(she.labels(at("01T11:29")).overdue_since, None);
        assert_eq!(
            she.labels(at("01T11:30")).overdue_since,
            Some(at("01T11:30"))
        );
        let near = Progress {
            travel_minutes: Some(25),
            ..she
        };
        assert_eq!(near.overdue_at(), Some(at("01T10:30")));
        let waiting = Progress {
            state: ReferralState::Decided,
            left: None,
            travel_minutes: None,
            ..she
        };
        assert_eq!(waiting.overdue_at(), Some(at("01T10:00")));
    }

    #[test]
    fn a_booked_journey_is_overdue_when_it_has_not_begun_in_72_hours_or_on_its_day() {
        let she = Progress {
            urgency: Urgency::Soon,
            state: ReferralState::Decided,
            left: None,
            ..left_on_1_october()
        };
        assert_eq!(she.labels(at("04T07:59")).overdue_since, None);
        assert_eq!(
            she.labels(at("04T08:00")).overdue_since,
            Some(at("04T08:00"))
        );
        let booked = Progress {
            booked: Some(at("10T00:00")),
            ..she
        };
        assert_eq!(booked.overdue_at(), Some(at("11T00:00")));
        assert_eq!(
            Progress {
                state: ReferralState::Left,
                ..she
            }
            .overdue_at(),
            None
        );
        assert_eq!(
            Progress {
                urgency: Urgency::Review,
                ..she
            }
            .overdue_at(),
            None
        );
    }

    #[test]
    fn an_arrival_or_a_closing_clears_both_labels() {
        for state in ReferralState::ALL {
            let open = matches!(state, ReferralState::Decided | ReferralState::Left);
            let labels = Progress {
                state: *state,
                ..left_on_1_october()
            }
            .labels(at("31T00:00"));
            assert_eq!(labels.overdue_since.is_some(), open, "{state:?}");
            assert_eq!(labels.lost_since.is_some(), open, "{state:?}");
        }
    }
}
