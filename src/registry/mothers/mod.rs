//! The mothers of a post's register: entered, found, put right.

mod amend;
mod candidates;
mod doubles;
mod find;
mod fold;
mod lines;
mod register;
mod sought;

use diesel::prelude::*;

use super::connection::{Backend, Db};
use super::error::{RegistryError, Result};
use super::ids::{MotherId, PostId, StaffId};
use super::schema::mothers;
use crate::clinical::{Day, Moment};

pub use amend::{amend, enter_in_error};
pub use doubles::possible_doubles;
pub use find::{After, Found, Which, counts, page};
pub(in crate::registry) use lines::of as lines_of;
pub use lines::{Course, Line, Raised};
pub use register::{NewMother, Registered, already_registered, next_number, register};

/// What she tells of her birth.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Born {
    /// The year.
    Year(i32),
    /// Completed years, told on a day.
    Age {
        /// 8 to 60.
        years: u8,
        /// The day she told it.
        told_on: Day,
    },
    /// Neither is known.
    Unknown,
}

/// What is told of a mother.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Person {
    /// As she says it, 1 to 80 characters.
    pub name: String,
    /// At most 80 characters.
    pub village: Option<String>,
    /// At most 80 characters; whose it is may stand beside the number.
    pub phone: Option<String>,
    /// She agreed to be phoned.
    pub may_phone: Option<bool>,
    /// Year of birth or age.
    pub born: Born,
}

/// A mother of the register.
#[derive(Debug, Clone, PartialEq, Eq, Queryable, Selectable)]
#[diesel(table_name = mothers, check_for_backend(Backend))]
pub struct Mother {
    /// Her id.
    pub id: MotherId,
    /// In which register.
    pub post_id: PostId,
    /// Her number there; [`super::posts::Post::register_number`] writes it out.
    pub number: i32,
    /// As she says it.
    pub name: String,
    /// As compared; the key by which lists go on.
    pub name_folded: String,
    /// Where she lives.
    pub village: Option<String>,
    /// Hers, or where a message reaches her.
    pub phone: Option<String>,
    /// She agreed to be phoned.
    pub may_phone: Option<bool>,
    birth_year: Option<i32>,
    age_years: Option<i32>,
    age_told_on: Option<Day>,
    /// When she was entered.
    pub registered_at: Moment,
    /// By whom.
    pub registered_by: StaffId,
    /// Counts the changes.
    pub revision: i32,
    /// She is in the register by mistake: readable, in no list and no count.
    pub entered_in_error: bool,
}

impl Mother {
    /// Year of birth or age.
    #[must_use]
    pub fn born(&self) -> Born {
        match (self.birth_year, self.age_years, self.age_told_on) {
            (Some(year), ..) => Born::Year(year),
            (None, Some(age), Some(told_on)) => {
                u8::try_from(age).map_or(Born::Unknown, |years| Born::Age { years, told_on })
            }
            _ => Born::Unknown,
        }
    }

    /// Completed years on a day: by an age she told, or by the year alone, which may be one too many.
    #[must_use]
    pub fn age_on(&self, day: Day) -> Option<i32> {
        use chrono::Datelike as _;
        match self.born() {
            Born::Year(year) => Some(day.year() - year),
            Born::Age { years, told_on } => day
                .years_since(told_on)
                .and_then(|more| i32::try_from(more).ok())
                .map(|more| i32::from(years) + more),
            Born::Unknown => None,
        }
    }

    /// What is told of her.
    #[must_use]
    pub fn person(&self) -> Person {
        Person {
            name: self.name.clone(),
            village: self.village.clone(),
            phone: self.phone.clone(),
            may_phone: self.may_phone,
            born: self.born(),
        }
    }
}

/// One mother of a post.
///
/// # Errors
/// `Missing` when there is none at this post.
pub fn find(db: &mut Db, post: PostId, id: MotherId) -> Result<Mother> {
    let found = mothers::table
        .filter(mothers::id.eq(id).and(mothers::post_id.eq(post)))
        .select(Mother::as_select())
        .get_result(db)
        .optional()?;
    found.ok_or(RegistryError::Missing("mother"))
}

/// Mothers whose villages the form offers: the newest ones, so that a long register costs no more than a short one.
const OFFER_VILLAGES_OF: i64 = 2_000;

/// Villages of the newest mothers of a post, each once, for the form's choices.
///
/// # Errors
/// `Broken` when the database cannot be read.
pub fn villages(db: &mut Db, post: PostId) -> Result<Vec<String>> {
    let named: Vec<Option<String>> = mothers::table
        .filter(mothers::post_id.eq(post))
        .order((mothers::registered_at.desc(), mothers::id.desc()))
        .limit(OFFER_VILLAGES_OF)
        .select(mothers::village)
        .load(db)?;
    let mut named: Vec<(String, String)> = named
        .into_iter()
        .flatten()
        .map(|village| (fold::folded(&village), village))
        .collect();
    named.sort();
    named.dedup_by(|one, other| one.0 == other.0);
    Ok(named.into_iter().map(|(_, village)| village).collect())
}
