//! From courses to deeds: everything that is written into the register without waiting for what it raises.

use chrono::TimeDelta;

use super::calendar::{Course, at_minute};
use super::chance::Chance;
use super::hands;
use super::labour;
use super::rates::Rates;
use super::story::Lying;
use crate::clinical::{Category, Day, LabourRow, Moment, Urgency, Visit, Waters};
use crate::registry::StandDownReason;

/// One thing that somebody does with the register.
#[derive(Debug, Clone)]
pub(super) enum Deed {
    Register,
    /// Findings, and the day on which she is asked to come again.
    Visit(Box<Visit>, Option<Day>),
    /// She comes in labour: since when, and the first row.
    OpenLabour(Moment, Box<LabourRow>),
    Row(Box<LabourRow>),
    /// The pregnancy ends today.
    End,
    /// Somebody decides to send her, whatever stands.
    Decide(Category, Urgency),
    Step(Step),
}

/// What happens to a referral; which one, the driver knows.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Step {
    Told,
    /// Whether the time is known.
    Left(bool),
    Arrived(bool),
    Seen,
    Answered,
    NeverCame,
    Declined,
    StoodDown(StandDownReason),
}

/// A deed, by whom it is done and when.
#[derive(Debug, Clone)]
pub(super) struct Entry {
    pub at: Moment,
    /// Place of the woman in the list of courses.
    pub course: usize,
    pub deed: Deed,
}

/// All deeds of one ordinary course up to `now`, oldest first.
pub(super) fn entries(place: usize, course: &Course, rates: &Rates, now: Moment) -> Vec<Entry> {
    let story = &course.story;
    let mut chance = story.chance.of(4);
    let mut entries = Vec::new();
    let mut put = |at: Moment, deed: Deed| {
        if at <= now {
            entries.push(Entry {
                at,
                course: place,
                deed,
            });
        }
    };
    put(course.booked_at, Deed::Register);
    for planned in &course.visits {
        let days = u16::try_from(story.days_on(planned.at.date())).unwrap_or_default();
        // She is registered first; a visit begins some minutes later.
        let at = if planned.at == course.booked_at {
            planned.at + TimeDelta::minutes(12)
        } else {
            planned.at
        };
        let found = hands::visit(story, rates, days, at, &mut chance);
        put(at, Deed::Visit(Box::new(found), planned.next));
    }
    let end = end_of(course, &mut chance);
    if story.waters_early && story.ends_at > 200 {
        let mut found = Visit::at(end - TimeDelta::hours(20));
        found.waters = Some(Waters::Broken);
        found.fetal_hearts.push(142);
        found.temperature_tenths = Some(369);
        put(found.at, Deed::Visit(Box::new(found), None));
    }
    let at_the_post = story.ends_at >= 238 && story.lying(story.ends_at) != Lying::Across;
    if at_the_post && chance.happens(labours_at_the_post(rates)) {
        let course = labour::course(story, end, &mut chance);
        for (number, row) in course.rows.into_iter().enumerate() {
            let row = Box::new(row);
            let deed = if number == 0 {
                Deed::OpenLabour(course.began_at, row)
            } else {
                Deed::Row(row)
            };
            let at = match &deed {
                Deed::OpenLabour(_, row) | Deed::Row(row) => row.at,
                _ => now,
            };
            put(at, deed);
        }
    }
    put(end, Deed::End);
    entries.sort_by_key(|entry| entry.at);
    entries
}

/// Of women whom nobody sent away: those who come to the post when labour begins.
fn labours_at_the_post(rates: &Rates) -> f64 {
    1.0 - rates.born_at_home - rates.born_on_the_way - rates.born_at_hospital - rates.place_not_told
}

/// Babies come at every hour.
fn end_of(course: &Course, chance: &mut Chance) -> Moment {
    let minutes = u64::try_from(chance.between(0, 24 * 60 - 1)).unwrap_or_default();
    let at = at_minute(course.story.ends_on(), minutes);
    // A visit of the day before stands clear of labour and waters.
    let last = course
        .visits
        .last()
        .map_or(at, |visit| visit.at + TimeDelta::hours(26));
    at.max(last)
}
