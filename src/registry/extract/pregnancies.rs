//! Women registered, and pregnancies opened, due or ended without a birth in the month.

use diesel::dsl::{exists, not};
use diesel::prelude::*;

use super::super::connection::Db;
use super::super::error::Result;
use super::super::schema::{births, mothers, pregnancies};
use super::super::vocabulary::PregnancyEnding;
use super::dates::Scans;
use super::{MotherLine, MotherLines, PregnancyLine, PregnancyLines, Span};
use crate::clinical::{Day, Moment};

pub(super) fn mothers(db: &mut Db, span: &Span, lines: &mut MotherLines) -> Result<()> {
    let registered = mothers::table
        .filter(mothers::post_id.eq(span.post))
        .filter(
            mothers::registered_at
                .ge(span.from)
                .and(mothers::registered_at.lt(span.until)),
        )
        .filter(
            mothers::registered_at
                .le(span.as_of)
                .and(mothers::entered_in_error.eq(false)),
        )
        .order((mothers::registered_at, mothers::id))
        .select(mothers::registered_at)
        .load_iter::<Moment, _>(db)?;
    for at in registered {
        lines.push(MotherLine {
            post: Some(span.code.clone()),
            registered_on: Some(span.day(at?)),
        });
    }
    Ok(())
}

type Opened = (String, Moment, Option<Day>, Option<Day>, Option<bool>);

pub(super) fn opened(db: &mut Db, span: &Span, lines: &mut PregnancyLines) -> Result<()> {
    let rows: Vec<Opened> = pregnancies::table
        .inner_join(mothers::table)
        .filter(pregnancies::post_id.eq(span.post))
        .filter(
            pregnancies::opened_at
                .ge(span.from)
                .and(pregnancies::opened_at.lt(span.until)),
        )
        .filter(
            pregnancies::opened_at
                .le(span.as_of)
                .and(mothers::entered_in_error.eq(false)),
        )
        .filter(
            pregnancies::ending
                .is_null()
                .or(pregnancies::ending.ne(PregnancyEnding::EnteredInError)),
        )
        .order((pregnancies::opened_at, pregnancies::id))
        .select((
            pregnancies::id,
            pregnancies::opened_at,
            pregnancies::due_date,
            pregnancies::lmp,
            pregnancies::lmp_certain,
        ))
        .load(db)?;
    let ids: Vec<String> = rows.iter().map(|row| row.0.clone()).collect();
    let scans = Scans::of(db, &ids)?;
    // A scan of a later month is not known yet at the end of this one.
    let end_of_month = span.day_after.pred_opt().unwrap_or(span.day_after);
    for (id, at, due_date, lmp, lmp_certain) in rows {
        let dated = scans
            .date(&id, lmp, lmp_certain, end_of_month)
            .gestation
            .is_some();
        lines.push(PregnancyLine {
            id: Some(id),
            post: Some(span.code.clone()),
            opened_on: Some(span.day(at)),
            dated: Some(dated),
            due_date,
            ..PregnancyLine::default()
        });
    }
    Ok(())
}

pub(super) fn due(db: &mut Db, span: &Span, lines: &mut PregnancyLines) -> Result<()> {
    let rows = pregnancies::table
        .inner_join(mothers::table)
        .filter(pregnancies::post_id.eq(span.post))
        .filter(
            pregnancies::due_date
                .ge(span.first_day)
                .and(pregnancies::due_date.lt(span.day_after)),
        )
        .filter(
            pregnancies::ended_at
                .is_null()
                .or(pregnancies::ended_at.gt(span.as_of)),
        )
        .filter(
            pregnancies::opened_at
                .le(span.as_of)
                .and(mothers::entered_in_error.eq(false)),
        )
        .order((pregnancies::due_date, pregnancies::id))
        .select((
            pregnancies::id,
            pregnancies::opened_at,
            pregnancies::due_date,
        ))
        .load_iter::<(String, Moment, Option<Day>), _>(db)?;
    for row in rows {
        let (id, opened_at, due_date) = row?;
        lines.push(PregnancyLine {
            id: Some(id),
            post: Some(span.code.clone()),
            opened_on: Some(span.day(opened_at)),
            due_date,
            days_past_due: due_date.map(|day| span.days_since(day)),
            ..PregnancyLine::default()
        });
    }
    Ok(())
}

type Ended = (String, Moment, Option<Moment>, Option<PregnancyEnding>);

/// Losses, and women who died undelivered: what no birth record tells.
pub(super) fn ended(db: &mut Db, span: &Span, lines: &mut PregnancyLines) -> Result<()> {
    let born = births::table.filter(
        births::pregnancy_id
            .eq(pregnancies::id)
            .and(births::entered_in_error.eq(false)),
    );
    let told = pregnancies::ending
        .eq(PregnancyEnding::Loss)
        .or(pregnancies::ending.eq(PregnancyEnding::MaternalDeath));
    let rows = pregnancies::table
        .inner_join(mothers::table)
        .filter(pregnancies::post_id.eq(span.post))
        .filter(
            pregnancies::ended_at
                .ge(span.from)
                .and(pregnancies::ended_at.lt(span.until)),
        )
        .filter(
            pregnancies::ended_at
                .le(span.as_of)
                .and(mothers::entered_in_error.eq(false)),
        )
        .filter(told)
        .filter(not(exists(born)))
        .order((pregnancies::ended_at, pregnancies::id))
        .select((
            pregnancies::id,
            pregnancies::opened_at,
            pregnancies::ended_at,
            pregnancies::ending,
        ))
        .load_iter::<Ended, _>(db)?;
    for row in rows {
        let (id, opened_at, ended_at, ending) = row?;
        lines.push(PregnancyLine {
            id: Some(id),
            post: Some(span.code.clone()),
            opened_on: Some(span.day(opened_at)),
            ended_on: ended_at.map(|at| span.day(at)),
            ending: ending.map(PregnancyEnding::code),
            ..PregnancyLine::default()
        });
    }
    Ok(())
}
