//! The order of time of a referral's steps; a span that would be negative cannot be stored.

use super::ReferralEvent;
use crate::clinical::Moment;
use chrono::Duration;

/// How far a clock at the bedside may run ahead of the registry's.
const CLOCKS_DIFFER: Duration = Duration::minutes(5);

/// One step and when it was; `None` is "the time is not known".
pub type StepTime = (ReferralEvent, Option<Moment>);

/// Two times that cannot both be true, or one that has not come yet.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum OutOfOrder {
    /// The second step stands before the first.
    #[error("The {} cannot be before the {}.", said(*.later), said(*.earlier))]
    Before {
        /// The step that has to be earlier, or at the same time.
        earlier: ReferralEvent,
        /// The step that has to be later.
        later: ReferralEvent,
    },
    /// Later than now and five minutes.
    #[error("The {} has not happened yet: this time is in the future.", said(*.0))]
    Future(ReferralEvent),
}

fn said(event: ReferralEvent) -> &'static str {
    match event {
        ReferralEvent::Decided => "decision",
        ReferralEvent::Told => "call to the hospital",
        ReferralEvent::Left => "departure",
        ReferralEvent::Arrived => "arrival",
        ReferralEvent::Seen => "first examination there",
        ReferralEvent::Answered => "answer",
        ReferralEvent::NeverCame => "news that she never came",
        ReferralEvent::Declined => "refusal",
        ReferralEvent::StoodDown => "standing down",
    }
}

/// What has to have been before `event`, as far as it is known.
///
/// decided ≤ left ≤ arrived ≤ seen, arrived ≤ answered, decided ≤ told; a time that is not known hands the
/// comparison on to the one before it, so that no span of the delays comes out negative.
fn earlier_than(event: ReferralEvent) -> &'static [ReferralEvent] {
    use ReferralEvent::{Arrived, Decided, Left};
    match event {
        ReferralEvent::Decided => &[],
        ReferralEvent::Told | Left => &[Decided],
        ReferralEvent::Seen | ReferralEvent::Answered => &[Decided, Left, Arrived],
        Arrived | ReferralEvent::NeverCame | ReferralEvent::Declined | ReferralEvent::StoodDown => {
            &[Decided, Left]
        }
    }
}

/// Whether the times of all steps of one referral can be true together; equal times can.
///
/// # Errors
/// The first pair that is out of order, or the first time later than `now` + 5 minutes.
pub fn in_order(steps: &[StepTime], now: Moment) -> Result<(), OutOfOrder> {
    for (event, at) in steps {
        let Some(at) = at else { continue };
        if *at > now + CLOCKS_DIFFER {
            return Err(OutOfOrder::Future(*event));
        }
        for (earlier, before) in steps {
            if earlier_than(*event).contains(earlier) && before.is_some_and(|before| before > *at) {
                return Err(OutOfOrder::Before {
                    earlier: *earlier,
                    later: *event,
                });
            }
        }
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a test stops at the first surprise")]
    use super::*;
    use ReferralEvent as E;

    fn at(text: &str) -> Moment {
        format!("2026-10-01T{text}:00").parse().unwrap()
    }

    fn judged(steps: &[(E, &str)]) -> Result<(), OutOfOrder> {
        let steps: Vec<_> = steps
            .iter()
            .map(|(event, text)| (*event, (*text != "?").then(|| at(text))))
            .collect();
        in_order(&steps, at("20:00"))
    }

    #[test]
    fn equal_times_are_in_order_and_a_minute_the_wrong_way_is_not() {
        let chain = [E::Decided, E::Left, E::Arrived, E::Seen];
        let equal: Vec<_> = chain.iter().map(|event| (*event, "08:00")).collect();
        assert_eq!(judged(&equal), Ok(()));
        for wrong in 1..chain.len() {
            let mut steps: Vec<_> = chain.iter().map(|event| (*event, "08:01")).collect();
            steps[wrong].1 = "08:00";
            let fault = judged(&steps).unwrap_err();
            assert!(
                matches!(fault, OutOfOrder::Before { later, .. } if later == chain[wrong]),
                "{fault}"
            );
        }
    }

    #[test]
    fn an_answer_may_come_before_she_was_seen_but_not_before_she_arrived() {
        let seen = [
            (E::Decided, "08:00"),
            (E::Arrived, "10:00"),
            (E::Seen, "11:00"),
            (E::Answered, "10:30"),
        ];
        assert_eq!(judged(&seen), Ok(()));
        let early = [
            (E::Decided, "08:00"),
            (E::Arrived, "10:00"),
            (E::Answered, "09:59"),
        ];
        assert_eq!(
            judged(&early).unwrap_err().to_string(),
            "The answer cannot be before the arrival."
        );
    }

    #[test]
    fn an_unknown_time_is_skipped_and_what_stands_around_it_still_holds() {
        assert_eq!(
            judged(&[(E::Decided, "08:00"), (E::Left, "?"), (E::Arrived, "08:00")]),
            Ok(())
        );
        assert!(judged(&[(E::Decided, "08:00"), (E::Left, "?"), (E::Arrived, "07:59")]).is_err());
        assert!(judged(&[(E::Decided, "08:00"), (E::Told, "07:59")]).is_err());
    }

    #[test]
    fn a_clock_five_minutes_ahead_is_believed_and_six_are_not() {
        assert_eq!(judged(&[(E::Decided, "20:05")]), Ok(()));
        assert_eq!(
            judged(&[(E::Decided, "20:06")]),
            Err(OutOfOrder::Future(E::Decided))
        );
    }
}
