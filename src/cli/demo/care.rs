//! Registering, visits and labours; and what follows from the flags that they raise.

use anyhow::Result;

use super::birth::local_day;
use super::driver::{Driver, Next};
use crate::clinical::{Dating, Day, LabourRow, Liquor, Moment, Urgency, Visit, Waters};
use crate::registry::findings::Findings;
use crate::registry::flags;
use crate::registry::labours::{self, NewLabour, NewRow};
use crate::registry::mothers::{self, Born, NewMother, Person, Registered};
use crate::registry::pregnancies::{self, Facts};
use crate::registry::visits::{self, NewVisit};

impl Driver<'_, '_> {
    pub(super) fn register(&mut self, at: Moment, course: usize) -> Result<()> {
        self.as_nurse(at, course);
        let today = local_day(at);
        let again = self.courses[course]
            .again_of
            .and_then(|earlier| self.hers[earlier].registered);
        let facts = self.facts(course);
        let registered = match again {
            // She is known here: her earlier pregnancy may still stand open because nobody told of its end.
            Some(known) if self.hers[self.courses[course].again_of.unwrap_or(course)].ended => {
                let pregnancy = pregnancies::open(self.change, known.mother, &facts)?;
                Registered { pregnancy, ..known }
            }
            _ => {
                let new = NewMother {
                    person: self.person(course, today),
                    facts,
                    request_key: None,
                };
                mothers::register(self.change, &new)?
            }
        };
        self.hers[course].registered = Some(registered);
        self.react(at, course)
    }

    fn person(&mut self, course: usize, today: Day) -> Person {
        let story = &self.courses[course].story;
        let woman = &story.woman;
        let born = if woman.tells_age {
            let years = u8::try_from(story.age_on(today).clamp(12, 50)).unwrap_or(25);
            Born::Age {
                years,
                told_on: today,
            }
        } else {
            Born::Year(woman.birth_year)
        };
        Person {
            name: woman.name.clone(),
            village: Some(woman.village.to_owned()),
            may_phone: woman.phone.is_some().then_some(woman.may_phone),
            phone: woman.phone.clone(),
            born,
        }
    }

    fn facts(&self, course: usize) -> Facts {
        let story = &self.courses[course].story;
        Facts {
            dating: Dating {
                lmp: story.told_period,
                lmp_certain: story.told_period.map(|_| story.period_certain),
                scans: story.scans.clone(),
            },
            births_before: Some(story.births_before),
            previous_caesareans: Some(story.caesareans_before),
            history: story.history.clone(),
            ..Facts::default()
        }
    }

    pub(super) fn visit(
        &mut self,
        at: Moment,
        course: usize,
        found: Visit,
        next_visit_on: Option<Day>,
    ) -> Result<()> {
        let Some(registered) = self.pregnant(course) else {
            return Ok(());
        };
        self.as_nurse(at, course);
        let findings = Findings {
            bladder_empty: found.palpation.is_some().then_some(true),
            signs_asked: true,
            next_visit_on,
            visit: found,
            ..Findings::at(at)
        };
        let recorded = visits::record(
            self.change,
            &NewVisit {
                pregnancy: registered.pregnancy,
                findings,
                request_key: None,
            },
        )?;
        let silent = recorded
            .assessment
            .is_some_and(|judged| judged.flags.is_empty());
        if silent {
            return Ok(());
        }
        self.react(at, course)
    }

    pub(super) fn open_labour(
        &mut self,
        at: Moment,
        course: usize,
        began_at: Moment,
        row: LabourRow,
    ) -> Result<()> {
        let Some(registered) = self.pregnant(course) else {
            return Ok(());
        };
        let away = self.hers[course].stays
            || self.hers[course]
                .referral
                .is_some_and(|sent| sent.under_way && sent.left);
        if away {
            return Ok(());
        }
        self.as_nurse(at, course);
        let intact = row.liquor == Some(Liquor::Intact);
        let new = NewLabour {
            pregnancy: registered.pregnancy,
            began_at: Some(began_at),
            waters: Some(if intact {
                Waters::Intact
            } else {
                Waters::Broken
            }),
            waters_broke_at: None,
            first: as_row(row),
            request: None,
        };
        self.hers[course].labour = Some(labours::open(self.change, &new)?);
        self.react(at, course)
    }

    pub(super) fn row(&mut self, at: Moment, course: usize, row: LabourRow) -> Result<()> {
        let (Some(_), Some(labour)) = (self.pregnant(course), self.hers[course].labour) else {
            return Ok(());
        };
        self.as_nurse(at, course);
        labours::add_row(self.change, labour, &as_row(row), None)?;
        self.react(at, course)
    }

    /// Her place in the register, while the pregnancy lasts.
    pub(super) fn pregnant(&self, course: usize) -> Option<Registered> {
        let hers = &self.hers[course];
        hers.registered.filter(|_| !hers.ended)
    }

    /// What people do about the flags that were raised just now.
    fn react(&mut self, at: Moment, course: usize) -> Result<()> {
        let Some(registered) = self.pregnant(course).filter(|_| self.reacts(at, course)) else {
            return Ok(());
        };
        let raised = flags::of_pregnancy(self.change.reader(), registered.pregnancy)?;
        let raised = raised
            .into_iter()
            .filter(|flag| flag.raised_at == at && flag.waits());
        let mut sends = false;
        for flag in raised {
            let (least, most) = match flag.urgency {
                Urgency::Now => {
                    sends = true;
                    (60, 20 * 60)
                }
                Urgency::Soon => (2 * 60, 60 * 60),
                Urgency::Review => (3 * 60, 90 * 60),
                Urgency::Recheck => continue,
            };
            if !self.rates_happen(course, |rates| rates.flag_forgotten) {
                let when = self.after(at, course, least, most);
                self.plan(when, course, Next::Review(flag.id));
            }
        }
        if sends {
            let when = self.after(at, course, 6, 24);
            self.plan(when, course, Next::Send(Urgency::Now));
        }
        Ok(())
    }

    pub(super) fn rates_happen(
        &mut self,
        course: usize,
        share: impl Fn(&super::rates::Rates) -> f64,
    ) -> bool {
        let share = share(self.rates);
        self.chance(course).happens(share)
    }
}

fn as_row(found: LabourRow) -> NewRow {
    NewRow {
        counted_together: false,
        note: None,
        found,
    }
}
