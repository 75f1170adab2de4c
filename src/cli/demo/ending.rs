//! Births and losses: where they happen and when the post writes them down.

use anyhow::Result;
use chrono::TimeDelta;

use super::birth::{Circumstances, local_day, record};
use super::driver::{Driver, Next};
use super::plan::Step;
use crate::clinical::Moment;
use crate::registry::births::{self, NewBirth};
use crate::registry::{BirthPlace, PregnancyEnding, StandDownReason, pregnancies};

impl Driver<'_, '_> {
    pub(super) fn end(&mut self, at: Moment, course: usize) -> Result<()> {
        let hers = &self.hers[course];
        let moved = hers.end_moved.is_some_and(|when| when != at);
        if moved || self.pregnant(course).is_none() {
            return Ok(());
        }
        if self.courses[course].story.ends_at < 196 {
            let heard = self.after(at, course, 24 * 60, 11 * 24 * 60);
            self.plan(heard, course, Next::WriteLoss);
            return Ok(());
        }
        let place = self.place(course);
        let waiting = self.hers[course]
            .referral
            .filter(|sent| sent.under_way && !sent.left);
        if let Some(sent) = waiting.filter(|_| place == BirthPlace::Here) {
            self.step(
                at,
                course,
                sent,
                Step::StoodDown(StandDownReason::BirthHere),
            )?;
        }
        if place != BirthPlace::Here && self.rates_happen(course, |rates| rates.never_told) {
            return Ok(());
        }
        let (least, most) = match place {
            BirthPlace::Here => (40, 3 * 60),
            BirthPlace::Hospital => (24 * 60, 8 * 24 * 60),
            _ => (6 * 60, 9 * 24 * 60),
        };
        let written = self.after(at, course, least, most);
        let sent = self.hers[course].stays;
        self.plan(
            written,
            course,
            Next::WriteBirth(Circumstances {
                born_at: at,
                place,
                sent,
            }),
        );
        Ok(())
    }

    fn place(&mut self, course: usize) -> BirthPlace {
        let hers = &self.hers[course];
        if hers.stays {
            return BirthPlace::Hospital;
        }
        if hers.labour.is_some() {
            return BirthPlace::Here;
        }
        // Of those who did not come to the post when labour began.
        let rates = *self.rates;
        let elsewhere = rates.born_at_home
            + rates.born_on_the_way
            + rates.born_at_hospital
            + rates.place_not_told;
        match self.chance(course).unit() * elsewhere {
            draw if draw < rates.born_at_home => BirthPlace::Home,
            draw if draw < rates.born_at_home + rates.born_on_the_way => BirthPlace::OnTheWay,
            draw if draw < elsewhere - rates.place_not_told => BirthPlace::Hospital,
            _ => BirthPlace::Unknown,
        }
    }

    pub(super) fn write_birth(
        &mut self,
        at: Moment,
        course: usize,
        how: Circumstances,
    ) -> Result<()> {
        let Some(registered) = self.pregnant(course) else {
            return Ok(());
        };
        self.as_nurse(at, course);
        let rates = self.rates;
        let story = &self.courses[course].story;
        let record = record(story, rates, how, local_day(at), self.chance(course));
        let new = NewBirth {
            pregnancy: registered.pregnancy,
            record,
            request: None,
        };
        births::record(self.change, &new)?;
        let hers = &mut self.hers[course];
        (hers.ended, hers.labour) = (true, None);
        Ok(())
    }

    pub(super) fn write_loss(&mut self, at: Moment, course: usize) -> Result<()> {
        let Some(registered) = self.pregnant(course) else {
            return Ok(());
        };
        self.as_nurse(at, course);
        let lost = at - TimeDelta::days(1);
        pregnancies::end(
            self.change,
            registered.pregnancy,
            PregnancyEnding::Loss,
            lost,
        )?;
        self.hers[course].ended = true;
        Ok(())
    }
}
