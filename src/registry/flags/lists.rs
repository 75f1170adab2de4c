//! The lists in which flags wait.

use diesel::prelude::*;

use super::Flag;
use crate::clinical::{Day, Moment, Urgency};
use crate::registry::connection::{Backend, Db};
use crate::registry::error::Result;
use crate::registry::ids::{FlagId, PostId, PregnancyId};
use crate::registry::schema::{flags, mothers, pregnancies, staff, visits};

/// A flag with whose it is.
#[derive(Debug, Clone, PartialEq, Eq, Queryable, Selectable)]
#[diesel(table_name = flags, check_for_backend(Backend))]
pub struct Waiting {
    /// The flag.
    #[diesel(embed)]
    pub flag: Flag,
    /// Her name.
    #[diesel(select_expression = mothers::name)]
    pub mother: String,
    /// Her number in the register.
    #[diesel(select_expression = mothers::number)]
    pub number: i32,
    /// Her due date, when known.
    #[diesel(select_expression = pregnancies::due_date)]
    pub due_date: Option<Day>,
    /// Who logged the visit that raised it.
    #[diesel(select_expression = staff::name.nullable())]
    pub raised_by: Option<String>,
}

/// The last line of the page before.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct After {
    /// Its urgency.
    pub urgency: Urgency,
    /// When it was raised.
    pub raised_at: Moment,
    /// Its id.
    pub id: FlagId,
}

/// The urgencies that the midwife decides about, the first first.
const REVIEWED: [Urgency; 3] = [Urgency::Now, Urgency::Soon, Urgency::Review];

macro_rules! lines {
    () => {
        flags::table
            .inner_join(mothers::table)
            .inner_join(pregnancies::table)
            .left_join(visits::table.on(flags::visit_id.eq(visits::id.nullable())))
            .left_join(staff::table.on(staff::id.eq(visits::entered_by)))
            .select(Waiting::as_select())
            .into_boxed()
    };
}

/// The next flags that wait for the midwife: by urgency, then the oldest first.
///
/// # Errors
/// `Broken` when the database cannot be read.
pub fn waiting(
    db: &mut Db,
    post: PostId,
    after: Option<&After>,
    lines: i64,
) -> Result<Vec<Waiting>> {
    let mut page: Vec<Waiting> = Vec::new();
    // One query an urgency: their codes do not sort by how soon.
    for urgency in REVIEWED {
        let left = lines - i64::try_from(page.len()).unwrap_or(lines);
        if left <= 0 || after.is_some_and(|after| urgency < after.urgency) {
            continue;
        }
        let mut query = lines!()
            .filter(flags::post_id.eq(post))
            .filter(flags::closed_at.is_null())
            .filter(flags::decision.is_null())
            .filter(flags::urgency.eq(urgency))
            .order((flags::raised_at, flags::id))
            .limit(left);
        if let Some(after) = after.filter(|after| after.urgency == urgency) {
            query = query.filter(
                flags::raised_at.gt(after.raised_at).or(flags::raised_at
                    .eq(after.raised_at)
                    .and(flags::id.gt(after.id))),
            );
        }
        page.extend(query.load::<Waiting>(db)?);
    }
    Ok(page)
}

/// Standing flags that the midwife confirmed and that ask for a referral (`now`, `soon`): by urgency, then the oldest decision first.
///
/// # Errors
/// `Broken` when the database cannot be read.
pub fn confirmed(db: &mut Db, post: PostId) -> Result<Vec<Waiting>> {
    let mut found: Vec<Waiting> = lines!()
        .filter(flags::post_id.eq(post))
        .filter(flags::closed_at.is_null())
        .filter(flags::decision.eq(crate::registry::vocabulary::FlagDecision::Confirmed))
        .filter(flags::urgency.eq_any([Urgency::Now, Urgency::Soon]))
        .order((flags::decided_at, flags::id))
        .load(db)?;
    found.sort_by_key(|line| line.flag.urgency);
    Ok(found)
}

