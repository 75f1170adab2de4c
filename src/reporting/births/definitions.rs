//! Who counts as born alive, stillborn, dead early, small: definitions and their edges.
//!
//! Sources by short name: BMC09 = BMC Pregnancy Childbirth 2009;9 Suppl 1:S2, table 1, quoting ICD-10 · MET = the glossary
//! `METeoR`, items 733258 and 327250, quoting WHO ICD-10 · VUL = newborn types in 15 countries, LSHTM data guide 3690.

use crate::clinical::newborn::{self, WeightTable};
use crate::clinical::{Day, Moment};
use crate::registry::extract::BabyLine;
use crate::registry::{MotherOutcome, NewbornState, Sex};

/// 28w+0d: from here on a death before birth is reported (BMC09).
const REPORTED_FROM_DAYS: i64 = 196;
/// Stands in for 28 weeks when the gestation is not known [O].
const REPORTED_FROM_G: i64 = 1000;
/// Up to and including 2499 g a weight is low (MET).
const LOW_BELOW_G: i64 = 2500;
/// 37w+0d: under it a birth is preterm (VUL).
const PRETERM_BELOW_DAYS: i64 = 259;
/// Day 0 is the day of birth, day 6 the last early one (MET).
const EARLY_DAYS: i64 = 6;
const EARLY_SECONDS: i64 = 168 * 3600;
const FIRST_DAY_SECONDS: i64 = 24 * 3600;
/// The 42nd day after the end of a pregnancy still counts (ICD-10; that the 42nd counts [O]).
const MATERNAL_DAYS: i64 = 42;
/// News on this day or later means that the first week was survived.
const DAY_AFTER_THE_WEEK: i64 = 7;

/// As what a baby is counted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CountsAs {
    /// Any sign of life, at any gestation.
    Live,
    /// No sign of life, and far enough on to be reported.
    Stillbirth,
    /// No sign of life, and not far enough on.
    NotReported,
}

/// As what a baby counts by its signs of life, its gestation in days and its weight in grams.
#[must_use]
pub fn counts_as(
    sign_of_life: bool,
    gestation_days: Option<i64>,
    weight_g: Option<i64>,
) -> CountsAs {
    let far_enough = match (gestation_days, weight_g) {
        (Some(days), _) => days >= REPORTED_FROM_DAYS,
        (None, Some(grams)) => grams >= REPORTED_FROM_G,
        // A death must not vanish because nobody wrote down how old or heavy the baby was [O].
        (None, None) => true,
    };
    match (sign_of_life, far_enough) {
        (true, _) => CountsAs::Live,
        (false, true) => CountsAs::Stillbirth,
        (false, false) => CountsAs::NotReported,
    }
}

/// Gestation and weight disagree about whether a baby without a sign of life is to be reported.
#[must_use]
pub fn criteria_disagree(
    sign_of_life: bool,
    gestation_days: Option<i64>,
    weight_g: Option<i64>,
) -> bool {
    let by_days = gestation_days.map(|days| days >= REPORTED_FROM_DAYS);
    let by_weight = weight_g.map(|grams| grams >= REPORTED_FROM_G);
    !sign_of_life
        && by_days
            .zip(by_weight)
            .is_some_and(|(days, weight)| days != weight)
}

/// A birth or a death: the day at the post, and the moment when the time is known.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct When {
    /// Day at the post.
    pub on: Option<Day>,
    /// Moment.
    pub at: Option<Moment>,
}

/// The age at death was under 168 h, or by days at most 6; absent when the day of death is not known.
#[must_use]
pub fn died_early(born: When, died: When) -> Option<bool> {
    match age_in_seconds(born, died) {
        Some(age) => Some(age < EARLY_SECONDS),
        None => Some(age_in_days(born, died)? <= EARLY_DAYS),
    }
}

/// The age at death was under 24 h; absent when it may have been.
#[must_use]
pub fn died_in_24_h(born: When, died: When) -> Option<bool> {
    if let Some(age) = age_in_seconds(born, died) {
        return Some(age < FIRST_DAY_SECONDS);
    }
    match age_in_days(born, died)? {
        0 => Some(true),
        1 => None,
        _ => Some(false),
    }
}

fn age_in_seconds(born: When, died: When) -> Option<i64> {
    Some(died.at?.signed_duration_since(born.at?).num_seconds())
}

fn age_in_days(born: When, died: When) -> Option<i64> {
    Some(died.on?.signed_duration_since(born.on?).num_days())
}

