//! One pregnancy as the clinical core sees it.

use chrono::{Datelike as _, TimeDelta};
use diesel::prelude::*;

use super::labour;
use crate::clinical::{
    Case, Dating, Day, LabourProtocol, Moment, Mother, PastEvent, Post, Scan, Waters,
};
use crate::registry::connection::{Backend, Db};
use crate::registry::error::{RegistryError, Result};
use crate::registry::findings::{self, Findings, small};
use crate::registry::hospitals;
use crate::registry::ids::{MotherId, PostId, PregnancyId, VisitId};
use crate::registry::posts;
use crate::registry::schema::{mothers, pregnancies, pregnancy_history, scans};

/// A case with whose it is.
pub(super) struct Known {
    pub(super) pregnancy: PregnancyId,
    pub(super) mother: MotherId,
    pub(super) post: PostId,
    pub(super) register_number: String,
    pub(super) ended_at: Option<Moment>,
    pub(super) case: Case,
}

impl Known {
    /// When she was examined last.
    pub(super) fn last_record(&self) -> Option<Moment> {
        let visits = self.case.visits.iter().map(|visit| visit.at);
        let rows = self.case.labour.iter().map(|row| row.at);
        visits.chain(rows).max()
    }
}

/// The case of a pregnancy for a judgement at `on`: what stands now in the register, without what was entered in error or replaced.
///
/// Records later than `on` are in it; the judgement leaves them out.
///
/// # Errors
/// `Missing` when there is no such pregnancy; `Broken` when the database fails.
pub fn case_of(db: &mut Db, pregnancy: PregnancyId, on: Moment) -> Result<Case> {
    known_of(db, pregnancy, on).map(|known| known.case)
}

#[derive(Queryable, Selectable)]
#[diesel(table_name = pregnancies, check_for_backend(Backend))]
struct Facts {
    post_id: PostId,
    mother_id: MotherId,
    lmp: Option<Day>,
    lmp_certain: Option<bool>,
    births_before: Option<i32>,
    previous_caesareans: Option<i32>,
    ended_at: Option<Moment>,
    #[diesel(select_expression = mothers::number)]
    number: i32,
    #[diesel(select_expression = mothers::birth_year)]
    birth_year: Option<i32>,
    #[diesel(select_expression = mothers::age_years)]
    age_years: Option<i32>,
    #[diesel(select_expression = mothers::age_told_on)]
    age_told_on: Option<Day>,
}

pub(super) fn known_of(db: &mut Db, pregnancy: PregnancyId, on: Moment) -> Result<Known> {
    let facts: Facts = pregnancies::table
        .inner_join(mothers::table)
        .filter(pregnancies::id.eq(pregnancy))
        .select(Facts::as_select())
        .first(db)
        .optional()?
        .ok_or(RegistryError::Missing("pregnancy"))?;
    let post = posts::find(db, facts.post_id)?;
    let history = pregnancy_history::table
        .filter(pregnancy_history::pregnancy_id.eq(pregnancy))
        .select(pregnancy_history::past_event)
        .load::<PastEvent>(db)?;
    let visits = findings::standing(db, pregnancy)?;
    let labours = labour::of(db, pregnancy, on)?;
    let births_before: Option<u8> = small("births before", facts.births_before)?;
    let case = Case {
        on,
        labour_began_at: labours.began_at.or_else(|| told_beginning(&visits, on)),
        waters_broke_at: labours.waters_broke_at.or_else(|| told_waters(&visits, on)),
        mother: Mother {
            births_before,
            age_years: age(&facts, on.date()),
            previous_caesareans: small("previous caesareans", facts.previous_caesareans)?,
            history,
        },
        dating: Dating {
            lmp: facts.lmp,
            lmp_certain: facts.lmp_certain,
            scans: scans_of(db, pregnancy)?,
        },
        post: judges(db, &post, on, labours.protocol)?,
        visits: visits.into_iter().map(|(_, found)| found.visit).collect(),
        labour: labours.rows,
    };
    Ok(Known {
        pregnancy,
        mother: facts.mother_id,
        post: facts.post_id,
        register_number: post.register_number(facts.number),
        ended_at: facts.ended_at,
        case,
    })
}

/// What dates a pregnancy.
pub(in crate::registry) fn dating_of(db: &mut Db, pregnancy: PregnancyId) -> Result<Dating> {
    let told: Option<(Option<Day>, Option<bool>)> = pregnancies::table
        .find(pregnancy)
        .select((pregnancies::lmp, pregnancies::lmp_certain))
        .first(db)
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

/// How a post judges at the moment `on`, for findings that belong to nobody: skill, protocol, and the way by day or night.
///
/// # Errors
/// `Missing` when there is no such post; `Broken` when the database fails.
pub fn judges_at(db: &mut Db, post: PostId, on: Moment) -> Result<Post> {
    let post = posts::find(db, post)?;
    judges(db, &post, on, None)
}

fn judges(
    db: &mut Db,
    post: &posts::Post,
    on: Moment,
    protocol: Option<LabourProtocol>,
) -> Result<Post> {
    let nearest = hospitals::nearest_operating(db, post, on)?;
    Ok(Post {
        skilled_breech: post.skilled_breech,
        skilled_twins: post.skilled_twins,
        travel_minutes: nearest.map(|(_, minutes)| minutes),
        labour_protocol: protocol.unwrap_or(post.labour_protocol),
        fundal_height_method: post.height_method,
        clock_minutes_ahead: i16::try_from((post.local(on) - on).num_minutes()).unwrap_or_default(),
    })
}

/// Completed years. A year of birth leaves one year open: up to 16 the younger age counts, since the very young are the ones in danger,
/// above it the older one [O].
fn age(facts: &Facts, day: Day) -> Option<u8> {
    let by_year = facts.birth_year.map(|year| {
        let difference = day.year() - year;
        if difference <= 16 {
            difference - 1
        } else {
            difference
        }
    });
    let told = || {
        let (age, on) = (facts.age_years?, facts.age_told_on?);
        Some(age + i32::try_from((day - on).num_days().max(0) * 100 / 36_525).ok()?)
    };
    let age = by_year.or_else(told)?;
    u8::try_from(age).ok().filter(|age| (8..=60).contains(age))
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
