//! Which referrals wait, the most pressing first; which are closed, the newest first.

use std::collections::BTreeMap;

use chrono::Duration;
use diesel::prelude::*;

use super::super::connection::Db;
use super::super::error::Result;
use super::super::ids::{PostId, ReferralId};
use super::super::posts;
use super::super::referral_steps::Progress;
use super::super::schema::{hospitals, mothers, referral_reasons, referral_steps, referrals};
use super::super::vocabulary::{ReferralEvent, ReferralState};
use super::read::{Referral, progress};
use crate::clinical::{Category, Moment, Urgency};

/// An answer is asked for so long after an arrival [O].
const ANSWER_AFTER: Duration = Duration::days(3);

/// One referral that waits for something.
#[derive(Debug, Clone)]
pub struct Waiting {
    /// As stored.
    pub referral: Referral,
    /// Her name.
    pub name: String,
    /// `QF 0131`.
    pub register: String,
    /// The hospital's name.
    pub hospital: String,
    /// Its reasons, in the order of the reference.
    pub reasons: Vec<Category>,
    /// From which its labels are computed.
    pub progress: Progress,
    /// When the hospital was told.
    pub told_at: Option<Moment>,
    /// When she arrived; the outer absence: she has not.
    pub arrived_at: Option<Option<Moment>>,
    /// When what it waits for is late; absent: nothing sets a limit.
    pub due_at: Option<Moment>,
}

impl Waiting {
    /// Whether the limit has passed.
    #[must_use]
    pub fn is_late(&self, now: Moment) -> bool {
        self.due_at.is_some_and(|due| due <= now)
    }

    /// Refer now first, then by how late; what has no limit stands behind.
    fn pressing(&self) -> (bool, Moment, ReferralId) {
        let far = Moment::MAX;
        (
            self.referral.urgency != Urgency::Now,
            self.due_at.unwrap_or(far),
            self.referral.id,
        )
    }
}

/// A page of the waiting list.
#[derive(Debug, Clone, Default)]
pub struct WaitingPage {
    /// At most as many as asked for.
    pub lines: Vec<Waiting>,
    /// How many wait altogether.
    pub count: usize,
    /// How many of all are late.
    pub late: usize,
    /// The line after which the next page begins; absent on the last page.
    pub more: Option<ReferralId>,
}

/// The referrals of a post that wait for her leaving, her arrival or the answer: refer now first, then the most
/// overdue. At most `lines` behind the one called `after`.
///
/// # Errors
/// `Broken` when the database cannot be read.
pub fn waiting(
    db: &mut Db,
    post: PostId,
    now: Moment,
    after: Option<ReferralId>,
    lines: usize,
) -> Result<WaitingPage> {
    let post = posts::find(db, post)?;
    let open = [
        ReferralState::Decided,
        ReferralState::Left,
        ReferralState::Arrived,
        ReferralState::Seen,
    ];
    let found: Vec<(Referral, String, i32, String)> = referrals::table
        .inner_join(mothers::table)
        .inner_join(hospitals::table)
        .filter(
            referrals::post_id
                .eq(post.id)
                .and(referrals::state.eq_any(open)),
        )
        .filter(referrals::entered_in_error.eq(false))
        .select((
            Referral::as_select(),
            mothers::name,
            mothers::number,
            hospitals::name,
        ))
        .load(db)?;
    let ids: Vec<_> = found.iter().map(|(referral, ..)| referral.id).collect();
    let mut reasons = reasons_of(db, &ids)?;
    let steps = steps_of(db, &ids)?;
    let ways = posts::ways(db, post.id)?;
    let mut all = Vec::with_capacity(found.len());
    for (referral, name, number, hospital) in found {
        let of_event = |event| {
            let mine = steps.get(&referral.id).into_iter().flatten();
            mine.filter(move |step| step.0 == event)
        };
        let left = of_event(ReferralEvent::Left).find_map(|step| step.1);
        let arrived = of_event(ReferralEvent::Arrived).next();
        let progress = progress(&post, &ways, &referral, left);
        let answer_due = arrived.map(|step| step.1.unwrap_or(step.2) + ANSWER_AFTER);
        all.push(Waiting {
            register: post.register_number(number),
            name,
            hospital,
            reasons: reasons.remove(&referral.id).unwrap_or_default(),
            told_at: of_event(ReferralEvent::Told).find_map(|step| step.1),
            arrived_at: arrived.map(|step| step.1),
            due_at: answer_due.or(progress.overdue_at()).or(progress.lost_at()),
            progress,
            referral,
        });
    }
    all.sort_by_cached_key(Waiting::pressing);
    let count = all.len();
    let begin = after.and_then(|after| all.iter().position(|it| it.referral.id == after));
    let begin = begin.map_or(0, |place| place + 1);
    let late = all.iter().filter(|it| it.is_late(now)).count();
    let page: Vec<_> = all.into_iter().skip(begin).take(lines).collect();
    let more = page
        .last()
        .filter(|_| begin + page.len() < count)
        .map(|last| last.referral.id);
    Ok(WaitingPage {
        lines: page,
        count,
        late,
        more,
    })
}

