//! Does every deed in the order of time through the registry's own verbs, and lets people react to what it raises.

use std::cmp::Reverse;
use std::collections::BinaryHeap;

use anyhow::{Context, Result};
use chrono::TimeDelta;

use super::calendar::Course;
use super::chance::Chance;
use super::plan::{Deed, Entry, Step};
use super::rates::Rates;
use super::settle::{Post, Settled};
use super::tables::District;
use crate::clinical::{Category, Moment, Urgency};
use crate::registry::mothers::Registered;
use crate::registry::{Change, FlagId, LabourId, ReferralId, RegistryError};

/// Something that will be done.
#[derive(Debug)]
pub(super) enum Next {
    Deed(Deed),
    /// The midwife looks at a flag.
    Review(FlagId),
    /// One referral moves on.
    Step(Sent, Step),
    /// Somebody sends her for what stands: the nurse for `now`, the midwife also for `soon`.
    Send(Urgency),
    /// The birth is written down.
    WriteBirth(super::birth::Circumstances),
    /// The post hears of a loss.
    WriteLoss,
}

/// Where a woman stands in the register so far.
#[derive(Debug, Default)]
pub(super) struct Hers {
    pub registered: Option<Registered>,
    /// Her open labour record.
    pub labour: Option<LabourId>,
    /// Her last referral, and whether it is still on its way.
    pub referral: Option<Sent>,
    /// When the pregnancy ends, once something has moved it.
    pub end_moved: Option<Moment>,
    /// She will give birth in the hospital she was sent to.
    pub stays: bool,
    pub ended: bool,
}

#[derive(Debug, Clone, Copy)]
pub(super) struct Sent {
    pub id: ReferralId,
    pub urgency: Urgency,
    pub first_reason: Category,
    pub under_way: bool,
    pub left: bool,
    pub in_labour: bool,
}

/// The queue orders by moment, then by the order in which things were planned.
type Queued = (Moment, u64);

pub(super) struct Driver<'a, 'tx> {
    pub change: &'a mut Change<'tx>,
    pub district: &'a District,
    pub rates: &'a Rates,
    pub settled: &'a Settled,
    pub courses: &'a [Course],
    pub now: Moment,
    pub hers: Vec<Hers>,
    /// What the register refused, as it would have refused people; with good invention nothing.
    pub refused: Vec<String>,
    chances: Vec<Chance>,
    queue: BinaryHeap<Reverse<(Queued, usize)>>,
    waiting: Vec<Option<(usize, Next)>>,
}

impl<'a, 'tx> Driver<'a, 'tx> {
    pub(super) fn new(
        change: &'a mut Change<'tx>,
        (district, rates, settled): (&'a District, &'a Rates, &'a Settled),
        courses: &'a [Course],
        now: Moment,
    ) -> Self {
        Self {
            change,
            district,
            rates,
            settled,
            courses,
            now,
            hers: courses.iter().map(|_| Hers::default()).collect(),
            refused: Vec::new(),
            chances: courses
                .iter()
                .map(|course| course.story.chance.of(5))
                .collect(),
            queue: BinaryHeap::new(),
            waiting: Vec::new(),
        }
    }

    /// Something will be done at `at`; what lies after now is never done.
    pub(super) fn plan(&mut self, at: Moment, course: usize, next: Next) {
        if at <= self.now {
            let place = self.waiting.len();
            let number = u64::try_from(place).unwrap_or(u64::MAX);
            self.queue.push(Reverse(((at, number), place)));
            self.waiting.push(Some((course, next)));
        }
    }

    pub(super) fn plan_all(&mut self, entries: Vec<Entry>) {
        for entry in entries {
            self.plan(entry.at, entry.course, Next::Deed(entry.deed));
        }
    }

    /// Does everything that is planned before `until`, and what that brings.
    pub(super) fn run(&mut self, until: Moment) -> Result<()> {
        while let Some(Reverse(((at, _), place))) = self.queue.peek().copied() {
            if at >= until {
                break;
            }
            self.queue.pop();
            let Some((course, next)) = self.waiting.get_mut(place).and_then(Option::take) else {
                continue;
            };
            let what = format!("woman {course} on {at}: {}", words_of(&next));
            match self.one(at, course, next) {
                Err(error) if is_refusal(&error) => self.refused.push(format!("{what}: {error:#}")),
                done => done.context(what)?,
            }
        }
        Ok(())
    }

    fn one(&mut self, at: Moment, course: usize, next: Next) -> Result<()> {
        match next {
            Next::Deed(Deed::Register) => self.register(at, course),
            Next::Deed(Deed::Visit(found, appointment)) => {
                self.visit(at, course, *found, appointment)
            }
            Next::Deed(Deed::OpenLabour(began_at, row)) => {
                self.open_labour(at, course, began_at, *row)
            }
            Next::Deed(Deed::Row(row)) => self.row(at, course, *row),
            Next::Deed(Deed::End) => self.end(at, course),
            Next::Deed(Deed::Decide(category, urgency)) => {
                self.decide(at, course, (category, urgency))
            }
            Next::Deed(Deed::Step(step)) => match self.hers[course].referral {
                Some(sent) => self.step(at, course, sent, step),
                None => Ok(()),
            },
            Next::Step(sent, step) => self.step(at, course, sent, step),
            Next::Review(flag) => self.review(at, course, flag),
            Next::Send(urgency) => self.send(at, course, urgency),
            Next::WriteBirth(how) => self.write_birth(at, course, how),
            Next::WriteLoss => self.write_loss(at, course),
        }
    }

    pub(super) fn step_later(&mut self, at: Moment, course: usize, sent: Sent, step: Step) {
        self.plan(at, course, Next::Step(sent, step));
    }

    pub(super) fn chance(&mut self, course: usize) -> &mut Chance {
        &mut self.chances[course]
    }

    /// Some minutes later, between the two.
    pub(super) fn after(&mut self, at: Moment, course: usize, least: i64, most: i64) -> Moment {
        at + TimeDelta::minutes(self.chance(course).between(least, most))
    }

    pub(super) fn post(&self, course: usize) -> &'a Post {
        &self.settled.posts[self.courses[course].story.post]
    }

    pub(super) fn as_nurse(&mut self, at: Moment, course: usize) {
        let by = &self.post(course).nurse;
        self.change.as_of(by, at);
    }

    pub(super) fn as_midwife(&mut self, at: Moment, course: usize) {
        let by = &self.post(course).midwife;
        self.change.as_of(by, at);
    }

    /// Whether people do what they usually do; the women of today follow their script.
    pub(super) fn reacts(&self, at: Moment, course: usize) -> bool {
        self.courses[course]
            .scripted_from
            .is_none_or(|from| at < from)
    }
}

fn is_refusal(error: &anyhow::Error) -> bool {
    use RegistryError::{Missing, Refused, RefusedField, Stale};
    let known = error.downcast_ref::<RegistryError>();
    matches!(
        known,
        Some(Refused(_) | RefusedField { .. } | Missing(_) | Stale { .. })
    )
}

/// What was tried, without what was found.
fn words_of(next: &Next) -> String {
    let all = format!("{next:?}");
    all.chars().take(60).collect()
}
