//! Writing a birth down, and putting it right.

use diesel::prelude::*;

use super::super::change::Change;
use super::super::connection::Db;
use super::super::error::{RegistryError, Result};
use super::super::ids::{BirthId, MotherId, PregnancyId};
use super::super::labours;
use super::super::posts::{self, Post};
use super::super::pregnancies;
use super::super::schema::{self, birth_details, births, newborns};
use super::super::vocabulary::{LabourEnding, PregnancyEnding, Role};
use super::read::{Birth, one};
use super::record::{Asked, BirthRecord, Bounds};
use crate::clinical::{Day, Moment};

/// A birth of a pregnancy.
#[derive(Debug, Clone)]
pub struct NewBirth {
    /// The pregnancy that it ends.
    pub pregnancy: PregnancyId,
    /// Everything about it.
    pub record: BirthRecord,
    /// The form's request key.
    pub request: Option<String>,
}

/// Writes a birth down: ends the pregnancy and its open flags, closes its labour record.
///
/// # Errors
/// `Missing` for a pregnancy of another post; `Refused` when it has ended already; `RefusedField` for what cannot be.
pub fn record(change: &mut Change<'_>, new: &NewBirth) -> Result<BirthId> {
    let (author, now) = (change.author()?, change.now());
    let post = change.post()?;
    let post = posts::find(change.db(), post)?;
    if !change.may(&[Role::Nurse, Role::Midwife]) {
        return Err(RegistryError::refused(
            "Only a nurse or the midwife in charge records a birth.",
        ));
    }
    if let Some(request) = &new.request {
        let known = births::table
            .filter(births::request_key.eq(request))
            .select(births::id);
        if let Some(known) = known.get_result(change.db()).optional()? {
            change.nothing_new();
            return Ok(known);
        }
    }
    let hers = whose(change.db(), &post, new.pregnancy)?;
    if hers.ended_at.is_some() {
        return Err(RegistryError::refused(
            "This pregnancy has ended already. Amend its birth instead.",
        ));
    }
    let first = check(&new.record, &post, now, hers.lmp)?;
    let before: Option<(BirthId, i32)> = births::table
        .filter(births::pregnancy_id.eq(new.pregnancy))
        .select((births::id, births::revision))
        .get_result(change.db())
        .optional()?;
    // A birth that was entered in error keeps its place; the true one is its next revision.
    let (id, revision) =
        before.map_or((BirthId::made(now), 1), |(id, revision)| (id, revision + 1));
    if revision == 1 {
        diesel::insert_into(births::table)
            .values((
                (
                    births::id.eq(id),
                    births::pregnancy_id.eq(new.pregnancy),
                    births::mother_id.eq(hers.mother),
                ),
                (
                    births::post_id.eq(post.id),
                    births::born_on.eq(first.0),
                    births::born_at.eq(first.1),
                ),
                (
                    births::entered_at.eq(now),
                    births::entered_by.eq(author),
                    births::request_key.eq(&new.request),
                ),
                (births::revision.eq(1), births::entered_in_error.eq(false)),
            ))
            .execute(change.db())?;
    } else {
        set_newest(change.db(), id, revision, first)?;
    }
    insert(change, id, revision, &new.record, None)?;
    change.tell("birth recorded", "birth", id.code(), hers.register.clone())?;
    let born = first
        .1
        .unwrap_or_else(|| post.beginning_of(first.0))
        .min(now);
    pregnancies::end(change, new.pregnancy, PregnancyEnding::Birth, born)?;
    let last = new
        .record
        .newborns
        .iter()
        .filter_map(|baby| baby.born_at)
        .max()
        .unwrap_or(born);
    labours::close_for(change, new.pregnancy, LabourEnding::Birth, last)?;
    Ok(id)
}

/// Puts a birth right: a new revision with its reason; the old one stays readable.
///
/// # Errors
/// `Missing` for a birth of another post; `Stale` for an old revision; `RefusedField` for what cannot be.
pub fn amend(
    change: &mut Change<'_>,
    id: BirthId,
    revision: i32,
    record: &BirthRecord,
    reason: &str,
) -> Result<()> {
    let now = change.now();
    let post = change.post()?;
    let post = posts::find(change.db(), post)?;
    let before = at_revision(change, &post, id, revision)?;
    if before.entered_in_error {
        return Err(RegistryError::refused(
            "This birth was entered in error. Record the birth anew.",
        ));
    }
    if reason.trim().is_empty() {
        return Err(RegistryError::field(
            "reason",
            "Say why the birth is amended.",
        ));
    }
    let hers = whose(change.db(), &post, before.pregnancy)?;
    let first = check(record, &post, now, hers.lmp)?;
    set_newest(change.db(), id, revision + 1, first)?;
    insert(change, id, revision + 1, record, Some(reason))?;
    let born = first
        .1
        .unwrap_or_else(|| post.beginning_of(first.0))
        .min(now);
    diesel::update(schema::pregnancies::table.find(before.pregnancy))
        .set(schema::pregnancies::ended_at.eq(born))
        .execute(change.db())?;
    let detail = format!("{}, revision {}: {reason}", hers.register, revision + 1);
    change.tell("birth amended", "birth", id.code(), detail)
}

