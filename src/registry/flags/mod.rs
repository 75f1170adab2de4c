//! Flags and their life: raised, raised again, reviewed, settled.

mod life;
mod lists;
mod raisings;
mod review;

use diesel::prelude::*;

use super::connection::{Backend, Db};
use super::error::{RegistryError, Result};
use super::ids::{FlagId, LabourRowId, MotherId, PostId, PregnancyId, StaffId, VisitId};
use super::schema::{flags, staff};
use super::vocabulary::{FlagClosing, FlagDecision};
use crate::clinical::{Category, Moment, Urgency};

pub(in crate::registry) use life::{Judged, end_all, reopen_ended, update};
pub use lists::{
    After, Waiting, check_again, confirmed, decided_since, now_standing, settled_since, standing,
    waiting, waiting_count,
};
pub use raisings::{Raising, by_visit, first_words};
pub use review::{decide, reconsider};

/// One flag.
#[derive(Debug, Clone, PartialEq, Eq, Queryable, Selectable, Insertable)]
#[diesel(table_name = flags, check_for_backend(Backend))]
pub struct Flag {
    /// Its id.
    pub id: FlagId,
    /// Whose pregnancy.
    pub pregnancy_id: PregnancyId,
    /// Who.
    pub mother_id: MotherId,
    /// In which register.
    pub post_id: PostId,
    /// The rule that raised it.
    pub rule: String,
    /// Its kind.
    pub category: Category,
    /// As last judged.
    pub urgency: Urgency,
    /// The highest it has had; a flag that once was `now` never settles by itself.
    pub highest: Urgency,
    /// In words, as last judged.
    pub evidence: String,
    /// What to do, with the caution.
    pub advice: String,
    /// With its mark.
    pub source: String,
    /// Of the rules that judged last.
    pub rules_version: String,
    /// The moment of judgement that raised it.
    pub raised_at: Moment,
    /// The visit that raised it.
    pub visit_id: Option<VisitId>,
    /// The labour row that raised it.
    pub labour_row_id: Option<LabourRowId>,
    /// The last moment of judgement that raised it again.
    pub last_raised_at: Moment,
    /// When to look again; only with the urgency `recheck`.
    pub recheck_at: Option<Moment>,
    /// The midwife's decision; absent while it waits.
    pub decision: Option<FlagDecision>,
    /// When she decided.
    pub decided_at: Option<Moment>,
    /// Who decided.
    pub decided_by: Option<StaffId>,
    /// Why.
    pub reason: Option<String>,
    /// Why it stands no longer; absent while it stands.
    pub closing: Option<FlagClosing>,
    /// Since when.
    pub closed_at: Option<Moment>,
    /// The visit that settled it.
    pub closed_by_visit: Option<VisitId>,
    /// Counts what changed in it, for forms that grew old.
    pub revision: i32,
}

impl Flag {
    /// It still says something about her.
    #[must_use]
    pub fn stands(&self) -> bool {
        self.closed_at.is_none()
    }

    /// It waits for the midwife; a recheck waits for its time instead.
    #[must_use]
    pub fn waits(&self) -> bool {
        self.stands() && self.decision.is_none() && self.urgency != Urgency::Recheck
    }
}

/// The record by which a judgement came about; neither when facts changed or time passed.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct RaisedBy {
    /// A visit.
    pub visit: Option<VisitId>,
    /// A row of a labour record.
    pub row: Option<LabourRowId>,
}

impl RaisedBy {
    /// By a visit.
    #[must_use]
    pub fn visit(id: VisitId) -> Self {
        Self {
            visit: Some(id),
            row: None,
        }
    }

    /// By a row of a labour record.
    #[must_use]
    pub fn row(id: LabourRowId) -> Self {
        Self {
            visit: None,
            row: Some(id),
        }
    }

    fn is_some(self) -> bool {
        self.visit.is_some() || self.row.is_some()
    }
}

/// One flag of a post, with the name of whoever decided.
///
/// # Errors
/// `Missing` when there is none at this post.
pub fn find(db: &mut Db, post: PostId, id: FlagId) -> Result<(Flag, Option<String>)> {
    let found = flags::table
        .left_join(staff::table)
        .filter(flags::id.eq(id).and(flags::post_id.eq(post)))
        .select((Flag::as_select(), staff::name.nullable()))
        .get_result(db)
        .optional()?;
    found.ok_or(RegistryError::Missing("flag"))
}

/// Every flag of a pregnancy, the oldest first.
///
/// # Errors
/// `Broken` when the database cannot be read.
pub fn of_pregnancy(db: &mut Db, pregnancy: PregnancyId) -> Result<Vec<Flag>> {
    Ok(flags::table
        .filter(flags::pregnancy_id.eq(pregnancy))
        .order((flags::raised_at, flags::id))
        .select(Flag::as_select())
        .load(db)?)
}
