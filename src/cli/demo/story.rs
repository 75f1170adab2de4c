//! What is true of one pregnancy, before anybody examines it: dates, babies, how they lie and grow, when it ends.
//!
//! Figures that are no rate of `seed-demo/rates.txt` are shapes chosen by us so that the rates come out.

use std::ops::RangeInclusive;

use chrono::{Datelike, Days};

use super::chance::{Chance, whole};
use super::rates::Rates;
use super::tables::{District, PostRow};
use crate::clinical::{Day, PastEvent, Scan};

/// How a baby lies over the brim.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Lying {
    Head,
    Breech,
    Across,
}

#[derive(Debug, Clone)]
pub(super) struct Baby {
    pub boy: bool,
    /// Standard deviations of its weight.
    pub size: f64,
}

/// Whether and how long the baby lives.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Life {
    Lives,
    /// Dead before labour; the skin peels.
    DiesBeforeLabour,
    DiesInLabour,
    /// After so many days, 0 to 6.
    DiesEarly(u8),
}

#[derive(Debug, Clone)]
pub(super) struct Woman {
    pub name: String,
    pub village: &'static str,
    pub phone: Option<String>,
    pub may_phone: bool,
    pub birth_year: i32,
    /// She tells an age instead of a year.
    pub tells_age: bool,
}

#[derive(Debug, Clone)]
pub(super) struct Story {
    /// Place of the post in the district's list.
    pub post: usize,
    pub woman: Woman,
    /// The true first day of the last period.
    pub period: Day,
    pub told_period: Option<Day>,
    pub period_certain: bool,
    pub scans: Vec<Scan>,
    pub births_before: u8,
    pub caesareans_before: u8,
    pub history: Vec<PastEvent>,
    pub babies: Vec<Baby>,
    /// Days of gestation at which it ends.
    pub ends_at: u16,
    pub life: Life,
    pub mother_dies: bool,
    /// Days from which the pressure is raised.
    pub pressure_from: Option<u16>,
    pub protein: bool,
    pub waters_early: bool,
    pub slow_labour: bool,
    pub back_left: bool,
    breech: f64,
    across: f64,
    breech_draw: f64,
    across_draw: f64,
    pub chance: Chance,
}

impl Story {
    /// A woman of one post whose last period began on `period`.
    pub(super) fn told(
        district: &District,
        rates: &Rates,
        post: usize,
        row: &PostRow,
        period: Day,
        mut chance: Chance,
    ) -> Self {
        let births_before = births_before(rates, &mut chance);
        let caesareans_before =
            u8::from(births_before > 0 && chance.happens(rates.caesarean_before));
        let babies = babies(rates, &mut chance);
        let ends_at = ends_at(rates, babies.len(), &mut chance);
        let certain = chance.unit();
        let period_certain = certain < rates.period_certain;
        let knows = certain < rates.period_certain + rates.period_uncertain;
        let off = chance
            .around(0.0, if period_certain { 2.5 } else { 14.0 })
            .round();
        Self {
            post,
            woman: woman(district, rates, row, births_before, period, &mut chance),
            period,
            told_period: knows.then(|| shifted(period, off)),
            period_certain,
            scans: Vec::new(),
            births_before,
            caesareans_before,
            history: if births_before == 0 {
                Vec::new()
            } else {
                history(rates, &mut chance)
            },
            life: life(rates, ends_at, &mut chance),
            mother_dies: ends_at >= 196 && chance.happens(rates.mothers_died),
            babies,
            ends_at,
            pressure_from: chance
                .happens(rates.raised_pressure)
                .then(|| whole(chance.around(231.0, 25.0), 168, 280)),
            protein: chance.happens(rates.with_protein),
            waters_early: chance.happens(rates.waters_early),
            slow_labour: chance.happens(rates.slow_labour),
            back_left: chance.happens(0.55),
            breech: rates.breech_near_term / rates.breech_at_28,
            across: rates.across_near_term / rates.across_at_28,
            breech_draw: chance.unit() / rates.breech_at_28,
            across_draw: chance.unit() / rates.across_at_28,
            chance,
        }
    }

    /// How the leading baby lies on a day of gestation. It turns to the head once and stays.
    pub(super) fn lying(&self, days: u16) -> Lying {
        let weeks_of_eight = (f64::from(days) - 196.0) / 56.0;
        // Falls by the same share every week through both published points; from 38 weeks on nothing turns any more.
        let left = |share: f64| share.powf(weeks_of_eight.clamp(-0.5, 1.25));
        if self.across_draw < left(self.across) {
            Lying::Across
        } else if self.breech_draw < left(self.breech) {
            Lying::Breech
        } else {
            Lying::Head
        }
    }

    /// Nothing befalls her but what is staged: one baby, head down, alive, not born before it was expected.
    pub(super) fn usual(&mut self) {
        self.told_period = Some(self.period);
        self.period_certain = true;
        self.babies.truncate(1);
        for baby in &mut self.babies {
            baby.size = 0.2;
        }
        (self.breech_draw, self.across_draw) = (f64::MAX, f64::MAX);
        self.life = Life::Lives;
        self.ends_at = 308;
        self.pressure_from = None;
        (
            self.waters_early,
            self.slow_labour,
            self.mother_dies,
            self.protein,
        ) = (false, false, false, false);
    }

    pub(super) fn twins(&self) -> bool {
        self.babies.len() > 1
    }

    /// Gestation in days, by the true period.
    pub(super) fn days_on(&self, day: Day) -> i64 {
        (day - self.period).num_days()
    }

    pub(super) fn day_at(&self, days: u16) -> Day {
        self.period + Days::new(u64::from(days))
    }

