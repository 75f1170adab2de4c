//! Health posts: their clock, their way to each hospital, how they judge.

mod check;
mod settings;
mod told;

use chrono::{LocalResult, NaiveDateTime, TimeZone as _, Timelike as _, Utc};
use chrono_tz::Tz;
use diesel::prelude::*;

use super::connection::{Backend, Db};
use super::error::{RegistryError, Result};
use super::ids::{HospitalId, PostId};
use super::schema::{posts, travel};
use crate::clinical::{Day, HeightMethod, LabourProtocol, Moment};

pub use check::refuse_unfit;
pub use settings::{PostSettings, add, amend, stop};

/// A health post.
#[derive(Debug, Clone, PartialEq, Eq, Queryable, Selectable, Insertable)]
#[diesel(table_name = posts, check_for_backend(Backend))]
pub struct Post {
    /// Its id.
    pub id: PostId,
    /// Letters before each register number; fixed once it has mothers.
    pub code: String,
    /// Its name.
    pub name: String,
    /// Name of its time zone, such as `Etc/GMT-2`.
    pub time_zone: String,
    /// For the reply of a hospital.
    pub phone: Option<String>,
    /// How it judges the progress of labour.
    pub labour_protocol: LabourProtocol,
    /// How it judges the fundal height.
    pub height_method: HeightMethod,
    /// Staff skilled in breech birth are there.
    pub skilled_breech: bool,
    /// Staff skilled in twin birth are there.
    pub skilled_twins: bool,
    /// Local hour at which travel by day begins, 0 to 23.
    pub day_from: i32,
    /// Local hour at which travel by night begins, 0 to 23.
    pub night_from: i32,
    /// Where letters and phone messages say the reply page is.
    pub reply_address: Option<String>,
    /// Counts the changes of its settings.
    pub revision: i32,
    /// When it closed; absent while it is open.
    pub stopped_at: Option<Moment>,
}

/// Minutes from door to door with the usual wait for the vehicle.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Queryable, Selectable)]
#[diesel(table_name = travel, check_for_backend(Backend))]
pub struct Travel {
    /// Where to.
    pub hospital_id: HospitalId,
    /// By day, 1 to 1440.
    pub day_minutes: i32,
    /// By night, 1 to 1440.
    pub night_minutes: i32,
}

impl Post {
    fn zone(&self) -> Tz {
        // Settings refuse a zone that is none, so this is never reached with one.
        self.time_zone.parse().unwrap_or(Tz::UTC)
    }

    /// What the clock on its wall shows.
    #[must_use]
    pub fn local(&self, moment: Moment) -> NaiveDateTime {
        Utc.from_utc_datetime(&moment)
            .with_timezone(&self.zone())
            .naive_local()
    }

    /// Its calendar day.
    #[must_use]
    pub fn day(&self, moment: Moment) -> Day {
        self.local(moment).date()
    }

    /// The moment when its clock shows `local`: of two the earlier; absent where a clock change leaves it out.
    #[must_use]
    pub fn moment(&self, local: NaiveDateTime) -> Option<Moment> {
        match self.zone().from_local_datetime(&local) {
            LocalResult::Single(found) | LocalResult::Ambiguous(found, _) => {
                Some(found.naive_utc())
            }
            LocalResult::None => None,
        }
    }

    /// The moment its local day begins.
    #[must_use]
    pub fn beginning_of(&self, day: Day) -> Moment {
        let midnight = day.and_time(chrono::NaiveTime::MIN);
        // Where a clock change leaves midnight out the day begins an hour later.
        self.moment(midnight)
            .or_else(|| self.moment(midnight + chrono::TimeDelta::hours(1)))
            .unwrap_or(midnight)
    }

    /// Whether the way takes as long as by night.
    #[must_use]
    pub fn travels_by_night(&self, moment: Moment) -> bool {
        let hour = i32::try_from(self.local(moment).hour()).unwrap_or_default();
        let by_day = if self.day_from <= self.night_from {
            (self.day_from..self.night_from).contains(&hour)
        } else {
            !(self.night_from..self.day_from).contains(&hour)
        };
        !by_day
    }

    /// Minutes of this way at a moment.
    #[must_use]
    pub fn minutes(&self, way: &Travel, moment: Moment) -> u16 {
        let minutes = if self.travels_by_night(moment) {
            way.night_minutes
        } else {
            way.day_minutes
        };
        u16::try_from(minutes).unwrap_or(u16::MAX)
    }

    /// `QF 0149`.
    #[must_use]
    pub fn register_number(&self, number: i32) -> String {
        format!("{} {number:04}", self.code)
    }
}

/// All posts by name, closed ones too.
///
/// # Errors
/// `Broken` when the database cannot be read.
pub fn list(db: &mut Db) -> Result<Vec<Post>> {
    Ok(posts::table
        .order((posts::name, posts::id))
        .select(Post::as_select())
        .load(db)?)
}

/// One post.
///
/// # Errors
/// `Missing` when there is none.
pub fn find(db: &mut Db, id: PostId) -> Result<Post> {
    let found = posts::table
        .find(id)
        .select(Post::as_select())
        .get_result(db)
        .optional()?;
    found.ok_or(RegistryError::Missing("post"))
}

/// One post by its name or its letters, in any case.
///
/// # Errors
/// `Missing` when there is none.
pub fn named(db: &mut Db, name: &str) -> Result<Post> {
    let sought = name.trim().to_lowercase();
    let alike = |post: &Post| {
        [&post.name, &post.code]
            .iter()
            .any(|it| it.to_lowercase() == sought)
    };
    list(db)?
        .into_iter()
        .find(alike)
        .ok_or(RegistryError::Missing("post"))
}

/// The ways from a post, one a hospital.
///
/// # Errors
/// `Broken` when the database cannot be read.
pub fn ways(db: &mut Db, post: PostId) -> Result<Vec<Travel>> {
    Ok(travel::table
        .filter(travel::post_id.eq(post))
        .order(travel::hospital_id)
        .select(Travel::as_select())
        .load(db)?)
}
