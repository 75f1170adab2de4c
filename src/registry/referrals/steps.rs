//! The steps of a referral as they are stored: added, corrected, taken out; none is ever overwritten.

use diesel::prelude::*;

use super::super::change::Change;
use super::super::connection::{Backend, Db};
use super::super::error::{RegistryError, Result};
use super::super::ids::{ReferralId, ReferralStepId, StaffId};
use super::super::referral_steps::{StepTime, in_order, next};
use super::super::schema::{referral_steps, staff};
use super::super::vocabulary::{ReferralEvent, ReferralState, StandDownReason};
use crate::clinical::Moment;

/// One step as somebody tells it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NewStep {
    /// What happened.
    pub event: ReferralEvent,
    /// When; absent: the time is not known.
    pub at: Option<Moment>,
    /// Who answered, told or spoke.
    pub who: Option<String>,
    /// How she travels.
    pub transport: Option<String>,
    /// Her reason, or why the referral ends.
    pub reason: Option<String>,
    /// What she was advised.
    pub advised: Option<String>,
    /// Only of standing down.
    pub stand_down: Option<StandDownReason>,
    /// Anything else.
    pub note: Option<String>,
    /// The form's request key.
    pub request: Option<String>,
}

impl NewStep {
    /// A step with nothing but its time.
    #[must_use]
    pub fn at(event: ReferralEvent, at: Option<Moment>) -> Self {
        Self {
            event,
            at,
            who: None,
            transport: None,
            reason: None,
            advised: None,
            stand_down: None,
            note: None,
            request: None,
        }
    }
}

/// One stored step.
#[derive(Debug, Clone, PartialEq, Eq, Queryable, Selectable)]
#[diesel(table_name = referral_steps, check_for_backend(Backend))]
pub struct Step {
    /// Its id.
    pub id: ReferralStepId,
    /// What happened.
    pub event: ReferralEvent,
    /// When; absent: the time is not known.
    pub at: Option<Moment>,
    /// Who answered, told or spoke.
    pub who: Option<String>,
    /// How she travels.
    pub transport: Option<String>,
    /// Her reason, or why the referral ends.
    pub reason: Option<String>,
    /// What she was advised.
    pub advised: Option<String>,
    /// Only of standing down.
    pub stand_down: Option<StandDownReason>,
    /// Anything else.
    pub note: Option<String>,
    /// When it was written down.
    pub entered_at: Moment,
    /// Who wrote it down; absent: the hospital, through its code.
    pub entered_by: Option<StaffId>,
    /// The step that stands for it; its own id when it was taken out.
    pub replaced_by: Option<ReferralStepId>,
    /// Why it replaces an older one, or was taken out.
    pub correction: Option<String>,
}

impl Step {
    /// Whether it still counts.
    #[must_use]
    pub fn stands(&self) -> bool {
        self.replaced_by.is_none()
    }
}

/// All steps of a referral with who wrote them down, in the order of entry; replaced ones too.
///
/// # Errors
/// `Broken` when the database cannot be read.
pub fn steps(db: &mut Db, referral: ReferralId) -> Result<Vec<(Step, Option<String>)>> {
    Ok(referral_steps::table
        .left_join(staff::table)
        .filter(referral_steps::referral_id.eq(referral))
        .order((referral_steps::entered_at, referral_steps::id))
        .select((Step::as_select(), staff::name.nullable()))
        .load(db)?)
}

pub(super) fn insert(
    change: &mut Change<'_>,
    referral: ReferralId,
    new: &NewStep,
    correction: Option<&str>,
) -> Result<ReferralStepId> {
    let id = ReferralStepId::made(change.now());
    let (now, author) = (change.now(), change.by().staff);
    diesel::insert_into(referral_steps::table)
        .values((
            (
                referral_steps::id.eq(id),
                referral_steps::referral_id.eq(referral),
            ),
            (
                referral_steps::event.eq(new.event),
                referral_steps::at.eq(new.at),
            ),
            (
                referral_steps::who.eq(&new.who),
                referral_steps::transport.eq(&new.transport),
            ),
            (
                referral_steps::reason.eq(&new.reason),
                referral_steps::advised.eq(&new.advised),
            ),
            (
                referral_steps::stand_down.eq(new.stand_down),
                referral_steps::note.eq(&new.note),
            ),
            (
                referral_steps::entered_at.eq(now),
                referral_steps::entered_by.eq(author),
            ),
            (
                referral_steps::request_key.eq(&new.request),
                referral_steps::correction.eq(correction),
            ),
        ))
        .execute(change.db())?;
    Ok(id)
}

pub(super) fn replace(db: &mut Db, old: ReferralStepId, by: ReferralStepId) -> Result<()> {
    diesel::update(referral_steps::table.find(old))
        .set(referral_steps::replaced_by.eq(by))
        .execute(db)?;
    Ok(())
}

pub(super) fn take_out(db: &mut Db, step: ReferralStepId, why: &str) -> Result<()> {
    diesel::update(referral_steps::table.find(step))
        .set((
            referral_steps::replaced_by.eq(step),
            referral_steps::correction.eq(why),
        ))
        .execute(db)?;
    Ok(())
}

/// The step that a form with this request key made.
pub(in crate::registry) fn of_request(
    db: &mut Db,
    request: Option<&str>,
) -> Result<Option<ReferralStepId>> {
    let Some(request) = request else {
        return Ok(None);
    };
    let known = referral_steps::table.filter(referral_steps::request_key.eq(request));
    Ok(known.select(referral_steps::id).get_result(db).optional()?)
}

/// The state to which all steps together lead, when they can be true together.
///
/// # Errors
/// `Refused` when a step has no place behind the others; `RefusedField` when times are out of order.
pub(super) fn lead_to(events: &[StepTime], now: Moment) -> Result<ReferralState> {
    in_order(events, now).map_err(|fault| RegistryError::field("at_date", fault.to_string()))?;
    let mut events: Vec<_> = events.iter().map(|(event, _)| *event).collect();
    events.sort_unstable(); // the vocabulary stands in the order in which steps follow each other
    let mut state = ReferralState::Decided;
    for event in events
        .into_iter()
        .filter(|event| *event != ReferralEvent::Decided)
    {
        state = next(state, event).map_err(|fault| RegistryError::refused(fault.to_string()))?;
    }
    Ok(state)
}
