//! Who comes when: the women of two years, the day each is registered, and her planned visits.

use chrono::{Datelike, Days, Months, NaiveTime};

use super::chance::{Chance, whole};
use super::rates::Rates;
use super::story::Story;
use super::tables::District;
use crate::clinical::{Day, Moment};

/// How many pregnancies the register holds.
pub(super) const PREGNANCIES: usize = 1_500;
/// One in so many is the second of the same woman.
const AGAIN: usize = 40;
/// Whole months before the running one.
const MONTHS: u32 = 24;
/// Weeks of the eight contacts that the World Health Organization recommends (ANC 2016), and the weekly ones after [O].
const CONTACTS: &[u16] = &[12, 20, 26, 30, 34, 36, 38, 40, 41];
/// All posts stand two hours east of UTC.
pub(super) const HOURS_EAST: u64 = 2;

/// A story with its place in the calendar.
#[derive(Debug, Clone)]
pub(super) struct Course {
    pub story: Story,
    /// When she is registered; the first visit is at once.
    pub booked_at: Moment,
    /// The earlier pregnancy of the same woman, by its place in the list.
    pub again_of: Option<usize>,
    /// In order of time; the first is that of the registration.
    pub visits: Vec<Planned>,
    /// From here on only the script of `seed-demo/staged.txt` speaks, and nobody reacts.
    pub scripted_from: Option<Moment>,
}

/// A visit that takes place, and the day on which she is asked to come next.
#[derive(Debug, Clone, Copy)]
pub(super) struct Planned {
    pub at: Moment,
    pub next: Option<Day>,
}

/// The first day of the register: that of the month two years before the running one.
pub(super) fn first_day(today: Day) -> Day {
    let month = today.with_day(1).unwrap_or(today);
    month
        .checked_sub_months(Months::new(MONTHS))
        .unwrap_or(month)
}

/// The courses of every invented woman up to `now`, the same for the same day.
pub(super) fn courses(
    (district, rates): (&District, &Rates),
    pregnancies: usize,
    now: Moment,
    chance: &Chance,
) -> Vec<Course> {
    let mut courses = Vec::with_capacity(pregnancies);
    let mut number = 0;
    while courses.len() < pregnancies - pregnancies / AGAIN {
        number += 1;
        courses.extend(first_course(district, rates, now, chance.of(number)));
    }
    for earlier in 0..courses.len() {
        if courses.len() == pregnancies {
            break;
        }
        courses.extend(second_course(
            district,
            rates,
            now,
            (earlier, &courses[earlier]),
        ));
    }
    courses
}

fn first_course(
    district: &District,
    rates: &Rates,
    now: Moment,
    mut chance: Chance,
) -> Option<Course> {
    let today = now.date();
    let begin = first_day(today);
    let post = post_of(district, &mut chance);
    let period = begin - Days::new(250)
        + Days::new(days(chance.between(0, (today - begin).num_days() + 200)));
    let story = Story::told(district, rates, post, &district.posts[post], period, chance);
    booked(story, rates, now, begin, None)
}

/// The next pregnancy of a woman whose first one in the register is long over.
fn second_course(
    district: &District,
    rates: &Rates,
    now: Moment,
    (place, earlier): (usize, &Course),
) -> Option<Course> {
    let mut chance = earlier.story.chance.of(2);
    let period = earlier.story.ends_on() + Days::new(days(chance.between(150, 260)));
    if period + Days::new(90) > now.date() || earlier.story.mother_dies {
        return None;
    }
    let post = earlier.story.post;
    let mut story = Story::told(district, rates, post, &district.posts[post], period, chance);
    story.woman = earlier.story.woman.clone();
    story.births_before = earlier.story.births_before + u8::from(earlier.story.ends_at >= 196);
    story.caesareans_before = earlier.story.caesareans_before.min(story.births_before);
    booked(story, rates, now, period, Some(place))
}

/// Absent when she would first come after today or after the end.
fn booked(
    mut story: Story,
    rates: &Rates,
    now: Moment,
    begin: Day,
    again_of: Option<usize>,
) -> Option<Course> {
    let at = whole(story.chance.around(118.0, 30.0), 49, 250);
    let mut day = story.day_at(at);
    if day < begin {
        day = begin + Days::new(days(story.chance.between(0, 40)));
    }
    let booked = u16::try_from(story.days_on(day)).ok()?;
    if booked + 4 > story.ends_at {
        return None;
    }
    let booked_at = in_hours(day, &mut story.chance);
    if booked_at > now {
        return None;
    }
    story.scan_before(rates, booked);
    let visits = visits(&mut story, rates, booked_at, now);
    Some(Course {
        story,
        booked_at,
        again_of,
        visits,
        scripted_from: None,
    })
}

/// A moment while the post is open, eight to half past three by its own clock.
pub(super) fn in_hours(day: Day, chance: &mut Chance) -> Moment {
    let minutes = chance.between(8 * 60, 15 * 60 + 30);
    at_minute(day, days(minutes))
}

/// Minutes after local midnight, as a moment in UTC.
pub(super) fn at_minute(day: Day, minutes: u64) -> Moment {
    let midnight = day.and_time(NaiveTime::MIN);
    midnight + chrono::TimeDelta::minutes(i64::try_from(minutes).unwrap_or_default())
        - chrono::TimeDelta::hours(i64::try_from(HOURS_EAST).unwrap_or_default())
}

fn visits(story: &mut Story, rates: &Rates, booked_at: Moment, now: Moment) -> Vec<Planned> {
    let booked = u16::try_from(story.days_on(booked_at.date())).unwrap_or_default();
    let mut planned: Vec<u16> = CONTACTS
        .iter()
        .map(|week| week * 7)
        .filter(|day| *day > booked + 10)
        .map(|day| whole(story.chance.around(f64::from(day), 2.5), day - 5, day + 6))
        .collect();
    planned.dedup_by(|later, earlier| *later < *earlier + 3);
    let day_after = |of: u16| {
        planned
            .iter()
            .find(|day| **day > of)
            .map(|day| story.day_at(*day))
    };
    let mut visits = vec![Planned {
        at: booked_at,
        next: day_after(booked),
    }];
    let mut chance = story.chance.of(3);
    for day in &planned {
        let at = in_hours(story.day_at(*day), &mut chance);
        let missed = chance.happens(rates.visit_missed);
        if *day >= story.ends_at || at > now {
            break;
        }
        if !missed {
            visits.push(Planned {
                at,
                next: day_after(*day),
            });
        }
    }
    visits
}

fn post_of(district: &District, chance: &mut Chance) -> usize {
    let draw = chance.between(0, 99);
    let mut sum = 0;
    for (place, post) in district.posts.iter().enumerate() {
        sum += i64::from(post.share);
        if draw < sum {
            return place;
        }
    }
    0
}

fn days(number: i64) -> u64 {
    u64::try_from(number).unwrap_or_default()
}

#[cfg(test)]
mod tests;
