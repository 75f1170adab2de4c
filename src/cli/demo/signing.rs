//! Midwives sign the months that are over; the last ones still wait at two posts.

use anyhow::Result;
use chrono::{Days, NaiveTime, TimeDelta};

use super::birth::local_day;
use super::calendar::Course;
use super::chance::Chance;
use super::settle::Settled;
use crate::clinical::{Day, Moment, RULES_VERSION};
use crate::registry::Change;
use crate::registry::extract;
use crate::registry::months::{self, Month};
use crate::reporting::{self, Report, export::json};

/// One signature to come.
#[derive(Debug, Clone, Copy)]
pub(super) struct Signature {
    pub at: Moment,
    pub month: Month,
    /// Place of the post in the district's list.
    pub post: usize,
}

/// The months that each post leaves unsigned, by its place in the list: the first and the last of the six.
const WAITING: &[(usize, usize)] = &[(0, 1), (5, 2)];

/// Every signature up to now, oldest first; the first month of a post is that of its first registration.
pub(super) fn signatures(
    courses: &[Course],
    posts: usize,
    now: Moment,
    chance: &mut Chance,
) -> Vec<Signature> {
    let running = Month::of_day(now.date());
    let mut all = Vec::new();
    for post in 0..posts {
        let booked = courses.iter().filter(|course| course.story.post == post);
        let Some(first) = booked.map(|course| course.booked_at).min() else {
            continue;
        };
        let mut over = Vec::new();
        let mut month = Month::of_day(local_day(first));
        while month < running {
            over.push(month);
            month = month.next();
        }
        let waiting = WAITING.iter().find(|it| it.0 == post).map_or(0, |it| it.1);
        over.truncate(over.len().saturating_sub(waiting));
        for month in over {
            let at = signed_on(month.day_after(), chance);
            if at <= now {
                all.push(Signature { at, month, post });
            }
        }
    }
    all.sort_by_key(|signature| signature.at);
    all
}

/// In the afternoon of the second to the ninth of the next month.
fn signed_on(first: Day, chance: &mut Chance) -> Moment {
    let day = first + Days::new(u64::try_from(chance.between(1, 8)).unwrap_or(1));
    day.and_time(NaiveTime::MIN) + TimeDelta::minutes(chance.between(13 * 60, 15 * 60))
}

/// Makes the tables as they stand at that moment and signs them.
pub(super) fn sign(change: &mut Change<'_>, settled: &Settled, signature: Signature) -> Result<()> {
    let Signature { at, month, post } = signature;
    let post = &settled.posts[post];
    let mut posts = extract::posts(change.reader())?;
    posts.retain(|it| it.id == post.id);
    let lines = extract::month(change.reader(), &posts, month, at)?;
    let report = Report {
        post: posts.first().map(|it| it.name.clone()),
        month,
        made_at: at,
        rules_version: RULES_VERSION.to_owned(),
        provisional: posts.iter().any(|it| month.is_provisional(at, it.zone)),
        tables: reporting::tables(lines, at)?,
    };
    let figures = json::write(&report)?;
    change.as_of(&post.midwife, at);
    months::sign(change, month, &figures, RULES_VERSION)?;
    Ok(())
}
