//! The midwifery: findings in, flags out. Knows no clock, no database, no page.
//!
//! Everything here is decision support for trained staff; local protocols and licensed practice decide.

mod assessment;
mod case;
mod codes;
mod findings;

pub use assessment::{
    Assessment, Basis, DueItem, DueWhat, Flag, Gestation, HeightScore, LabourPicture, LabourState,
    Limit, Palpation, Stage, UnknownReason,
};
pub use case::{
    Case, Dating, History, LabourRow, Mother, PalpationFindings, Post, Scan, Signs, Visit,
};
pub use codes::UnknownCode;
pub(crate) use codes::codes;
pub use findings::*;

/// A moment in UTC, to the second.
pub type Moment = chrono::NaiveDateTime;
/// A calendar day.
pub type Day = chrono::NaiveDate;
