//! Pregnancies: what dates them, what was before, how they end.

mod amend;
mod check;
mod end;
mod open;

use diesel::prelude::*;

use super::connection::{Backend, Db};
use super::error::{RegistryError, Result};
use super::ids::{MotherId, PostId, PregnancyId};
use super::judging;
use super::schema::{pregnancies, pregnancy_history};
use super::vocabulary::PregnancyEnding;
use crate::clinical::{Dated, Dating, Day, Moment, PastEvent, date_pregnancy};

pub use amend::amend;
pub use end::{end, reopen};
pub use open::open;
pub(in crate::registry) use open::open_for;

/// Everything that is told of a pregnancy.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Facts {
    /// Last period and scans.
    pub dating: Dating,
    /// Births before this one, 0 to 25.
    pub births_before: Option<u8>,
    /// 0 to 15, at most `births_before`.
    pub previous_caesareans: Option<u8>,
    /// Each event once.
    pub history: Vec<PastEvent>,
    /// Known illness.
    pub illness: Option<String>,
    /// Allergies.
    pub allergies: Option<String>,
    /// Medicines she takes.
    pub medicines: Option<String>,
    /// Blood group.
    pub blood_group: Option<String>,
    /// Tests with their days.
    pub tests: Option<String>,
    /// Who comes with her.
    pub companion: Option<String>,
    /// The companion's phone.
    pub companion_phone: Option<String>,
}

#[derive(Debug, Clone, Queryable, Selectable)]
#[diesel(table_name = pregnancies, check_for_backend(Backend))]
struct Row {
    id: PregnancyId,
    mother_id: MotherId,
    post_id: PostId,
    opened_at: Moment,
    births_before: Option<i32>,
    previous_caesareans: Option<i32>,
    illness: Option<String>,
    allergies: Option<String>,
    medicines: Option<String>,
    blood_group: Option<String>,
    tests: Option<String>,
    companion: Option<String>,
    companion_phone: Option<String>,
    due_date: Option<Day>,
    ended_at: Option<Moment>,
    ending: Option<PregnancyEnding>,
    revision: i32,
}

/// One pregnancy.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Pregnancy {
    /// Its id.
    pub id: PregnancyId,
    /// Whose.
    pub mother_id: MotherId,
    /// In which register.
    pub post_id: PostId,
    /// When it was entered.
    pub opened_at: Moment,
    /// What is told of it.
    pub facts: Facts,
    /// By the dating in force; absent when not known.
    pub due_date: Option<Day>,
    /// When it ended; absent while it lasts.
    pub ended_at: Option<Moment>,
    /// How it ended.
    pub ending: Option<PregnancyEnding>,
    /// Counts the changes of its facts.
    pub revision: i32,
}

impl Pregnancy {
    /// Gestation, due date and their reasons on a day.
    #[must_use]
    pub fn dated(&self, on: Day) -> Dated {
        date_pregnancy(&self.facts.dating, on)
    }
}

/// One pregnancy of a post.
///
/// # Errors
/// `Missing` when there is none at this post.
pub fn find(db: &mut Db, post: PostId, id: PregnancyId) -> Result<Pregnancy> {
    let row: Option<Row> = pregnancies::table
        .filter(pregnancies::id.eq(id).and(pregnancies::post_id.eq(post)))
        .select(Row::as_select())
        .get_result(db)
        .optional()?;
    row.ok_or(RegistryError::Missing("pregnancy"))
        .and_then(|row| row.read(db))
}

/// The pregnancies of a mother, the newest first; those entered in error last.
///
/// # Errors
/// `Broken` when the database cannot be read.
pub fn of_mother(db: &mut Db, mother: MotherId) -> Result<Vec<Pregnancy>> {
    let rows: Vec<Row> = pregnancies::table
        .filter(pregnancies::mother_id.eq(mother))
        .order((pregnancies::opened_at.desc(), pregnancies::id.desc()))
        .select(Row::as_select())
        .load(db)?;
    let mut found = rows
        .into_iter()
        .map(|row| row.read(db))
        .collect::<Result<Vec<_>>>()?;
    found.sort_by_key(|it| it.ending == Some(PregnancyEnding::EnteredInError));
    Ok(found)
}

/// The pregnancy of a mother that lasts; absent after its end.
///
/// # Errors
/// `Broken` when the database cannot be read.
pub fn lasting(db: &mut Db, mother: MotherId) -> Result<Option<Pregnancy>> {
    Ok(of_mother(db, mother)?
        .into_iter()
        .find(|it| it.ended_at.is_none()))
}

impl Row {
    fn read(self, db: &mut Db) -> Result<Pregnancy> {
        let number = |what, stored| super::findings::small(what, stored);
        let history: Vec<PastEvent> = pregnancy_history::table
            .filter(pregnancy_history::pregnancy_id.eq(self.id))
            .select(pregnancy_history::past_event)
            .load(db)?;
        let facts = Facts {
            dating: judging::dating_of(db, self.id)?,
            births_before: number("births before", self.births_before)?,
            previous_caesareans: number("previous caesareans", self.previous_caesareans)?,
            history: PastEvent::ALL
                .iter()
                .copied()
                .filter(|event| history.contains(event))
                .collect(),
            illness: self.illness,
            allergies: self.allergies,
            medicines: self.medicines,
            blood_group: self.blood_group,
            tests: self.tests,
            companion: self.companion,
            companion_phone: self.companion_phone,
        };
        Ok(Pregnancy {
            id: self.id,
            mother_id: self.mother_id,
            post_id: self.post_id,
            opened_at: self.opened_at,
            facts,
            due_date: self.due_date,
            ended_at: self.ended_at,
            ending: self.ending,
            revision: self.revision,
        })
    }
}

/// The due date by the dating in force, kept for lists; also where nobody believes it any more (over 44 weeks).
fn due_date(dating: &Dating, today: Day) -> Option<Day> {
    let days = date_pregnancy(dating, today).days_told?;
    Some(today + chrono::TimeDelta::days(crate::clinical::dating::TERM_DAYS - days))
}
