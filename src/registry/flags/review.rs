//! The midwife's decision about a flag.

use diesel::prelude::*;

use super::{Flag, find, of_pregnancy};
use crate::clinical::Moment;
use crate::registry::change::Change;
use crate::registry::error::{RegistryError, Result};
use crate::registry::ids::{FlagId, StaffId};
use crate::registry::limits;
use crate::registry::schema::{flags, mothers, posts};
use crate::registry::vocabulary::{FlagClosing, FlagDecision, Role};

/// Confirms or dismisses a flag, with the reason. A dismissed flag is closed; a later visit can raise it again.
///
/// # Errors
/// `Missing`; `Stale` when the flag changed since `revision`; `RefusedField` beside `reason`;
/// `Refused` to all but the midwife in charge, and for a flag that stands no longer or was decided.
pub fn decide(
    change: &mut Change<'_>,
    id: FlagId,
    revision: i32,
    decision: FlagDecision,
    reason: &str,
) -> Result<()> {
    if !change.may(&[Role::Midwife]) {
        return Err(RegistryError::refused(
            "Only the midwife in charge decides about a flag.",
        ));
    }
    let post = change.post()?;
    let (flag, _) = find(change.db(), post, id)?;
    if flag.revision != revision {
        return Err(RegistryError::Stale {
            current_revision: flag.revision,
        });
    }
    if !flag.stands() {
        return Err(RegistryError::refused(
            "This flag stands no longer; there is nothing to decide.",
        ));
    }
    let reason = limits::reason(reason)?;
    if flag.decision.is_some() {
        return Err(RegistryError::refused(
            "This flag has been reviewed already.",
        ));
    }
    store(change, &flag, Some(decision), Some(reason))?;
    let verb = match decision {
        FlagDecision::Confirmed => "flag confirmed",
        FlagDecision::Dismissed => "flag dismissed",
    };
    tell(change, verb, &flag)
}

/// Takes a decision back, so that the flag waits again; one that was dismissed stands again.
///
/// # Errors
/// `Missing`; `Stale`; `Refused` to all but the midwife in charge, and for a flag without a decision.
pub fn reconsider(change: &mut Change<'_>, id: FlagId, revision: i32) -> Result<()> {
    if !change.may(&[Role::Midwife]) {
        return Err(RegistryError::refused(
            "Only the midwife in charge decides about a flag.",
        ));
    }
    let post = change.post()?;
    let (flag, _) = find(change.db(), post, id)?;
    if flag.revision != revision {
        return Err(RegistryError::Stale {
            current_revision: flag.revision,
        });
    }
    let open = matches!(flag.closing, None | Some(FlagClosing::Dismissed));
    if flag.decision.is_none() || !open {
        return Err(RegistryError::refused(
            "There is no decision that could be taken back.",
        ));
    }
    let again = of_pregnancy(change.db(), flag.pregnancy_id)?;
    if !flag.stands()
        && again
            .iter()
            .any(|other| other.stands() && other.rule == flag.rule)
    {
        return Err(RegistryError::refused(
            "A later visit raised this again; decide about that one.",
        ));
    }
    store(change, &flag, None, None)?;
    tell(change, "flag decision taken back", &flag)
}

fn store(
    change: &mut Change<'_>,
    flag: &Flag,
    decision: Option<FlagDecision>,
    reason: Option<&str>,
) -> Result<()> {
    let now: Moment = change.now();
    let by: StaffId = change.author()?;
    let dismissed = decision == Some(FlagDecision::Dismissed);
    diesel::update(flags::table.find(flag.id))
        .set((
            flags::decision.eq(decision),
            flags::decided_at.eq(decision.map(|_| now)),
            flags::decided_by.eq(decision.map(|_| by)),
            flags::reason.eq(reason),
            flags::closing.eq(dismissed.then_some(FlagClosing::Dismissed)),
            flags::closed_at.eq(dismissed.then_some(now)),
            flags::revision.eq(flag.revision + 1),
        ))
        .execute(change.db())?;
    Ok(())
}

fn tell(change: &mut Change<'_>, verb: &'static str, flag: &Flag) -> Result<()> {
    let (code, number): (String, i32) = mothers::table
        .inner_join(posts::table)
        .filter(mothers::id.eq(flag.mother_id))
        .select((posts::code, mothers::number))
        .get_result(change.db())?;
    change.tell(
        verb,
        "flag",
        flag.id.code(),
        format!("{code} {number:04}: {}", flag.rule),
    )
}
