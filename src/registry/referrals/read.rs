//! One referral with everything that its page and its letter say.

use diesel::prelude::*;

use super::super::connection::{Backend, Db};
use super::super::error::{RegistryError, Result};
use super::super::ids::{FlagId, HospitalId, MotherId, PostId, PregnancyId, ReferralId, StaffId};
use super::super::posts::{self, Post, Travel};
use super::super::referral_steps::Progress;
use super::super::schema::{
    hospitals, mothers, referral_flags, referral_reasons, referrals, staff,
};
use super::super::vocabulary::{ReferralEvent, ReferralState, Role};
use super::steps::{Step, steps};
use crate::clinical::{Category, Day, Moment, Urgency};

/// A referral as it is stored.
#[derive(Debug, Clone, PartialEq, Eq, Queryable, Selectable)]
#[diesel(table_name = referrals, check_for_backend(Backend))]
pub struct Referral {
    /// Its id.
    pub id: ReferralId,
    /// `QF-2026-088`.
    pub number: String,
    /// The post that decided it.
    pub post_id: PostId,
    /// The woman.
    pub mother_id: MotherId,
    /// The pregnancy.
    pub pregnancy_id: PregnancyId,
    /// Where she is sent.
    pub hospital_id: HospitalId,
    /// The highest of its flags when decided, or as named.
    pub urgency: Urgency,
    /// Where it stands.
    pub state: ReferralState,
    /// When it was decided.
    pub decided_at: Moment,
    /// By whom.
    pub decided_by: StaffId,
    /// When that was written down.
    pub entered_at: Moment,
    /// The day for which the hospital expects her.
    pub planned_for: Option<Day>,
    /// What the hospital is asked for.
    pub asked: Option<String>,
    /// Treatment already given.
    pub given: Option<String>,
    /// How she travels, as planned.
    pub transport: Option<String>,
    /// Who goes with her, as planned.
    pub escort: Option<String>,
    /// Anything else.
    pub note: Option<String>,
    /// With which the hospital answers.
    pub reply_code: String,
    /// The referral that this one takes over from.
    pub follows_id: Option<ReferralId>,
    /// The first `now` or `soon` flag of its reasons.
    pub first_flag_at: Option<Moment>,
    /// Counts its steps and corrections.
    pub revision: i32,
    /// Out of every count, still readable.
    pub entered_in_error: bool,
}

/// A referral, whose it is, where it goes, and every step.
#[derive(Debug, Clone)]
pub struct Facts {
    /// As stored.
    pub referral: Referral,
    /// Her name.
    pub name: String,
    /// `QF 0131`.
    pub register: String,
    /// The hospital's name.
    pub hospital: String,
    /// The hospital's telephone.
    pub hospital_phone: Option<String>,
    /// Who decided, and as what.
    pub decided_by: (String, Role),
    /// Its reasons, in the order of the reference.
    pub reasons: Vec<Category>,
    /// The flags among its reasons.
    pub flags: Vec<FlagId>,
    /// Every step with who wrote it down, replaced ones too.
    pub steps: Vec<(Step, Option<String>)>,
    /// From which its labels are computed.
    pub progress: Progress,
    /// The number of the referral that this one takes over from.
    pub follows: Option<(ReferralId, String)>,
    /// The number of the referral that takes over from this one.
    pub followed_by: Option<(ReferralId, String)>,
}

impl Facts {
    /// The step that counts for an event; of several the first.
    #[must_use]
    pub fn step(&self, event: ReferralEvent) -> Option<&Step> {
        let counting = self
            .steps
            .iter()
            .map(|(step, _)| step)
            .filter(|step| step.stands());
        counting.into_iter().find(|step| step.event == event)
    }
}

/// One referral of a post.
///
/// # Errors
/// `Missing` when this post has none of this id.
pub fn find(db: &mut Db, post: PostId, id: ReferralId) -> Result<Referral> {
    let found = referrals::table
        .filter(referrals::id.eq(id).and(referrals::post_id.eq(post)))
        .select(Referral::as_select())
        .get_result(db)
        .optional()?;
    found.ok_or(RegistryError::Missing("referral"))
}

/// One referral of a post with everything about it.
///
/// # Errors
/// `Missing` when this post has none of this id.
pub fn facts(db: &mut Db, post: PostId, id: ReferralId) -> Result<Facts> {
    let referral = find(db, post, id)?;
    let post = posts::find(db, post)?;
    let (name, number): (String, i32) = mothers::table
        .find(referral.mother_id)
        .select((mothers::name, mothers::number))
        .get_result(db)?;
    let (hospital, hospital_phone) = hospitals::table
        .find(referral.hospital_id)
        .select((hospitals::name, hospitals::phone))
        .get_result(db)?;
    let decided_by = staff::table
        .find(referral.decided_by)
        .select((staff::name, staff::role))
        .get_result(db)?;
    let mut reasons: Vec<Category> = referral_reasons::table
        .filter(referral_reasons::referral_id.eq(id))
        .select(referral_reasons::category)
        .load(db)?;
    reasons.sort_unstable();
    let flags = referral_flags::table
        .filter(referral_flags::referral_id.eq(id))
        .order(referral_flags::flag_id)
        .select(referral_flags::flag_id)
        .load(db)?;
    let followed_by = referrals::table
        .filter(referrals::follows_id.eq(id))
        .order(referrals::id)
        .select((referrals::id, referrals::number))
        .first(db)
        .optional()?;
    let follows = match referral.follows_id {
        Some(earlier) => referrals::table
            .find(earlier)
            .select((referrals::id, referrals::number))
            .get_result(db)
            .optional()?,
        None => None,
    };
    let steps = steps(db, id)?;
    let left = steps.iter().map(|(step, _)| step);
    let left = left.filter(|step| step.stands() && step.event == ReferralEvent::Left);
    let left = left.filter_map(|step| step.at).min();
    let progress = progress(&post, &posts::ways(db, post.id)?, &referral, left);
    Ok(Facts {
        register: post.register_number(number),
        referral,
        name,
        hospital,
        hospital_phone,
        decided_by,
        reasons,
        flags,
        steps,
        progress,
        follows,
        followed_by,
    })
}

/// The referrals of a pregnancy, the newest first.
///
/// # Errors
/// `Broken` when the database cannot be read.
pub fn of_pregnancy(db: &mut Db, post: PostId, pregnancy: PregnancyId) -> Result<Vec<Referral>> {
    Ok(referrals::table
        .filter(
            referrals::pregnancy_id
                .eq(pregnancy)
                .and(referrals::post_id.eq(post)),
        )
        .order((referrals::decided_at.desc(), referrals::id.desc()))
        .select(Referral::as_select())
        .load(db)?)
}

/// What the labels are computed from: the way counts as it was when she left or was decided about.
pub(super) fn progress(
    post: &Post,
    ways: &[Travel],
    referral: &Referral,
    left: Option<Moment>,
) -> Progress {
    let way = ways
        .iter()
        .find(|way| way.hospital_id == referral.hospital_id);
    let sets_out = left.unwrap_or(referral.decided_at);
    Progress {
        state: referral.state,
        urgency: referral.urgency,
        decided: referral.decided_at,
        left,
        booked: referral.planned_for.map(|day| post.beginning_of(day)),
        travel_minutes: way.map(|way| i32::from(post.minutes(way, sets_out))),
    }
}
