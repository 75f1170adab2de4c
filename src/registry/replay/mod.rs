//! Past visits judged again by the rules of today, with settings of the post that are only tried. Writes nothing and gives no name.
//!
//! Raised **then** are the flags as they are stored, each at the highest urgency it has had. Raised **now** is what today's rules say at
//! every moment at which she was examined, from the records up to that moment as they stand today: an amended visit counts with its
//! last revision, one entered in error not at all, and facts of the pregnancy as they are known now. So even with the same rules
//! and settings the two differ where an entry came late or was put right.

mod born;
mod trial;

use std::collections::{BTreeMap, BTreeSet};

use chrono::Months;
use diesel::dsl::exists;
use diesel::prelude::*;

use super::connection::Db;
use super::error::Result;
use super::flags::{self, Flag};
use super::ids::{PostId, PregnancyId};
use super::judging::{Held, Place};
use super::schema::{labours, mothers, pregnancies, visits};
use super::vocabulary::PregnancyEnding;
use crate::clinical::{self, Category, Moment, Urgency, assess};

pub use born::{Baby, Born};
pub use trial::{Trial, TriedWay};

/// The highest urgency of each category that was raised.
pub type Raised = BTreeMap<Category, Urgency>;

/// One pregnancy judged again.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Replayed {
    /// Its visits that stand.
    pub visits: usize,
    /// As stored.
    pub then: Raised,
    /// By today's rules and the settings that are tried.
    pub now: Raised,
    /// By today's rules and the settings that are saved.
    pub as_saved: Raised,
    /// The rules that judged last whatever is stored.
    pub versions: BTreeSet<String>,
    /// What was born; absent while no birth is recorded.
    pub born: Option<Born>,
}

/// Which pregnancies of a post.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Span {
    /// The post.
    pub post: PostId,
    /// Now.
    pub until: Moment,
    /// Back from there: pregnancies with a visit or a labour in these months, each as a whole.
    pub months: u32,
    /// Not more than so many, the newest first; absent for all.
    pub most: Option<usize>,
}

/// Few enough to hold, many enough to ask for at once.
const AT_ONCE: i64 = 256;

/// Pregnancies of a post with a visit or a labour since then; what was entered in error is none.
macro_rules! seen_since {
    ($post:expr, $since:expr) => {
        pregnancies::table
            .inner_join(mothers::table)
            .filter(pregnancies::post_id.eq($post))
            .filter(mothers::entered_in_error.eq(false))
            .filter(
                pregnancies::ending
                    .is_null()
                    .or(pregnancies::ending.ne(PregnancyEnding::EnteredInError)),
            )
            .filter(
                exists(
                    visits::table
                        .filter(visits::pregnancy_id.eq(pregnancies::id))
                        .filter(visits::at.ge($since))
                        .filter(visits::entered_in_error.eq(false)),
                )
                .or(exists(
                    labours::table
                        .filter(labours::pregnancy_id.eq(pregnancies::id))
                        .filter(labours::opened_at.ge($since)),
                )),
            )
    };
}

/// How many pregnancies there are in the span.
///
/// # Errors
/// `Missing` when there is no such post; `Broken` when the database fails.
pub fn count(db: &mut Db, span: &Span) -> Result<usize> {
    let since = since(&Place::of(db, span.post)?, span);
    let count: i64 = seen_since!(span.post, since).count().get_result(db)?;
    let count = usize::try_from(count).unwrap_or_default();
    Ok(span.most.map_or(count, |most| most.min(count)))
}

/// Judges them one after the other, the newest first; only one is held at a time.
///
/// # Errors
/// `Missing` when there is no such post; `Broken` when the database fails.
pub fn each(db: &mut Db, span: &Span, trial: &Trial, mut take: impl FnMut(Replayed)) -> Result<()> {
    let saved = Place::of(db, span.post)?;
    let tried = (!trial.is_empty()).then(|| trial.at(&saved));
    let since = since(&saved, span);
    let mut left = span.most.unwrap_or(usize::MAX);
    let mut before: Option<(Moment, PregnancyId)> = None;
    loop {
        let mut next = seen_since!(span.post, since)
            .order((pregnancies::opened_at.desc(), pregnancies::id.desc()))
            .limit(AT_ONCE)
            .select((pregnancies::opened_at, pregnancies::id))
            .into_boxed();
        if let Some((opened_at, id)) = before {
            next = next.filter(
                pregnancies::opened_at
                    .lt(opened_at)
                    .or(pregnancies::opened_at
                        .eq(opened_at)
                        .and(pregnancies::id.lt(id))),
            );
        }
        let some: Vec<(Moment, PregnancyId)> = next.load(db)?;
        before = some.last().copied();
        if before.is_none() || left == 0 {
            return Ok(());
        }
        for (_, pregnancy) in some.into_iter().take(left) {
            left -= 1;
            take(again(db, pregnancy, &saved, tried.as_ref())?);
        }
    }
}

fn since(place: &Place, span: &Span) -> Moment {
    let today = place.post.day(span.until);
    let first = today.checked_sub_months(Months::new(span.months));
    place
        .post
        .beginning_of(first.unwrap_or(chrono::NaiveDate::MIN))
}

/// Every moment at which she was examined or a flag came about otherwise: with a new fact, or by the time that had passed.
fn moments(held: &Held, stored: &[Flag]) -> BTreeSet<Moment> {
    let of_flags = stored
        .iter()
        .flat_map(|flag| [flag.raised_at, flag.last_raised_at]);
    let mut moments: BTreeSet<Moment> = held.moments().chain(of_flags).collect();
    moments.insert(held.opened_at);
    moments
}

fn again(
    db: &mut Db,
    pregnancy: PregnancyId,
    saved: &Place,
    tried: Option<&Place>,
) -> Result<Replayed> {
    let held = Held::of(db, pregnancy)?;
    let stored = flags::of_pregnancy(db, pregnancy)?;
    let moments = moments(&held, &stored);
    let as_saved = raised(&held, saved, &moments, &stored);
    let now = tried.map_or_else(
        || as_saved.clone(),
        |tried| raised(&held, tried, &moments, &stored),
    );
    let mut then = Raised::new();
    for flag in &stored {
        keep(&mut then, flag.category, flag.highest);
    }
    Ok(Replayed {
        visits: held.visits(),
        then,
        now,
        as_saved,
        versions: stored.into_iter().map(|flag| flag.rules_version).collect(),
        born: born::of(db, pregnancy, &held.dating)?,
    })
}

fn raised(held: &Held, place: &Place, moments: &BTreeSet<Moment>, stored: &[Flag]) -> Raised {
    let mut raised = Raised::new();
    for on in moments {
        for said in assess(&held.case(place, *on)).flags {
            if !reviewed_once(said.rule, *on, stored) {
                keep(&mut raised, said.category, said.urgency);
            }
        }
    }
    raised
}

/// Some rules stay silent once the midwife has dismissed them, as they did when the visit was written down.
fn reviewed_once(rule: &str, on: Moment, stored: &[Flag]) -> bool {
    clinical::rule(rule).is_some_and(|rule| rule.once)
        && stored.iter().any(|flag| {
            flag.rule == rule
                && flag.decided_at.is_some_and(|decided| decided < on)
                && flag.closed_at.is_some_and(|closed| closed <= on)
        })
}

fn keep(raised: &mut Raised, category: Category, urgency: Urgency) {
    let highest = raised.entry(category).or_insert(urgency);
    *highest = urgency.min(*highest);
}
