//! Reviews, referrals and the way of each to the hospital's answer.

use anyhow::{Context, Result};
use chrono::{TimeDelta, Timelike};

use super::driver::{Driver, Next, Sent};
use super::plan::{Deed, Step};
use super::words;
use crate::clinical::{Category, Moment, Urgency};
use crate::registry::answers::{self, NewAnswer};
use crate::registry::flags::{self, Flag};
use crate::registry::hospitals;
use crate::registry::referrals::{self, Decision, NewStep};
use crate::registry::{
    AnswerWay, FlagDecision, FlagId, ReferralEvent, StandDownReason, posts, referral_steps,
};

impl Driver<'_, '_> {
    pub(super) fn review(&mut self, at: Moment, course: usize, flag: FlagId) -> Result<()> {
        let post = self.post(course).id;
        let (flag, _) = flags::find(self.change.reader(), post, flag)?;
        if !flag.waits() {
            return Ok(());
        }
        let on_her_way = self.hers[course].referral.is_some();
        let dismissed = !(on_her_way && flag.urgency == Urgency::Now)
            && self.rates_happen(course, |rates| rates.flag_dismissed);
        self.as_midwife(at, course);
        let decision = if dismissed {
            FlagDecision::Dismissed
        } else {
            FlagDecision::Confirmed
        };
        let reason = words::reviewed(decision, self.chance(course));
        flags::decide(self.change, flag.id, flag.revision, decision, reason)?;
        let may_send = !dismissed
            && matches!(flag.urgency, Urgency::Now | Urgency::Soon)
            && self.pregnant(course).is_some();
        if may_send && self.rates_happen(course, |rates| rates.sent_when_confirmed) {
            self.plan(
                at + TimeDelta::minutes(4),
                course,
                Next::Send(Urgency::Soon),
            );
        }
        Ok(())
    }

    /// Sends her for the flags that stand, unless she is on her way or where she is sent to.
    pub(super) fn send(&mut self, at: Moment, course: usize, urgency: Urgency) -> Result<()> {
        let hers = &self.hers[course];
        let Some(registered) = self.pregnant(course) else {
            return Ok(());
        };
        if hers.stays || hers.referral.is_some_and(|sent| sent.under_way) {
            return Ok(());
        }
        let standing = flags::of_pregnancy(self.change.reader(), registered.pregnancy)?;
        let reasons: Vec<_> = standing
            .iter()
            .filter(|flag| flag.stands() && flag.urgency <= urgency)
            .collect();
        let Some(first) = reasons
            .iter()
            .min_by_key(|flag| (flag.urgency, flag.category))
        else {
            return Ok(());
        };
        let by_nurse = urgency == Urgency::Now;
        let sent = self.decided(
            at,
            course,
            &reasons,
            (first.category, first.urgency),
            by_nurse,
        )?;
        self.plan_the_way(at, course, sent);
        Ok(())
    }

    /// As the script says: for flags of the category, else for a reason that the midwife names.
    pub(super) fn decide(
        &mut self,
        at: Moment,
        course: usize,
        (category, urgency): (Category, Urgency),
    ) -> Result<()> {
        let Some(registered) = self.pregnant(course) else {
            return Ok(());
        };
        let standing = flags::of_pregnancy(self.change.reader(), registered.pregnancy)?;
        let reasons: Vec<_> = standing
            .iter()
            .filter(|flag| flag.stands() && flag.category == category)
            .collect();
        self.decided(at, course, &reasons, (category, urgency), false)?;
        Ok(())
    }

