//! What is told of a mother is put right, or she turns out to be no entry at all.

use diesel::prelude::*;

use super::register::Told;
use super::{Person, find};
use crate::registry::change::Change;
use crate::registry::error::{RegistryError, Result};
use crate::registry::ids::MotherId;
use crate::registry::judging::{RaisedBy, assess_pregnancy};
use crate::registry::limits;
use crate::registry::posts;
use crate::registry::pregnancies;
use crate::registry::schema::{mother_words, mothers};

/// Writes what is known of her now; her age counts in the judgement of an open pregnancy.
///
/// # Errors
/// `Missing`; `Stale` when somebody changed it since `revision`; `RefusedField` for what cannot be.
pub fn amend(change: &mut Change<'_>, id: MotherId, revision: i32, person: &Person) -> Result<()> {
    let post = change.post()?;
    let post = posts::find(change.db(), post)?;
    let before = find(change.db(), post.id, id)?;
    if before.revision != revision {
        return Err(RegistryError::Stale {
            current_revision: before.revision,
        });
    }
    let now = change.now();
    let told = Told::of(person, post.day(now))?;
    told.replace_words(change, post.id, id)?;
    diesel::update(mothers::table.find(id))
        .set((told, mothers::revision.eq(revision + 1)))
        .execute(change.db())?;
    let was = before.person();
    let changed: Vec<&str> = [
        ("name", was.name != person.name),
        ("village", was.village != person.village),
        ("phone", was.phone != person.phone),
        ("consent to be phoned", was.may_phone != person.may_phone),
        ("birth", was.born != person.born),
    ]
    .into_iter()
    .filter_map(|(what, changed)| changed.then_some(what))
    .collect();
    let detail = format!(
        "{}: {}",
        post.register_number(before.number),
        changed.join(", ")
    );
    change.tell("mother amended", "mother", id.code(), detail)?;
    if was.born != person.born
        && let Some(pregnancy) = pregnancies::lasting(change.db(), id)?
    {
        assess_pregnancy(change, pregnancy.id, now, RaisedBy::default())?;
    }
    Ok(())
}

/// Takes her out of every list and count; her page stays readable.
///
/// # Errors
/// `Missing`; `Stale`; `Refused` without a reason or when it is done already.
pub fn enter_in_error(
    change: &mut Change<'_>,
    id: MotherId,
    revision: i32,
    reason: &str,
) -> Result<()> {
    let post = change.post()?;
    let post = posts::find(change.db(), post)?;
    let mother = find(change.db(), post.id, id)?;
    if mother.revision != revision {
        return Err(RegistryError::Stale {
            current_revision: mother.revision,
        });
    }
    if mother.entered_in_error {
        return Err(RegistryError::refused(
            "She is marked as entered in error already.",
        ));
    }
    let reason = limits::reason(reason)?;
    diesel::update(mothers::table.find(id))
        .set((
            mothers::entered_in_error.eq(true),
            mothers::reason.eq(reason),
            mothers::revision.eq(revision + 1),
        ))
        .execute(change.db())?;
    diesel::delete(mother_words::table.filter(mother_words::mother_id.eq(id)))
        .execute(change.db())?;
    if let Some(pregnancy) = pregnancies::lasting(change.db(), id)? {
        let now = change.now();
        pregnancies::end(
            change,
            pregnancy.id,
            crate::registry::vocabulary::PregnancyEnding::EnteredInError,
            now,
        )?;
    }
    change.tell(
        "mother entered in error",
        "mother",
        id.code(),
        post.register_number(mother.number),
    )
}
