//! A pregnancy ends, or turns out to last after all.

use diesel::prelude::*;

use super::find;
use crate::clinical::Moment;
use crate::registry::change::Change;
use crate::registry::error::{RegistryError, Result};
use crate::registry::flags;
use crate::registry::ids::PregnancyId;
use crate::registry::judging::{RaisedBy, assess_pregnancy};
use crate::registry::posts;
use crate::registry::schema::{births, mothers, pregnancies};
use crate::registry::vocabulary::PregnancyEnding;

/// Ends a pregnancy; its standing flags are over.
///
/// # Errors
/// `Missing`; `Refused` when it ended already or the end lies before its beginning or after now.
pub fn end(
    change: &mut Change<'_>,
    id: PregnancyId,
    ending: PregnancyEnding,
    at: Moment,
) -> Result<()> {
    let post = change.post()?;
    let pregnancy = find(change.db(), post, id)?;
    if pregnancy.ended_at.is_some() {
        return Err(RegistryError::refused("This pregnancy has ended already."));
    }
    if at > change.now() + chrono::TimeDelta::minutes(5) {
        return Err(RegistryError::field("ended_on", "This is later than now."));
    }
    if pregnancy
        .facts
        .dating
        .lmp
        .is_some_and(|lmp| at.date() < lmp)
    {
        return Err(RegistryError::field(
            "ended_on",
            "This is before her last period.",
        ));
    }
    diesel::update(pregnancies::table.find(id))
        .set((
            pregnancies::ended_at.eq(at),
            pregnancies::ending.eq(ending),
            pregnancies::revision.eq(pregnancy.revision + 1),
        ))
        .execute(change.db())?;
    flags::end_all(change, id, at)?;
    let number: i32 = mothers::table
        .find(pregnancy.mother_id)
        .select(mothers::number)
        .get_result(change.db())?;
    let number = posts::find(change.db(), post)?.register_number(number);
    change.tell(
        "pregnancy ended",
        "pregnancy",
        id.code(),
        format!("{number}: {}", ending.words()),
    )
}

/// Opens a pregnancy again whose end was an error; the flags that its end closed stand again and it is judged anew.
///
/// # Errors
/// `Missing`; `Refused` when it has not ended, a birth stands, or another pregnancy of hers lasts.
pub fn reopen(change: &mut Change<'_>, id: PregnancyId) -> Result<()> {
    let post = change.post()?;
    let pregnancy = find(change.db(), post, id)?;
    if pregnancy.ended_at.is_none() {
        return Err(RegistryError::refused("This pregnancy has not ended."));
    }
    let standing: i64 = births::table
        .filter(
            births::pregnancy_id
                .eq(id)
                .and(births::entered_in_error.eq(false)),
        )
        .count()
        .get_result(change.db())?;
    if standing > 0 {
        return Err(RegistryError::refused(
            "A birth is recorded for this pregnancy; amend the birth instead.",
        ));
    }
    let lasting: i64 = pregnancies::table
        .filter(
            pregnancies::mother_id
                .eq(pregnancy.mother_id)
                .and(pregnancies::ended_at.is_null()),
        )
        .count()
        .get_result(change.db())?;
    if lasting > 0 {
        return Err(RegistryError::refused("A later pregnancy of hers is open."));
    }
    diesel::update(pregnancies::table.find(id))
        .set((
            pregnancies::ended_at.eq(None::<Moment>),
            pregnancies::ending.eq(None::<PregnancyEnding>),
            pregnancies::revision.eq(pregnancy.revision + 1),
        ))
        .execute(change.db())?;
    flags::reopen_ended(change, id)?;
    let number: i32 = mothers::table
        .find(pregnancy.mother_id)
        .select(mothers::number)
        .get_result(change.db())?;
    let number = posts::find(change.db(), post)?.register_number(number);
    change.tell("pregnancy opened again", "pregnancy", id.code(), number)?;
    let now = change.now();
    assess_pregnancy(change, id, now, RaisedBy::default())?;
    Ok(())
}
