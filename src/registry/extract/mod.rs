//! The rows behind the monthly tables: flat, without names, telephone or village.
//!
//! Every query is bounded by the month through an index, so that its cost follows the month and not the age of the registry.

mod births;
mod dangers;
mod dates;
mod flags;
mod line;
mod pregnancies;
mod referrals;
mod visits;
mod women;

pub use line::{
    At, BabyLine, BabyLines, Code, Column, DangerLine, DangerLines, FlagLine, FlagLines, Id,
    MotherLine, MotherLines, On, PregnancyLine, PregnancyLines, ReasonLine, ReasonLines,
    ReferralLine, ReferralLines, Truth, Values, VisitLine, VisitLines, Whole, WomanLine,
    WomanLines,
};

use chrono_tz::Tz;
use diesel::prelude::*;

use super::connection::Db;
use super::error::{RegistryError, Result};
use super::ids::PostId;
use super::months::{Month, first_instant, local_day};
use super::schema::posts;
use crate::clinical::{Day, HeightMethod, Moment};

/// The lines of a month, of one post or of several.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Extract {
    /// Registered in the month.
    pub mothers: MotherLines,
    /// Opened in the month.
    pub opened: PregnancyLines,
    /// Due in the month and not ended.
    pub due: PregnancyLines,
    /// Ended in the month without a birth record.
    pub ended: PregnancyLines,
    /// Took place in the month.
    pub visits: VisitLines,
    /// First raised in the month.
    pub flags: FlagLines,
    /// Decided in the month.
    pub referrals: ReferralLines,
    /// Of those referrals.
    pub reasons: ReasonLines,
    /// Of births of the month.
    pub babies: BabyLines,
    /// Of those births: what was known of the woman before.
    pub women: WomanLines,
    /// Of those births: the flags of that pregnancy.
    pub dangers: DangerLines,
}

/// A post whose month is read.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ReportingPost {
    /// The post.
    pub id: PostId,
    /// Two letters.
    pub code: String,
    /// Its name.
    pub name: String,
    /// Its own clock.
    pub zone: Tz,
    /// How it judges the tape.
    pub height_method: HeightMethod,
}

/// All posts by name, those that have stopped too: their old months stay.
///
/// # Errors
/// `Broken` when the database fails or holds an unknown time zone.
pub fn posts(db: &mut Db) -> Result<Vec<ReportingPost>> {
    type Row = (PostId, String, String, String, HeightMethod);
    let rows: Vec<Row> = posts::table
        .order((posts::name, posts::id))
        .select((
            posts::id,
            posts::code,
            posts::name,
            posts::time_zone,
            posts::height_method,
        ))
        .load(db)?;
    let post = |(id, code, name, zone, height_method): Row| {
        let zone = zone
            .parse()
            .map_err(|_| RegistryError::corrupt(format!("time zone {zone}")))?;
        Ok(ReportingPost {
            id,
            code,
            name,
            zone,
            height_method,
        })
    };
    rows.into_iter().map(post).collect()
}

/// The month of these posts, as of `as_of`.
///
/// # Errors
/// `Broken` when the database fails.
pub fn month(db: &mut Db, posts: &[ReportingPost], month: Month, as_of: Moment) -> Result<Extract> {
    let mut extract = Extract::default();
    for post in posts {
        let span = Span::of(post, month, as_of);
        pregnancies::mothers(db, &span, &mut extract.mothers)?;
        pregnancies::opened(db, &span, &mut extract.opened)?;
        pregnancies::due(db, &span, &mut extract.due)?;
        pregnancies::ended(db, &span, &mut extract.ended)?;
        visits::of(db, &span, &mut extract.visits)?;
        flags::of(db, &span, &mut extract.flags)?;
        referrals::of(db, &span, &mut extract.referrals)?;
        referrals::reasons(db, &span, &mut extract.reasons)?;
        births::of(db, &span, &mut extract.babies)?;
        women::of(db, &span, &mut extract.women)?;
        dangers::of(db, &span, &mut extract.dangers)?;
    }
    Ok(extract)
}

/// One month of one post: what bounds each query.
struct Span {
    post: PostId,
    code: String,
    zone: Tz,
    /// The first instant, which belongs to it.
    from: Moment,
    /// The first instant that does not.
    until: Moment,
    first_day: Day,
    day_after: Day,
    as_of: Moment,
    height_method: HeightMethod,
}

impl Span {
    fn of(post: &ReportingPost, month: Month, as_of: Moment) -> Self {
        let (from, until) = month.instants(post.zone);
        Self {
            post: post.id,
            code: post.code.clone(),
            zone: post.zone,
            from,
            until,
            first_day: month.first_day(),
            day_after: month.day_after(),
            as_of,
            height_method: post.height_method,
        }
    }

    /// The calendar day at the post.
    fn day(&self, at: Moment) -> Day {
        local_day(at, self.zone)
    }

    /// The first instant of a day at the post.
    fn start_of(&self, day: Day) -> Moment {
        first_instant(day, self.zone)
    }

    /// Days from `day` to the day of the report.
    fn days_since(&self, day: Day) -> i64 {
        self.day(self.as_of).signed_duration_since(day).num_days()
    }
}

#[cfg(test)]
#[path = "tests.rs"]
mod tests;