/// How many wait for the midwife, one number an urgency: now, soon, review.
///
/// # Errors
/// `Broken` when the database cannot be read.
pub fn waiting_count(db: &mut Db, post: PostId) -> Result<[i64; 3]> {
    let mut counts = [0; 3];
    for (count, urgency) in counts.iter_mut().zip(REVIEWED) {
        *count = flags::table
            .filter(flags::post_id.eq(post))
            .filter(flags::closed_at.is_null())
            .filter(flags::decision.is_null())
            .filter(flags::urgency.eq(urgency))
            .count()
            .get_result(db)?;
    }
    Ok(counts)
}

/// What has to be looked at again by `until`, the longest overdue first.
///
/// A recheck is left out while a more urgent flag of its category stands: that one asks for more.
///
/// # Errors
/// `Broken` when the database cannot be read.
pub fn check_again(db: &mut Db, post: PostId, until: Moment) -> Result<Vec<Waiting>> {
    let due: Vec<Waiting> = lines!()
        .filter(flags::post_id.eq(post))
        .filter(flags::closed_at.is_null())
        .filter(flags::decision.is_null())
        .filter(flags::urgency.eq(Urgency::Recheck))
        .filter(flags::recheck_at.lt(until))
        .order((flags::recheck_at, flags::id))
        .load(db)?;
    let whose: Vec<PregnancyId> = due.iter().map(|line| line.flag.pregnancy_id).collect();
    let others: Vec<Flag> = flags::table
        .filter(flags::pregnancy_id.eq_any(whose))
        .filter(flags::closed_at.is_null())
        .filter(flags::urgency.ne(Urgency::Recheck))
        .select(Flag::as_select())
        .load(db)?;
    let overtaken = |flag: &Flag| {
        others
            .iter()
            .any(|other| other.pregnancy_id == flag.pregnancy_id && other.category == flag.category)
    };
    Ok(due
        .into_iter()
        .filter(|line| !overtaken(&line.flag))
        .collect())
}

/// Flags that the midwife decided at or after `since`, the newest first.
///
/// # Errors
/// `Broken` when the database cannot be read.
pub fn decided_since(db: &mut Db, post: PostId, since: Moment, most: i64) -> Result<Vec<Waiting>> {
    Ok(lines!()
        .filter(flags::post_id.eq(post))
        .filter(flags::decided_at.ge(since))
        .order((flags::decided_at.desc(), flags::id.desc()))
        .limit(most)
        .load(db)?)
}

/// Flags that a later examination settled at or after `since`, the newest first.
///
/// # Errors
/// `Broken` when the database cannot be read.
pub fn settled_since(db: &mut Db, post: PostId, since: Moment, most: i64) -> Result<Vec<Waiting>> {
    Ok(lines!()
        .filter(flags::post_id.eq(post))
        .filter(flags::closed_at.ge(since))
        .filter(flags::closing.eq(crate::registry::vocabulary::FlagClosing::Settled))
        .order((flags::closed_at.desc(), flags::id.desc()))
        .limit(most)
        .load(db)?)
}

/// What stands in a pregnancy, by urgency and category.
///
/// # Errors
/// `Broken` when the database cannot be read.
pub fn standing(db: &mut Db, pregnancy: PregnancyId) -> Result<Vec<Flag>> {
    let mut found: Vec<Flag> = flags::table
        .filter(flags::pregnancy_id.eq(pregnancy))
        .filter(flags::closed_at.is_null())
        .order((flags::raised_at, flags::id))
        .select(Flag::as_select())
        .load(db)?;
    found.sort_by_key(|flag| (flag.urgency, flag.category));
    Ok(found)
}

/// Whether a `now` flag stands: then a nurse may decide a referral at once.
///
/// # Errors
/// `Broken` when the database cannot be read.
pub fn now_standing(db: &mut Db, pregnancy: PregnancyId) -> Result<bool> {
    Ok(standing(db, pregnancy)?
        .iter()
        .any(|flag| flag.urgency == Urgency::Now))
}
