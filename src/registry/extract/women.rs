//! Women of the births of the month, and what hands, tape and referrals said of them before.

use std::collections::{HashMap, HashSet};

use diesel::prelude::*;

use super::super::connection::Db;
use super::super::error::Result;
use super::super::schema::{
    births, pregnancies, referral_steps, referrals, visit_findings, visits,
};
use super::super::vocabulary::ReferralEvent;
use super::dates::{Scans, narrow};
use super::visits::{Rest, Sites, findings};
use super::{Span, WomanLine, WomanLines};
use crate::clinical::fundal_height::{WeeksVerdict, by_weeks};
use crate::clinical::{Certainty, Day, Moment, Palpation, height_score, read_palpation};

/// 32w+0d.
const FROM_32_WEEKS: u16 = 224;
/// 36w+0d: near term.
const NEAR_TERM: u16 = 252;
/// With unknown gestation a belly of 33 cm may be near term: it stands for 34 weeks.
const NEAR_TERM_TENTHS: u16 = 330;
/// A reading is in time from that many days before the birth.
const IN_TIME_DAYS: i64 = 28;
/// Heights are judged from 24w+0d.
const JUDGED_FROM: u16 = 168;
/// The 10th centile as a standard score.
const TENTH_CENTILE: f64 = -1.281_551_565_544_600_4;

type Birth = (String, String, Day, Option<Day>, Option<bool>);
type Visit = (String, Moment, Option<i32>, Sites, Rest);

/// A visit before labour, as the checks of the hands need it.
struct Seen {
    days_before: i64,
    gestation_days: Option<u16>,
    tenths: Option<u16>,
    felt: Option<Palpation>,
}

pub(super) fn of(db: &mut Db, span: &Span, lines: &mut WomanLines) -> Result<()> {
    let births: Vec<Birth> = births::table
        .inner_join(pregnancies::table)
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
        .order((births::born_on, births::id))
        .select((
            births::id,
            births::pregnancy_id,
            births::born_on,
            pregnancies::lmp,
            pregnancies::lmp_certain,
        ))
        .load(db)?;
    let ids: Vec<String> = births.iter().map(|birth| birth.1.clone()).collect();
    let scans = Scans::of(db, &ids)?;
    let mut visits = visits_before_labour(db, span)?;
    let arrived = arrived(db, span)?;
    for (birth, pregnancy, born_on, lmp, lmp_certain) in births {
        let seen = |(_, at, height, sites, rest): Visit| {
            let on = span.day(at);
            let dated = scans.date(&pregnancy, lmp, lmp_certain, on);
            Seen {
                days_before: born_on.signed_duration_since(on).num_days(),
                gestation_days: dated.gestation.map(|known| known.days),
                tenths: narrow(height),
                felt: read_palpation(&findings(sites, rest)),
            }
        };
        let before: Vec<Seen> = visits
            .remove(&birth)
            .unwrap_or_default()
            .into_iter()
            .map(seen)
            .filter(|seen| seen.days_before >= 0)
            .collect();
        let babies = scans.date(&pregnancy, lmp, lmp_certain, born_on).babies;
        let referral_arrived = arrived.contains(&birth);
        lines.push(WomanLine {
            twins_known: Some(babies.is_some_and(|babies| babies >= 2)),
            referral_arrived: Some(referral_arrived),
            birth: Some(birth),
            ..readings(&before, span)
        });
    }
    Ok(())
}

