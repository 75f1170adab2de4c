//! What a visit found, as one revision holds it.

mod check;
mod row;

use diesel::prelude::*;

use super::connection::Db;
use super::error::Result;
use super::ids::{PregnancyId, VisitId};
use super::schema::{visit_findings, visit_signs, visits};
use crate::clinical::{DangerSign, Day, Moment, Visit};

pub(in crate::registry) use check::refuse_impossible;
pub(in crate::registry) use row::{FindingsRow, Written, hearts_from, small};

/// What was told, felt and measured at a visit, and what was agreed.
#[derive(Debug, Clone, PartialEq)]
pub struct Findings {
    /// What is judged.
    pub visit: Visit,
    /// When regular painful contractions began, as she told; not after the visit.
    pub labour_began_at: Option<Moment>,
    /// When the waters broke, as she told; not after the visit.
    pub waters_broke_at: Option<Moment>,
    /// She emptied her bladder before the hands and the tape.
    pub bladder_empty: Option<bool>,
    /// All danger signs were asked for, so that those not named are absent.
    pub signs_asked: bool,
    /// The day agreed for the next visit, not before this one.
    pub next_visit_on: Option<Day>,
    /// At most 1,000 characters.
    pub note: Option<String>,
}

impl Findings {
    /// Nothing examined yet.
    #[must_use]
    pub fn at(at: Moment) -> Self {
        Self {
            visit: Visit::at(at),
            labour_began_at: None,
            waters_broke_at: None,
            bladder_empty: None,
            signs_asked: false,
            next_visit_on: None,
            note: None,
        }
    }
}

/// The revisions of one visit, the first first, with who wrote each when and why.
pub(in crate::registry) fn revisions_of(
    db: &mut Db,
    visit: VisitId,
) -> Result<Vec<(Findings, Written)>> {
    let rows: Vec<FindingsRow> = visit_findings::table
        .filter(visit_findings::visit_id.eq(visit))
        .order(visit_findings::revision)
        .select(FindingsRow::as_select())
        .load(db)?;
    let signs: Vec<(VisitId, i32, DangerSign)> = visit_signs::table
        .filter(visit_signs::visit_id.eq(visit))
        .order(visit_signs::danger_sign)
        .load(db)?;
    rows.into_iter().map(|row| row.read(&signs)).collect()
}

/// The findings that stand for each visit of a pregnancy, in the order of time; visits entered in error are left out.
pub(in crate::registry) fn standing(
    db: &mut Db,
    pregnancy: PregnancyId,
) -> Result<Vec<(VisitId, Findings)>> {
    let rows: Vec<FindingsRow> = visit_findings::table
        .inner_join(visits::table)
        .filter(visits::pregnancy_id.eq(pregnancy))
        .filter(visits::entered_in_error.eq(false))
        .filter(visits::revision.eq(visit_findings::revision))
        .order((visits::at, visits::entered_at, visits::id))
        .select(FindingsRow::as_select())
        .load(db)?;
    let signs: Vec<(VisitId, i32, DangerSign)> = visit_signs::table
        .inner_join(visits::table.on(visits::id.eq(visit_signs::visit_id)))
        .filter(visits::pregnancy_id.eq(pregnancy))
        .order(visit_signs::danger_sign)
        .select((
            visit_signs::visit_id,
            visit_signs::revision,
            visit_signs::danger_sign,
        ))
        .load(db)?;
    let read = |row: FindingsRow| {
        let id = row.visit_id;
        row.read(&signs).map(|(findings, _)| (id, findings))
    };
    rows.into_iter().map(read).collect()
}

/// Writes one revision.
pub(in crate::registry) fn store(
    db: &mut Db,
    visit: VisitId,
    findings: &Findings,
    written: &Written,
) -> Result<()> {
    diesel::insert_into(visit_findings::table)
        .values(&FindingsRow::of(visit, findings, written))
        .execute(db)?;
    let mut signs = findings.visit.danger_signs.clone();
    signs.sort_unstable();
    signs.dedup();
    for sign in signs {
        diesel::insert_into(visit_signs::table)
            .values((
                visit_signs::visit_id.eq(visit),
                visit_signs::revision.eq(written.revision),
                visit_signs::danger_sign.eq(sign),
            ))
            .execute(db)?;
    }
    Ok(())
}
