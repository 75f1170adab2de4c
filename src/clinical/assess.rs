//! From everything known about a case to what should happen.

use super::flag::{self, Raised};
use super::labour::{self, AsShe, Labour};
use super::picture::Picture;
use super::record::Record;
use super::{Assessment, Case, Day, LabourPicture, LabourState};
use chrono::Duration;

/// Names the rules in force; it changes whenever a judgement can change.
pub const RULES_VERSION: &str = "2026-11";

/// The day from which this version judges.
#[must_use]
pub fn rules_since() -> Day {
    Day::from_ymd_opt(2026, 11, 1).unwrap_or_default()
}

/// Judges everything known at `case.on`; entries later than that are not known yet.
#[must_use]
pub fn assess(case: &Case) -> Assessment {
    judge(Picture::of(case, case.on))
}

/// The judgement of a picture that was drawn already.
pub(super) fn judge(seen: Picture<'_>) -> Assessment {
    let raised = flag::judge(&seen);
    let labour = seen
        .labour
        .as_ref()
        .map(|labour| labour_picture(&seen, labour, &raised));
    let birth_near = labour.as_ref().is_some_and(|labour| labour.birth_near);
    Assessment {
        flags: flag::flags(raised, birth_near),
        gestation: seen.dated.gestation,
        gestation_reason: seen.dated.reason,
        palpation: seen.palpation,
        fundal_height: seen.height,
        labour,
    }
}

fn labour_picture(seen: &Picture<'_>, labour: &Labour, raised: &Raised) -> LabourPicture {
    let records = seen.labour_records();
    let travel = seen
        .case
        .post
        .travel_minutes
        .map(|minutes| Duration::minutes(minutes.into()));
    let limits = labour::limits(
        labour,
        AsShe {
            waters_since: seen.waters.since.filter(|_| seen.waters.broken),
        },
    );
    let arrival_at = travel.map(|travel| seen.on + travel);
    let first = limits.first().copied();
    let margin = first
        .zip(arrival_at)
        .map(|(limit, arrival)| (limit.at - arrival).num_seconds().div_euclid(60));
    LabourPicture {
        protocol: labour.protocol,
        stage: labour.stage,
        highest_cm: labour.highest.map(|(cm, _)| cm),
        first_recorded_at: labour.highest.map(|(_, at)| at),
        t4_at: labour.t4(),
        arrival_at,
        margin_minutes: margin,
        leave_by: first.zip(travel).map(|(limit, travel)| limit.at - travel),
        state: match (first, margin) {
            (None, _) => LabourState::NoLimit,
            (Some(_), None) => LabourState::NoTravelTime,
            (Some(_), Some(0..)) => LabourState::InTime,
            (Some(_), Some(_)) => LabourState::Late,
        },
        birth_near: birth_near(labour, records),
        birth_on_the_way: labour.highest.is_some_and(|(cm, _)| {
            let minutes_to_full = i64::from(10u8.saturating_sub(cm)) * 60;
            cm >= labour.active_start()
                && travel.is_some_and(|travel| minutes_to_full <= travel.num_minutes())
        }),
        due: labour::due(
            labour,
            records,
            seen.on,
            raised.has("heart-abnormal"),
            raised.has("right-of-alert"),
        ),
        limits,
    }
}

/// From 9 cm, or while she pushes [P].
fn birth_near(labour: &Labour, records: &[Record<'_>]) -> bool {
    let pushes = records
        .iter()
        .rev()
        .find_map(|record| record.row()?.pushing)
        .unwrap_or(false);
    pushes || labour.highest.is_some_and(|(cm, _)| cm >= 9)
}
