//! A visit is put right: a new revision stands, the old one stays readable.

use diesel::prelude::*;

use super::record::of;
use super::{Findings, Place, find};
use crate::clinical::{Assessment, Day};
use crate::registry::change::Change;
use crate::registry::error::{RegistryError, Result};
use crate::registry::findings::{self, Written};
use crate::registry::ids::VisitId;
use crate::registry::judging::{self, RaisedBy};
use crate::registry::limits::{self, trimmed};
use crate::registry::schema::visits;

/// Writes a new revision with its reason and judges the pregnancy anew at the visit's time.
///
/// # Errors
/// `Missing`; `Stale` when a newer revision than `revision` stands (both are readable through [`find`]);
/// `RefusedField` beside `reason` or for what cannot have been found; `Refused` for a visit entered in error.
pub fn amend(
    change: &mut Change<'_>,
    id: VisitId,
    revision: i32,
    new: &Findings,
    reason: &str,
) -> Result<Assessment> {
    let place = standing(change, id, revision)?;
    let reason = limits::reason(reason)?;
    let of = of(change, place.post_id, place.pregnancy_id)?;
    let now = change.now();
    let new = Findings {
        note: trimmed(new.note.as_ref()),
        ..new.clone()
    };
    findings::refuse_impossible(&new, &of.dating, now)?;
    of.refuse_after_end(new.visit.at)?;
    let written = Written {
        revision: revision + 1,
        at: now,
        by: change.author()?,
        reason: Some(reason.to_owned()),
    };
    findings::store(change.db(), id, &new, &written)?;
    diesel::update(visits::table.find(id))
        .set((
            visits::at.eq(new.visit.at),
            visits::revision.eq(written.revision),
            visits::next_visit_on.eq(new.next_visit_on),
        ))
        .execute(change.db())?;
    let detail = format!("{}, revision {}", of.register_number, written.revision);
    change.tell("visit amended", "visit", id.code(), detail)?;
    judging::assess_pregnancy(
        change,
        place.pregnancy_id,
        new.visit.at,
        RaisedBy::visit(id),
    )
}

/// Takes a visit out of every judgement and count; it stays readable. Flags that it alone raised are settled, but for `now`.
///
/// # Errors
/// `Missing`; `Stale`; `RefusedField` beside `reason`; `Refused` when it is done already.
pub fn enter_in_error(
    change: &mut Change<'_>,
    id: VisitId,
    revision: i32,
    reason: &str,
) -> Result<()> {
    let place = standing(change, id, revision)?;
    let reason = limits::reason(reason)?;
    let post = change.post()?;
    let visit = find(change.db(), post, id)?;
    let of = of(change, place.post_id, place.pregnancy_id)?;
    let now = change.now();
    let written = Written {
        revision: revision + 1,
        at: now,
        by: change.author()?,
        reason: Some(reason.to_owned()),
    };
    // The same findings once more, so that who took it out, when and why is kept where the visit is read.
    findings::store(change.db(), id, &visit.standing.findings, &written)?;
    diesel::update(visits::table.find(id))
        .set((
            visits::revision.eq(written.revision),
            visits::entered_in_error.eq(true),
            visits::next_visit_on.eq(None::<Day>),
        ))
        .execute(change.db())?;
    change.tell(
        "visit entered in error",
        "visit",
        id.code(),
        of.register_number,
    )?;
    judging::assess_pregnancy(change, place.pregnancy_id, place.at, RaisedBy::visit(id))?;
    Ok(())
}

fn standing(change: &mut Change<'_>, id: VisitId, revision: i32) -> Result<Place> {
    let post = change.post()?;
    let place: Option<Place> = visits::table
        .filter(visits::id.eq(id).and(visits::post_id.eq(post)))
        .select(Place::as_select())
        .get_result(change.db())
        .optional()?;
    let place = place.ok_or(RegistryError::Missing("visit"))?;
    if place.revision != revision {
        return Err(RegistryError::Stale {
            current_revision: place.revision,
        });
    }
    if place.entered_in_error {
        return Err(RegistryError::refused(
            "This visit is marked as entered in error; record a new one.",
        ));
    }
    Ok(place)
}
