//! Receiving hospitals: what each can do, and which is nearest at an hour.

use diesel::prelude::*;

use super::change::Change;
use super::connection::{Backend, Db};
use super::error::{RegistryError, Result};
use super::ids::HospitalId;
use super::posts::{Post, Travel, ways};
use super::schema::hospitals;
use super::vocabulary::Role;
use crate::clinical::Moment;

/// A hospital that receives referrals.
#[derive(Debug, Clone, PartialEq, Eq, Queryable, Selectable, Insertable)]
#[diesel(table_name = hospitals, check_for_backend(Backend))]
pub struct Hospital {
    /// Its id.
    pub id: HospitalId,
    /// Its name.
    pub name: String,
    /// Of the maternity ward, where it has one.
    pub phone: Option<String>,
    /// Caesareans are done there at any hour.
    pub can_operate: bool,
    /// It keeps blood.
    pub has_blood: bool,
    /// Counts the changes.
    pub revision: i32,
    /// When it stopped receiving; absent while it does.
    pub stopped_at: Option<Moment>,
}

/// Everything the keeper sets.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct HospitalSettings {
    /// 1 to 60 characters, unique.
    pub name: String,
    /// At most 24 characters.
    pub phone: Option<String>,
    /// Caesareans are done there at any hour.
    pub can_operate: bool,
    /// It keeps blood.
    pub has_blood: bool,
    /// It receives referrals.
    pub receives: bool,
}

/// All hospitals by name, those that stopped too.
///
/// # Errors
/// `Broken` when the database cannot be read.
pub fn list(db: &mut Db) -> Result<Vec<Hospital>> {
    Ok(hospitals::table
        .order((hospitals::name, hospitals::id))
        .select(Hospital::as_select())
        .load(db)?)
}

/// One hospital.
///
/// # Errors
/// `Missing` when there is none.
pub fn find(db: &mut Db, id: HospitalId) -> Result<Hospital> {
    let found = hospitals::table
        .find(id)
        .select(Hospital::as_select())
        .first(db)
        .optional()?;
    found.ok_or(RegistryError::Missing("hospital"))
}

/// One hospital by its name, in any case.
///
/// # Errors
/// `Missing` when there is none.
pub fn named(db: &mut Db, name: &str) -> Result<Hospital> {
    let sought = name.trim().to_lowercase();
    list(db)?
        .into_iter()
        .find(|it| it.name.to_lowercase() == sought)
        .ok_or(RegistryError::Missing("hospital"))
}

/// What a referral needs at the hospital.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Needs {
    /// An operation may be needed.
    pub operation: bool,
    /// Blood may be needed.
    pub blood: bool,
}

/// A hospital as a post sees it at one hour.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Proposal {
    /// Which.
    pub hospital: Hospital,
    /// Door to door at that hour; absent when the keeper has not set it.
    pub minutes: Option<u16>,
    /// It can do what is needed.
    pub suits: bool,
}

/// Every receiving hospital: those that can do what is needed first, the nearest at that hour first.
///
/// # Errors
/// `Broken` when the database cannot be read.
pub fn proposed(db: &mut Db, post: &Post, moment: Moment, needs: Needs) -> Result<Vec<Proposal>> {
    let ways = ways(db, post.id)?;
    Ok(ranked(list(db)?, &ways, post, moment, needs))
}

fn ranked(
    hospitals: Vec<Hospital>,
    ways: &[Travel],
    post: &Post,
    moment: Moment,
    needs: Needs,
) -> Vec<Proposal> {
    let mut proposals: Vec<Proposal> = hospitals
        .into_iter()
        .filter(|hospital| hospital.stopped_at.is_none())
        .map(|hospital| Proposal {
            minutes: ways
                .iter()
                .find(|way| way.hospital_id == hospital.id)
                .map(|way| post.minutes(way, moment)),
            suits: (hospital.can_operate || !needs.operation)
                && (hospital.has_blood || !needs.blood),
            hospital,
        })
        .collect();
    // A way that nobody measured comes after every measured one.
    proposals.sort_by_key(|it| (!it.suits, it.minutes.is_none(), it.minutes));
    proposals
}

