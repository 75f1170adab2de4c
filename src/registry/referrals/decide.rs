//! Deciding a referral: who may, for what reasons, how urgent, with which number and code.

use chrono::Datelike as _;
use diesel::prelude::*;

use super::super::change::Change;
use super::super::connection::Db;
use super::super::error::{RegistryError, Result};
use super::super::flags;
use super::super::ids::{FlagId, HospitalId, MotherId, PostId, PregnancyId, ReferralId};
use super::super::judging;
use super::super::posts::{self, Post};
use super::super::reply_code::ReplyCode;
use super::super::schema::{
    hospitals, mothers, pregnancies, referral_flags, referral_reasons, referrals, running_numbers,
};
use super::super::vocabulary::{FlagDecision, ReferralEvent, ReferralState, Role};
use super::grounds::{Grounds, reasons};
use super::steps::{NewStep, insert};
use crate::clinical::{Category, Day, Moment, Urgency};

/// An older decision is a slip of the pen, and would be numbered into a year that is over [O].
const LONGEST_AGO: chrono::Duration = chrono::Duration::days(366);

/// What is needed to refer a woman.
#[derive(Debug, Clone)]
pub struct Decision {
    /// Her pregnancy.
    pub pregnancy: PregnancyId,
    /// Where she is sent.
    pub hospital: HospitalId,
    /// The flags that are its reasons; their categories become reasons, the highest urgency its urgency.
    pub flags: Vec<FlagId>,
    /// Reasons that no flag gives; only the midwife in charge names them.
    pub categories: Vec<Category>,
    /// Named by the midwife in charge when no flag is more than a recheck; never `recheck`.
    pub urgency: Option<Urgency>,
    /// When it was decided.
    pub decided_at: Moment,
    /// The day for which the hospital expects her.
    pub planned_for: Option<Day>,
    /// What the hospital is asked for, in a sentence or two.
    pub asked: Option<String>,
    /// Treatment already given, with dose and time.
    pub given: Option<String>,
    /// How she travels.
    pub transport: Option<String>,
    /// Who goes with her.
    pub escort: Option<String>,
    /// Anything else.
    pub note: Option<String>,
    /// The referral that this one takes over from, to another hospital.
    pub follows: Option<ReferralId>,
    /// The form's request key.
    pub request: Option<String>,
}

