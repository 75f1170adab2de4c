//! Flags first raised in the month.

use diesel::prelude::*;

use super::super::connection::Db;
use super::super::error::Result;
use super::super::schema::{flags, mothers, pregnancies};
use super::super::vocabulary::{FlagClosing, FlagDecision, PregnancyEnding};
use super::{FlagLine, FlagLines, Span};
use crate::clinical::{Category, Moment, Urgency};

type Row = (
    (String, String, String, Category, Urgency, Moment),
    (Option<FlagDecision>, Option<Moment>),
    (Option<FlagClosing>, Option<Moment>),
);

pub(super) fn of(db: &mut Db, span: &Span, lines: &mut FlagLines) -> Result<()> {
    let rows = flags::table
        .inner_join(pregnancies::table)
        .inner_join(mothers::table.on(mothers::id.eq(flags::mother_id)))
        .filter(flags::post_id.eq(span.post))
        .filter(
            flags::raised_at
                .ge(span.from)
                .and(flags::raised_at.lt(span.until))
                .and(flags::raised_at.le(span.as_of)),
        )
        .filter(mothers::entered_in_error.eq(false))
        .filter(
            pregnancies::ending
                .is_null()
                .or(pregnancies::ending.ne(PregnancyEnding::EnteredInError)),
        )
        .order((flags::raised_at, flags::id))
        .select((
            (
                flags::id,
                flags::pregnancy_id,
                flags::rule,
                flags::category,
                flags::highest,
                flags::raised_at,
            ),
            (flags::decision, flags::decided_at),
            (flags::closing, flags::closed_at),
        ))
        .load_iter::<Row, _>(db)?;
    for row in rows {
        let (
            (id, pregnancy, rule, category, highest, raised_at),
            (decision, decided_at),
            (closing, closed_at),
        ) = row?;
        lines.push(FlagLine {
            id: Some(id),
            pregnancy: Some(pregnancy),
            post: Some(span.code.clone()),
            rule: Some(rule),
            category: Some(category.code()),
            urgency: Some(highest.code()),
            raised_at: Some(raised_at),
            raised_on: Some(span.day(raised_at)),
            decision: decision.map(FlagDecision::code),
            decided_at,
            closing: closing.map(FlagClosing::code),
            closed_at,
        });
    }
    Ok(())
}
