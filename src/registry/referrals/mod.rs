//! Referrals: decided, followed step by step, answered; never overwritten.

mod advance;
mod decide;
mod grounds;
mod letter;
mod list;
mod read;
mod steps;

pub use advance::{advance, correct, mark_error, withdraw};
pub use decide::{Decision, decide};
pub use letter::{LetterFacts, letter};
pub use list::{After, Closed, ClosedLine, Waiting, WaitingPage, closed, waiting};
pub use read::{Facts, Referral, facts, find, of_pregnancy};
pub use steps::{NewStep, Step, steps};

pub(in crate::registry) use steps::of_request;
