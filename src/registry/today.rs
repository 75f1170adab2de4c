//! What waits today: women due to come, births to ask after, the keeper's figures.

use chrono::TimeDelta;
use diesel::prelude::*;

use super::connection::Db;
use super::error::Result;
use super::ids::{MotherId, PostId};
use super::mothers::{self, Mother};
use super::schema::{audit, births, mothers as mother_table, pregnancies, sessions, staff, visits};
use crate::clinical::{Day, Moment};

/// Women whose agreed day has come or passed: today's and those missed in the `days_back` days before, the longest missed first.
///
/// Left out: whose pregnancy ended, who is in labour, who is at a hospital or on her way, and who came since.
///
/// # Errors
/// `Broken` when the database cannot be read.
pub fn due_to_come(
    db: &mut Db,
    post: PostId,
    today: Day,
    days_back: i64,
) -> Result<Vec<mothers::Line>> {
    let since = today - TimeDelta::days(days_back);
    let agreed: Vec<MotherId> = visits::table
        .inner_join(pregnancies::table)
        .filter(visits::post_id.eq(post))
        .filter(visits::next_visit_on.between(since, today))
        .filter(visits::entered_in_error.eq(false))
        .filter(pregnancies::ended_at.is_null())
        .select(visits::mother_id)
        .distinct()
        .load(db)?;
    let mut lines = lines_of(db, post, &agreed)?;
    lines.retain(|line| {
        let still = line
            .next_visit_on
            .is_some_and(|next| (since..=today).contains(&next));
        let lasts = line
            .course
            .as_ref()
            .is_some_and(|course| course.ended_at.is_none());
        still && lasts && !line.in_labour && line.referred_to.is_none()
    });
    lines.sort_by_key(|line| (line.next_visit_on, line.mother.name_folded.clone()));
    Ok(lines)
}

/// How many women are expected on a day, and the first of them by name: for a quiet day's page.
///
/// # Errors
/// `Broken` when the database cannot be read.
pub fn expected_on(db: &mut Db, post: PostId, day: Day) -> Result<Vec<mothers::Line>> {
    let mut lines = due_to_come(db, post, day, 0)?;
    lines.sort_by(|one, other| one.mother.name_folded.cmp(&other.mother.name_folded));
    Ok(lines)
}

/// Pregnancies that last although their due date has passed: the longest passed first.
///
/// # Errors
/// `Broken` when the database cannot be read.
pub fn births_not_recorded(
    db: &mut Db,
    post: PostId,
    today: Day,
    most: i64,
) -> Result<Vec<mothers::Line>> {
    // By the index of those that last: the due dates before today are those of every pregnancy there ever was.
    let lasting: Vec<(MotherId, Option<Day>)> = pregnancies::table
        .left_join(
            births::table.on(births::pregnancy_id
                .eq(pregnancies::id)
                .and(births::entered_in_error.eq(false))),
        )
        .filter(pregnancies::post_id.eq(post))
        .filter(pregnancies::ended_at.is_null())
        .filter(births::id.is_null())
        .select((pregnancies::mother_id, pregnancies::due_date))
        .load(db)?;
    let mut late: Vec<(Day, MotherId)> = lasting
        .into_iter()
        .filter_map(|(mother, due)| due.filter(|due| *due < today).map(|due| (due, mother)))
        .collect();
    late.sort_unstable();
    late.truncate(usize::try_from(most).unwrap_or_default());
    let late: Vec<MotherId> = late.into_iter().map(|(_, mother)| mother).collect();
    let mut lines = lines_of(db, post, &late)?;
    lines.sort_by_key(|line| late.iter().position(|id| *id == line.mother.id));
    Ok(lines)
}

fn lines_of(db: &mut Db, post: PostId, ids: &[MotherId]) -> Result<Vec<mothers::Line>> {
    let mut found: Vec<Mother> = Vec::new();
    // A list in a query may not be longer than the database's limit of parameters.
    for some in ids.chunks(500) {
        found.extend(
            mother_table::table
                .filter(mother_table::id.eq_any(some))
                .filter(mother_table::post_id.eq(post))
                .filter(mother_table::entered_in_error.eq(false))
                .select(Mother::as_select())
                .load::<Mother>(db)?,
        );
    }
    mothers::lines_of(db, found)
}

/// Figures for the keeper's page.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct House {
    /// Accounts that are open.
    pub accounts: i64,
    /// Accounts that were stopped.
    pub stopped: i64,
    /// Sessions that have not ended.
    pub sessions: i64,
    /// Lines of the trail.
    pub trail_lines: i64,
    /// When the last copy was made; absent when none was.
    pub last_backup: Option<Moment>,
    /// When somebody last wrote.
    pub last_write: Option<Moment>,
}

/// The verb under which a copy of the registry stands in the trail.
pub const BACKUP_VERB: &str = "copy made";

/// Accounts, sessions, trail and last backup.
///
/// # Errors
/// `Broken` when the database cannot be read.
pub fn house(db: &mut Db, now: Moment) -> Result<House> {
    let last = |db: &mut Db| {
        audit::table
            .select(audit::at)
            .order(audit::seq.desc())
            .first(db)
            .optional()
    };
    Ok(House {
        accounts: staff::table
            .filter(staff::stopped_at.is_null())
            .count()
            .get_result(db)?,
        stopped: staff::table
            .filter(staff::stopped_at.is_not_null())
            .count()
            .get_result(db)?,
        sessions: sessions::table
            .filter(sessions::expires_at.gt(now))
            .count()
            .get_result(db)?,
        trail_lines: audit::table
            .select(audit::seq)
            .order(audit::seq.desc())
            .first::<i32>(db)
            .optional()?
            .map_or(0, i64::from),
        last_backup: audit::table
            .filter(audit::verb.eq(BACKUP_VERB))
            .select(audit::at)
            .order(audit::seq.desc())
            .first(db)
            .optional()?,
        last_write: last(db)?,
    })
}
