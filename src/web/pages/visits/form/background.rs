//! What a form without a mother asks instead of her register page: how far she is, and what lies behind her.

use chrono::TimeDelta;

use super::{tick, whole};
use crate::clinical::{self, Dating, Day, PastEvent, Scan};
use crate::web::form::{Choices, Faults, Field, Opt, Typed, parse};
use crate::web::pages::pregnancies::more_than_births;
use crate::web::spoken;

/// An early scan is taken to have been made at 12 weeks, or today where she is not that far.
const SCANNED_AT: i64 = 84;
/// A period longer ago than this belongs to another pregnancy.
const LONGEST_AGO: i64 = 52 * 7;

/// The background of findings that belong to nobody.
pub(in crate::web::pages::visits) struct Background {
    pub(in crate::web::pages::visits) weeks: Field<i64>,
    pub(in crate::web::pages::visits) days: Field<i64>,
    pub(in crate::web::pages::visits) lmp: Field<Day>,
    pub(in crate::web::pages::visits) early_scan: Field<bool>,
    pub(in crate::web::pages::visits) babies_on_scan: Field<u8>,
    pub(in crate::web::pages::visits) births_before: Field<u8>,
    pub(in crate::web::pages::visits) previous_caesareans: Field<u8>,
    pub(in crate::web::pages::visits) age_years: Field<u8>,
    pub(in crate::web::pages::visits) history: Choices<PastEvent>,
}

impl Background {
    /// Reads each answer by itself, then those that must agree; `visit` is the day of the findings.
    pub(in crate::web::pages::visits) fn read(typed: &Typed, visit: Option<Day>) -> Self {
        let mut background = Self {
            weeks: Field::read(typed, "weeks", "Weeks", whole(4..=46)),
            days: Field::read(typed, "days", "Days", whole(0..=6)),
            lmp: Field::read(typed, "lmp", "First day of the last period", parse::day),
            early_scan: tick(typed, "early_scan", "A scan before 22 weeks agrees"),
            babies_on_scan: Field::read(typed, "babies_on_scan", "Babies on a scan", whole(1..=6)),
            births_before: Field::read(typed, "births_before", "Births before", whole(0..=25)),
            previous_caesareans: Field::read(
                typed,
                "previous_caesareans",
                "Of these, caesareans",
                whole(0..=15),
            ),
            age_years: Field::read(typed, "age_years", "Her age", whole(8..=60)),
            history: Choices::read(typed, "history", "Did any of this happen?"),
        };
        background.look_together(visit);
        background
    }

    fn look_together(&mut self, visit: Option<Day>) {
        if self.days.value.is_some() && self.weeks.value.is_none() && self.weeks.fault.is_none() {
            self.weeks
                .refuse("write the weeks too; days alone are not enough");
        }
        if let (Some(lmp), Some(visit)) = (self.lmp.value, visit) {
            let ago = (visit - lmp).num_days();
            if self.weeks.value.is_some() {
                self.lmp
                    .refuse("give the weeks or the last period, not both");
            } else if ago < 0 {
                self.lmp
                    .refuse(format!("{} is after the findings", spoken::day(lmp)));
            } else if ago > LONGEST_AGO {
                self.lmp.refuse(format!(
                    "{} is more than 52 weeks before the findings; check the year, or leave the day empty",
                    spoken::day(lmp)
                ));
            }
        }
        let dates = [&self.weeks.typed, &self.days.typed, &self.lmp.typed];
        let dated = dates.iter().any(|text| !text.trim().is_empty());
        if self.early_scan.value == Some(true) && !dated {
            self.early_scan.refuse(
                "agrees with nothing; write the weeks or the last period, or take the tick back",
            );
        }
        let both = (self.births_before.value, self.previous_caesareans.value);
        if let (Some(births), Some(caesareans)) = both
            && let Some(why) = more_than_births(caesareans.into(), births.into())
        {
            self.previous_caesareans.refuse(why);
        }
    }

    pub(in crate::web::pages::visits) fn faults(&self) -> Faults {
        Faults::of(&[
            &self.weeks,
            &self.days,
            &self.lmp,
            &self.early_scan,
            &self.babies_on_scan,
            &self.births_before,
            &self.previous_caesareans,
            &self.age_years,
            &self.history,
        ])
    }

    /// What dates her, for findings of the day `visit`.
    pub(in crate::web::pages::visits) fn dating(&self, visit: Day) -> Dating {
        let by_weeks = self
            .weeks
            .value
            .map(|weeks| visit - TimeDelta::days(weeks * 7 + self.days.value.unwrap_or_default()));
        let lmp = self.lmp.value.or(by_weeks);
        let babies = self.babies_on_scan.value;
        let early = lmp.filter(|_| self.early_scan.value == Some(true));
        let scan = match early {
            Some(lmp) => {
                let days = (visit - lmp).num_days().min(SCANNED_AT);
                Some(Scan {
                    on: lmp + TimeDelta::days(days),
                    gestation_days: u16::try_from(days).ok(),
                    edd: None,
                    babies,
                })
            }
            None => babies.map(|_| Scan {
                on: visit,
                gestation_days: None,
                edd: None,
                babies,
            }),
        };
        Dating {
            lmp,
            lmp_certain: lmp.map(|_| true),
            scans: scan.into_iter().collect(),
        }
    }

    pub(in crate::web::pages::visits) fn mother(&self) -> clinical::Mother {
        clinical::Mother {
            births_before: self.births_before.value,
            age_years: self.age_years.value,
            previous_caesareans: self.previous_caesareans.value,
            history: self.history.values.clone(),
        }
    }

    /// Whether the part that may stay closed holds an answer.
    pub(in crate::web::pages::visits) fn says_more(&self) -> bool {
        let typed = [
            &self.lmp.typed,
            &self.babies_on_scan.typed,
            &self.age_years.typed,
        ];
        let wrong = Faults::of(&[
            &self.lmp,
            &self.early_scan,
            &self.babies_on_scan,
            &self.age_years,
            &self.history,
        ]);
        typed.iter().any(|text| !text.trim().is_empty())
            || !wrong.is_empty()
            || !self.early_scan.typed.is_empty()
            || !self.history.typed.is_empty()
    }

    pub(in crate::web::pages::visits) fn past_events(&self) -> Vec<Opt> {
        Opt::every::<PastEvent>()
    }
}
