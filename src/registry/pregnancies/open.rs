//! A pregnancy enters the register.

use diesel::prelude::*;

use super::{Facts, check, due_date};
use crate::clinical::Day;
use crate::registry::change::Change;
use crate::registry::error::{RegistryError, Result};
use crate::registry::ids::{MotherId, PregnancyId, ScanId};
use crate::registry::judging::{self, RaisedBy, assess_pregnancy};
use crate::registry::limits::trimmed;
use crate::registry::posts;
use crate::registry::schema::{mothers, pregnancies, pregnancy_history, scans};

/// The columns that an amendment writes too; absent clears.
#[derive(Insertable, AsChangeset)]
#[diesel(table_name = pregnancies, treat_none_as_null = true)]
pub(super) struct Told {
    lmp: Option<Day>,
    lmp_certain: Option<bool>,
    births_before: Option<i32>,
    previous_caesareans: Option<i32>,
    illness: Option<String>,
    allergies: Option<String>,
    medicines: Option<String>,
    blood_group: Option<String>,
    tests: Option<String>,
    companion: Option<String>,
    companion_phone: Option<String>,
}

impl Told {
    pub(super) fn of(facts: &Facts) -> Self {
        Self {
            lmp: facts.dating.lmp,
            lmp_certain: facts.dating.lmp_certain,
            births_before: facts.births_before.map(i32::from),
            previous_caesareans: facts.previous_caesareans.map(i32::from),
            illness: trimmed(facts.illness.as_ref()),
            allergies: trimmed(facts.allergies.as_ref()),
            medicines: trimmed(facts.medicines.as_ref()),
            blood_group: trimmed(facts.blood_group.as_ref()),
            tests: trimmed(facts.tests.as_ref()),
            companion: trimmed(facts.companion.as_ref()),
            companion_phone: trimmed(facts.companion_phone.as_ref()),
        }
    }
}

/// Opens a further pregnancy of a mother of this post.
///
/// # Errors
/// `Missing`; `Refused` while another one lasts; `RefusedField` for facts that cannot be.
pub fn open(change: &mut Change<'_>, mother: MotherId, facts: &Facts) -> Result<PregnancyId> {
    let post = change.post()?;
    let number: Option<i32> = mothers::table
        .filter(mothers::id.eq(mother).and(mothers::post_id.eq(post)))
        .select(mothers::number)
        .get_result(change.db())
        .optional()?;
    let number = number.ok_or(RegistryError::Missing("mother"))?;
    let lasting: i64 = pregnancies::table
        .filter(
            pregnancies::mother_id
                .eq(mother)
                .and(pregnancies::ended_at.is_null()),
        )
        .count()
        .get_result(change.db())?;
    if lasting > 0 {
        return Err(RegistryError::refused(
            "Her last pregnancy is still open. Record its birth or how it ended first.",
        ));
    }
    let id = open_for(change, mother, facts)?;
    let number = posts::find(change.db(), post)?.register_number(number);
    change.tell("pregnancy opened", "pregnancy", id.code(), number)?;
    Ok(id)
}

/// Opens a pregnancy of a mother who is known to be of this post, and judges it.
pub(in crate::registry) fn open_for(
    change: &mut Change<'_>,
    mother: MotherId,
    facts: &Facts,
) -> Result<PregnancyId> {
    let now = change.now();
    let post = change.post()?;
    let today = posts::find(change.db(), post)?.day(now);
    check::refuse_impossible(facts, today, today)?;
    let id = PregnancyId::made(now);
    let row = (
        (
            pregnancies::id.eq(id),
            pregnancies::mother_id.eq(mother),
            pregnancies::post_id.eq(post),
            pregnancies::opened_at.eq(now),
            pregnancies::due_date.eq(due_date(&facts.dating, today)),
            pregnancies::revision.eq(1),
        ),
        Told::of(facts),
    );
    diesel::insert_into(pregnancies::table)
        .values(row)
        .execute(change.db())?;
    store_lists(change, id, facts)?;
    assess_pregnancy(change, id, now, RaisedBy::default())?;
    Ok(id)
}

/// Writes history and scans, in place of those that stood.
pub(super) fn replace_lists(change: &mut Change<'_>, id: PregnancyId, facts: &Facts) -> Result<()> {
    judging::forget(change, id);
    diesel::delete(pregnancy_history::table.filter(pregnancy_history::pregnancy_id.eq(id)))
        .execute(change.db())?;
    diesel::delete(scans::table.filter(scans::pregnancy_id.eq(id))).execute(change.db())?;
    store_lists(change, id, facts)
}

fn store_lists(change: &mut Change<'_>, id: PregnancyId, facts: &Facts) -> Result<()> {
    let mut events = facts.history.clone();
    events.sort_unstable();
    events.dedup();
    for event in events {
        diesel::insert_into(pregnancy_history::table)
            .values((
                pregnancy_history::pregnancy_id.eq(id),
                pregnancy_history::past_event.eq(event),
            ))
            .execute(change.db())?;
    }
    for (position, scan) in (0_i32..).zip(&facts.dating.scans) {
        let scan_id = ScanId::made(change.now());
        diesel::insert_into(scans::table)
            .values((
                scans::id.eq(scan_id),
                scans::pregnancy_id.eq(id),
                scans::position.eq(position),
                scans::scanned_on.eq(scan.on),
                scans::gestation_days.eq(scan.gestation_days.map(i32::from)),
                scans::due_date.eq(scan.edd),
                scans::babies.eq(scan.babies.map(i32::from)),
            ))
            .execute(change.db())?;
    }
    Ok(())
}
