//! What each visit raised, in the words of that judgement; the flag itself follows the latest one.

use diesel::prelude::*;

use super::Flag;
use crate::clinical::{self, Moment, RULES_VERSION, Urgency};
use crate::registry::connection::{Backend, Db};
use crate::registry::error::Result;
use crate::registry::ids::{FlagId, PregnancyId, VisitId};
use crate::registry::schema::{flags, raisings};

/// One flag as one visit raised it.
#[derive(Debug, Clone, PartialEq, Eq, Queryable, Selectable, Insertable)]
#[diesel(table_name = raisings, check_for_backend(Backend))]
pub struct Raising {
    /// The visit.
    pub visit_id: VisitId,
    /// The flag.
    pub flag_id: FlagId,
    /// As judged by this visit.
    pub urgency: Urgency,
    /// In words.
    pub evidence: String,
    /// What to do, with the caution.
    pub advice: String,
    /// With its mark.
    pub source: String,
    /// Of the rules that judged.
    pub rules_version: String,
    /// When to look again; only with the urgency `recheck`.
    pub recheck_at: Option<Moment>,
}

impl Raising {
    pub(super) fn of(visit: VisitId, flag: FlagId, said: &clinical::Flag) -> Self {
        Self {
            visit_id: visit,
            flag_id: flag,
            urgency: said.urgency,
            evidence: said.evidence.clone(),
            advice: said.advice.clone(),
            source: said.source.clone(),
            rules_version: RULES_VERSION.to_owned(),
            recheck_at: said.recheck_at,
        }
    }
}

/// Keeps what a visit raised; of a visit that was amended, in place of what its former revision raised.
pub(super) fn keep(db: &mut Db, visit: VisitId, known: &[Flag], raised: &[Raising]) -> Result<()> {
    if !known.is_empty() {
        diesel::delete(raisings::table.filter(raisings::visit_id.eq(visit))).execute(db)?;
    }
    for one in raised {
        diesel::insert_into(raisings::table)
            .values(one)
            .execute(db)?;
    }
    Ok(())
}

/// Every flag that a visit raised, as it was said then, by urgency; beside it the flag as it is now.
///
/// # Errors
/// `Broken` when the database cannot be read.
pub fn by_visit(db: &mut Db, visit: VisitId) -> Result<Vec<(Raising, Flag)>> {
    let mut raised: Vec<(Raising, Flag)> = raisings::table
        .inner_join(flags::table)
        .filter(raisings::visit_id.eq(visit))
        .order(raisings::flag_id)
        .select((Raising::as_select(), Flag::as_select()))
        .load(db)?;
    raised.sort_by_key(|(said, flag)| (said.urgency, flag.category));
    Ok(raised)
}

/// In which words the flags of a pregnancy were raised, by the visits that raised them first.
///
/// # Errors
/// `Broken` when the database cannot be read.
pub fn first_words(db: &mut Db, pregnancy: PregnancyId) -> Result<Vec<(FlagId, String)>> {
    Ok(raisings::table
        .inner_join(flags::table)
        .filter(flags::pregnancy_id.eq(pregnancy))
        .filter(flags::visit_id.eq(raisings::visit_id.nullable()))
        .select((raisings::flag_id, raisings::evidence))
        .load(db)?)
}
