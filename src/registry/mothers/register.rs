//! A mother enters the register, with her pregnancy.

use chrono::Datelike as _;
use diesel::prelude::*;

use super::fold::{digits, folded, words};
use super::{Born, Person};
use crate::clinical::{Day, Moment};
use crate::registry::change::Change;
use crate::registry::connection::Db;
use crate::registry::error::{RegistryError, Result};
use crate::registry::ids::{MotherId, PostId, PregnancyId, StaffId};
use crate::registry::limits::{self, trimmed};
use crate::registry::posts;
use crate::registry::pregnancies::{self, Facts};
use crate::registry::schema::{self, mother_words, mothers, running_numbers};

/// Names the running numbers of a post's register.
const SERIES: &str = "mothers";

/// A mother to enter.
#[derive(Debug, Clone)]
pub struct NewMother {
    /// What is told of her.
    pub person: Person,
    /// What is told of this pregnancy.
    pub facts: Facts,
    /// Of the form; the same key again is the same entry.
    pub request_key: Option<String>,
}

/// She is in the register.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Registered {
    /// Her id.
    pub mother: MotherId,
    /// Her pregnancy.
    pub pregnancy: PregnancyId,
    /// Her number.
    pub number: i32,
    /// The form came a second time; nothing was written.
    pub already: bool,
}

/// The columns that an amendment writes too; absent clears.
#[derive(Insertable, AsChangeset)]
#[diesel(table_name = mothers, treat_none_as_null = true)]
pub(super) struct Told {
    name: String,
    name_folded: String,
    village: Option<String>,
    village_folded: Option<String>,
    phone: Option<String>,
    phone_digits: Option<String>,
    may_phone: Option<bool>,
    birth_year: Option<i32>,
    age_years: Option<i32>,
    age_told_on: Option<Day>,
}

#[derive(Insertable)]
#[diesel(table_name = mothers)]
struct New<'a> {
    id: MotherId,
    post_id: PostId,
    number: i32,
    registered_at: Moment,
    registered_by: StaffId,
    request_key: Option<&'a str>,
    revision: i32,
    entered_in_error: bool,
}

impl Told {
    /// Refuses what cannot be; `today` is the post's day.
    pub(super) fn of(person: &Person, today: Day) -> Result<Self> {
        let name = person.name.split_whitespace().collect::<Vec<_>>().join(" ");
        let name_folded = folded(&name);
        if name_folded.is_empty() {
            return Err(RegistryError::field("name", "Write her name."));
        }
        limits::fits("name", Some(&person.name), limits::LINE)?;
        limits::fits("village", person.village.as_deref(), limits::LINE)?;
        limits::fits("phone", person.phone.as_deref(), limits::LINE)?;
        let (birth_year, age_years, age_told_on) = match person.born {
            Born::Year(year) => {
                if !(8..=60).contains(&(today.year() - year)) {
                    let (first, last) = (today.year() - 60, today.year() - 8);
                    return Err(RegistryError::field(
                        "birth_year",
                        format!("Write a year from {first} to {last}."),
                    ));
                }
                (Some(year), None, None)
            }
            Born::Age { years, told_on } => {
                if !(8..=60).contains(&years) {
                    return Err(RegistryError::field("age_years", "Write 8 to 60 years."));
                }
                (None, Some(i32::from(years)), Some(told_on))
            }
            Born::Unknown => (None, None, None),
        };
        let (village, phone) = (
            trimmed(person.village.as_ref()),
            trimmed(person.phone.as_ref()),
        );
        Ok(Self {
            name,
            name_folded,
            village_folded: village.as_deref().map(folded),
            village,
            phone_digits: phone.as_deref().and_then(digits),
            phone,
            may_phone: person.may_phone,
            birth_year,
            age_years,
            age_told_on,
        })
    }

