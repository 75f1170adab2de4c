//! Labour records as pages read them.

use diesel::prelude::*;

use super::super::connection::{Backend, Db};
use super::super::error::{RegistryError, Result};
use super::super::ids::{LabourId, LabourRowId, MotherId, PostId, PregnancyId};
use super::super::schema::{labour_rows, labours, mothers, posts, pregnancies, staff};
use super::super::vocabulary::LabourEnding;
use super::rows::{RowColumns, StoredRow, read};
use crate::clinical::{LabourProtocol, Moment};

/// One labour record, and whose it is.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Labour {
    /// Its id.
    pub id: LabourId,
    /// The pregnancy that it ends.
    pub pregnancy: PregnancyId,
    /// The woman.
    pub mother: MotherId,
    /// Her name.
    pub name: String,
    /// Her number in the register, as people say it: `QF 0131`.
    pub register: String,
    /// Births before this one, as told.
    pub births_before: Option<i32>,
    /// When the first row was found.
    pub opened_at: Moment,
    /// Who opened it.
    pub opened_by: String,
    /// When regular painful contractions began, as she told.
    pub began_at: Option<Moment>,
    /// When the waters broke, as she told.
    pub waters_broke_at: Option<Moment>,
    /// How it is judged; never changes while it is open, a clock must not jump.
    pub protocol: LabourProtocol,
    /// When it ended.
    pub closed_at: Option<Moment>,
    /// How it ended.
    pub closed_as: Option<LabourEnding>,
    /// What was written when it was closed.
    pub closing_note: Option<String>,
    /// Counts amendments.
    pub revision: i32,
    /// Her pregnancy has ended.
    pub pregnancy_ended: bool,
}

#[derive(Queryable, Selectable)]
#[diesel(table_name = labours, check_for_backend(Backend))]
struct Columns {
    id: LabourId,
    pregnancy_id: PregnancyId,
    mother_id: MotherId,
    opened_at: Moment,
    began_at: Option<Moment>,
    waters_broke_at: Option<Moment>,
    protocol: LabourProtocol,
    closed_at: Option<Moment>,
    closed_as: Option<LabourEnding>,
    closing_note: Option<String>,
    revision: i32,
}

/// Name, number, post's code, births before, end of the pregnancy, who opened it.
type Hers = (String, i32, String, Option<i32>, Option<Moment>, String);

impl Labour {
    /// It turned out to be no labour; its rows are not judged.
    #[must_use]
    pub fn was_none(&self) -> bool {
        self.closed_as == Some(LabourEnding::NotInLabour)
    }

    fn of((columns, hers): (Columns, Hers)) -> Self {
        let (name, number, code, births_before, ended_at, opened_by) = hers;
        Self {
            id: columns.id,
            pregnancy: columns.pregnancy_id,
            mother: columns.mother_id,
            name,
            register: format!("{code} {number:04}"),
            births_before,
            opened_at: columns.opened_at,
            opened_by,
            began_at: columns.began_at,
            waters_broke_at: columns.waters_broke_at,
            protocol: columns.protocol,
            closed_at: columns.closed_at,
            closed_as: columns.closed_as,
            closing_note: columns.closing_note,
            revision: columns.revision,
            pregnancy_ended: ended_at.is_some(),
        }
    }
}

/// Labours with whose they are; a macro, because the joined type has no name worth writing.
macro_rules! labours_and_hers {
    () => {
        labours::table
            .inner_join(mothers::table)
            .inner_join(posts::table)
            .inner_join(pregnancies::table)
            .inner_join(staff::table.on(staff::id.eq(labours::opened_by)))
            .select((
                Columns::as_select(),
                (
                    mothers::name,
                    mothers::number,
                    posts::code,
                    pregnancies::births_before,
                    pregnancies::ended_at,
                    staff::name,
                ),
            ))
    };
}

/// One labour of a post.
///
/// # Errors
/// `Missing` when this post has none of this id.
pub fn one(db: &mut Db, post: PostId, id: LabourId) -> Result<Labour> {
    let found = labours_and_hers!()
        .filter(labours::id.eq(id).and(labours::post_id.eq(post)))
        .get_result(db)
        .optional()?;
    found
        .map(Labour::of)
        .ok_or(RegistryError::Missing("labour"))
}

/// Everybody in labour at a post, in the order in which the records were opened.
///
/// # Errors
/// `Broken` when the database cannot be read.
pub fn in_labour(db: &mut Db, post: PostId) -> Result<Vec<Labour>> {
    let found = labours_and_hers!()
        .filter(labours::post_id.eq(post).and(labours::closed_at.is_null()))
        .order((labours::opened_at, labours::id))
        .load(db)?;
    Ok(found.into_iter().map(Labour::of).collect())
}

/// The records of a post that were closed at or after a moment, the last first.
///
/// # Errors
/// `Broken` when the database cannot be read.
pub fn ended_since(db: &mut Db, post: PostId, since: Moment) -> Result<Vec<Labour>> {
    let found = labours_and_hers!()
        .filter(labours::post_id.eq(post).and(labours::closed_at.ge(since)))
        .order((labours::closed_at.desc(), labours::id.desc()))
        .load(db)?;
    Ok(found.into_iter().map(Labour::of).collect())
}

/// The records of one pregnancy, the last first.
///
/// # Errors
/// `Broken` when the database cannot be read.
pub fn of_pregnancy(db: &mut Db, post: PostId, pregnancy: PregnancyId) -> Result<Vec<Labour>> {
    let found = labours_and_hers!()
        .filter(
            labours::pregnancy_id
                .eq(pregnancy)
                .and(labours::post_id.eq(post)),
        )
        .order((labours::opened_at.desc(), labours::id.desc()))
        .load(db)?;
    Ok(found.into_iter().map(Labour::of).collect())
}

/// All rows of a record, the newest first; amended ones too, which name the row that stands for them.
///
/// # Errors
/// `Broken` when the database cannot be read.
pub fn rows(db: &mut Db, labour: LabourId) -> Result<Vec<StoredRow>> {
    let found: Vec<(RowColumns, String)> = labour_rows::table
        .inner_join(staff::table)
        .filter(labour_rows::labour_id.eq(labour))
        .order((labour_rows::at.desc(), labour_rows::id.desc()))
        .select((RowColumns::as_select(), staff::name))
        .load(db)?;
    found
        .into_iter()
        .map(|(columns, by)| read(db, columns, by))
        .collect()
}

/// One row of a post, with its record.
///
/// # Errors
/// `Missing` when this post has none of this id.
pub fn row(db: &mut Db, post: PostId, id: LabourRowId) -> Result<(Labour, StoredRow)> {
    let found: Option<(RowColumns, String)> = labour_rows::table
        .inner_join(staff::table)
        .filter(labour_rows::id.eq(id))
        .select((RowColumns::as_select(), staff::name))
        .get_result(db)
        .optional()?;
    let (columns, by) = found.ok_or(RegistryError::Missing("row of a labour record"))?;
    let labour = one(db, post, columns.labour_id)?;
    Ok((labour, read(db, columns, by)?))
}
