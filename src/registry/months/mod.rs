//! Months and their signatures: a midwife signs a month that is over, and its figures are kept.

mod month;

pub use month::{BadMonth, Month, first_instant, local_day};

use diesel::prelude::*;

use super::change::Change;
use super::connection::Db;
use super::error::{RegistryError, Result};
use super::ids::{MonthSignatureId, PostId};
use super::schema::{month_signatures, mothers, posts, staff};
use super::vocabulary::Role;
use crate::clinical::Moment;

/// A signed month.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Signature {
    /// The month.
    pub month: Month,
    /// 1 for the first signature.
    pub revision: i32,
    /// When.
    pub signed_at: Moment,
    /// Who.
    pub signed_by: String,
    /// The rules in force then.
    pub rules_version: String,
    /// The tables as they stood then, as JSON.
    pub figures: String,
}

/// A post and which of its months are signed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PostMonths {
    /// The post.
    pub post: PostId,
    /// Its letters.
    pub code: String,
    /// Its name.
    pub name: String,
    /// For each month asked for, oldest first.
    pub months: Vec<PostMonth>,
}

/// Where a month of a post stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct PostMonth {
    /// The month.
    pub month: Month,
    /// When it was first signed; absent when it is not.
    pub signed_at: Option<Moment>,
    /// Its state.
    pub state: State,
}

/// Whether a month is signed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum State {
    /// The register began later.
    BeforeTheRegister,
    /// Not over yet.
    Running,
    /// Over, not signed, and not due yet.
    Ready,
    /// Over and not signed though it was due so many days ago.
    Late(i64),
    /// Signed.
    Signed,
}

type Row = (String, i32, Moment, String, String, String);

/// Signs a month of the post of whoever acts: `figures` are its tables as JSON, kept as they stand.
///
/// # Errors
/// `Refused` for anybody but a midwife in charge, before the month is over, before the register began, and when it is signed already.
pub fn sign(
    change: &mut Change<'_>,
    month: Month,
    figures: &str,
    rules_version: &str,
) -> Result<MonthSignatureId> {
    if !change.may(&[Role::Midwife]) {
        return Err(RegistryError::refused(
            "Only the midwife in charge signs a month.",
        ));
    }
    let (post, author, now) = (change.post()?, change.author()?, change.now());
    let zone = zone_of(change.db(), post)?;
    if !month.is_over(now, zone) {
        return Err(RegistryError::refused(format!(
            "{} is not over yet.",
            month.words()
        )));
    }
    if first_month(change.db(), post, zone)?.is_none_or(|first| month < first) {
        return Err(RegistryError::refused(format!(
            "The register holds nothing of {}.",
            month.words()
        )));
    }
    if signature(change.db(), post, month)?.is_some() {
        return Err(RegistryError::refused(format!(
            "{} is already signed.",
            month.words()
        )));
    }
    let id = MonthSignatureId::made(now);
    diesel::insert_into(month_signatures::table)
        .values((
            month_signatures::id.eq(id),
            month_signatures::post_id.eq(post),
            month_signatures::month.eq(month.to_string()),
            month_signatures::revision.eq(1),
            month_signatures::signed_at.eq(now),
            month_signatures::signed_by.eq(author),
            month_signatures::rules_version.eq(rules_version),
            month_signatures::figures.eq(figures),
        ))
        .execute(change.db())?;
    change.tell("month signed", "month", id.code(), month.to_string())?;
    Ok(id)
}

/// The newest signature of a month; absent when it is not signed.
///
/// # Errors
/// `Broken` when the database fails.
pub fn signature(db: &mut Db, post: PostId, month: Month) -> Result<Option<Signature>> {
    let found: Option<Row> = month_signatures::table
        .inner_join(staff::table)
        .filter(
            month_signatures::post_id
                .eq(post)
                .and(month_signatures::month.eq(month.to_string())),
        )
        .order(month_signatures::revision.desc())
        .select((
            month_signatures::month,
            month_signatures::revision,
            month_signatures::signed_at,
            staff::name,
            month_signatures::rules_version,
            month_signatures::figures,
        ))
        .first(db)
        .optional()?;
    Ok(found.map(
        |(_, revision, signed_at, signed_by, rules_version, figures)| Signature {
            month,
            revision,
            signed_at,
            signed_by,
            rules_version,
            figures,
        },
    ))
}