    /// Writes the words by which she is found, in place of those that stood.
    pub(super) fn replace_words(
        &self,
        change: &mut Change<'_>,
        post: PostId,
        mother: MotherId,
    ) -> Result<()> {
        diesel::delete(mother_words::table.filter(mother_words::mother_id.eq(mother)))
            .execute(change.db())?;
        self.store_words(change, post, mother)
    }

    fn store_words(&self, change: &mut Change<'_>, post: PostId, mother: MotherId) -> Result<()> {
        for word in words(&[
            &self.name_folded,
            self.village_folded.as_deref().unwrap_or_default(),
        ]) {
            diesel::insert_into(mother_words::table)
                .values((
                    mother_words::post_id.eq(post),
                    mother_words::word.eq(word),
                    mother_words::mother_id.eq(mother),
                ))
                .execute(change.db())?;
        }
        Ok(())
    }
}

/// Enters a mother with her pregnancy, and judges it. A possible double is the caller's to ask about first.
///
/// # Errors
/// `RefusedField` for what cannot be; `Refused` to whoever belongs to no post.
pub fn register(change: &mut Change<'_>, new: &NewMother) -> Result<Registered> {
    let post = change.post()?;
    let post = posts::find(change.db(), post)?;
    let known = already_registered(change.db(), post.id, new.request_key.as_deref())?;
    if let Some(known) = known {
        change.nothing_new();
        return Ok(known);
    }
    let now = change.now();
    let told = Told::of(&new.person, post.day(now))?;
    let number = draw_number(change, post.id)?;
    let mother = MotherId::made(now);
    let row = New {
        id: mother,
        post_id: post.id,
        number,
        registered_at: now,
        registered_by: change.author()?,
        request_key: new.request_key.as_deref(),
        revision: 1,
        entered_in_error: false,
    };
    diesel::insert_into(mothers::table)
        .values((row, &told))
        .execute(change.db())?;
    told.store_words(change, post.id, mother)?;
    change.tell(
        "mother registered",
        "mother",
        mother.code(),
        post.register_number(number),
    )?;
    let pregnancy = pregnancies::open_for(change, mother, &new.facts)?;
    Ok(Registered {
        mother,
        pregnancy,
        number,
        already: false,
    })
}

/// Whom the form with this key entered, when it was sent before. Asked before a possible double is looked for: a form
/// sent twice would otherwise be held beside the mother that it made itself.
///
/// # Errors
/// `Broken` when the database cannot be read.
pub fn already_registered(
    db: &mut Db,
    post: PostId,
    key: Option<&str>,
) -> Result<Option<Registered>> {
    let Some(key) = key else { return Ok(None) };
    let known: Option<(MotherId, i32, PregnancyId)> = mothers::table
        .inner_join(schema::pregnancies::table)
        .filter(mothers::request_key.eq(key).and(mothers::post_id.eq(post)))
        .order(schema::pregnancies::opened_at)
        .select((mothers::id, mothers::number, schema::pregnancies::id))
        .first(db)
        .optional()?;
    Ok(known.map(|(mother, number, pregnancy)| Registered {
        mother,
        pregnancy,
        number,
        already: true,
    }))
}

/// The number the next mother of a post will most likely get, for the head of the form.
///
/// # Errors
/// `Broken` when the database cannot be read.
pub fn next_number(db: &mut Db, post: PostId) -> Result<i32> {
    let last: Option<i32> = running_numbers::table
        .find((post, SERIES))
        .select(running_numbers::last)
        .get_result(db)
        .optional()?;
    Ok(last.unwrap_or_default() + 1)
}

fn draw_number(change: &mut Change<'_>, post: PostId) -> Result<i32> {
    let number = next_number(change.db(), post)?;
    if number == 1 {
        diesel::insert_into(running_numbers::table)
            .values((
                running_numbers::post_id.eq(post),
                running_numbers::series.eq(SERIES),
                running_numbers::last.eq(1),
            ))
            .execute(change.db())?;
    } else {
        diesel::update(running_numbers::table.find((post, SERIES)))
            .set(running_numbers::last.eq(number))
            .execute(change.db())?;
    }
    Ok(number)
}
