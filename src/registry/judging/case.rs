//! One pregnancy as the clinical core sees it.

use chrono::{Datelike as _, TimeDelta};
use diesel::prelude::*;

use super::place::Place;
use super::records::Records;
use crate::clinical::{Case, Dating, Day, Moment, Mother, Scan, Waters};
use crate::registry::connection::{Backend, Db};
use crate::registry::error::{RegistryError, Result};
use crate::registry::findings::{Findings, small};
use crate::registry::ids::{MotherId, PostId, PregnancyId, VisitId};
use crate::registry::schema::{mothers, pregnancies, scans};

/// Everything the register holds of one pregnancy, read once; from it comes the case at any moment.
pub(in crate::registry) struct Held {
    pub(super) pregnancy: PregnancyId,
    pub(super) mother: MotherId,
    pub(in crate::registry) post: PostId,
    pub(super) number: i32,
    pub(in crate::registry) opened_at: Moment,
    pub(super) ended_at: Option<Moment>,
    age: ToldAge,
    /// Without her age, which depends on the day.
    woman: Mother,
    pub(in crate::registry) dating: Dating,
    records: Records,
}

/// The case of a pregnancy for a judgement at `on`: what stands now in the register, without what was entered in error or replaced.
///
/// Records later than `on` are in it; the judgement leaves them out.
///
/// # Errors
/// `Missing` when there is no such pregnancy; `Broken` when the database fails.
pub fn case_of(db: &mut Db, pregnancy: PregnancyId, on: Moment) -> Result<Case> {
    let held = Held::of(db, pregnancy)?;
    let place = Place::of(db, held.post)?;
    Ok(held.case(&place, on))
}

#[derive(Queryable, Selectable)]
#[diesel(table_name = pregnancies, check_for_backend(Backend))]
struct Facts {
    post_id: PostId,
    mother_id: MotherId,
    opened_at: Moment,
    lmp: Option<Day>,
    lmp_certain: Option<bool>,
    births_before: Option<i32>,
    previous_caesareans: Option<i32>,
    ended_at: Option<Moment>,
    #[diesel(select_expression = mothers::number)]
    number: i32,
    #[diesel(embed)]
    age: ToldAge,
}

/// What was told of her age.
#[derive(Queryable, Selectable)]
#[diesel(table_name = mothers, check_for_backend(Backend))]
struct ToldAge {
    birth_year: Option<i32>,
    age_years: Option<i32>,
    age_told_on: Option<Day>,
}

impl Held {
    /// # Errors
    /// `Missing` when there is no such pregnancy; `Broken` when the database fails.
    pub(in crate::registry) fn of(db: &mut Db, pregnancy: PregnancyId) -> Result<Self> {
        let records = Records::of(db, pregnancy)?;
        Self::with(db, pregnancy, records)
    }

    /// As `of`, with records that were read before.
    pub(super) fn with(db: &mut Db, pregnancy: PregnancyId, records: Records) -> Result<Self> {
        let facts: Facts = pregnancies::table
            .inner_join(mothers::table)
            .filter(pregnancies::id.eq(pregnancy))
            .select(Facts::as_select())
            .get_result(db)
            .optional()?
            .ok_or(RegistryError::Missing("pregnancy"))?;
        Ok(Self {
            pregnancy,
            mother: facts.mother_id,
            post: facts.post_id,
            number: facts.number,
            opened_at: facts.opened_at,
            ended_at: facts.ended_at,
            woman: Mother {
                births_before: small("births before", facts.births_before)?,
                age_years: None,
                previous_caesareans: small("previous caesareans", facts.previous_caesareans)?,
                history: records.history.clone(),
            },
            age: facts.age,
            dating: Dating {
                lmp: facts.lmp,
                lmp_certain: facts.lmp_certain,
                scans: records.scans.clone(),
            },
            records,
        })
    }

    /// For the next judgement.
    pub(super) fn into_records(self) -> Records {
        self.records
    }