/// Refers a woman: gives the referral its number and its reply code.
///
/// A nurse may when one of the flags says refer now; the midwife in charge may always. Flags that she has not
/// reviewed are confirmed when she refers for them; a nurse's stay in Review.
///
/// # Errors
/// `Missing` for a pregnancy, flag or hospital that this post does not have; `Refused` when the person may not, or
/// the referral stands already; `RefusedField` for a fault of one entry.
pub fn decide(change: &mut Change<'_>, decision: &Decision) -> Result<ReferralId> {
    let (author, now) = (change.author()?, change.now());
    let post = change.post()?;
    let post = posts::find(change.db(), post)?;
    if let Some(known) = of_request(change.db(), decision.request.as_deref())? {
        change.nothing_new();
        return Ok(known);
    }
    if !change.may(&[Role::Nurse, Role::Midwife]) {
        return Err(RegistryError::refused(
            "Only a nurse or the midwife in charge refers.",
        ));
    }
    let (mother, register, ended) = whose(change.db(), post.id, decision.pregnancy)?;
    if decision.decided_at > now {
        return Err(RegistryError::field(
            "decided_date",
            "This time has not come yet.",
        ));
    }
    if decision.decided_at < now - LONGEST_AGO {
        return Err(RegistryError::field(
            "decided_date",
            "This is more than a year ago. Check the date.",
        ));
    }
    refuse_closed(change.db(), decision.hospital)?;
    refuse_strange(change.db(), decision)?;
    if !ended {
        // A limit may have passed since the last entry: what stands now is what is decided about.
        judging::assess_pregnancy(
            change,
            decision.pregnancy,
            now,
            judging::RaisedBy::default(),
        )?;
    }
    let reasons = reasons(change.db(), decision)?;
    let in_charge = change.may(&[Role::Midwife]);
    let grounds = Grounds::of(decision, &reasons, in_charge)?;
    refuse_twice(change.db(), decision)?;

    let id = ReferralId::made(now);
    let number = next_number(change.db(), &post, decision.decided_at)?;
    let code = unused_code(change.db())?;
    diesel::insert_into(referrals::table)
        .values((
            (
                referrals::id.eq(id),
                referrals::number.eq(&number),
                referrals::post_id.eq(post.id),
            ),
            (
                referrals::mother_id.eq(mother),
                referrals::pregnancy_id.eq(decision.pregnancy),
            ),
            (
                referrals::hospital_id.eq(decision.hospital),
                referrals::urgency.eq(grounds.urgency),
            ),
            (
                referrals::state.eq(ReferralState::Decided),
                referrals::decided_at.eq(decision.decided_at),
            ),
            (
                referrals::decided_by.eq(author),
                referrals::entered_at.eq(now),
                referrals::planned_for.eq(decision.planned_for),
            ),
            (
                referrals::asked.eq(&decision.asked),
                referrals::given.eq(&decision.given),
                referrals::note.eq(&decision.note),
            ),
            (
                referrals::transport.eq(&decision.transport),
                referrals::escort.eq(&decision.escort),
            ),
            (
                referrals::reply_code.eq(code),
                referrals::follows_id.eq(decision.follows),
                referrals::first_flag_at.eq(grounds.first_flag_at),
            ),
            (
                referrals::request_key.eq(&decision.request),
                referrals::revision.eq(1),
                referrals::entered_in_error.eq(false),
            ),
        ))
        .execute(change.db())?;
    for category in &grounds.categories {
        diesel::insert_into(referral_reasons::table)
            .values((
                referral_reasons::referral_id.eq(id),
                referral_reasons::category.eq(*category),
            ))
            .execute(change.db())?;
    }
    for reason in &reasons {
        diesel::insert_into(referral_flags::table)
            .values((
                referral_flags::referral_id.eq(id),
                referral_flags::flag_id.eq(reason.id),
            ))
            .execute(change.db())?;
    }
    let decided = NewStep::at(ReferralEvent::Decided, Some(decision.decided_at));
    insert(change, id, &decided, None)?;
    change.tell(
        "referral decided",
        "referral",
        id.code(),
        format!(
            "{}: {number}, {}",
            post.register_number(register),
            grounds.urgency.words()
        ),
    )?;
    if in_charge {
        for reason in reasons.iter().filter(|reason| reason.decision.is_none()) {
            let why = format!("Referred: {number}");
            flags::decide(
                change,
                reason.id,
                reason.revision,
                FlagDecision::Confirmed,
                &why,
            )?;
        }
    }
    Ok(id)
}

fn of_request(db: &mut Db, request: Option<&str>) -> Result<Option<ReferralId>> {
    let Some(request) = request else {
        return Ok(None);
    };
    let known = referrals::table.filter(referrals::request_key.eq(request));
    Ok(known.select(referrals::id).get_result(db).optional()?)
}

/// Who, her number in the register, and whether the pregnancy is over.
fn whose(db: &mut Db, post: PostId, pregnancy: PregnancyId) -> Result<(MotherId, i32, bool)> {
    let found: Option<(MotherId, i32, Option<Moment>)> = pregnancies::table
        .inner_join(mothers::table)
        .filter(
            pregnancies::id
                .eq(pregnancy)
                .and(pregnancies::post_id.eq(post)),
        )
        .select((
            pregnancies::mother_id,
            mothers::number,
            pregnancies::ended_at,
        ))
        .get_result(db)
        .optional()?;
    let (mother, number, ended_at) = found.ok_or(RegistryError::Missing("pregnancy"))?;
    Ok((mother, number, ended_at.is_some()))
}