/// Which closed referrals a list shows.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Closed {
    /// With an answer.
    Answered,
    /// Never arrived, declined, stood down.
    WithoutHospital,
    /// Every referral, open ones and those entered in error too.
    All,
}

/// The last line of the page before.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct After {
    /// When it was decided.
    pub at: Moment,
    /// Its id.
    pub id: ReferralId,
}

/// One line of a list of closed referrals.
#[derive(Debug, Clone)]
pub struct ClosedLine {
    /// As stored.
    pub referral: Referral,
    /// Her name.
    pub name: String,
    /// `QF 0131`.
    pub register: String,
    /// The hospital's name.
    pub hospital: String,
    /// Its reasons, in the order of the reference.
    pub reasons: Vec<Category>,
}

/// The next `lines` referrals of a post, the last decided first.
///
/// # Errors
/// `Broken` when the database cannot be read.
pub fn closed(
    db: &mut Db,
    post: PostId,
    which: Closed,
    after: Option<After>,
    lines: i64,
) -> Result<Vec<ClosedLine>> {
    let post = posts::find(db, post)?;
    let mut query = referrals::table
        .inner_join(mothers::table)
        .inner_join(hospitals::table)
        .filter(referrals::post_id.eq(post.id))
        .order((referrals::decided_at.desc(), referrals::id.desc()))
        .limit(lines)
        .select((
            Referral::as_select(),
            mothers::name,
            mothers::number,
            hospitals::name,
        ))
        .into_boxed();
    let states: &[ReferralState] = match which {
        Closed::Answered => &[ReferralState::Answered],
        Closed::WithoutHospital => &[
            ReferralState::NotArrived,
            ReferralState::Declined,
            ReferralState::StoodDown,
        ],
        Closed::All => &[],
    };
    if !states.is_empty() {
        query = query.filter(referrals::state.eq_any(states));
    }
    if let Some(After { at, id }) = after {
        let older = referrals::decided_at.lt(at);
        query = query.filter(older.or(referrals::decided_at.eq(at).and(referrals::id.lt(id))));
    }
    let found: Vec<(Referral, String, i32, String)> = query.load(db)?;
    let ids: Vec<_> = found.iter().map(|(referral, ..)| referral.id).collect();
    let mut reasons = reasons_of(db, &ids)?;
    let line = |(referral, name, number, hospital): (Referral, String, i32, String)| ClosedLine {
        register: post.register_number(number),
        name,
        hospital,
        reasons: reasons.remove(&referral.id).unwrap_or_default(),
        referral,
    };
    Ok(found.into_iter().map(line).collect())
}

fn reasons_of(db: &mut Db, ids: &[ReferralId]) -> Result<BTreeMap<ReferralId, Vec<Category>>> {
    let found: Vec<(ReferralId, Category)> = referral_reasons::table
        .filter(referral_reasons::referral_id.eq_any(ids))
        .select((referral_reasons::referral_id, referral_reasons::category))
        .load(db)?;
    let mut reasons: BTreeMap<_, Vec<_>> = BTreeMap::new();
    for (id, category) in found {
        reasons.entry(id).or_default().push(category);
    }
    for of_one in reasons.values_mut() {
        of_one.sort_unstable();
    }
    Ok(reasons)
}

type StepTimes = Vec<(ReferralEvent, Option<Moment>, Moment)>;

fn steps_of(db: &mut Db, ids: &[ReferralId]) -> Result<BTreeMap<ReferralId, StepTimes>> {
    let found: Vec<(ReferralId, ReferralEvent, Option<Moment>, Moment)> = referral_steps::table
        .filter(referral_steps::referral_id.eq_any(ids))
        .filter(referral_steps::replaced_by.is_null())
        .order(referral_steps::id)
        .select((
            referral_steps::referral_id,
            referral_steps::event,
            referral_steps::at,
            referral_steps::entered_at,
        ))
        .load(db)?;
    let mut steps: BTreeMap<_, StepTimes> = BTreeMap::new();
    for (id, event, at, entered_at) in found {
        steps.entry(id).or_default().push((event, at, entered_at));
    }
    Ok(steps)
}
