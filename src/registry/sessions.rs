//! Sessions are rows: they can be listed and ended. Of the key only a hash is kept.
//!
//! Moving a session along is no entry of the register and leaves no line in the trail; ending somebody's session does.

use chrono::TimeDelta;
use diesel::prelude::*;
use sha2::{Digest, Sha256};

use super::Registry;
use super::audit::hexadecimal;
use super::change::Change;
use super::connection::{Backend, Db};
use super::error::{RegistryError, Result};
use super::ids::{SessionId, StaffId};
use super::schema::{sessions, staff};
use crate::clinical::Moment;

/// Being used within this time does not move the end: a page with five pictures writes once.
const NOTED_AT_MOST_EVERY: TimeDelta = TimeDelta::seconds(60);

/// A session with what the web layer keeps in it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Session {
    /// Who signed in; absent before.
    pub staff: Option<StaffId>,
    /// Whatever the web layer wrote.
    pub state: String,
}

/// One session in the list of a person's own.
#[derive(Debug, Clone, PartialEq, Eq, Queryable, Selectable)]
#[diesel(table_name = sessions, check_for_backend(Backend))]
pub struct Line {
    /// Names it without its key.
    pub id: SessionId,
    /// The browser's words about itself, shortened.
    pub device: Option<String>,
    /// When it began.
    pub began_at: Moment,
    /// When it was last used, to the minute.
    pub seen_at: Moment,
    key_hash: String,
}

impl Line {
    /// Whether `key` opens this session: “you”.
    #[must_use]
    pub fn is_opened_by(&self, key: &str) -> bool {
        self.key_hash == hashed(key)
    }
}

fn hashed(key: &str) -> String {
    hexadecimal(&Sha256::digest(key))
}

/// The session of this key, unless it ended or its account was stopped.
///
/// # Errors
/// `Broken` when the database cannot be read.
pub fn load(db: &mut Db, key: &str, now: Moment) -> Result<Option<Session>> {
    let found: Option<(Option<StaffId>, String, Option<Moment>)> = sessions::table
        .left_join(staff::table)
        .filter(sessions::key_hash.eq(hashed(key)))
        .filter(sessions::expires_at.gt(now))
        .select((
            sessions::staff_id,
            sessions::state,
            staff::stopped_at.nullable(),
        ))
        .get_result(db)
        .optional()?;
    Ok(found
        .filter(|(.., stopped)| stopped.is_none())
        .map(|(staff, state, _)| Session { staff, state }))
}

/// Begins a session; it ends after `idle` without use.
///
/// # Errors
/// `Broken` when the database fails.
pub fn begin(
    registry: &Registry,
    key: &str,
    session: &Session,
    device: Option<&str>,
    now: Moment,
    idle: TimeDelta,
) -> Result<()> {
    let device: Option<String> = device.map(|words| {
        words
            .chars()
            .filter(|it| !it.is_control())
            .take(120)
            .collect()
    });
    registry.keep_books(|db| {
        diesel::insert_into(sessions::table)
            .values((
                sessions::key_hash.eq(hashed(key)),
                sessions::id.eq(SessionId::made(now)),
                sessions::staff_id.eq(session.staff),
                sessions::state.eq(&session.state),
                sessions::device.eq(device),
                sessions::began_at.eq(now),
                sessions::seen_at.eq(now),
                sessions::expires_at.eq(now + idle),
            ))
            .execute(db)?;
        Ok(())
    })
}

/// Keeps a new state; `false` when the session ended meanwhile, which this does not undo.
///
/// # Errors
/// `Broken` when the database fails.
pub fn keep(
    registry: &Registry,
    key: &str,
    session: &Session,
    now: Moment,
    idle: TimeDelta,
) -> Result<bool> {
    registry.keep_books(|db| {
        let open = sessions::table
            .find(hashed(key))
            .filter(sessions::expires_at.gt(now));
        let set = (
            sessions::staff_id.eq(session.staff),
            sessions::state.eq(&session.state),
            sessions::seen_at.eq(now),
            sessions::expires_at.eq(now + idle),
        );
        Ok(diesel::update(open).set(set).execute(db)? > 0)
    })
}

