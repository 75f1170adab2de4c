//! A referral moves on, or what was written about it is put right.

use diesel::prelude::*;

use super::super::change::Change;
use super::super::connection::Db;
use super::super::error::{RegistryError, Result};
use super::super::ids::{ReferralId, ReferralStepId};
use super::super::labours;
use super::super::referral_steps::{StepTime, next};
use super::super::schema::referrals;
use super::super::vocabulary::{LabourEnding, ReferralEvent, ReferralState, Role};
use super::read::{Referral, find};
use super::steps::{NewStep, Step, insert, lead_to, of_request, replace, steps, take_out};

/// Writes down the next step.
///
/// From “decided” an arrival says that she left, at a time nobody told. Leaving closes her labour record.
///
/// # Errors
/// `Missing` for a referral of another post; `Stale` for an old revision; `Refused` when the step has no place here;
/// `RefusedField` for a time that cannot be or something that is needed.
pub fn advance(
    change: &mut Change<'_>,
    referral: ReferralId,
    revision: i32,
    step: &NewStep,
) -> Result<ReferralStepId> {
    if let Some(known) = of_request(change.db(), step.request.as_deref())? {
        change.nothing_new();
        return Ok(known);
    }
    let stored = standing(change, referral, revision)?;
    check_needed(change, step)?;
    let state = next(stored.state, step.event)
        .map_err(|fault| RegistryError::refused(fault.to_string()))?;
    let mut known = times(change.db(), referral, None)?;
    let implied = implied_by(step.event, &known);
    known.extend(implied.iter().map(|event| (*event, None)));
    known.push((step.event, step.at));
    lead_to(&known, change.now())?;

    let leaves = step.event == ReferralEvent::Left || implied.contains(&ReferralEvent::Left);
    for event in implied {
        insert(change, referral, &NewStep::at(event, None), None)?;
    }
    let id = insert(change, referral, step, None)?;
    keep(change, &stored, state)?;
    if leaves {
        let left = step.at.unwrap_or(change.now());
        labours::close_for(change, stored.pregnancy_id, LabourEnding::Referral, left)?;
    }
    let detail = format!("{}: {}", stored.number, step.event.words());
    change.tell("referral step", "referral", referral.code(), detail)?;
    Ok(id)
}

/// Puts a step right: the old one stays readable beside its better one. News after closing come this way, so the
/// event may be another than before.
///
/// # Errors
/// As [`advance`]; `RefusedField` without a reason.
pub fn correct(
    change: &mut Change<'_>,
    referral: ReferralId,
    revision: i32,
    old: ReferralStepId,
    better: &NewStep,
    why: &str,
) -> Result<ReferralStepId> {
    if let Some(known) = of_request(change.db(), better.request.as_deref())? {
        change.nothing_new();
        return Ok(known);
    }
    let stored = standing(change, referral, revision)?;
    let before = step_to_correct(change.db(), referral, old, why)?;
    if before.event == ReferralEvent::Decided && better.event != ReferralEvent::Decided {
        return Err(RegistryError::refused(
            "The decision itself stays. Stand the referral down instead.",
        ));
    }
    check_needed(change, better)?;
    let mut known = times(change.db(), referral, Some(old))?;
    let implied = implied_by(better.event, &known);
    known.extend(implied.iter().map(|event| (*event, None)));
    known.push((better.event, better.at));
    let state = lead_to(&known, change.now())?;

    for event in implied {
        insert(change, referral, &NewStep::at(event, None), Some(why))?;
    }
    let id = insert(change, referral, better, Some(why))?;
    replace(change.db(), old, id)?;
    keep(change, &stored, state)?;
    if let (ReferralEvent::Decided, Some(at)) = (better.event, better.at) {
        diesel::update(referrals::table.find(referral))
            .set(referrals::decided_at.eq(at))
            .execute(change.db())?;
    }
    let detail = format!(
        "{}: {} put right: {why}",
        stored.number,
        before.event.words()
    );
    change.tell("referral step amended", "referral", referral.code(), detail)?;
    Ok(id)
}

/// Takes out a step that never happened; it stays readable with the reason.
///
/// # Errors
/// As [`correct`]; the decision is never taken out.
pub fn withdraw(
    change: &mut Change<'_>,
    referral: ReferralId,
    revision: i32,
    step: ReferralStepId,
    why: &str,
) -> Result<()> {
    let stored = standing(change, referral, revision)?;
    let before = step_to_correct(change.db(), referral, step, why)?;
    if before.event == ReferralEvent::Decided {
        return Err(RegistryError::refused(
            "The decision itself stays. Stand the referral down instead.",
        ));
    }
    let state = lead_to(&times(change.db(), referral, Some(step))?, change.now())?;
    take_out(change.db(), step, why)?;
    keep(change, &stored, state)?;
    let detail = format!(
        "{}: {} taken out: {why}",
        stored.number,
        before.event.words()
    );
    change.tell(
        "referral step taken out",
        "referral",
        referral.code(),
        detail,
    )
}