    pub(super) fn ends_on(&self) -> Day {
        self.day_at(self.ends_at)
    }

    pub(super) fn age_on(&self, day: Day) -> i32 {
        day.year() - self.woman.birth_year
    }

    /// An early scan before she came, at eight weeks or later, not after `booked`.
    pub(super) fn scan_before(&mut self, rates: &Rates, booked: u16) {
        if !self.chance.happens(rates.scanned) {
            return;
        }
        let latest = booked.min(160);
        if latest < 56 {
            return;
        }
        let at = self.chance.between(56, i64::from(latest));
        // Crown to rump errs by days, later measures by a week [O].
        let measured = self
            .chance
            .around(0.0, if at < 98 { 2.0 } else { 5.0 })
            .round();
        let at = u16::try_from(at).unwrap_or(56);
        let tells_number = self.chance.happens(0.85);
        self.scans.push(Scan {
            on: self.day_at(at),
            gestation_days: Some(whole(f64::from(at) + measured, 35, 294)),
            edd: None,
            babies: u8::try_from(self.babies.len())
                .ok()
                .filter(|_| tells_number),
        });
    }

    #[cfg(test)]
    pub(super) fn single(&self) -> bool {
        self.babies.len() == 1
    }
}

fn shifted(day: Day, off: f64) -> Day {
    let by = Days::new(u64::from(whole(off.abs(), 0, 40)));
    if off < 0.0 { day - by } else { day + by }
}

fn births_before(rates: &Rates, chance: &mut Chance) -> u8 {
    if chance.happens(rates.first_births) {
        return 0;
    }
    let mut births = 1;
    while births < 9 && chance.happens(0.52) {
        births += 1;
    }
    births
}

fn babies(rates: &Rates, chance: &mut Chance) -> Vec<Baby> {
    let two = chance.happens(rates.twins);
    (0..if two { 2 } else { 1 })
        .map(|_| Baby {
            boy: chance.happens(0.512),
            size: size(rates, chance) - if two { 0.8 } else { 0.0 },
        })
        .collect()
}

/// The tenth centile stands 1.2816 standard deviations below the middle.
fn size(rates: &Rates, chance: &mut Chance) -> f64 {
    if chance.happens(rates.small) {
        return -1.29 - chance.unit() * 0.9;
    }
    loop {
        let size = chance.around(0.05, 0.95);
        if size > -1.28 {
            return size;
        }
    }
}

fn ends_at(rates: &Rates, babies: usize, chance: &mut Chance) -> u16 {
    let way = chance.unit();
    let tail = |chance: &mut Chance, mean: f64| -> f64 { -mean * (1.0 - chance.unit()).ln() };
    let days = if way < rates.losses {
        126.0 + chance.unit() * 69.0
    } else if way < rates.losses + rates.preterm {
        258.0 - tail(chance, 11.0).min(60.0)
    } else if way < rates.losses + rates.preterm + rates.past_41 {
        287.0 + tail(chance, 2.5).min(11.0)
    } else {
        chance.around(275.0, 6.0).clamp(259.0, 286.0)
    };
    let days = if babies > 1 { days - 18.0 } else { days };
    whole(days, 126, 300)
}

fn life(rates: &Rates, ends_at: u16, chance: &mut Chance) -> Life {
    // Deaths gather where babies are early: five times as often before 37 weeks, made up for at term.
    let early = if ends_at < 259 { 4.0 } else { 0.67 };
    let way = chance.unit();
    let stillborn = rates.stillbirths * early;
    if ends_at < 196 || way < stillborn * rates.stillborn_before_labour {
        Life::DiesBeforeLabour
    } else if way < stillborn {
        Life::DiesInLabour
    } else if way < stillborn + rates.early_deaths * early {
        Life::DiesEarly(u8::try_from(chance.between(0, 6).min(chance.between(0, 6))).unwrap_or(0))
    } else {
        Life::Lives
    }
}

fn history(rates: &Rates, chance: &mut Chance) -> Vec<PastEvent> {
    [
        (PastEvent::Stillbirth, rates.past_stillbirth),
        (PastEvent::EarlyDeath, rates.past_early_death),
        (PastEvent::HeavyBleeding, rates.past_bleeding),
        (PastEvent::Convulsions, rates.past_fits),
        (PastEvent::SevereTear, rates.past_tear),
        (PastEvent::AssistedBirth, rates.past_instruments),
    ]
    .into_iter()
    .filter(|(_, share)| chance.happens(*share))
    .map(|(event, _)| event)
    .collect()
}

fn woman(
    district: &District,
    rates: &Rates,
    row: &PostRow,
    births_before: u8,
    period: Day,
    chance: &mut Chance,
) -> Woman {
    let mut given = || chance.one_of(&district.given).copied().unwrap_or("Ayla");
    let given = given();
    let family = chance
        .one_of(&district.families)
        .copied()
        .unwrap_or("Brennoch");
    let usual = 22.0 + 2.6 * f64::from(births_before);
    let ages: RangeInclusive<u16> = (16 + 2 * u16::from(births_before))..=44;
    let age = whole(chance.around(usual, 3.6), *ages.start(), *ages.end());
    let phone = chance
        .happens(rates.phone)
        .then(|| format!("0555 {:04}", chance.between(1000, 9999)));
    Woman {
        name: format!("{given} {family}"),
        village: chance
            .one_of(&row.villages)
            .copied()
            .unwrap_or("Brackwater"),
        may_phone: chance.happens(rates.may_be_phoned),
        phone,
        birth_year: period.year() - i32::from(age),
        tells_age: chance.happens(rates.age_not_year),
    }
}