/// What the visits before labour come to, the last one last.
fn readings(before: &[Seen], span: &Span) -> WomanLine {
    let near = before.iter().rfind(|seen| seen.may_be_near_term());
    let in_time = || {
        before
            .iter()
            .filter(|seen| seen.days_before <= IN_TIME_DAYS)
    };
    let felt = in_time().rev().find_map(|seen| seen.felt.as_ref());
    let taped = in_time().rev().find(|seen| seen.tenths.is_some());
    WomanLine {
        seen_before_labour: Some(!before.is_empty()),
        seen_from_32_weeks: Some(
            before
                .iter()
                .any(|seen| seen.gestation_days.is_none_or(|days| days >= FROM_32_WEEKS)),
        ),
        seen_near_term: Some(near.is_some()),
        near_term_certainty: near
            .and_then(|seen| seen.felt.as_ref())
            .map(|felt| felt.certainty.code()),
        felt_lie: felt.map(|felt| felt.lie.code()),
        felt_presentation: felt.map(|felt| felt.presentation.code()),
        felt_certainty: felt.map(|felt| Certainty::code(felt.certainty)),
        taped: Some(taped.is_some()),
        taped_small: taped.and_then(|seen| seen.is_small(span)),
        ..WomanLine::default()
    }
}

impl Seen {
    fn may_be_near_term(&self) -> bool {
        match (self.gestation_days, self.tenths) {
            (Some(days), _) => days >= NEAR_TERM,
            (None, tenths) => tenths.is_none_or(|tenths| tenths >= NEAR_TERM_TENTHS),
        }
    }

    /// By the post's own method; absent without a gestation or outside the chart.
    fn is_small(&self, span: &Span) -> Option<bool> {
        let (tenths, days) = (self.tenths?, self.gestation_days?);
        if let Some(verdict) = by_weeks(span.height_method, tenths, Some(days)) {
            return Some(verdict == WeeksVerdict::Under);
        }
        let score = height_score(tenths, Some(days).filter(|days| *days >= JUDGED_FROM))?;
        Some(score.z < TENTH_CENTILE)
    }
}

/// By birth, in order of time.
fn visits_before_labour(db: &mut Db, span: &Span) -> Result<HashMap<String, Vec<Visit>>> {
    let newest = visit_findings::visit_id
        .eq(visits::id)
        .and(visit_findings::revision.eq(visits::revision));
    let rows = births::table
        .inner_join(visits::table.on(visits::pregnancy_id.eq(births::pregnancy_id)))
        .inner_join(visit_findings::table.on(newest))
        .filter(births::post_id.eq(span.post))
        .filter(
            births::born_on
                .ge(span.first_day)
                .and(births::born_on.lt(span.day_after)),
        )
        .filter(
            visits::entered_in_error
                .eq(false)
                .and(visits::entered_at.le(span.as_of)),
        )
        .filter(visit_findings::in_labour.eq(false))
        .order((births::id, visits::at, visits::id))
        .select((
            births::id,
            visits::at,
            visit_findings::fundal_height_tenths,
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
        .load_iter::<Visit, _>(db)?;
    let mut found: HashMap<String, Vec<Visit>> = HashMap::new();
    for row in rows {
        let visit = row?;
        found.entry(visit.0.clone()).or_default().push(visit);
    }
    Ok(found)
}

/// Births of women who reached a hospital with a referral of this pregnancy.
fn arrived(db: &mut Db, span: &Span) -> Result<HashSet<String>> {
    let came = referral_steps::event
        .eq(ReferralEvent::Arrived)
        .or(referral_steps::event.eq(ReferralEvent::Answered));
    let rows = births::table
        .inner_join(referrals::table.on(referrals::pregnancy_id.eq(births::pregnancy_id)))
        .inner_join(referral_steps::table.on(referral_steps::referral_id.eq(referrals::id)))
        .filter(births::post_id.eq(span.post))
        .filter(
            births::born_on
                .ge(span.first_day)
                .and(births::born_on.lt(span.day_after)),
        )
        .filter(referrals::entered_in_error.eq(false))
        .filter(
            referral_steps::replaced_by
                .is_null()
                .and(referral_steps::entered_at.le(span.as_of)),
        )
        .filter(came)
        .select(births::id)
        .load_iter::<String, _>(db)?;
    Ok(rows.collect::<QueryResult<_>>()?)
}