    fn decided(
        &mut self,
        at: Moment,
        course: usize,
        reasons: &[&Flag],
        (category, urgency): (Category, Urgency),
        by_nurse: bool,
    ) -> Result<Sent> {
        let registered = self
            .pregnant(course)
            .context("she is not in the register")?;
        let post = self.post(course).id;
        let post = posts::find(self.change.reader(), post)?;
        let needs = words::needs(category);
        let hospital = hospitals::proposed(self.change.reader(), &post, at, needs)?;
        let hospital = hospital
            .first()
            .map(|it| it.hospital.id)
            .context("no hospital receives")?;
        let named = if reasons.is_empty() {
            vec![category]
        } else {
            Vec::new()
        };
        let soon = urgency != Urgency::Now;
        let decision = Decision {
            pregnancy: registered.pregnancy,
            hospital,
            flags: reasons.iter().map(|flag| flag.id).collect(),
            categories: named,
            urgency: Some(urgency),
            decided_at: at,
            planned_for: soon.then(|| post.day(at) + chrono::Days::new(2)),
            asked: Some(words::asked(category).to_owned()),
            given: words::given(category).map(str::to_owned),
            transport: Some(words::transport(self.chance(course)).to_owned()),
            escort: Some(words::escort(self.chance(course)).to_owned()),
            note: None,
            follows: None,
            request: None,
        };
        if by_nurse {
            self.as_nurse(at, course);
        } else {
            self.as_midwife(at, course);
        }
        let id = referrals::decide(self.change, &decision)?;
        let in_labour = self.hers[course].labour.is_some();
        let sent = Sent {
            id,
            urgency,
            first_reason: category,
            under_way: true,
            left: false,
            in_labour,
        };
        self.hers[course].referral = Some(sent);
        Ok(sent)
    }

    /// Everything that will happen to this referral, as chance has it.
    fn plan_the_way(&mut self, at: Moment, course: usize, sent: Sent) {
        let rates = *self.rates;
        let fate = self.chance(course).unit();
        let told = self.after(at, course, 4, 14);
        self.step_later(told, course, sent, Step::Told);
        let leaves = match sent.urgency {
            Urgency::Now => self.after(at, course, 18, 75),
            // By day, one to three days later.
            _ => {
                self.after(at, course, 20 * 60, 64 * 60)
                    .with_minute(10)
                    .and_then(|it| it.with_hour(6))
                    .unwrap_or(at)
                    + TimeDelta::days(1)
            }
        };
        if fate < rates.declined {
            return self.step_later(self.minutes_after(at, 40), course, sent, Step::Declined);
        }
        if fate < rates.declined + rates.stood_down {
            return self.step_later(
                self.minutes_after(at, 55),
                course,
                sent,
                Step::StoodDown(StandDownReason::Misjudged),
            );
        }
        let known = |driver: &mut Self| !driver.rates_happen(course, |rates| rates.time_unknown);
        let known_left = known(self);
        self.step_later(leaves, course, sent, Step::Left(known_left));
        let lost = rates.declined + rates.stood_down + rates.never_came;
        if fate < lost {
            let heard = self.after(leaves, course, 2 * 24 * 60, 6 * 24 * 60);
            return self.step_later(heard, course, sent, Step::NeverCame);
        }
        let travel = self.travel(course, leaves);
        let arrives = leaves
            + TimeDelta::minutes(travel)
            + TimeDelta::minutes(self.chance(course).between(-8, 35).max(-travel / 2));
        if sent.in_labour || self.near_term(course, arrives) {
            self.plan_birth_there(arrives, course, sent);
        }
        if fate < lost + rates.arrival_not_told {
            return;
        }
        let known_arrival = known(self);
        self.step_later(arrives, course, sent, Step::Arrived(known_arrival));
        let seen = self.after(arrives, course, 8, 95);
        self.step_later(seen, course, sent, Step::Seen);
        if self.rates_happen(course, |rates| rates.answered) {
            let answered = self.after(seen, course, 14 * 60, 9 * 24 * 60);
            self.step_later(answered, course, sent, Step::Answered);
        }
    }

    fn minutes_after(&self, at: Moment, minutes: i64) -> Moment {
        at + TimeDelta::minutes(minutes)
    }

    fn travel(&self, course: usize, at: Moment) -> i64 {
        let post = &self.district.posts[self.courses[course].story.post];
        let by_night =
            !(u32::from(post.day_from)..u32::from(post.night_from)).contains(&(at.hour() + 2));
        let operates = |key: &str| {
            self.district
                .hospitals
                .iter()
                .any(|it| it.key == key && it.can_operate)
        };
        let ways = post.travel.iter().filter(|way| operates(way.0));
        ways.map(|way| i64::from(if by_night { way.2 } else { way.1 }))
            .min()
            .unwrap_or(60)
    }

    fn near_term(&self, course: usize, at: Moment) -> bool {
        self.courses[course].story.days_on(at.date()) >= 252
    }

