//! Lists of births: of a month, those that lack something, and the women whose birth nobody wrote down.

use std::collections::BTreeMap;

use diesel::dsl::exists;
use diesel::prelude::*;

use super::super::connection::Db;
use super::super::error::Result;
use super::super::ids::{BirthId, MotherId, PostId, PregnancyId};
use super::super::posts;
use super::super::schema::{births, mothers, newborns, pregnancies};
use super::super::vocabulary::BirthPlace;
use super::read::BabyColumns;
use super::record::Newborn;
use crate::clinical::Day;

/// Which births a list shows.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Which {
    /// Born from the first day up to and without the second.
    Between(Day, Day),
    /// With a baby without weight, sex or place, or a death without its day.
    Lacking,
}

/// The last line of the page before.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct After {
    /// Its day.
    pub on: Day,
    /// Its id.
    pub id: BirthId,
}

/// One birth in a list.
#[derive(Debug, Clone)]
pub struct Line {
    /// Its id.
    pub id: BirthId,
    /// The mother.
    pub mother: MotherId,
    /// Her name.
    pub name: String,
    /// `QF 0131`.
    pub register: String,
    /// The day of the first baby.
    pub born_on: Day,
    /// The due date of the dating in force.
    pub due_date: Option<Day>,
    /// Every baby, the first-born first.
    pub newborns: Vec<Newborn>,
}

impl Line {
    /// What is still missing, in words; empty when nothing is.
    #[must_use]
    pub fn lacks(&self) -> Vec<&'static str> {
        let any = |test: fn(&Newborn) -> bool| self.newborns.iter().any(test);
        let lacking = [
            ("weight", any(|baby| baby.weight_g.is_none())),
            ("sex", any(|baby| baby.sex.is_none())),
            ("place", any(|baby| baby.place == BirthPlace::Unknown)),
            (
                "day of the death",
                any(|baby| baby.died && baby.died_on.is_none()),
            ),
        ];
        lacking
            .into_iter()
            .filter(|it| it.1)
            .map(|it| it.0)
            .collect()
    }
}

/// The next `lines` births of a post, the last born first.
///
/// # Errors
/// `Broken` when the database cannot be read.
pub fn list(
    db: &mut Db,
    post: PostId,
    which: Which,
    after: Option<After>,
    lines: i64,
) -> Result<Vec<Line>> {
    let post = posts::find(db, post)?;
    let mut query = births::table
        .inner_join(mothers::table)
        .inner_join(pregnancies::table)
        .filter(
            births::post_id
                .eq(post.id)
                .and(births::entered_in_error.eq(false)),
        )
        .order((births::born_on.desc(), births::id.desc()))
        .limit(lines)
        .select((
            (births::id, births::mother_id, births::revision),
            (mothers::name, mothers::number),
            (births::born_on, pregnancies::due_date),
        ))
        .into_boxed();
    query = match which {
        Which::Between(from, until) => {
            query.filter(births::born_on.ge(from).and(births::born_on.lt(until)))
        }
        Which::Lacking => {
            let newest = newborns::table.filter(
                newborns::birth_id
                    .eq(births::id)
                    .and(newborns::revision.eq(births::revision)),
            );
            let undated = newborns::died.eq(true).and(newborns::died_on.is_null());
            let lacking = newborns::weight_g
                .is_null()
                .or(newborns::sex.is_null())
                .or(newborns::place.eq(BirthPlace::Unknown))
                .or(undated);
            query.filter(exists(newest.filter(lacking)))
        }
    };
    if let Some(After { on, id }) = after {
        let older = births::born_on.lt(on);
        query = query.filter(older.or(births::born_on.eq(on).and(births::id.lt(id))));
    }
    type Found = ((BirthId, MotherId, i32), (String, i32), (Day, Option<Day>));
    let found: Vec<Found> = query.load(db)?;
    let ids: Vec<_> = found.iter().map(|(keys, ..)| keys.0).collect();
    let babies: Vec<BabyColumns> = newborns::table
        .filter(newborns::birth_id.eq_any(&ids))
        .order((newborns::revision, newborns::position))
        .select(BabyColumns::as_select())
        .load(db)?;
    let mut of_birth: BTreeMap<(BirthId, i32), Vec<Newborn>> = BTreeMap::new();
    for baby in babies {
        of_birth
            .entry((baby.birth_id, baby.revision))
            .or_default()
            .push(baby.into());
    }
    let line = |((id, mother, revision), (name, number), (born_on, due_date)): Found| Line {
        id,
        mother,
        name,
        register: post.register_number(number),
        born_on,
        due_date,
        newborns: of_birth.remove(&(id, revision)).unwrap_or_default(),
    };
    Ok(found.into_iter().map(line).collect())
}

/// A woman whose due date has passed and whose birth nobody wrote down.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Overdue {
    /// Her pregnancy.
    pub pregnancy: PregnancyId,
    /// The woman.
    pub mother: MotherId,
    /// Her name.
    pub name: String,
    /// `QF 0131`.
    pub register: String,
    /// The day that has passed.
    pub due_date: Day,
}

/// The next `lines` women whose due date was before `today` and whose pregnancy is open, the longest ago first.
///
/// # Errors
/// `Broken` when the database cannot be read.
pub fn not_recorded(
    db: &mut Db,
    post: PostId,
    today: Day,
    after: Option<(Day, PregnancyId)>,
    lines: i64,
) -> Result<Vec<Overdue>> {
    let post = posts::find(db, post)?;
    let mut query = pregnancies::table
        .inner_join(mothers::table)
        .filter(
            pregnancies::post_id
                .eq(post.id)
                .and(pregnancies::ended_at.is_null()),
        )
        .filter(
            pregnancies::due_date
                .lt(today)
                .and(mothers::entered_in_error.eq(false)),
        )
        .order((pregnancies::due_date, pregnancies::id))
        .limit(lines)
        .select((
            (pregnancies::id, pregnancies::mother_id),
            (mothers::name, mothers::number),
            pregnancies::due_date.assume_not_null(),
        ))
        .into_boxed();
    if let Some((due, id)) = after {
        let later = pregnancies::due_date.gt(due);
        query = query.filter(later.or(pregnancies::due_date.eq(due).and(pregnancies::id.gt(id))));
    }
    let found: Vec<((PregnancyId, MotherId), (String, i32), Day)> = query.load(db)?;
    let line = |((pregnancy, mother), (name, number), due_date)| Overdue {
        pregnancy,
        mother,
        name,
        register: post.register_number(number),
        due_date,
    };
    Ok(found.into_iter().map(line).collect())
}
