//! How a referral moves: which step may follow which, in which order of time, and when it is late.
//!
//! Pure; `referrals` stores what this allows. States, times and labels \[O\]: clinical reference, part 8.1.

mod late;
mod times;

pub use late::{Labels, Progress};
pub use times::{OutOfOrder, StepTime, in_order};

use super::vocabulary::{ReferralEvent, ReferralState};

/// Why a step is not taken.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum Refusal {
    /// The step was taken before, or the referral is over.
    #[error("This referral is already {}.", standing(*.0))]
    Already(ReferralState),
    /// Being seen comes after an arrival.
    #[error("She has not arrived by this record. Write down the arrival first.")]
    NotArrived,
}

fn standing(state: ReferralState) -> &'static str {
    match state {
        ReferralState::Left => "on its way",
        ReferralState::NotArrived => "closed: she never came",
        other => other.words(),
    }
}

/// The state after `event`.
///
/// # Errors
/// [`Refusal`] when the event has no place in this state; news after closing come as a correction.
pub fn next(state: ReferralState, event: ReferralEvent) -> Result<ReferralState, Refusal> {
    use ReferralEvent as E;
    use ReferralState as S;
    match (event, state) {
        (E::Told, S::Decided | S::Left) => Ok(state),
        (E::Left, S::Decided) => Ok(S::Left),
        (E::Arrived, S::Decided | S::Left) => Ok(S::Arrived),
        (E::Seen, S::Arrived) => Ok(S::Seen),
        (E::Seen, S::Decided | S::Left) => Err(Refusal::NotArrived),
        (E::Answered, S::Decided | S::Left | S::Arrived | S::Seen | S::Answered) => Ok(S::Answered),
        (E::NeverCame, S::Decided | S::Left) => Ok(S::NotArrived),
        (E::Declined, S::Decided | S::Left) => Ok(S::Declined),
        (E::StoodDown, S::Decided | S::Left) => Ok(S::StoodDown),
        _ => Err(Refusal::Already(state)),
    }
}

/// The steps that may come next, in the order of the reference.
pub fn allowed(state: ReferralState) -> impl Iterator<Item = ReferralEvent> {
    let events = ReferralEvent::ALL.iter().copied();
    events.filter(move |event| next(state, *event).is_ok())
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a test stops at the first surprise")]
    use super::*;

    /// Clinical reference 8.1 \[C\]: told, left, arrived, seen, answered, never came, declined, stood down; `-` is refused.
    const MATRIX: &[(&str, [&str; 8])] = &[
        (
            "decided",
            [
                "decided",
                "left",
                "arrived",
                "-",
                "answered",
                "not-arrived",
                "declined",
                "stood-down",
            ],
        ),
        (
            "left",
            [
                "left",
                "-",
                "arrived",
                "-",
                "answered",
                "not-arrived",
                "declined",
                "stood-down",
            ],
        ),
        (
            "arrived",
            ["-", "-", "-", "seen", "answered", "-", "-", "-"],
        ),
        ("seen", ["-", "-", "-", "-", "answered", "-", "-", "-"]),
        ("answered", ["-", "-", "-", "-", "answered", "-", "-", "-"]),
        ("not-arrived", ["-"; 8]),
        ("declined", ["-"; 8]),
        ("stood-down", ["-"; 8]),
    ];
    const EVENTS: [&str; 8] = [
        "told",
        "left",
        "arrived",
        "seen",
        "answered",
        "never-came",
        "declined",
        "stood-down",
    ];

    #[test]
    fn all_64_pairs_of_state_and_event_go_where_the_reference_says() {
        let (mut tried, mut taken) = (0, 0);
        for (from, row) in MATRIX {
            for (event, expected) in EVENTS.iter().zip(row) {
                let came = next(from.parse().unwrap(), event.parse().unwrap());
                let came = came.map_or("-", ReferralState::code);
                assert_eq!(came, *expected, "{event} in {from}");
                tried += 1;
                taken += usize::from(came != "-");
            }
        }
        assert_eq!((tried, taken), (64, 17));
    }

    #[test]
    fn a_refusal_says_where_the_referral_stands() {
        let said = |state, event| next(state, event).unwrap_err().to_string();
        assert_eq!(
            said(ReferralState::StoodDown, ReferralEvent::Left),
            "This referral is already stood down."
        );
        assert!(said(ReferralState::Left, ReferralEvent::Seen).contains("arrival first"));
        for state in ReferralState::ALL {
            assert!(
                next(*state, ReferralEvent::Decided).is_err(),
                "decided twice: {state:?}"
            );
        }
    }

    #[test]
    fn what_may_come_next_is_what_is_not_refused() {
        let after_leaving: Vec<_> = allowed(ReferralState::Left)
            .map(ReferralEvent::code)
            .collect();
        assert_eq!(
            after_leaving,
            [
                "told",
                "arrived",
                "answered",
                "never-came",
                "declined",
                "stood-down"
            ]
        );
        assert_eq!(allowed(ReferralState::Declined).count(), 0);
    }
}