/// Notes that the session is used, at most once a minute.
///
/// # Errors
/// `Broken` when the database fails.
pub fn touch(registry: &Registry, key: &str, now: Moment, idle: TimeDelta) -> Result<()> {
    let key = hashed(key);
    let seen: Option<Moment> = registry.read(|db| {
        Ok(sessions::table
            .find(&key)
            .select(sessions::seen_at)
            .get_result(db)
            .optional()?)
    })?;
    if seen.is_none_or(|seen| now - seen < NOTED_AT_MOST_EVERY) {
        return Ok(());
    }
    registry.keep_books(|db| {
        let open = sessions::table
            .find(&key)
            .filter(sessions::expires_at.gt(now));
        let set = (
            sessions::seen_at.eq(now),
            sessions::expires_at.eq(now + idle),
        );
        diesel::update(open).set(set).execute(db)?;
        Ok(())
    })
}

/// Ends the session of this key (signing out); no error when it ended already.
///
/// # Errors
/// `Broken` when the database fails.
pub fn end(registry: &Registry, key: &str) -> Result<()> {
    registry.keep_books(|db| {
        diesel::delete(sessions::table.find(hashed(key))).execute(db)?;
        Ok(())
    })
}

/// Takes away the rows of sessions that ended by themselves.
///
/// # Errors
/// `Broken` when the database fails.
pub fn sweep(registry: &Registry, now: Moment) -> Result<usize> {
    registry.keep_books(|db| {
        Ok(diesel::delete(sessions::table.filter(sessions::expires_at.le(now))).execute(db)?)
    })
}

/// The open sessions of a person, the last used first.
///
/// # Errors
/// `Broken` when the database cannot be read.
pub fn of(db: &mut Db, staff: StaffId, now: Moment) -> Result<Vec<Line>> {
    Ok(sessions::table
        .filter(sessions::staff_id.eq(staff))
        .filter(sessions::expires_at.gt(now))
        .order((sessions::seen_at.desc(), sessions::id.desc()))
        .select(Line::as_select())
        .load(db)?)
}

/// Ends one session of whoever acts.
///
/// # Errors
/// `Missing` when it is no open session of this person.
pub fn end_one(change: &mut Change<'_>, id: SessionId) -> Result<()> {
    let staff = change.author()?;
    let own = sessions::table
        .filter(sessions::id.eq(id))
        .filter(sessions::staff_id.eq(staff));
    if diesel::delete(own).execute(change.db())? == 0 {
        return Err(RegistryError::Missing("session"));
    }
    change.tell("session ended", "staff", staff.code(), "one")
}

/// Ends every session of whoever acts but the one of `key`.
///
/// # Errors
/// `Refused` when the program itself acts.
pub fn end_all_others(change: &mut Change<'_>, key: &str) -> Result<usize> {
    let staff = change.author()?;
    let others = sessions::table
        .filter(sessions::staff_id.eq(staff))
        .filter(sessions::key_hash.ne(hashed(key)));
    let ended = diesel::delete(others).execute(change.db())?;
    change.tell(
        "sessions ended",
        "staff",
        staff.code(),
        format!("all others: {ended}"),
    )?;
    Ok(ended)
}

/// Ends every session of somebody: for the keeper.
///
/// # Errors
/// `Refused` to all but keepers.
pub fn end_all_of(change: &mut Change<'_>, staff: StaffId) -> Result<usize> {
    if !change.may(&[super::vocabulary::Role::Keeper]) {
        return Err(RegistryError::refused(
            "Only the keeper ends the sessions of somebody else.",
        ));
    }
    let ended = diesel::delete(sessions::table.filter(sessions::staff_id.eq(staff)))
        .execute(change.db())?;
    change.tell(
        "sessions ended",
        "staff",
        staff.code(),
        format!("all: {ended}"),
    )?;
    Ok(ended)
}