/// The nearest hospital that can operate, at that hour; absent when no way to one is set.
///
/// # Errors
/// `Broken` when the database cannot be read.
pub fn nearest_operating(
    db: &mut Db,
    post: &Post,
    moment: Moment,
) -> Result<Option<(Hospital, u16)>> {
    let ways = ways(db, post.id)?;
    Ok(nearest_of(list(db)?, &ways, post, moment))
}

/// As [`nearest_operating`], among what was read already.
pub(in crate::registry) fn nearest_of(
    hospitals: Vec<Hospital>,
    ways: &[Travel],
    post: &Post,
    moment: Moment,
) -> Option<(Hospital, u16)> {
    let needs = Needs {
        operation: true,
        blood: false,
    };
    let first = ranked(hospitals, ways, post, moment, needs)
        .into_iter()
        .next();
    first
        .filter(|it| it.suits)
        .and_then(|it| it.minutes.map(|minutes| (it.hospital, minutes)))
}

/// Adds a hospital.
///
/// # Errors
/// `RefusedField` beside the field at fault; `Refused` to all but keepers.
pub fn add(change: &mut Change<'_>, settings: &HospitalSettings) -> Result<HospitalId> {
    let now = change.now();
    let id = HospitalId::made(now);
    check(change, id, settings)?;
    let row = Hospital {
        id,
        name: settings.name.trim().to_owned(),
        phone: settings.phone.clone(),
        can_operate: settings.can_operate,
        has_blood: settings.has_blood,
        revision: 1,
        stopped_at: (!settings.receives).then_some(now),
    };
    change.forget();
    diesel::insert_into(hospitals::table)
        .values(&row)
        .execute(change.db())?;
    change.tell("hospital added", "hospital", id.code(), told(settings))?;
    Ok(id)
}

/// Changes what is known of a hospital; `reason` stands in the trail.
///
/// # Errors
/// `Missing`; `Stale`; `RefusedField` beside the field at fault; `Refused` to all but keepers.
pub fn amend(
    change: &mut Change<'_>,
    id: HospitalId,
    revision: i32,
    settings: &HospitalSettings,
    reason: &str,
) -> Result<()> {
    check(change, id, settings)?;
    let before = find(change.db(), id)?;
    if before.revision != revision {
        return Err(RegistryError::Stale {
            current_revision: before.revision,
        });
    }
    let stopped = (!settings.receives).then(|| before.stopped_at.unwrap_or(change.now()));
    change.forget();
    diesel::update(hospitals::table.find(id))
        .set((
            hospitals::name.eq(settings.name.trim()),
            hospitals::phone.eq(&settings.phone),
            hospitals::can_operate.eq(settings.can_operate),
            hospitals::has_blood.eq(settings.has_blood),
            hospitals::revision.eq(revision + 1),
            hospitals::stopped_at.eq(stopped),
        ))
        .execute(change.db())?;
    change.tell(
        "hospital amended",
        "hospital",
        id.code(),
        format!("{}; {}", told(settings), reason.trim()),
    )
}

fn told(settings: &HospitalSettings) -> String {
    let able = |can: bool, what: &str| format!("{} {what}", if can { "can" } else { "cannot" });
    let mut told = vec![
        settings.name.trim().to_owned(),
        able(settings.can_operate, "operate"),
        able(settings.has_blood, "give blood"),
    ];
    if !settings.receives {
        told.push("does not receive".to_owned());
    }
    told.join(", ")
}

fn check(change: &mut Change<'_>, id: HospitalId, settings: &HospitalSettings) -> Result<()> {
    if !change.may(&[Role::Keeper]) {
        return Err(RegistryError::refused("Only the keeper changes hospitals."));
    }
    let unfit =
        |text: &str, most: usize| text.chars().count() > most || text.chars().any(char::is_control);
    let name = settings.name.trim();
    if name.is_empty() || unfit(name, 60) {
        return Err(RegistryError::field(
            "name",
            "Write the name, at most 60 characters.",
        ));
    }
    if settings
        .phone
        .as_ref()
        .is_some_and(|phone| unfit(phone, 24))
    {
        return Err(RegistryError::field("phone", "Use at most 24 characters."));
    }
    let same: i64 = hospitals::table
        .filter(hospitals::id.ne(id))
        .filter(hospitals::name.eq(name))
        .count()
        .get_result(change.db())?;
    if same > 0 {
        return Err(RegistryError::field(
            "name",
            "Another hospital has this name.",
        ));
    }
    Ok(())
}
