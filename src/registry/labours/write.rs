//! Rows added and amended, and how a record ends.

use diesel::prelude::*;

use super::super::change::Change;
use super::super::connection::Db;
use super::super::error::{RegistryError, Result};
use super::super::ids::{LabourId, LabourRowId, PregnancyId};
use super::super::judging;
use super::super::pregnancies;
use super::super::schema::{labour_rows, labours};
use super::super::visits;
use super::super::vocabulary::LabourEnding;
use super::check_row;
use super::read::{Labour, one, row};
use super::rows::{Entry, NewRow, insert};
use crate::clinical::Moment;

/// Adds a row and judges the pregnancy anew.
///
/// # Errors
/// `Missing` for a labour of another post; `Refused` when the record is closed or the row says nothing;
/// `RefusedField` for a time that cannot be.
pub fn add_row(
    change: &mut Change<'_>,
    labour: LabourId,
    new: &NewRow,
    request: Option<&str>,
) -> Result<LabourRowId> {
    let post = change.post()?;
    let record = one(change.db(), post, labour)?;
    if let Some(known) = row_of_request(change.db(), request)? {
        change.nothing_new();
        return Ok(known);
    }
    if record.closed_at.is_some() {
        return Err(RegistryError::refused(
            "This labour record is closed. Open a new one if she is in labour again.",
        ));
    }
    check_row(new, change.now(), record.opened_at)?;
    let entry = Entry {
        labour,
        now: change.now(),
        author: change.author()?,
        request,
        reason: None,
    };
    let id = insert(change.db(), &entry, new)?;
    change.tell(
        "labour row added",
        "labour",
        labour.code(),
        record.register.clone(),
    )?;
    if record.pregnancy_ended {
        judging::forget(change, record.pregnancy);
        return Ok(id);
    }
    let by = judging::RaisedBy::row(id);
    let added = judging::Added::Row(&new.found, new.counted_together);
    judging::assess_added(change, record.pregnancy, added, (new.found.at, by))?;
    Ok(id)
}

/// Replaces a row by a better one; the old one stays and names the new one.
///
/// # Errors
/// `Missing` for a row of another post; `Stale` when somebody else replaced it meanwhile; else as [`add_row`].
pub fn amend_row(
    change: &mut Change<'_>,
    old: LabourRowId,
    new: &NewRow,
    reason: &str,
    request: Option<&str>,
) -> Result<LabourRowId> {
    let post = change.post()?;
    let (labour, stored) = row(change.db(), post, old)?;
    if let Some(known) = row_of_request(change.db(), request)? {
        change.nothing_new();
        return Ok(known);
    }
    if stored.replaced_by.is_some() {
        return Err(RegistryError::Stale {
            current_revision: labour.revision,
        });
    }
    if reason.trim().is_empty() {
        return Err(RegistryError::field(
            "reason",
            "Say why the row is amended.",
        ));
    }
    check_row(new, change.now(), labour.opened_at)?;
    let entry = Entry {
        labour: labour.id,
        now: change.now(),
        author: change.author()?,
        request,
        reason: Some(reason),
    };
    let id = insert(change.db(), &entry, new)?;
    diesel::update(labour_rows::table.find(old))
        .set(labour_rows::replaced_by.eq(id))
        .execute(change.db())?;
    raise_revision(change.db(), &labour)?;
    change.tell(
        "labour row amended",
        "labour",
        labour.id.code(),
        format!("{}, row {old}: {reason}", labour.register),
    )?;
    // An ended pregnancy is judged no more: an amended row changes what is read, not what is done.
    if labour.pregnancy_ended {
        judging::forget(change, labour.pregnancy);
        return Ok(id);
    }
    let by = judging::RaisedBy::row(id);
    judging::assess_pregnancy(change, labour.pregnancy, new.found.at, by)?;
    Ok(id)
}