    /// As she stands at `on`; the judgement leaves out the records later than that.
    pub(in crate::registry) fn case(&self, place: &Place, on: Moment) -> Case {
        let Records {
            visits, labours, ..
        } = &self.records;
        let told = labours.told(on);
        Case {
            on,
            labour_began_at: told.began_at.or_else(|| told_beginning(visits, on)),
            waters_broke_at: told.waters_broke_at.or_else(|| told_waters(visits, on)),
            mother: Mother {
                age_years: self.age.on(on.date()),
                ..self.woman.clone()
            },
            dating: self.dating.clone(),
            post: place.judges(on, told.protocol),
            visits: visits
                .iter()
                .map(|(_, found)| found.visit.clone())
                .collect(),
            labour: told.rows.to_vec(),
        }
    }

    /// When she was examined.
    pub(in crate::registry) fn moments(&self) -> impl Iterator<Item = Moment> {
        let visits = self.records.visits.iter();
        let visits = visits.map(|(_, found)| found.visit.at);
        visits.chain(self.records.labours.moments())
    }

    /// How many visits stand.
    pub(in crate::registry) fn visits(&self) -> usize {
        self.records.visits.len()
    }
}

/// What dates a pregnancy.
pub(in crate::registry) fn dating_of(db: &mut Db, pregnancy: PregnancyId) -> Result<Dating> {
    let told: Option<(Option<Day>, Option<bool>)> = pregnancies::table
        .find(pregnancy)
        .select((pregnancies::lmp, pregnancies::lmp_certain))
        .get_result(db)
        .optional()?;
    let (lmp, lmp_certain) = told.ok_or(RegistryError::Missing("pregnancy"))?;
    Ok(Dating {
        lmp,
        lmp_certain,
        scans: scans_of(db, pregnancy)?,
    })
}

/// Day, gestation, due date, babies.
type StoredScan = (Day, Option<i32>, Option<Day>, Option<i32>);

/// The scans that help to date a pregnancy, in the order of their entry.
pub(in crate::registry) fn scans_of(db: &mut Db, pregnancy: PregnancyId) -> Result<Vec<Scan>> {
    let rows: Vec<StoredScan> = scans::table
        .filter(scans::pregnancy_id.eq(pregnancy))
        .order((scans::position, scans::id))
        .select((
            scans::scanned_on,
            scans::gestation_days,
            scans::due_date,
            scans::babies,
        ))
        .load(db)?;
    rows.into_iter()
        .map(|(on, days, edd, babies)| {
            Ok(Scan {
                on,
                gestation_days: small("gestation at a scan", days)?,
                edd,
                babies: small("babies on a scan", babies)?,
            })
        })
        .collect()
}

impl ToldAge {
    /// Completed years. A year of birth leaves one year open: up to 16 the younger age counts, since the very young are the ones in
    /// danger, above it the older one [O].
    fn on(&self, day: Day) -> Option<u8> {
        let by_year = self.birth_year.map(|year| {
            let difference = day.year() - year;
            if difference <= 16 {
                difference - 1
            } else {
                difference
            }
        });
        let told = || {
            let (age, on) = (self.age_years?, self.age_told_on?);
            Some(age + i32::try_from((day - on).num_days().max(0) * 100 / 36_525).ok()?)
        };
        let age = by_year.or_else(told)?;
        u8::try_from(age).ok().filter(|age| (8..=60).contains(age))
    }
}

/// As she told at the last visit that asked, if that one found her in labour.
fn told_beginning(visits: &[(VisitId, Findings)], on: Moment) -> Option<Moment> {
    let last = visits
        .iter()
        .map(|(_, found)| found)
        .rfind(|found| found.visit.at <= on)?;
    last.labour_began_at.filter(|_| last.visit.in_labour)
}

/// As she told at the last visit that asked; an explicit “not broken” after it ends it.
fn told_waters(visits: &[(VisitId, Findings)], on: Moment) -> Option<Moment> {
    let found = visits.iter().map(|(_, found)| found).rfind(|found| {
        let said = found.waters_broke_at.is_some() || found.visit.waters == Some(Waters::Intact);
        found.visit.at <= on && said
    })?;
    // Nobody's waters are broken for two months: that was another time [O].
    found
        .waters_broke_at
        .filter(|broke| on - *broke < TimeDelta::days(60))
}
