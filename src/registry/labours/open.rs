//! Opening a labour record: when it began, the waters, the first row.
//!
//! Opening stores no visit of its own: a visit without hands would stand for the last one, and a breech that the hands
//! knew would be forgotten in labour. What she says of the waters goes into the record and its first row instead [O].

use diesel::prelude::*;

use super::super::change::Change;
use super::super::error::{RegistryError, Result};
use super::super::ids::{LabourId, PregnancyId};
use super::super::judging;
use super::super::posts;
use super::super::pregnancies;
use super::super::schema::{labours, mothers};
use super::super::vocabulary::Role;
use super::rows::{Entry, NewRow, insert};
use super::{FURTHEST_BACK, of_pregnancy};
use crate::clinical::{Liquor, Moment, Waters};

/// What opens a labour record.
#[derive(Debug, Clone)]
pub struct NewLabour {
    /// Her pregnancy.
    pub pregnancy: PregnancyId,
    /// When regular painful contractions began, as she told.
    pub began_at: Option<Moment>,
    /// As told or seen.
    pub waters: Option<Waters>,
    /// When they broke, as she told.
    pub waters_broke_at: Option<Moment>,
    /// The first row; its time is the time of opening.
    pub first: NewRow,
    /// The form's request key.
    pub request: Option<String>,
}

/// Opens a labour record and judges the pregnancy anew.
///
/// # Errors
/// `Missing` for a pregnancy of another post; `Refused` when it has ended or a record is open already;
/// `RefusedField` for times that cannot be.
pub fn open(change: &mut Change<'_>, new: &NewLabour) -> Result<LabourId> {
    let (post, author, now) = (change.post()?, change.author()?, change.now());
    if !change.may(&[Role::Nurse, Role::Midwife]) {
        return Err(RegistryError::refused(
            "Only a nurse or the midwife in charge opens a labour.",
        ));
    }
    if let Some(request) = &new.request {
        let known = labours::table
            .filter(labours::request_key.eq(request))
            .select(labours::id);
        if let Some(known) = known.get_result(change.db()).optional()? {
            change.nothing_new();
            return Ok(known);
        }
    }
    let pregnancy = pregnancies::find(change.db(), post, new.pregnancy)?;
    let post = posts::find(change.db(), post)?;
    let number: i32 = mothers::table
        .find(pregnancy.mother_id)
        .select(mothers::number)
        .get_result(change.db())?;
    if pregnancy.ended_at.is_some() {
        return Err(RegistryError::refused("This pregnancy has ended."));
    }
    if of_pregnancy(change.db(), post.id, new.pregnancy)?
        .iter()
        .any(|it| it.closed_at.is_none())
    {
        return Err(RegistryError::refused("Her labour record is open already."));
    }
    let opened_at = new.first.found.at;
    for (field, told) in [
        ("labour_began_date", new.began_at),
        ("waters_broke_date", new.waters_broke_at),
    ] {
        if told.is_some_and(|told| told > now) {
            return Err(RegistryError::field(field, "This time has not come yet."));
        }
    }
    if new.waters == Some(Waters::Intact) && new.waters_broke_at.is_some() {
        return Err(RegistryError::field(
            "waters",
            "“Intact” and a time at which they broke cannot both be.",
        ));
    }
    if opened_at > now {
        return Err(RegistryError::field(
            "at_date",
            "This time has not come yet.",
        ));
    }
    if opened_at < now - FURTHEST_BACK {
        return Err(RegistryError::field(
            "at_date",
            "This is more than three days ago. Check the date; a birth that is over is recorded as a birth.",
        ));
    }
    let (first, waters_broke_at) = with_waters(new);
    let id = LabourId::made(now);
    diesel::insert_into(labours::table)
        .values((
            (
                labours::id.eq(id),
                labours::pregnancy_id.eq(new.pregnancy),
                labours::mother_id.eq(pregnancy.mother_id),
            ),
            (
                labours::post_id.eq(post.id),
                labours::opened_at.eq(opened_at),
                labours::opened_by.eq(author),
            ),
            (
                labours::began_at.eq(new.began_at),
                labours::waters_broke_at.eq(waters_broke_at),
            ),
            (
                labours::protocol.eq(post.labour_protocol),
                labours::request_key.eq(&new.request),
                labours::revision.eq(1),
            ),
        ))
        .execute(change.db())?;
    let entry = Entry {
        labour: id,
        now,
        author,
        request: None,
        reason: None,
    };
    let row = insert(change.db(), &entry, &first)?;
    change.tell(
        "labour opened",
        "labour",
        id.code(),
        post.register_number(number),
    )?;
    judging::assess_pregnancy(
        change,
        new.pregnancy,
        opened_at,
        judging::RaisedBy::row(row),
    )?;
    Ok(id)
}

/// What she said of the waters, in the first row and as the time since which they are broken.
///
/// Broken without a time counts from the opening: “at least since” is what any record that says broken means.
fn with_waters(new: &NewLabour) -> (NewRow, Option<Moment>) {
    let mut first = new.first.clone();
    let since = match new.waters {
        None => None,
        Some(Waters::Intact) => {
            first.found.liquor = first.found.liquor.or(Some(Liquor::Intact));
            None
        }
        Some(Waters::Broken) => Some(first.found.at),
        Some(Waters::BrokenFoul) => {
            first.found.liquor_foul = Some(true);
            Some(first.found.at)
        }
    };
    (first, new.waters_broke_at.or(since))
}