/// Judges a pregnancy at this moment: a limit may have passed since anybody wrote something.
///
/// # Errors
/// `Missing` for a pregnancy of another post.
pub fn judge_now(change: &mut Change<'_>, pregnancy: PregnancyId) -> Result<()> {
    let (post, now) = (change.post()?, change.now());
    if pregnancies::find(change.db(), post, pregnancy)?
        .ended_at
        .is_none()
    {
        judging::assess_pregnancy(change, pregnancy, now, judging::RaisedBy::default())?;
    }
    change.nothing_new(); // unless a flag was raised, which told the trail
    Ok(())
}

/// Closes a record. As “not in labour after all” its rows are judged no more.
///
/// # Errors
/// `Missing` for a labour of another post; `Stale` for an old revision; `Refused` when it is closed already.
pub fn close(
    change: &mut Change<'_>,
    labour: LabourId,
    revision: i32,
    ending: LabourEnding,
    at: Moment,
    note: Option<&str>,
) -> Result<()> {
    let post = change.post()?;
    let record = one(change.db(), post, labour)?;
    if record.revision != revision {
        return Err(RegistryError::Stale {
            current_revision: record.revision,
        });
    }
    if record.closed_at.is_some() {
        return Err(RegistryError::refused(
            "This labour record is closed already.",
        ));
    }
    if at > change.now() {
        return Err(RegistryError::field(
            "at_date",
            "This time has not come yet.",
        ));
    }
    end(change, &record, ending, at, note)?;
    if ending == LabourEnding::NotInLabour {
        take_visits_out_of_labour(change, &record)?;
        let now = change.now();
        judging::assess_pregnancy(change, record.pregnancy, now, judging::RaisedBy::default())?;
    }
    Ok(())
}

/// Closes the open record of a pregnancy, if there is one: a birth or a departure ends it.
pub(in crate::registry) fn close_for(
    change: &mut Change<'_>,
    pregnancy: PregnancyId,
    ending: LabourEnding,
    at: Moment,
) -> Result<()> {
    let post = change.post()?;
    let open = super::of_pregnancy(change.db(), post, pregnancy)?;
    for record in open.iter().filter(|record| record.closed_at.is_none()) {
        end(change, record, ending, at, None)?;
    }
    Ok(())
}

/// Visits that called it labour too would keep her in labour for ever; they are amended with the reason.
fn take_visits_out_of_labour(change: &mut Change<'_>, record: &Labour) -> Result<()> {
    let post = change.post()?;
    let visits = visits::of_pregnancy(change.db(), record.pregnancy)?;
    let since = record.opened_at - super::FURTHEST_BACK;
    for (id, mut findings) in visits {
        if findings.visit.in_labour && findings.visit.at >= since {
            let revision = visits::find(change.db(), post, id)?.place.revision;
            findings.visit.in_labour = false;
            findings.labour_began_at = None;
            visits::amend(change, id, revision, &findings, "Not in labour after all")?;
        }
    }
    Ok(())
}

fn end(
    change: &mut Change<'_>,
    record: &Labour,
    ending: LabourEnding,
    at: Moment,
    note: Option<&str>,
) -> Result<()> {
    let author = change.author()?;
    diesel::update(labours::table.find(record.id))
        .set((
            labours::closed_at.eq(at),
            labours::closed_as.eq(ending),
            labours::closed_by.eq(author),
            labours::closing_note.eq(note),
            labours::revision.eq(record.revision + 1),
        ))
        .execute(change.db())?;
    let detail = format!("{}: {}", record.register, ending.words());
    change.tell("labour closed", "labour", record.id.code(), detail)
}

fn raise_revision(db: &mut Db, record: &Labour) -> Result<()> {
    diesel::update(labours::table.find(record.id))
        .set(labours::revision.eq(record.revision + 1))
        .execute(db)?;
    Ok(())
}

fn row_of_request(db: &mut Db, request: Option<&str>) -> Result<Option<LabourRowId>> {
    let Some(request) = request else {
        return Ok(None);
    };
    let rows = labour_rows::table.filter(labour_rows::request_key.eq(request));
    Ok(rows.select(labour_rows::id).get_result(db).optional()?)
}
