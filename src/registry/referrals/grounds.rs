//! What a referral rests on: its flags, its reasons, its urgency.

use diesel::prelude::*;

use super::super::connection::Db;
use super::super::error::{RegistryError, Result};
use super::super::ids::FlagId;
use super::super::schema::flags;
use super::super::vocabulary::FlagDecision;
use super::Decision;
use crate::clinical::{Category, Moment, Urgency};

/// A flag as far as a decision asks.
#[derive(Debug, Clone, Copy, Queryable)]
pub(super) struct Reason {
    pub(super) id: FlagId,
    pub(super) category: Category,
    pub(super) urgency: Urgency,
    pub(super) highest: Urgency,
    pub(super) raised_at: Moment,
    pub(super) decision: Option<FlagDecision>,
    pub(super) closed_at: Option<Moment>,
    pub(super) revision: i32,
}

/// Reasons and urgency of a referral that may be decided.
pub(super) struct Grounds {
    pub(super) categories: Vec<Category>,
    pub(super) urgency: Urgency,
    pub(super) first_flag_at: Option<Moment>,
}

impl Grounds {
    pub(super) fn of(decision: &Decision, flags: &[Reason], in_charge: bool) -> Result<Self> {
        let gone = |flag: &Reason| {
            flag.closed_at.is_some() || flag.decision == Some(FlagDecision::Dismissed)
        };
        if flags.iter().any(gone) {
            return Err(RegistryError::field(
                "flag",
                "This flag does not stand any more. Open the page again.",
            ));
        }
        let of_flags = flags
            .iter()
            .map(|flag| flag.urgency)
            .min()
            .filter(|it| *it != Urgency::Recheck);
        if !in_charge && of_flags != Some(Urgency::Now) {
            return Err(RegistryError::refused(
                "A nurse decides when a flag says refer now. The midwife in charge decides the others.",
            ));
        }
        let named = decision.urgency.filter(|_| in_charge && of_flags.is_none());
        let urgency = match of_flags.or(named) {
            Some(Urgency::Recheck) => Err(RegistryError::field(
                "urgency",
                "A referral is never a recheck.",
            )),
            Some(urgency) => Ok(urgency),
            None => Err(RegistryError::field("urgency", "Say how urgent it is.")),
        }?;
        let mut categories: Vec<_> = flags.iter().map(|flag| flag.category).collect();
        if in_charge {
            categories.extend(&decision.categories);
        }
        categories.sort_unstable();
        categories.dedup();
        if categories.is_empty() {
            return Err(RegistryError::field(
                "category",
                "Name at least one reason.",
            ));
        }
        let pressing = |flag: &&Reason| matches!(flag.highest, Urgency::Now | Urgency::Soon);
        Ok(Self {
            categories,
            urgency,
            first_flag_at: flags
                .iter()
                .filter(pressing)
                .map(|flag| flag.raised_at)
                .min(),
        })
    }
}

/// The flags that a decision names, all of this pregnancy.
pub(super) fn reasons(db: &mut Db, decision: &Decision) -> Result<Vec<Reason>> {
    let mut wanted = decision.flags.clone();
    wanted.sort_unstable();
    wanted.dedup();
    let found: Vec<Reason> = flags::table
        .filter(
            flags::id
                .eq_any(&wanted)
                .and(flags::pregnancy_id.eq(decision.pregnancy)),
        )
        .order((flags::urgency, flags::id))
        .select((
            flags::id,
            flags::category,
            flags::urgency,
            flags::highest,
            flags::raised_at,
            flags::decision,
            flags::closed_at,
            flags::revision,
        ))
        .load(db)?;
    if found.len() == wanted.len() {
        Ok(found)
    } else {
        Err(RegistryError::Missing("flag"))
    }
}
