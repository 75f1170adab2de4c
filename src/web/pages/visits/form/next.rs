//! The day agreed for the next visit.

use chrono::TimeDelta;

use super::Shape;
use crate::clinical::Day;
use crate::web::form::{Asked, Field, Opt, Typed, parse};
use crate::web::spoken;

/// No appointment is made further ahead [O].
const FURTHEST: TimeDelta = TimeDelta::days(300);
/// From here on she comes weekly [P].
const NEAR_TERM: i64 = 252;

/// A proposed day, another day, or none.
pub(crate) struct NextVisit {
    pub(in crate::web::pages::visits) choice: Field<Option<Day>>,
    pub(in crate::web::pages::visits) on: Field<Day>,
}

impl NextVisit {
    pub(super) fn read(typed: &Typed, shape: Shape) -> Self {
        let choice = Field::read(typed, "next_visit", "Next visit", |text| match text {
            "other" => Ok(None),
            text => parse::day(text).map(Some),
        });
        let mut next = Self {
            choice: choice.first_choice("other"),
            on: Field::read(
                typed,
                "next_visit_on",
                "Next visit, another day",
                parse::day,
            ),
        };
        let named = next.on.value.is_some() || next.on.fault.is_some();
        if next.choice.value == Some(None) && !named && shape == Shape::Drawing {
            next.on.refuse("write the day, or choose “None booked”");
        }
        next
    }

    /// The day agreed. A day in the box counts unless a proposed one was chosen.
    pub(super) fn day(&self) -> Option<Day> {
        self.choice.value.flatten().or(self.on.value)
    }

    /// Not on the day of the visit, not before it, not further ahead than a pregnancy lasts.
    pub(super) fn after(&mut self, visit: Option<Day>) {
        let (Some(visit), Some(day)) = (visit, self.day()) else {
            return;
        };
        let why = if day <= visit {
            "is not after this visit"
        } else if day - visit > FURTHEST {
            "is more than 300 days ahead"
        } else {
            return;
        };
        match self.choice.value.flatten() {
            Some(_) => self.choice.refuse(why),
            None => self.on.refuse(why),
        }
    }

    pub(super) fn asked(&self) -> [&dyn Asked; 2] {
        [&self.choice, &self.on]
    }

    /// Proposed days, and the one that was chosen where it is none of them.
    pub(in crate::web::pages::visits) fn proposals(
        &self,
        today: Day,
        gestation: Option<i64>,
    ) -> Vec<Opt> {
        let near = gestation.is_some_and(|days| days >= NEAR_TERM);
        let weeks: &[i64] = if near { &[1, 2] } else { &[2, 4] };
        let mut days: Vec<Day> = weeks
            .iter()
            .map(|it| today + TimeDelta::weeks(*it))
            .collect();
        days.extend(
            self.choice
                .value
                .flatten()
                .filter(|day| !days.contains(day)),
        );
        days.into_iter()
            .map(|day| {
                let words = format!("{} {}", day.format("%a"), spoken::short_day(day));
                let ahead = (day - today).num_days();
                let says = match ahead % 7 {
                    0 => format!("in {}", spoken::count(ahead / 7, "week", "weeks")),
                    _ => format!("in {}", spoken::count(ahead, "day", "days")),
                };
                Opt::new(day.format("%Y-%m-%d").to_string(), words).saying(says)
            })
            .collect()
    }
}
