//! What is written down of a birth.

use chrono::{Days, TimeDelta};

use super::calendar::HOURS_EAST;
use super::chance::{Chance, whole};
use super::hands::between;
use super::rates::Rates;
use super::story::{Baby, Life, Lying, Story};
use crate::clinical::{Day, Moment};
use crate::registry::births::{BirthRecord, Newborn};
use crate::registry::{
    BirthPlace, BirthPresentation, Mode, MotherOutcome, NewbornState, Onset, Sex,
};

/// Median weights of both sexes together, day and grams, read off the published newborn standards
/// (Lancet 2014;384:857, below 33 weeks Lancet 2016;387:844) and rounded by us.
const WEIGHT: &[(f64, f64)] = &[
    (126.0, 230.0),
    (168.0, 620.0),
    (196.0, 1040.0),
    (224.0, 1690.0),
    (252.0, 2645.0),
    (266.0, 3020.0),
    (280.0, 3320.0),
    (294.0, 3540.0),
];

/// How and where it came to the birth.
#[derive(Debug, Clone, Copy)]
pub(super) struct Circumstances {
    pub born_at: Moment,
    pub place: BirthPlace,
    /// She was sent to the hospital.
    pub sent: bool,
}

/// The record, with the gaps that records have.
pub(super) fn record(
    story: &Story,
    rates: &Rates,
    how: Circumstances,
    written_on: Day,
    chance: &mut Chance,
) -> BirthRecord {
    let days = u16::try_from(story.days_on(local_day(how.born_at))).unwrap_or(story.ends_at);
    let mode = mode(story, rates, how, chance);
    let before_labour = mode == Mode::Caesarean && chance.happens(0.4);
    let first_day = local_day(how.born_at);
    let newborns = story
        .babies
        .iter()
        .enumerate()
        .map(|(place, baby)| {
            let after = TimeDelta::minutes(i64::try_from(place).unwrap_or_default() * 14);
            let at = Circumstances {
                born_at: how.born_at + after,
                ..how
            };
            newborn(
                story,
                rates,
                (baby, place),
                (at, mode, days),
                written_on,
                chance,
            )
        })
        .collect();
    BirthRecord {
        onset: match (before_labour, how.place) {
            (true, _) => Onset::CaesareanBeforeLabour,
            (_, BirthPlace::Hospital) if days >= 287 => Onset::Induced,
            (_, BirthPlace::Unknown) => Onset::Unknown,
            _ => Onset::Spontaneous,
        },
        mother_outcome: match how.place {
            _ if story.mother_dies => MotherOutcome::Died,
            BirthPlace::Unknown => MotherOutcome::Unknown,
            _ if chance.happens(0.03) => MotherOutcome::Ill,
            _ => MotherOutcome::Well,
        },
        mother_died_on: story.mother_dies.then_some(first_day),
        note: None,
        newborns,
    }
}

