//! What is written down of a birth, and which of it cannot be true together.
//!
//! Definitions and edges: clinical reference, part 6.2; ranges: its `assess` input.

use crate::clinical::{Day, Moment};
use crate::registry::vocabulary::{
    BirthPlace, BirthPresentation, Mode, MotherOutcome, NewbornState, Onset, Sex,
};

/// Babies of one birth, as for `babies` on a scan.
pub const MOST_BABIES: usize = 6;
/// Grams within which a scale is believed \[O\].
pub const WEIGHT_G: std::ops::RangeInclusive<i32> = 300..=6500;

/// One birth: the mother's side, and every baby in the order in which they were born.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BirthRecord {
    /// How the labour began.
    pub onset: Onset,
    /// How she is.
    pub mother_outcome: MotherOutcome,
    /// Only with [`MotherOutcome::Died`].
    pub mother_died_on: Option<Day>,
    /// Anything the midwife should know.
    pub note: Option<String>,
    /// 1 to 6, the first-born first.
    pub newborns: Vec<Newborn>,
}

/// One baby.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Newborn {
    /// The day at the post.
    pub born_on: Day,
    /// The moment, when the time is known; on `born_on` at the post.
    pub born_at: Option<Moment>,
    /// Where.
    pub place: BirthPlace,
    /// How.
    pub mode: Mode,
    /// What came first.
    pub presentation: BirthPresentation,
    /// Absent: not written down.
    pub sex: Option<Sex>,
    /// 300 to 6500 g.
    pub weight_g: Option<i32>,
    /// 0 to 10.
    pub apgar_1: Option<i32>,
    /// 0 to 10.
    pub apgar_5: Option<i32>,
    /// Any sign of life makes it alive, at any week.
    pub state: NewbornState,
    /// Born alive and died afterwards.
    pub died: bool,
    /// The day at the post.
    pub died_on: Option<Day>,
    /// The moment, when the time is known.
    pub died_at: Option<Moment>,
    /// A malformation that cannot be survived; absent: not looked for.
    pub lethal_malformation: Option<bool>,
    /// The last day on which somebody saw the baby alive.
    pub seen_alive_on: Option<Day>,
}

/// A question of the form; a baby's questions carry its place, counted from 1.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Asked {
    /// How many babies there are.
    Babies,
    /// The day of the mother's death.
    MotherDiedOn,
    /// A baby's question, by the name of its field.
    Baby(usize, &'static str),
}

/// Two answers that cannot both be true, or one that cannot be true at all.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Contradiction {
    /// The question beside which it is said; the words name the other one.
    pub asked: Asked,
    /// In words for the nurse.
    pub words: String,
}

/// Moments against which a birth is held.
#[derive(Debug, Clone, Copy)]
pub struct Bounds {
    /// Today at the post.
    pub today: Day,
    /// Now.
    pub now: Moment,
    /// First day of her last period, when it is known.
    pub last_period: Option<Day>,
}

impl BirthRecord {
    /// Everything in it that cannot be true; empty when it may be kept.
    #[must_use]
    pub fn contradictions(&self, bounds: &Bounds) -> Vec<Contradiction> {
        let mut found = Vec::new();
        let mut say = |asked, words: &str| {
            found.push(Contradiction {
                asked,
                words: words.to_owned(),
            });
        };
        if self.newborns.is_empty() || self.newborns.len() > MOST_BABIES {
            say(Asked::Babies, "A birth has one to six babies.");
        }
        let first_day = self.newborns.first().map(|baby| baby.born_on);
        match (self.mother_outcome, self.mother_died_on) {
            (MotherOutcome::Died, Some(day)) => {
                if day > bounds.today {
                    say(Asked::MotherDiedOn, "This day has not come yet.");
                }
                if first_day.is_some_and(|born| day < born) {
                    say(
                        Asked::MotherDiedOn,
                        "She cannot have died before the day of the birth.",
                    );
                }
            }
            (_, Some(_)) => {
                say(
                    Asked::MotherDiedOn,
                    "A day of death stands here, but “Mother now” is not “died”.",
                );
            }
            (_, None) => {}
        }
        for (place, baby) in self.newborns.iter().enumerate() {
            let before = place
                .checked_sub(1)
                .and_then(|before| self.newborns.get(before));
            for (field, words) in baby.contradictions(before, bounds) {
                say(Asked::Baby(place + 1, field), words);
            }
        }
        found
    }
}

