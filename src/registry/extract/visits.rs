//! Visits of the month, as their newest revisions have them.

use diesel::prelude::*;

use super::super::connection::Db;
use super::super::error::Result;
use super::super::schema::{mothers, pregnancies, visit_findings, visits};
use super::super::vocabulary::PregnancyEnding;
use super::dates::{Scans, days, narrow};
use super::{Span, VisitLine, VisitLines};
use crate::clinical::{Day, Front, Head, Moment, PalpationFindings, Pole, Side, read_palpation};

pub(super) type Sites = (
    Option<Pole>,
    Option<Side>,
    Option<Side>,
    Option<Front>,
    Option<Pole>,
);
pub(super) type Rest = (Option<i32>, Option<Head>, Option<bool>, Option<bool>);
type Row = (
    (String, String, Moment),
    (bool, Option<i32>),
    (Option<Day>, Option<bool>),
    Sites,
    Rest,
);

pub(super) fn of(db: &mut Db, span: &Span, lines: &mut VisitLines) -> Result<()> {
    let in_month = visits::post_id
        .eq(span.post)
        .and(visits::at.ge(span.from))
        .and(visits::at.lt(span.until))
        .and(visits::entered_at.le(span.as_of))
        .and(visits::entered_in_error.eq(false));
    let seen: Vec<String> = visits::table
        .filter(in_month)
        .select(visits::pregnancy_id)
        .distinct()
        .load(db)?;
    let scans = Scans::of(db, &seen)?;
    let newest = visit_findings::visit_id
        .eq(visits::id)
        .and(visit_findings::revision.eq(visits::revision));
    let rows = visits::table
        .inner_join(visit_findings::table.on(newest))
        .inner_join(pregnancies::table)
        .inner_join(mothers::table.on(mothers::id.eq(visits::mother_id)))
        .filter(in_month)
        .filter(mothers::entered_in_error.eq(false))
        .filter(
            pregnancies::ending
                .is_null()
                .or(pregnancies::ending.ne(PregnancyEnding::EnteredInError)),
        )
        .order((visits::at, visits::id))
        .select((
            (visits::id, visits::pregnancy_id, visits::at),
            (
                visit_findings::in_labour,
                visit_findings::fundal_height_tenths,
            ),
            (pregnancies::lmp, pregnancies::lmp_certain),
            (
                visit_findings::fundus,
                visit_findings::left_side,
                visit_findings::right_side,
                visit_findings::front,
                visit_findings::lower_pole,
            ),
            (
                visit_findings::fifths,
                visit_findings::head,
                visit_findings::many_small_parts,
                visit_findings::belly_unusually_large,
            ),
        ))
        .load_iter::<Row, _>(db)?;
    for row in rows {
        lines.push(line(row?, span, &scans));
    }
    Ok(())
}

fn line(row: Row, span: &Span, scans: &Scans) -> VisitLine {
    let ((id, pregnancy, at), (in_labour, height), (lmp, lmp_certain), sites, rest) = row;
    let on = span.day(at);
    let dated = scans.date(&pregnancy, lmp, lmp_certain, on);
    let felt = read_palpation(&findings(sites, rest));
    VisitLine {
        id: Some(id),
        pregnancy: Some(pregnancy),
        post: Some(span.code.clone()),
        on: Some(on),
        in_labour: Some(in_labour),
        gestation_days: days(&dated),
        twins_known: Some(dated.babies.is_some_and(|babies| babies >= 2)),
        fundal_height_tenths: height.map(i64::from),
        lie: felt.as_ref().map(|felt| felt.lie.code()),
        presentation: felt.as_ref().map(|felt| felt.presentation.code()),
        certainty: felt.as_ref().map(|felt| felt.certainty.code()),
    }
}

pub(super) fn findings(sites: Sites, rest: Rest) -> PalpationFindings {
    let (fundus, left, right, front, lower) = sites;
    let (fifths, head, many_small_parts, belly_unusually_large) = rest;
    PalpationFindings {
        fundus,
        left,
        right,
        front,
        lower,
        fifths: narrow(fifths),
        head,
        many_small_parts,
        belly_unusually_large,
    }
}