fn newborn(
    story: &Story,
    rates: &Rates,
    (baby, place): (&Baby, usize),
    (how, mode, days): (Circumstances, Mode, u16),
    written_on: Day,
    chance: &mut Chance,
) -> Newborn {
    let known = how.place != BirthPlace::Unknown;
    let born_on = local_day(how.born_at);
    let timed = matches!(how.place, BirthPlace::Here | BirthPlace::Hospital) && chance.happens(0.9);
    // Of two babies the second one lives unless both were dead before.
    let life = if place == 0 || story.life == Life::DiesBeforeLabour {
        story.life
    } else {
        Life::Lives
    };
    let died_on = match life {
        Life::DiesEarly(after) => {
            Some(born_on + Days::new(u64::from(after))).filter(|day| *day <= written_on)
        }
        _ => None,
    };
    let weighed =
        matches!(how.place, BirthPlace::Here | BirthPlace::Hospital) || chance.happens(0.35);
    let alive = matches!(life, Life::Lives | Life::DiesEarly(_));
    let apgar = |chance: &mut Chance, mean: f64| i32::from(whole(chance.around(mean, 0.9), 1, 10));
    let scored = alive && how.place == BirthPlace::Here;
    Newborn {
        born_on,
        born_at: timed.then_some(how.born_at),
        place: how.place,
        mode,
        presentation: match (story.lying(days), known, place) {
            (_, false, _) => BirthPresentation::Unknown,
            (Lying::Head, _, 0) => BirthPresentation::Cephalic,
            (Lying::Breech, _, 0) => BirthPresentation::Breech,
            (Lying::Across, _, 0) => BirthPresentation::Shoulder,
            _ => {
                if chance.happens(0.35) {
                    BirthPresentation::Breech
                } else {
                    BirthPresentation::Cephalic
                }
            }
        },
        sex: known.then_some(if baby.boy { Sex::Boy } else { Sex::Girl }),
        weight_g: (weighed && known && !chance.happens(rates.no_weight))
            .then(|| weight(baby, days)),
        apgar_1: scored.then(|| apgar(chance, 8.2)),
        apgar_5: scored.then(|| apgar(chance, 9.1)),
        state: match life {
            Life::DiesBeforeLabour => NewbornState::StillbornMacerated,
            Life::DiesInLabour => NewbornState::StillbornFresh,
            Life::Lives | Life::DiesEarly(_) => NewbornState::Alive,
        },
        died: died_on.is_some(),
        died_on,
        died_at: None,
        lethal_malformation: None,
        seen_alive_on: (life == Life::Lives && written_on > born_on).then_some(written_on),
    }
}

fn mode(story: &Story, rates: &Rates, how: Circumstances, chance: &mut Chance) -> Mode {
    match how.place {
        BirthPlace::Hospital => {
            let must = story.lying(story.ends_at) == Lying::Across;
            let likely = story.lying(story.ends_at) == Lying::Breech || story.caesareans_before > 0;
            let share = if how.sent {
                rates.caesarean_when_sent
            } else {
                rates.caesarean_by_choice
            };
            if must || chance.happens(if likely { 0.75 } else { share }) {
                Mode::Caesarean
            } else if chance.happens(0.06) {
                Mode::Assisted
            } else {
                Mode::Vaginal
            }
        }
        BirthPlace::Unknown => Mode::Unknown,
        _ => Mode::Vaginal,
    }
}

/// Grams in tens. One standard deviation is 19 % of the median before 32 weeks and 13 % at term, as in the standards.
fn weight(baby: &Baby, days: u16) -> i32 {
    let spread = between(&[(224.0, 0.19), (266.0, 0.133)], f64::from(days));
    let median = between(WEIGHT, f64::from(days)) * if baby.boy { 1.02 } else { 0.98 };
    i32::from(whole(median * (spread * baby.size).exp() / 10.0, 30, 650)) * 10
}

/// The calendar day at the post.
pub(super) fn local_day(at: Moment) -> Day {
    (at + TimeDelta::hours(i64::try_from(HOURS_EAST).unwrap_or_default())).date()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn weights_stand_where_the_published_centiles_stand() {
        // Tenth and fiftieth centile, boys and girls: newborn size standards, Lancet 2014;384:857. Near day 231, where two
        // standards meet and the printed tenth centile drops by 70 g, the invented weights stay smooth.
        for (boy, days, p10, p50) in [
            (true, 259, 2380, 2890),
            (false, 280, 2779, 3260),
            (true, 280, 2880, 3380),
        ] {
            let off = |size: f64, published: i32| {
                let grams = weight(&Baby { boy, size }, days);
                f64::from((grams - published).abs()) / f64::from(published)
            };
            assert!(
                off(0.0, p50) < 0.05,
                "median at {days}: {}",
                weight(&Baby { boy, size: 0.0 }, days)
            );
            assert!(
                off(-1.2816, p10) < 0.08,
                "tenth at {days}: {}",
                weight(&Baby { boy, size: -1.2816 }, days)
            );
        }
    }
}
