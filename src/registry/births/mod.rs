//! Births: one for each pregnancy, with every baby; closes the pregnancy. Amended by revisions, never overwritten.

mod list;
mod read;
mod record;
mod write;

pub use list::{After, Line, Overdue, Which, list, not_recorded};
pub use read::{Birth, Revision, of_pregnancy, one, revisions};
pub use record::{Asked, BirthRecord, Bounds, Contradiction, MOST_BABIES, Newborn, WEIGHT_G};
pub use write::{NewBirth, amend, mark_error, record};
