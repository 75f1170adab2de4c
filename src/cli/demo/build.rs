//! Builds the scenario: every deed in the order of time, through the registry's own verbs, in one transaction.

use anyhow::{Context, Result};
use chrono::NaiveTime;

use super::calendar::{self, Course};
use super::chance::Chance;
use super::driver::Driver;
use super::rates::Rates;
use super::settle;
use super::signing;
use super::tables::District;
use super::{plan, staged};
use crate::cli::terminal::Progress;
use crate::clinical::Moment;
use crate::registry::passwords::HashedPassword;
use crate::registry::{By, Change, Registry, RegistryError};

/// Changing it invents other people.
const SEED: u64 = 20_261_125;
/// Accounts that the sign-in page lists; the first rows of `seed-demo/staff.txt`.
const LISTED: usize = 4;

/// What stands in the register now.
#[derive(Debug)]
pub(super) struct Scenario {
    /// The sign-in names to show, in order.
    pub sign_ins: Vec<String>,
    /// Invented entries that the register refused, each with its reason; none, if the invention is plausible.
    pub refused: Vec<String>,
}

/// Fills an empty register with two years up to `now`, and so many pregnancies beside those of `seed-demo/staged.txt`.
pub(super) fn scenario(
    registry: &Registry,
    now: Moment,
    pregnancies: usize,
    mut progress: Progress,
) -> Result<Scenario> {
    let district = District::read()?;
    let passwords = settle::passwords(&district)?;
    let by = By::program("brimline demo");
    let refused = registry
        .write(&by, now, |change| {
            let built = all(
                change,
                (&district, &passwords),
                pregnancies,
                now,
                &mut progress,
            );
            built.map_err(|error| RegistryError::refused(format!("{error:#}")))
        })
        .context("the scenario could not be built")?;
    let listed = district.staff.iter().take(LISTED);
    Ok(Scenario {
        sign_ins: listed.map(|row| row.sign_in.to_owned()).collect(),
        refused,
    })
}

fn all(
    change: &mut Change<'_>,
    (district, passwords): (&District, &[HashedPassword]),
    pregnancies: usize,
    now: Moment,
    progress: &mut Progress,
) -> Result<Vec<String>> {
    let rates = Rates::read()?;
    let mut chance = Chance::new(SEED);
    let mut courses = calendar::courses((district, &rates), pregnancies, now, &chance);
    let mut entries = Vec::new();
    for (place, course) in courses.iter().enumerate() {
        entries.extend(plan::entries(place, course, &rates, now));
    }
    for row in &district.staged {
        let (course, hers): (Course, _) =
            staged::course(district, &rates, row, courses.len(), now, &chance)?;
        courses.push(course);
        entries.extend(hers);
    }
    let begins = calendar::first_day(now.date()).and_time(NaiveTime::MIN);
    let settled = settle::district(change, district, passwords, begins)?;
    let signatures = signing::signatures(&courses, district.posts.len(), now, &mut chance);
    let (done, of) = (
        0..=u64::try_from(signatures.len()).unwrap_or_default(),
        u64::try_from(signatures.len()).ok(),
    );
    let mut driver = Driver::new(change, (district, &rates, &settled), &courses, now);
    driver.plan_all(entries);
    for (signature, done) in signatures.into_iter().zip(done) {
        driver.run(signature.at)?;
        signing::sign(driver.change, &settled, signature)?;
        progress.at(done, of);
    }
    driver.run(now + chrono::TimeDelta::seconds(1))?;
    let refused = driver.refused;
    settle::stop(change, &settled.leaving, now)?;
    Ok(refused)
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a test stops at the first surprise")]
    use super::*;
    use crate::registry::extract;
    use crate::registry::replay::{Span, Trial, each};

    /// Every rule and the whole life of a flag: what a later judgement says of the same records is what was said at the bedside.
    #[test]
    fn the_scenario_judged_again_raises_just_what_was_raised() {
        let folder = std::env::temp_dir().join(format!("brimline-test-{}", uuid::Uuid::now_v7()));
        let registry = Registry::open_fresh_in(&folder).unwrap();
        let now: Moment = "2026-11-25T12:00:00".parse().unwrap();
        scenario(&registry, now, 60, Progress::of("", true)).unwrap();
        let posts = registry.read(extract::posts).unwrap();
        let (mut seen, mut differing) = (0, Vec::new());
        for post in posts {
            let span = Span {
                post: post.id,
                until: now,
                months: 24,
                most: None,
            };
            let take = |one: crate::registry::replay::Replayed| {
                seen += 1;
                if one.then != one.now {
                    differing.push((one.then, one.now));
                }
            };
            registry
                .read(|db| each(db, &span, &Trial::default(), take))
                .unwrap();
        }
        drop(registry);
        std::fs::remove_dir_all(folder).unwrap();
        assert!(seen > 60, "{seen}");
        assert!(
            differing.is_empty(),
            "{} of {seen}: {differing:#?}",
            differing.len()
        );
    }

    /// On the eve of a leap day's end, in the first second of a year: the demo opens whenever somebody tries it.
    #[test]
    fn the_register_refuses_nothing_of_the_scenario_on_whatever_day_it_begins() {
        for now in ["2028-02-29T23:59:59", "2027-01-01T00:00:00"] {
            let folder =
                std::env::temp_dir().join(format!("brimline-test-{}", uuid::Uuid::now_v7()));
            let registry = Registry::open_fresh_in(&folder).unwrap();
            let (now, quiet) = (now.parse().unwrap(), Progress::of("", true));
            let built = scenario(&registry, now, 200, quiet).unwrap();
            let refused = built.refused.join("\n");
            assert!(refused.is_empty(), "{now}:\n{refused}");
            assert_eq!(built.sign_ins, ["nurse", "midwife", "district", "keeper"]);
            drop(registry);
            std::fs::remove_dir_all(folder).unwrap();
        }
    }
}