/// Every hospital of the district may receive from every post.
fn refuse_closed(db: &mut Db, hospital: HospitalId) -> Result<()> {
    let open = hospitals::table
        .filter(
            hospitals::id
                .eq(hospital)
                .and(hospitals::stopped_at.is_null()),
        )
        .count();
    if open.get_result::<i64>(db)? == 0 {
        return Err(RegistryError::field(
            "hospital",
            "This hospital receives nobody. Choose another.",
        ));
    }
    Ok(())
}

/// A referral takes over from another of the same pregnancy, once, and when that one is over.
fn refuse_strange(db: &mut Db, decision: &Decision) -> Result<()> {
    let Some(follows) = decision.follows else {
        return Ok(());
    };
    let earlier: Option<(ReferralState, bool)> = referrals::table
        .filter(referrals::id.eq(follows))
        .filter(referrals::pregnancy_id.eq(decision.pregnancy))
        .select((referrals::state, referrals::entered_in_error))
        .get_result(db)
        .optional()?;
    let (state, in_error) = earlier.ok_or(RegistryError::Missing("referral"))?;
    let taken: i64 = referrals::table
        .filter(referrals::follows_id.eq(follows))
        .filter(referrals::entered_in_error.eq(false))
        .count()
        .get_result(db)?;
    let is_over = matches!(
        state,
        ReferralState::StoodDown | ReferralState::Declined | ReferralState::NotArrived
    );
    if !is_over || in_error || taken > 0 {
        return Err(RegistryError::refused(
            "The earlier referral is under way again, or another one has taken over from it. Look at it first.",
        ));
    }
    Ok(())
}

/// A second page open on the same flag must not send her twice.
fn refuse_twice(db: &mut Db, decision: &Decision) -> Result<()> {
    if decision.flags.is_empty() {
        return Ok(());
    }
    let running = [ReferralState::Decided, ReferralState::Left];
    let mut others = referrals::table
        .inner_join(referral_flags::table)
        .filter(referrals::pregnancy_id.eq(decision.pregnancy))
        .filter(
            referrals::state
                .eq_any(running)
                .and(referrals::entered_in_error.eq(false)),
        )
        .filter(referral_flags::flag_id.eq_any(&decision.flags))
        .into_boxed();
    if let Some(follows) = decision.follows {
        others = others.filter(referrals::id.ne(follows));
    }
    let others: Vec<(String, FlagId)> = others
        .select((referrals::number, referral_flags::flag_id))
        .load(db)?;
    let again = |flag: &FlagId| others.iter().any(|(_, known)| known == flag);
    match others.first() {
        Some((number, _)) if decision.flags.iter().all(again) => Err(RegistryError::refused(
            format!("She is already referred for this: {number}."),
        )),
        _ => Ok(()),
    }
}

/// `QF-2026-088`: post, year by the post's own clock, running.
fn next_number(db: &mut Db, post: &Post, decided_at: Moment) -> Result<String> {
    let year = post.local(decided_at).year();
    let series = format!("referrals {year}");
    let line = running_numbers::table.find((post.id, &series));
    let last: Option<i32> = line
        .select(running_numbers::last)
        .get_result(db)
        .optional()?;
    let number = last.unwrap_or(0) + 1;
    if last.is_some() {
        diesel::update(line)
            .set(running_numbers::last.eq(number))
            .execute(db)?;
    } else {
        diesel::insert_into(running_numbers::table)
            .values((
                running_numbers::post_id.eq(post.id),
                running_numbers::series.eq(&series),
                running_numbers::last.eq(number),
            ))
            .execute(db)?;
    }
    Ok(format!("{}-{year}-{number:03}", post.code))
}

/// 54 bits: a second draw has never been needed, and is made all the same.
fn unused_code(db: &mut Db) -> Result<String> {
    loop {
        let code = ReplyCode::draw()
            .map_err(|error| RegistryError::Broken(error.into()))?
            .to_string();
        let known = referrals::table
            .filter(referrals::reply_code.eq(&code))
            .count();
        if known.get_result::<i64>(db)? == 0 {
            return Ok(code);
        }
    }
}
