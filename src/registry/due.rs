//! What waits besides what `today` tells: flags that were confirmed and led to no referral yet, answers that came in.

use chrono::TimeDelta;
use diesel::prelude::*;

use super::connection::{Backend, Db};
use super::error::Result;
use super::flags::{self, Waiting};
use super::ids::{FlagId, PostId, ReferralId};
use super::schema::{answers, hospitals, mothers, referral_flags, referral_steps, referrals};
use super::vocabulary::ReferralState;
use crate::clinical::Moment;

/// An answer comes within so long after the decision, or is looked for as a loose end.
const ANSWERED_WITHIN: TimeDelta = TimeDelta::days(120);

/// Flags that the midwife confirmed as `now` or `soon` and that no standing referral answers, the most urgent first.
///
/// # Errors
/// `Broken` when the database cannot be read.
pub fn to_refer(db: &mut Db, post: PostId) -> Result<Vec<Waiting>> {
    let confirmed = flags::confirmed(db, post)?;
    let ids: Vec<FlagId> = confirmed.iter().map(|line| line.flag.id).collect();
    let answered: Vec<FlagId> = referral_flags::table
        .inner_join(referrals::table)
        .filter(referral_flags::flag_id.eq_any(ids))
        .filter(referrals::entered_in_error.eq(false))
        .filter(referrals::state.ne(ReferralState::StoodDown))
        .select(referral_flags::flag_id)
        .load(db)?;
    let unanswered = |line: &Waiting| !answered.contains(&line.flag.id);
    Ok(confirmed.into_iter().filter(unanswered).collect())
}

/// An answer of a hospital that came in lately.
#[derive(Debug, Clone, PartialEq, Eq, Queryable, Selectable)]
#[diesel(table_name = answers, check_for_backend(Backend))]
pub struct Answered {
    /// The referral that it answers.
    #[diesel(column_name = referral_id)]
    pub referral: ReferralId,
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
    /// When it was written down.
    #[diesel(select_expression = referral_steps::entered_at)]
    pub entered_at: Moment,
    /// The mother's name.
    #[diesel(select_expression = mothers::name)]
    pub name: String,
    /// Her number in the register.
    #[diesel(select_expression = mothers::number)]
    pub number: i32,
    /// Which hospital.
    #[diesel(select_expression = hospitals::name)]
    pub hospital: String,
}

/// Answers that were written down at or after `since`, the newest first.
///
/// # Errors
/// `Broken` when the database cannot be read.
pub fn answered(db: &mut Db, post: PostId, since: Moment) -> Result<Vec<Answered>> {
    Ok(answers::table
        .inner_join(referral_steps::table)
        .inner_join(referrals::table.on(referrals::id.eq(answers::referral_id)))
        .inner_join(mothers::table.on(mothers::id.eq(referrals::mother_id)))
        .inner_join(hospitals::table.on(hospitals::id.eq(referrals::hospital_id)))
        .filter(referrals::post_id.eq(post))
        .filter(referrals::state.eq(ReferralState::Answered))
        .filter(referrals::decided_at.ge(since - ANSWERED_WITHIN))
        .filter(referrals::entered_in_error.eq(false))
        .filter(referral_steps::entered_at.ge(since))
        .filter(referral_steps::replaced_by.is_null())
        .order((referral_steps::entered_at.desc(), referral_steps::id))
        .select(Answered::as_select())
        .load(db)?)
}