impl Newborn {
    fn contradictions(
        &self,
        elder: Option<&Self>,
        bounds: &Bounds,
    ) -> Vec<(&'static str, &'static str)> {
        let dead = self.state != NewbornState::Alive;
        let outside = |value: Option<i32>, range: &std::ops::RangeInclusive<i32>| {
            value.is_some_and(|value| !range.contains(&value))
        };
        let day_and_moment =
            |moment: Option<Moment>, limit: Moment| moment.is_some_and(|it| it > limit);
        let checks = [
            (
                "born_on",
                self.born_on > bounds.today,
                "This day has not come yet.",
            ),
            (
                "born_on",
                bounds
                    .last_period
                    .is_some_and(|period| self.born_on < period),
                "This day is before her last period. One of the two is wrong.",
            ),
            (
                "born_on",
                elder.is_some_and(|elder| self.born_on < elder.born_on),
                "This baby is before the one above. Put the first-born first.",
            ),
            (
                "born_time",
                day_and_moment(self.born_at, bounds.now),
                "This time has not come yet.",
            ),
            (
                "born_time",
                elder.is_some_and(|elder| {
                    elder.born_on == self.born_on
                        && both(self.born_at, elder.born_at, |mine, first| mine < first)
                }),
                "This baby is before the one above. Put the first-born first.",
            ),
            (
                "weight_g",
                outside(self.weight_g, &WEIGHT_G),
                "A weight is 300 to 6500 g.",
            ),
            (
                "apgar_1",
                outside(self.apgar_1, &(0..=10)),
                "Apgar is 0 to 10.",
            ),
            (
                "apgar_5",
                outside(self.apgar_5, &(0..=10)),
                "Apgar is 0 to 10.",
            ),
            (
                "state",
                dead && [self.apgar_1, self.apgar_5]
                    .iter()
                    .flatten()
                    .any(|points| *points > 0),
                "“Stillborn” and an Apgar above 0 cannot both be: any sign of life makes it alive.",
            ),
            (
                "state",
                dead && (self.died || self.died_on.is_some()),
                "“Stillborn” and “died later” cannot both be: whoever died later was born alive.",
            ),
            (
                "state",
                dead && self.seen_alive_on.is_some(),
                "“Stillborn” and a day on which the baby was seen alive cannot both be.",
            ),
            (
                "died_on",
                !self.died && self.died_on.is_some() && !dead,
                "A day of death stands here, but not that the baby died.",
            ),
            (
                "died_on",
                self.died_on.is_some_and(|day| day > bounds.today)
                    || day_and_moment(self.died_at, bounds.now),
                "This has not come yet.",
            ),
            (
                "died_on",
                self.died_on.is_some_and(|day| day < self.born_on)
                    || both(self.died_at, self.born_at, |died, born| died < born),
                "The baby cannot have died before it was born.",
            ),
            (
                "seen_alive_on",
                self.seen_alive_on.is_some_and(|day| day > bounds.today),
                "This day has not come yet.",
            ),
            (
                "seen_alive_on",
                self.seen_alive_on.is_some_and(|day| day < self.born_on),
                "This day is before the birth.",
            ),
            (
                "seen_alive_on",
                both(self.seen_alive_on, self.died_on, |seen, died| seen > died),
                "This day is after the day of death.",
            ),
        ];
        checks
            .into_iter()
            .filter(|check| check.1)
            .map(|(field, _, words)| (field, words))
            .collect()
    }
}

fn both<T>(one: Option<T>, other: Option<T>, test: impl FnOnce(T, T) -> bool) -> bool {
    one.zip(other).is_some_and(|(one, other)| test(one, other))
}

#[cfg(test)]
mod tests;