/// The newest month that is over and not signed; absent when all are, or the register is too young.
///
/// # Errors
/// `Broken` when the database fails.
pub fn to_sign(db: &mut Db, post: PostId, now: Moment) -> Result<Option<Month>> {
    let zone = zone_of(db, post)?;
    let Some(first) = first_month(db, post, zone)? else {
        return Ok(None);
    };
    let signed: Vec<String> = month_signatures::table
        .filter(month_signatures::post_id.eq(post))
        .select(month_signatures::month)
        .distinct()
        .load(db)?;
    let mut month = Month::of(now, zone).previous();
    while month >= first {
        if !signed.contains(&month.to_string()) {
            return Ok(Some(month));
        }
        month = month.previous();
    }
    Ok(None)
}

/// Posts that have not stopped, by name, with where each of these months stands.
///
/// # Errors
/// `Broken` when the database fails.
pub fn overview(
    db: &mut Db,
    only: Option<PostId>,
    months: &[Month],
    now: Moment,
) -> Result<Vec<PostMonths>> {
    let mut wanted = super::posts::list(db)?;
    wanted.retain(|post| only.map_or(post.stopped_at.is_none(), |only| only == post.id));
    let mut overview = Vec::new();
    for found in wanted {
        let post = found.id;
        let zone = parse_zone(&found.time_zone)?;
        let first = first_month(db, post, zone)?;
        let signed: Vec<(String, Moment)> = month_signatures::table
            .filter(
                month_signatures::post_id
                    .eq(post)
                    .and(month_signatures::revision.eq(1)),
            )
            .select((month_signatures::month, month_signatures::signed_at))
            .load(db)?;
        let place = |month: &Month| {
            let text = month.to_string();
            let signed_at = signed
                .iter()
                .find(|(signed, _)| *signed == text)
                .map(|(_, at)| *at);
            let state = state(*month, first, signed_at, now, zone);
            PostMonth {
                month: *month,
                signed_at,
                state,
            }
        };
        overview.push(PostMonths {
            post,
            code: found.code,
            name: found.name,
            months: months.iter().map(place).collect(),
        });
    }
    Ok(overview)
}

fn state(
    month: Month,
    first: Option<Month>,
    signed_at: Option<Moment>,
    now: Moment,
    zone: chrono_tz::Tz,
) -> State {
    if signed_at.is_some() {
        return State::Signed;
    }
    if first.is_none_or(|first| month < first) {
        return State::BeforeTheRegister;
    }
    if !month.is_over(now, zone) {
        return State::Running;
    }
    match local_day(now, zone)
        .signed_duration_since(month.sign_by())
        .num_days()
    {
        days if days > 0 => State::Late(days),
        _ => State::Ready,
    }
}

/// The month in which the first woman of the post was registered.
fn first_month(db: &mut Db, post: PostId, zone: chrono_tz::Tz) -> Result<Option<Month>> {
    let first: Option<Moment> = mothers::table
        .filter(mothers::post_id.eq(post))
        .order((mothers::registered_at, mothers::id))
        .select(mothers::registered_at)
        .first(db)
        .optional()?;
    Ok(first.map(|at| Month::of(at, zone)))
}

fn zone_of(db: &mut Db, post: PostId) -> Result<chrono_tz::Tz> {
    let zone: Option<String> = posts::table
        .filter(posts::id.eq(post))
        .select(posts::time_zone)
        .get_result(db)
        .optional()?;
    parse_zone(&zone.ok_or(RegistryError::Missing("post"))?)
}

fn parse_zone(name: &str) -> Result<chrono_tz::Tz> {
    name.parse()
        .map_err(|_| RegistryError::corrupt(format!("time zone {name}")))
}

#[cfg(test)]
#[path = "tests.rs"]
mod tests;