/// What the definitions make of one baby and its mother.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[expect(
    clippy::struct_excessive_bools,
    reason = "each is a column that a table counts"
)]
pub(super) struct Judged {
    /// Live, stillborn or not reported.
    pub(super) counts_as: CountsAs,
    /// Born alive and dead on day 0 to 6; absent when the day of death is not known.
    pub(super) early_death: Option<bool>,
    /// Born alive and dead within 24 h; absent when it may have been.
    pub(super) first_day_death: Option<bool>,
    /// Born alive and under 2500 g; absent without a weight.
    pub(super) low_weight: Option<bool>,
    /// Born alive before 37w+0d; absent without a gestation.
    pub(super) preterm: Option<bool>,
    /// Born alive and small for gestation; absent when it cannot be judged.
    pub(super) small: Option<bool>,
    /// See [`criteria_disagree`].
    pub(super) disagreeing: bool,
    /// A stillbirth with neither gestation nor weight.
    pub(super) neither: bool,
    /// Born alive, not known to have died, day 7 past and no news from it or later.
    pub(super) without_news: bool,
    /// Her death counts as a maternal one.
    pub(super) maternal_death: bool,
}

pub(super) fn judge(baby: &BabyLine) -> Judged {
    let alive = baby.state == Some(NewbornState::Alive.code());
    let (days, grams) = (baby.gestation_days, baby.weight_g);
    let counts_as = counts_as(alive, days, grams);
    let live = counts_as == CountsAs::Live;
    let died = baby.died == Some(true);
    let born = When {
        on: baby.born_on,
        at: baby.born_at,
    };
    let death = When {
        on: baby.died_on,
        at: baby.died_at,
    };
    Judged {
        counts_as,
        early_death: if live && died {
            died_early(born, death)
        } else {
            Some(false)
        },
        first_day_death: if live && died {
            died_in_24_h(born, death)
        } else {
            Some(false)
        },
        low_weight: grams.filter(|_| live).map(|grams| grams < LOW_BELOW_G),
        preterm: days.filter(|_| live).map(is_preterm),
        small: is_small(live, sex(baby.sex), narrow(days), narrow(grams)),
        disagreeing: criteria_disagree(alive, days, grams),
        neither: counts_as == CountsAs::Stillbirth && days.is_none() && grams.is_none(),
        without_news: live && !died && is_without_news(baby),
        maternal_death: baby.mother_outcome == Some(MotherOutcome::Died.code())
            && is_maternal(baby),
    }
}

fn is_without_news(baby: &BabyLine) -> bool {
    let past = baby.days_old.is_some_and(|days| days > DAY_AFTER_THE_WEEK);
    let seen_at = baby
        .seen_alive_on
        .zip(baby.born_on)
        .map(|(seen, born)| seen.signed_duration_since(born).num_days());
    past && seen_at.is_none_or(|days| days < DAY_AFTER_THE_WEEK)
}

/// A day of death that nobody wrote down counts: a death must not vanish [O].
fn is_maternal(baby: &BabyLine) -> bool {
    let after = baby.mother_died_on.zip(baby.last_born_on);
    after.is_none_or(|(died, end)| is_maternal_death(died.signed_duration_since(end).num_days()))
}

/// Her death so many days after the end of the pregnancy is a maternal one; day 0 is the end.
#[must_use]
pub fn is_maternal_death(days_after_end: i64) -> bool {
    days_after_end <= MATERNAL_DAYS
}

/// Whether a birth at so many days is preterm.
pub(in crate::reporting) fn is_preterm(gestation_days: impl Into<i64>) -> bool {
    gestation_days.into() < PRETERM_BELOW_DAYS
}

/// Born alive and small for gestation; absent when it cannot be judged.
pub(in crate::reporting) fn is_small(
    alive: bool,
    sex: Option<Sex>,
    gestation_days: Option<u16>,
    weight_g: Option<u16>,
) -> Option<bool> {
    let table = match sex? {
        Sex::Girl => WeightTable::Girls,
        Sex::Boy => WeightTable::Boys,
        Sex::Indeterminate => return None,
    };
    newborn::is_small(Some(table), gestation_days, weight_g).filter(|_| alive)
}

fn sex(code: Option<&str>) -> Option<Sex> {
    code?.parse().ok()
}

fn narrow(value: Option<i64>) -> Option<u16> {
    value.and_then(|value| u16::try_from(value).ok())
}

#[cfg(test)]
#[path = "definitions_tests.rs"]
mod tests;
