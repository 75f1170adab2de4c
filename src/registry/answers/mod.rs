//! What the hospital answers: taken down from the paper slip or the telephone. Every answer stays; none is truer by order.

use diesel::prelude::*;

use super::change::Change;
use super::connection::{Backend, Db};
use super::error::{RegistryError, Result};
use super::ids::{AnswerId, ReferralId, ReferralStepId};
use super::referrals::{self, Facts, NewStep};
use super::schema::{answers, referral_steps};
use super::vocabulary::{AnswerWay, ReferralEvent, ReferralState};
use crate::clinical::{Day, Moment};

/// An answer as it was told or written.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NewAnswer {
    /// She came to the hospital.
    pub arrived: bool,
    /// When, if they say; fills a time that was not known.
    pub arrived_at: Option<Moment>,
    /// When somebody first examined her there, if they say.
    pub seen_at: Option<Moment>,
    /// When they answered; absent: not known.
    pub at: Option<Moment>,
    /// How the answer came.
    pub way: AnswerWay,
    /// What they found.
    pub diagnosis: Option<String>,
    /// What they did.
    pub treatment: Option<String>,
    /// How the mother is.
    pub mother_outcome: Option<String>,
    /// How the baby is.
    pub baby_outcome: Option<String>,
    /// What the post should do.
    pub follow_up: Option<String>,
    /// Who answered.
    pub given_by: Option<String>,
    /// The date on the slip.
    pub given_on: Option<Day>,
    /// The form's request key.
    pub request: Option<String>,
}

/// A stored answer.
#[derive(Debug, Clone, PartialEq, Eq, Queryable, Selectable, Insertable)]
#[diesel(table_name = answers, check_for_backend(Backend))]
pub struct Answer {
    /// Its id.
    pub id: AnswerId,
    /// The referral it answers.
    pub referral_id: ReferralId,
    /// The step that it made.
    pub step_id: ReferralStepId,
    /// How the answer came.
    pub way: AnswerWay,
    /// What they found.
    pub diagnosis: Option<String>,
    /// What they did.
    pub treatment: Option<String>,
    /// How the mother is.
    pub mother_outcome: Option<String>,
    /// How the baby is.
    pub baby_outcome: Option<String>,
    /// What the post should do.
    pub follow_up: Option<String>,
    /// Who answered.
    pub given_by: Option<String>,
    /// The date on the slip.
    pub given_on: Option<Day>,
}

/// Writes an answer down: with it the referral is answered, or closed because she never came.
///
/// # Errors
/// As `referrals::advance`; `RefusedField` when a woman who arrived has neither diagnosis, treatment nor outcome.
pub fn record(
    change: &mut Change<'_>,
    referral: ReferralId,
    revision: i32,
    new: &NewAnswer,
) -> Result<()> {
    if referrals::of_request(change.db(), new.request.as_deref())?.is_some() {
        change.nothing_new();
        return Ok(());
    }
    let post = change.post()?;
    let facts = referrals::facts(change.db(), post, referral)?;
    let says = [
        &new.diagnosis,
        &new.treatment,
        &new.mother_outcome,
        &new.baby_outcome,
    ];
    if new.arrived && says.iter().all(|it| it.is_none()) {
        return Err(RegistryError::field(
            "diagnosis",
            "Write at least the diagnosis, the treatment or how mother or baby are.",
        ));
    }
    let event = if new.arrived {
        ReferralEvent::Answered
    } else {
        ReferralEvent::NeverCame
    };
    let revision = if new.arrived {
        fill_times(change, &facts, revision, new)?
    } else {
        revision
    };
    let step = NewStep {
        who: new.given_by.clone(),
        request: new.request.clone(),
        ..NewStep::at(event, new.at)
    };
    let step_id = referrals::advance(change, referral, revision, &step)?;
    let answer = Answer {
        id: AnswerId::made(change.now()),
        referral_id: referral,
        step_id,
        way: new.way,
        diagnosis: new.diagnosis.clone(),
        treatment: new.treatment.clone(),
        mother_outcome: new.mother_outcome.clone(),
        baby_outcome: new.baby_outcome.clone(),
        follow_up: new.follow_up.clone(),
        given_by: new.given_by.clone(),
        given_on: new.given_on,
    };
    diesel::insert_into(answers::table)
        .values(&answer)
        .execute(change.db())?;
    Ok(())
}

/// Times in the answer that nobody knew before become steps of their own. Gives the revision that stands then.
fn fill_times(
    change: &mut Change<'_>,
    facts: &Facts,
    revision: i32,
    new: &NewAnswer,
) -> Result<i32> {
    const WHY: &str = "from the hospital’s answer";
    let referral = facts.referral.id;
    let mut revision = revision;
    let told = |event, at| NewStep {
        who: new.given_by.clone(),
        ..NewStep::at(event, Some(at))
    };
    if let Some(at) = new.arrived_at {
        let better = told(ReferralEvent::Arrived, at);
        match facts.step(ReferralEvent::Arrived) {
            Some(known) if known.at.is_none() => {
                referrals::correct(change, referral, revision, known.id, &better, WHY)?;
                revision += 1;
            }
            None if facts.referral.state != ReferralState::Answered => {
                referrals::advance(change, referral, revision, &better)?;
                revision += 1;
            }
            _ => {}
        }
    }
    if let Some(at) = new.seen_at {
        let better = told(ReferralEvent::Seen, at);
        match facts.step(ReferralEvent::Seen) {
            Some(known) if known.at.is_none() => {
                referrals::correct(change, referral, revision, known.id, &better, WHY)?;
                revision += 1;
            }
            None if facts.referral.state != ReferralState::Answered => {
                let arrived =
                    facts.step(ReferralEvent::Arrived).is_some() || new.arrived_at.is_some();
                if !arrived {
                    let unknown = NewStep::at(ReferralEvent::Arrived, None);
                    referrals::advance(change, referral, revision, &unknown)?;
                    revision += 1;
                }
                referrals::advance(change, referral, revision, &better)?;
                revision += 1;
            }
            _ => {}
        }
    }
    Ok(revision)
}

/// The answers to a referral with when they were given and whether their step still stands, the first first.
///
/// # Errors
/// `Broken` when the database cannot be read.
pub fn of(db: &mut Db, referral: ReferralId) -> Result<Vec<(Answer, Option<Moment>, bool)>> {
    let found: Vec<(Answer, Option<Moment>, Option<ReferralStepId>)> = answers::table
        .inner_join(referral_steps::table)
        .filter(answers::referral_id.eq(referral))
        .order(answers::id)
        .select((
            Answer::as_select(),
            referral_steps::at,
            referral_steps::replaced_by,
        ))
        .load(db)?;
    Ok(found
        .into_iter()
        .map(|(answer, at, replaced)| (answer, at, replaced.is_none()))
        .collect())
}