    /// She stays until the birth: within hours when she was in labour, else when her time comes.
    fn plan_birth_there(&mut self, arrives: Moment, course: usize, sent: Sent) {
        self.hers[course].stays = true;
        let days = self.courses[course].story.days_on(arrives.date());
        let when = match (sent.in_labour, sent.urgency) {
            (true, _) => self.after(arrives, course, 50, 7 * 60),
            (false, Urgency::Now) => self.after(arrives, course, 3 * 60, 40 * 60),
            // Booked ones wait for 39 weeks, if they are not there yet.
            (false, _) => {
                let waits = (273 - days).max(1);
                let own = self.courses[course]
                    .story
                    .day_at(self.courses[course].story.ends_at);
                let planned = arrives + TimeDelta::days(waits);
                let own = own.and_time(arrives.time());
                self.after(planned.min(own.max(arrives)), course, 60, 9 * 60)
            }
        };
        self.hers[course].end_moved = Some(when);
        self.plan(when, course, Next::Deed(Deed::End));
    }

    pub(super) fn step(&mut self, at: Moment, course: usize, sent: Sent, step: Step) -> Result<()> {
        let post = self.post(course).id;
        let stored = referrals::find(self.change.reader(), post, sent.id)?;
        let may = |event| referral_steps::allowed(stored.state).any(|it| it == event);
        let timed = |known: bool| known.then_some(at);
        let new = match step {
            Step::Told => NewStep { who: Some("the ward sister".to_owned()), ..NewStep::at(ReferralEvent::Told, Some(at)) },
            Step::Left(known) => NewStep::at(ReferralEvent::Left, timed(known)),
            Step::Arrived(known) => NewStep::at(ReferralEvent::Arrived, timed(known)),
            Step::Seen => NewStep::at(ReferralEvent::Seen, Some(at)),
            // Whatever was planned for a referral that took another turn falls away.
            Step::Answered | Step::NeverCame => {
                let arrived = step == Step::Answered;
                let event = if arrived { ReferralEvent::Answered } else { ReferralEvent::NeverCame };
                return if may(event) { self.answer(at, course, sent, (stored.revision, arrived)) } else { Ok(()) };
            }
            Step::Declined => NewStep {
                reason: Some(words::declined(self.chance(course)).to_owned()),
                advised: Some("Come back at once with pain, bleeding or broken waters; the way to the hospital was explained again.".to_owned()),
                ..NewStep::at(ReferralEvent::Declined, Some(at))
            },
            Step::StoodDown(why) => NewStep {
                stand_down: Some(why),
                reason: Some("talked over again with the midwife".to_owned()),
                ..NewStep::at(ReferralEvent::StoodDown, Some(at))
            },
        };
        if !may(new.event) {
            return Ok(());
        }
        self.as_midwife(at, course);
        referrals::advance(self.change, sent.id, stored.revision, &new)?;
        if matches!(step, Step::Left(_)) {
            self.hers[course].labour = None;
        }
        self.note(course, sent, |hers| match step {
            Step::Left(_) => hers.left = true,
            Step::Told | Step::Seen => {}
            _ => hers.under_way = false,
        });
        Ok(())
    }

    /// Keeps in mind where she is, unless she was sent anew meanwhile.
    fn note(&mut self, course: usize, sent: Sent, change: impl FnOnce(&mut Sent)) {
        let last = &mut self.hers[course].referral;
        if let Some(last) = last.as_mut().filter(|last| last.id == sent.id) {
            change(last);
        }
    }

    fn answer(
        &mut self,
        at: Moment,
        course: usize,
        sent: Sent,
        (revision, arrived): (i32, bool),
    ) -> Result<()> {
        self.as_nurse(at, course);
        let way = if self.chance(course).happens(0.7) {
            AnswerWay::Paper
        } else {
            AnswerWay::Phone
        };
        let says = words::answer(sent.first_reason);
        let tells_outcome = self.chance(course).happens(0.9);
        let new = NewAnswer {
            arrived,
            arrived_at: None,
            seen_at: None,
            at: Some(at),
            way,
            diagnosis: arrived.then(|| says.diagnosis.to_owned()),
            treatment: arrived.then(|| says.treatment.to_owned()),
            mother_outcome: (arrived && tells_outcome).then(|| "well".to_owned()),
            baby_outcome: (arrived && tells_outcome).then(|| says.baby.to_owned()),
            follow_up: arrived.then(|| says.follow_up.to_owned()),
            given_by: Some("the maternity ward".to_owned()),
            given_on: None,
            request: None,
        };
        answers::record(self.change, sent.id, revision, &new)?;
        self.note(course, sent, |hers| hers.under_way = false);
        Ok(())
    }
}
