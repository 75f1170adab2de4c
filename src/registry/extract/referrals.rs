//! Referrals decided in the month, with the times of their steps.

use std::collections::HashMap;

use diesel::prelude::*;

use super::super::connection::Db;
use super::super::error::Result;
use super::super::schema::{answers, mothers, referral_reasons, referral_steps, referrals};
use super::super::vocabulary::{ReferralEvent, ReferralState};
use super::{ReasonLine, ReasonLines, ReferralLine, ReferralLines, Span};
use crate::clinical::{Category, Day, Moment, Urgency};

type Row = (
    (String, String, Urgency, ReferralState),
    (Moment, Option<Day>, Option<Moment>),
);
type Step = (String, ReferralEvent, Option<Moment>, Moment);

pub(super) fn of(db: &mut Db, span: &Span, lines: &mut ReferralLines) -> Result<()> {
    let steps = steps(db, span)?;
    let rows = referrals::table
        .inner_join(mothers::table)
        .filter(referrals::post_id.eq(span.post))
        .filter(
            referrals::decided_at
                .ge(span.from)
                .and(referrals::decided_at.lt(span.until)),
        )
        .filter(
            referrals::entered_at
                .le(span.as_of)
                .and(referrals::entered_in_error.eq(false)),
        )
        .filter(mothers::entered_in_error.eq(false))
        .order((referrals::decided_at, referrals::id))
        .select((
            (
                referrals::id,
                referrals::pregnancy_id,
                referrals::urgency,
                referrals::state,
            ),
            (
                referrals::decided_at,
                referrals::planned_for,
                referrals::first_flag_at,
            ),
        ))
        .load_iter::<Row, _>(db)?;
    for row in rows {
        let ((id, pregnancy, urgency, state), (decided_at, planned_for, first_flag_at)) = row?;
        let taken = steps.get(&id).cloned().unwrap_or_else(nothing_happened);
        lines.push(ReferralLine {
            id: Some(id),
            pregnancy: Some(pregnancy),
            post: Some(span.code.clone()),
            urgency: Some(urgency.code()),
            state: Some(state.code()),
            decided_at: Some(decided_at),
            decided_on: Some(span.day(decided_at)),
            planned_at: planned_for.map(|day| span.start_of(day)),
            first_flag_at,
            ..taken
        });
    }
    Ok(())
}

/// What the steps of each referral come to, and whether its answer tells an outcome. A corrected step no longer counts.
fn steps(db: &mut Db, span: &Span) -> Result<HashMap<String, ReferralLine>> {
    let decided_in_month = referrals::post_id
        .eq(span.post)
        .and(referrals::decided_at.ge(span.from))
        .and(referrals::decided_at.lt(span.until));
    let rows = referral_steps::table
        .inner_join(referrals::table)
        .filter(decided_in_month)
        .filter(
            referral_steps::replaced_by
                .is_null()
                .and(referral_steps::entered_at.le(span.as_of)),
        )
        .order((
            referral_steps::referral_id,
            referral_steps::entered_at,
            referral_steps::id,
        ))
        .select((
            referral_steps::referral_id,
            referral_steps::event,
            referral_steps::at,
            referral_steps::entered_at,
        ))
        .load_iter::<Step, _>(db)?;
    let mut taken: HashMap<String, ReferralLine> = HashMap::new();
    for row in rows {
        let (referral, event, at, entered_at) = row?;
        let line = taken.entry(referral).or_insert_with(nothing_happened);
        match event {
            ReferralEvent::Left => {
                line.left = Some(true);
                line.left_at = line.left_at.or(at);
            }
            ReferralEvent::Arrived => {
                line.arrived = Some(true);
                line.arrived_at = line.arrived_at.or(at);
                line.arrival_entered_at = line.arrival_entered_at.or(Some(entered_at));
            }
            ReferralEvent::Seen => line.seen_at = line.seen_at.or(at),
            ReferralEvent::Answered => line.answered = Some(true),
            ReferralEvent::Decided
            | ReferralEvent::Told
            | ReferralEvent::NeverCame
            | ReferralEvent::Declined
            | ReferralEvent::StoodDown => {}
        }
    }
    let outcomes = answers::table
        .inner_join(referrals::table)
        .filter(decided_in_month)
        .filter(
            answers::mother_outcome
                .is_not_null()
                .or(answers::baby_outcome.is_not_null()),
        )
        .select(answers::referral_id)
        .load_iter::<String, _>(db)?;
    for referral in outcomes {
        taken
            .entry(referral?)
            .or_insert_with(nothing_happened)
            .outcome_told = Some(true);
    }
    Ok(taken)
}

fn nothing_happened() -> ReferralLine {
    ReferralLine {
        left: Some(false),
        arrived: Some(false),
        answered: Some(false),
        outcome_told: Some(false),
        ..ReferralLine::default()
    }
}

pub(super) fn reasons(db: &mut Db, span: &Span, lines: &mut ReasonLines) -> Result<()> {
    let rows = referral_reasons::table
        .inner_join(referrals::table)
        .filter(referrals::post_id.eq(span.post))
        .filter(
            referrals::decided_at
                .ge(span.from)
                .and(referrals::decided_at.lt(span.until)),
        )
        .order((
            referrals::decided_at,
            referral_reasons::referral_id,
            referral_reasons::category,
        ))
        .select((referral_reasons::referral_id, referral_reasons::category))
        .load_iter::<(String, Category), _>(db)?;
    for row in rows {
        let (referral, category) = row?;
        lines.push(ReasonLine {
            referral: Some(referral),
            category: Some(category.code()),
        });
    }
    Ok(())
}