/// Marks a birth as entered in error: out of every count, still readable; the pregnancy goes on.
///
/// # Errors
/// `Missing`, `Stale`; `Refused` for anybody but the midwife in charge; `RefusedField` without a reason.
pub fn mark_error(change: &mut Change<'_>, id: BirthId, revision: i32, reason: &str) -> Result<()> {
    let post = change.post()?;
    let post = posts::find(change.db(), post)?;
    let before = at_revision(change, &post, id, revision)?;
    if !change.may(&[Role::Midwife]) {
        return Err(RegistryError::refused(
            "The midwife in charge marks a birth as entered in error.",
        ));
    }
    if reason.trim().is_empty() {
        return Err(RegistryError::field("reason", "Say what was wrong."));
    }
    diesel::update(births::table.find(id))
        .set(births::entered_in_error.eq(true))
        .execute(change.db())?;
    let detail = format!("{}: {reason}", before.register);
    change.tell("birth entered in error", "birth", id.code(), detail)?;
    pregnancies::reopen(change, before.pregnancy)
}

struct Hers {
    mother: MotherId,
    register: String,
    lmp: Option<Day>,
    ended_at: Option<Moment>,
}

fn whose(db: &mut Db, post: &Post, pregnancy: PregnancyId) -> Result<Hers> {
    let hers = pregnancies::find(db, post.id, pregnancy)?;
    let number: i32 = schema::mothers::table
        .find(hers.mother_id)
        .select(schema::mothers::number)
        .get_result(db)?;
    Ok(Hers {
        mother: hers.mother_id,
        register: post.register_number(number),
        lmp: hers.facts.dating.lmp,
        ended_at: hers.ended_at,
    })
}

fn at_revision(change: &mut Change<'_>, post: &Post, id: BirthId, revision: i32) -> Result<Birth> {
    let before = one(change.db(), post.id, id)?;
    if before.revision == revision {
        Ok(before)
    } else {
        Err(RegistryError::Stale {
            current_revision: before.revision,
        })
    }
}

/// Day and moment of the first baby, when nothing in the record contradicts itself.
fn check(
    record: &BirthRecord,
    post: &Post,
    now: Moment,
    last_period: Option<Day>,
) -> Result<(Day, Option<Moment>)> {
    let bounds = Bounds {
        today: post.day(now),
        now,
        last_period,
    };
    if let Some(fault) = record.contradictions(&bounds).into_iter().next() {
        let field = match fault.asked {
            Asked::Babies => "add",
            Asked::MotherDiedOn => "mother_died_on",
            Asked::Baby(_, field) => field,
        };
        return Err(RegistryError::field(field, fault.words));
    }
    let first = record
        .newborns
        .first()
        .ok_or(RegistryError::Missing("baby"))?;
    Ok((first.born_on, first.born_at))
}

fn set_newest(db: &mut Db, id: BirthId, revision: i32, first: (Day, Option<Moment>)) -> Result<()> {
    diesel::update(births::table.find(id))
        .set((
            births::revision.eq(revision),
            births::born_on.eq(first.0),
            births::born_at.eq(first.1),
            births::entered_in_error.eq(false),
        ))
        .execute(db)?;
    Ok(())
}

fn insert(
    change: &mut Change<'_>,
    id: BirthId,
    revision: i32,
    record: &BirthRecord,
    reason: Option<&str>,
) -> Result<()> {
    let (author, now) = (change.author()?, change.now());
    diesel::insert_into(birth_details::table)
        .values((
            (
                birth_details::birth_id.eq(id),
                birth_details::revision.eq(revision),
                birth_details::onset.eq(record.onset),
            ),
            (
                birth_details::mother_outcome.eq(record.mother_outcome),
                birth_details::mother_died_on.eq(record.mother_died_on),
            ),
            (
                birth_details::note.eq(&record.note),
                birth_details::reason.eq(reason),
            ),
            (
                birth_details::written_at.eq(now),
                birth_details::written_by.eq(author),
            ),
        ))
        .execute(change.db())?;
    for (position, baby) in (1..).zip(&record.newborns) {
        diesel::insert_into(newborns::table)
            .values((
                (
                    newborns::birth_id.eq(id),
                    newborns::revision.eq(revision),
                    newborns::position.eq(position),
                ),
                (
                    newborns::born_on.eq(baby.born_on),
                    newborns::born_at.eq(baby.born_at),
                    newborns::place.eq(baby.place),
                ),
                (
                    newborns::mode.eq(baby.mode),
                    newborns::presentation.eq(baby.presentation),
                    newborns::sex.eq(baby.sex),
                ),
                (
                    newborns::weight_g.eq(baby.weight_g),
                    newborns::apgar_1.eq(baby.apgar_1),
                    newborns::apgar_5.eq(baby.apgar_5),
                ),
                (
                    newborns::state.eq(baby.state),
                    newborns::died.eq(baby.died),
                    newborns::died_on.eq(baby.died_on),
                ),
                (
                    newborns::died_at.eq(baby.died_at),
                    newborns::lethal_malformation.eq(baby.lethal_malformation),
                    newborns::seen_alive_on.eq(baby.seen_alive_on),
                ),
            ))
            .execute(change.db())?;
    }
    Ok(())
}
