//! One birth with its revisions.

use diesel::prelude::*;

use super::super::connection::{Backend, Db};
use super::super::error::{RegistryError, Result};
use super::super::ids::{BirthId, MotherId, PostId, PregnancyId};
use super::super::schema::{birth_details, births, mothers, newborns, posts, pregnancies, staff};
use super::super::vocabulary::{
    BirthPlace, BirthPresentation, Mode, MotherOutcome, NewbornState, Onset, Sex,
};
use super::record::{BirthRecord, Newborn};
use crate::clinical::{Day, Moment};

/// A birth as it stands now.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Birth {
    /// Its id.
    pub id: BirthId,
    /// The pregnancy that it ended.
    pub pregnancy: PregnancyId,
    /// The mother.
    pub mother: MotherId,
    /// Her name.
    pub name: String,
    /// `QF 0131`.
    pub register: String,
    /// The due date of the dating in force.
    pub due_date: Option<Day>,
    /// First day of her last period.
    pub lmp: Option<Day>,
    /// When it was first written down.
    pub entered_at: Moment,
    /// The newest revision.
    pub revision: i32,
    /// Out of every count, still readable.
    pub entered_in_error: bool,
    /// Everything about it, by the newest revision.
    pub record: BirthRecord,
}

/// One revision of a birth.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Revision {
    /// Counts from 1.
    pub revision: i32,
    /// What it says.
    pub record: BirthRecord,
    /// Why it replaces the one before.
    pub reason: Option<String>,
    /// When it was written.
    pub written_at: Moment,
    /// By whom, in words.
    pub written_by: String,
}

#[derive(Queryable, Selectable)]
#[diesel(table_name = newborns, check_for_backend(Backend))]
pub(super) struct BabyColumns {
    pub(super) birth_id: BirthId,
    pub(super) revision: i32,
    born_on: Day,
    born_at: Option<Moment>,
    place: BirthPlace,
    mode: Mode,
    presentation: BirthPresentation,
    sex: Option<Sex>,
    weight_g: Option<i32>,
    apgar_1: Option<i32>,
    apgar_5: Option<i32>,
    state: NewbornState,
    died: bool,
    died_on: Option<Day>,
    died_at: Option<Moment>,
    lethal_malformation: Option<bool>,
    seen_alive_on: Option<Day>,
}

impl From<BabyColumns> for Newborn {
    fn from(stored: BabyColumns) -> Self {
        Self {
            born_on: stored.born_on,
            born_at: stored.born_at,
            place: stored.place,
            mode: stored.mode,
            presentation: stored.presentation,
            sex: stored.sex,
            weight_g: stored.weight_g,
            apgar_1: stored.apgar_1,
            apgar_5: stored.apgar_5,
            state: stored.state,
            died: stored.died,
            died_on: stored.died_on,
            died_at: stored.died_at,
            lethal_malformation: stored.lethal_malformation,
            seen_alive_on: stored.seen_alive_on,
        }
    }
}

/// One birth of a post.
///
/// # Errors
/// `Missing` when this post has none of this id.
pub fn one(db: &mut Db, post: PostId, id: BirthId) -> Result<Birth> {
    let found = births::table
        .inner_join(mothers::table)
        .inner_join(posts::table)
        .inner_join(pregnancies::table)
        .filter(births::id.eq(id).and(births::post_id.eq(post)))
        .select((
            (births::id, births::pregnancy_id, births::mother_id),
            (mothers::name, mothers::number, posts::code),
            (pregnancies::due_date, pregnancies::lmp),
            (
                births::entered_at,
                births::revision,
                births::entered_in_error,
            ),
        ))
        .first::<(_, (String, i32, String), _, (Moment, i32, bool))>(db)
        .optional()?;
    let ((id, pregnancy, mother), (name, number, code), (due_date, lmp), kept) =
        found.ok_or(RegistryError::Missing("birth"))?;
    let (entered_at, revision, entered_in_error) = kept;
    let newest = revisions(db, id)?
        .into_iter()
        .find(|it| it.revision == revision);
    let newest = newest
        .ok_or_else(|| RegistryError::corrupt(format!("birth {id} has no revision {revision}")))?;
    Ok(Birth {
        id,
        pregnancy,
        mother,
        name,
        register: format!("{code} {number:04}"),
        due_date,
        lmp,
        entered_at,
        revision,
        entered_in_error,
        record: newest.record,
    })
}

/// The birth of a pregnancy, when one is written down.
///
/// # Errors
/// `Broken` when the database cannot be read.
pub fn of_pregnancy(db: &mut Db, post: PostId, pregnancy: PregnancyId) -> Result<Option<Birth>> {
    let id: Option<BirthId> = births::table
        .filter(
            births::pregnancy_id
                .eq(pregnancy)
                .and(births::post_id.eq(post)),
        )
        .select(births::id)
        .get_result(db)
        .optional()?;
    id.map(|id| one(db, post, id)).transpose()
}

/// Every revision of a birth, the newest first.
///
/// # Errors
/// `Broken` when the database cannot be read.
pub fn revisions(db: &mut Db, id: BirthId) -> Result<Vec<Revision>> {
    type Details = (
        i32,
        Onset,
        MotherOutcome,
        Option<Day>,
        Option<String>,
        Option<String>,
        Moment,
        String,
    );
    let details: Vec<Details> = birth_details::table
        .inner_join(staff::table)
        .filter(birth_details::birth_id.eq(id))
        .order(birth_details::revision.desc())
        .select((
            birth_details::revision,
            birth_details::onset,
            birth_details::mother_outcome,
            birth_details::mother_died_on,
            birth_details::note,
            birth_details::reason,
            birth_details::written_at,
            staff::name,
        ))
        .load(db)?;
    let babies: Vec<BabyColumns> = newborns::table
        .filter(newborns::birth_id.eq(id))
        .order((newborns::revision, newborns::position))
        .select(BabyColumns::as_select())
        .load(db)?;
    let mut babies: Vec<(i32, Newborn)> = babies
        .into_iter()
        .map(|it| (it.revision, it.into()))
        .collect();
    let mut found = Vec::with_capacity(details.len());
    for (revision, onset, mother_outcome, mother_died_on, note, reason, written_at, written_by) in
        details
    {
        let (mine, others) = babies.into_iter().partition(|(of, _)| *of == revision);
        babies = others;
        let newborns = Vec::into_iter(mine).map(|(_, baby)| baby).collect();
        let record = BirthRecord {
            onset,
            mother_outcome,
            mother_died_on,
            note,
            newborns,
        };
        found.push(Revision {
            revision,
            record,
            reason,
            written_at,
            written_by,
        });
    }
    Ok(found)
}
