//! Visits: recorded, amended, read with everything that was ever written in them.

mod amend;
mod record;

use diesel::prelude::*;

use super::connection::{Backend, Db};
use super::error::{RegistryError, Result};
use super::ids::{MotherId, PostId, PregnancyId, StaffId, VisitId};
use super::schema::{staff, visits};
use crate::clinical::Moment;

pub use super::findings::Findings;
pub use amend::{amend, enter_in_error};
pub use record::{NewVisit, Recorded, record};

/// A visit's place in the register.
#[derive(Debug, Clone, PartialEq, Eq, Queryable, Selectable)]
#[diesel(table_name = visits, check_for_backend(Backend))]
pub struct Place {
    /// Its id.
    pub id: VisitId,
    /// In which pregnancy.
    pub pregnancy_id: PregnancyId,
    /// Whose.
    pub mother_id: MotherId,
    /// In which register.
    pub post_id: PostId,
    /// When she was examined.
    pub at: Moment,
    /// When it was entered.
    pub entered_at: Moment,
    /// By whom.
    pub entered_by: StaffId,
    /// The revision that stands, from 1.
    pub revision: i32,
    /// It is in the register by mistake: readable, in no judgement and no count.
    pub entered_in_error: bool,
}

/// One revision.
#[derive(Debug, Clone, PartialEq)]
pub struct Revision {
    /// Its number, from 1.
    pub number: i32,
    /// What it says.
    pub findings: Findings,
    /// Why it was written; absent in the first.
    pub reason: Option<String>,
    /// When it was written.
    pub written_at: Moment,
    /// By whom.
    pub written_by: String,
}

/// A visit with all its revisions.
#[derive(Debug, Clone, PartialEq)]
pub struct Visit {
    /// Where it stands.
    pub place: Place,
    /// Who entered it.
    pub entered_by: String,
    /// The revision that stands.
    pub standing: Revision,
    /// Those that stood before, the newest first.
    pub earlier: Vec<Revision>,
}

/// One visit of a post.
///
/// # Errors
/// `Missing` when there is none at this post.
pub fn find(db: &mut Db, post: PostId, id: VisitId) -> Result<Visit> {
    let found: Option<(Place, String)> = visits::table
        .inner_join(staff::table)
        .filter(visits::id.eq(id).and(visits::post_id.eq(post)))
        .select((Place::as_select(), staff::name))
        .get_result(db)
        .optional()?;
    let (place, entered_by) = found.ok_or(RegistryError::Missing("visit"))?;
    let names: Vec<(StaffId, String)> = staff::table.select((staff::id, staff::name)).load(db)?;
    let name_of = |id: StaffId| {
        names
            .iter()
            .find(|(known, _)| *known == id)
            .map(|(_, name)| name.clone())
    };
    let mut revisions: Vec<Revision> = super::findings::revisions_of(db, id)?
        .into_iter()
        .map(|(findings, written)| Revision {
            number: written.revision,
            findings,
            reason: written.reason,
            written_at: written.at,
            written_by: name_of(written.by).unwrap_or_default(),
        })
        .collect();
    let standing = revisions
        .pop()
        .ok_or_else(|| RegistryError::corrupt(format!("visit {id} has no findings")))?;
    revisions.reverse();
    Ok(Visit {
        place,
        entered_by,
        standing,
        earlier: revisions,
    })
}

/// The visits of a pregnancy that stand, with their findings, in the order of time.
///
/// # Errors
/// `Broken` when the database cannot be read.
pub fn of_pregnancy(db: &mut Db, pregnancy: PregnancyId) -> Result<Vec<(VisitId, Findings)>> {
    super::findings::standing(db, pregnancy)
}
