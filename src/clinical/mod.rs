//! The midwifery: findings in, flags out. Knows no clock, no database, no page.
//!
//! Everything here is decision support for trained staff; local protocols and licensed practice decide.

pub mod agreement;
mod assess;
mod assessment;
mod case;
mod codes;
pub mod dating;
mod findings;
mod flag;
pub mod fundal_height;
mod labour;
pub mod newborn;
mod palpation;
mod picture;
mod record;
pub mod robson;
mod settling;
mod speech;
mod spoken;
mod verdict;
pub mod wire;

pub use assess::{RULES_VERSION, assess, rules_since};
pub use assessment::{
    Assessment, Basis, DueItem, DueWhat, Flag, Gestation, HeightScore, LabourPicture, LabourState,
    Limit, Palpation, Stage, UnknownReason,
};
pub use case::{
    Case, Dating, History, LabourRow, Mother, PalpationFindings, Post, Scan, Signs, Visit,
};
pub(crate) use codes::codes;
pub use codes::{UnknownCode, Vocabulary};
pub use dating::{Dated, date_pregnancy, gestation_text};
pub use findings::*;
pub use flag::{
    BIRTH_NEAR, CAUTION, Edge, Mark, Rule, Settling, Softening, Source, caution, rule, rules,
    silences, urgency_of,
};
pub use fundal_height::{height_at, height_score};
pub use palpation::{PalpationFault, palpation_faults, read_palpation};
pub use settling::{OpenFlag, settled};
pub use spoken::{spoken, weeks_and_days};

/// A moment in UTC, to the second.
pub type Moment = chrono::NaiveDateTime;
/// A calendar day.
pub type Day = chrono::NaiveDate;
