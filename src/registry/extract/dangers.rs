//! Flags of the pregnancies that ended with a birth of the month, against the birth and the beginning of labour.

use std::collections::HashMap;

use diesel::prelude::*;

use super::super::connection::Db;
use super::super::error::Result;
use super::super::schema::{births, flags, labours};
use super::super::vocabulary::{FlagClosing, FlagDecision, LabourEnding};
use super::{DangerLine, DangerLines, Span};
use crate::clinical::{Category, Day, Moment, Urgency};

type Raised = (Category, Urgency, Moment);
type Fate = (
    Option<FlagDecision>,
    Option<Moment>,
    Option<FlagClosing>,
    Option<Moment>,
);
type Birth = (String, Day, Option<Moment>);

pub(super) fn of(db: &mut Db, span: &Span, lines: &mut DangerLines) -> Result<()> {
    let labours = labours_begun(db, span)?;
    let rows = births::table
        .inner_join(flags::table.on(flags::pregnancy_id.eq(births::pregnancy_id)))
        .filter(births::post_id.eq(span.post))
        .filter(
            births::born_on
                .ge(span.first_day)
                .and(births::born_on.lt(span.day_after)),
        )
        .filter(
            births::entered_at
                .le(span.as_of)
                .and(births::entered_in_error.eq(false)),
        )
        .filter(flags::raised_at.le(span.as_of))
        .order((births::born_on, births::id, flags::raised_at, flags::id))
        .select((
            (births::id, births::born_on, births::born_at),
            (flags::category, flags::highest, flags::raised_at),
            (
                flags::decision,
                flags::decided_at,
                flags::closing,
                flags::closed_at,
            ),
        ))
        .load_iter::<(Birth, Raised, Fate), _>(db)?;
    for row in rows {
        let ((birth, born_on, born_at), raised, fate) = row?;
        let began = labours.get(&birth).copied();
        lines.push(line(birth, born_on, born_at, began, raised, fate, span));
    }
    Ok(())
}

fn line(
    birth: String,
    born_on: Day,
    born_at: Option<Moment>,
    began: Option<Moment>,
    raised: Raised,
    fate: Fate,
    span: &Span,
) -> DangerLine {
    let (category, highest, raised_at) = raised;
    let (decision, decided_at, closing, closed_at) = fate;
    // With an unknown hour of birth, what was raised on that day was raised before it [O].
    let born = born_at.unwrap_or_else(|| span.start_of(born_on + chrono::Days::new(1)));
    let labour = began.unwrap_or(born);
    let by = |at: Option<Moment>, limit: Moment| at.is_none_or(|at| at < limit);
    let dismissed = decision == Some(FlagDecision::Dismissed);
    let gone = (dismissed && by(decided_at, labour))
        || (closing == Some(FlagClosing::Settled) && by(closed_at, labour));
    DangerLine {
        birth: Some(birth),
        category: Some(category.code()),
        urgency: Some(highest.code()),
        before_birth: Some(raised_at < born),
        before_labour: Some(raised_at < labour),
        dismissed: Some(dismissed),
        stood_in_labour: Some(raised_at < labour && !gone),
    }
}

/// When each labour began: as she told, else the first record of it. Where there are two, the last one ended with the birth.
fn labours_begun(db: &mut Db, span: &Span) -> Result<HashMap<String, Moment>> {
    let rows = births::table
        .inner_join(labours::table.on(labours::pregnancy_id.eq(births::pregnancy_id)))
        .filter(births::post_id.eq(span.post))
        .filter(
            births::born_on
                .ge(span.first_day)
                .and(births::born_on.lt(span.day_after)),
        )
        .filter(
            labours::closed_as
                .is_null()
                .or(labours::closed_as.ne(LabourEnding::NotInLabour)),
        )
        .order((births::id, labours::opened_at, labours::id))
        .select((births::id, labours::began_at, labours::opened_at))
        .load_iter::<(String, Option<Moment>, Moment), _>(db)?;
    let mut begun = HashMap::new();
    for row in rows {
        let (birth, told, opened_at) = row?;
        begun.insert(birth, told.unwrap_or(opened_at));
    }
    Ok(begun)
}