/// Marks a referral as entered in error: out of every count, still readable.
///
/// # Errors
/// `Missing`, `Stale`; `Refused` for anybody but the midwife in charge; `RefusedField` without a reason.
pub fn mark_error(
    change: &mut Change<'_>,
    referral: ReferralId,
    revision: i32,
    why: &str,
) -> Result<()> {
    let stored = standing(change, referral, revision)?;
    if !change.may(&[Role::Midwife]) {
        return Err(RegistryError::refused(
            "The midwife in charge marks a referral as entered in error.",
        ));
    }
    if why.trim().is_empty() {
        return Err(RegistryError::field("reason", "Say what was wrong."));
    }
    diesel::update(referrals::table.find(referral))
        .set((
            referrals::entered_in_error.eq(true),
            referrals::revision.eq(revision + 1),
        ))
        .execute(change.db())?;
    let detail = format!("{}: {why}", stored.number);
    change.tell(
        "referral entered in error",
        "referral",
        referral.code(),
        detail,
    )
}

/// The referral, when it is this post's, still at this revision and not entered in error.
fn standing(change: &mut Change<'_>, referral: ReferralId, revision: i32) -> Result<Referral> {
    let post = change.post()?;
    let stored = find(change.db(), post, referral)?;
    if stored.revision != revision {
        return Err(RegistryError::Stale {
            current_revision: stored.revision,
        });
    }
    if stored.entered_in_error {
        return Err(RegistryError::refused(
            "This referral was entered in error.",
        ));
    }
    Ok(stored)
}

fn check_needed(change: &Change<'_>, step: &NewStep) -> Result<()> {
    let missing = |text: &Option<String>| text.as_ref().is_none_or(|text| text.trim().is_empty());
    match step.event {
        ReferralEvent::StoodDown if !change.may(&[Role::Midwife]) => Err(RegistryError::refused(
            "The midwife in charge stands a referral down.",
        )),
        ReferralEvent::StoodDown if step.stand_down.is_none() => {
            Err(RegistryError::field("stand_down", "Say why it ends."))
        }
        ReferralEvent::Declined if missing(&step.advised) => Err(RegistryError::field(
            "advised",
            "Write down what she was advised.",
        )),
        _ => Ok(()),
    }
}

fn step_to_correct(
    db: &mut Db,
    referral: ReferralId,
    step: ReferralStepId,
    why: &str,
) -> Result<Step> {
    if why.trim().is_empty() {
        return Err(RegistryError::field(
            "correction",
            "Say why it is put right.",
        ));
    }
    let all = steps(db, referral)?;
    let found = all
        .into_iter()
        .map(|(stored, _)| stored)
        .find(|stored| stored.id == step);
    found
        .filter(Step::stands)
        .ok_or(RegistryError::Missing("step"))
}

/// The steps that count, without the one that is put right.
fn times(
    db: &mut Db,
    referral: ReferralId,
    without: Option<ReferralStepId>,
) -> Result<Vec<StepTime>> {
    let counting = steps(db, referral)?.into_iter().map(|(step, _)| step);
    let counting = counting.filter(|step| step.stands() && Some(step.id) != without);
    Ok(counting.map(|step| (step.event, step.at)).collect())
}

/// Steps that must have been, at a time nobody told.
fn implied_by(event: ReferralEvent, known: &[StepTime]) -> Vec<ReferralEvent> {
    let before: &[ReferralEvent] = match event {
        ReferralEvent::Arrived => &[ReferralEvent::Left],
        ReferralEvent::Answered => &[ReferralEvent::Left, ReferralEvent::Arrived],
        _ => &[],
    };
    let unknown = |event: &&ReferralEvent| known.iter().all(|(known, _)| known != *event);
    before.iter().filter(unknown).copied().collect()
}

fn keep(change: &mut Change<'_>, stored: &Referral, state: ReferralState) -> Result<()> {
    diesel::update(referrals::table.find(stored.id))
        .set((
            referrals::state.eq(state),
            referrals::revision.eq(stored.revision + 1),
        ))
        .execute(change.db())?;
    Ok(())
}
