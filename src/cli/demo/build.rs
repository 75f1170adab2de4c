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

/// Fills an empty register with two years up to `now`; the sign-in names to show, in order.
pub(super) fn scenario(
    registry: &Registry,
    now: Moment,
    mut progress: Progress,
) -> Result<Vec<String>> {
    let district = District::read()?;
    let passwords = settle::passwords(&district)?;
    let by = By::program("brimline demo");
    registry
        .write(&by, now, |change| {
            let built = all(change, &district, &passwords, now, &mut progress);
            built.map_err(|error| RegistryError::refused(format!("{error:#}")))
        })
        .context("the scenario could not be built")?;
    Ok(district
        .staff
        .iter()
        .take(LISTED)
        .map(|row| row.sign_in.to_owned())
        .collect())
}

fn all(
    change: &mut Change<'_>,
    district: &District,
    passwords: &[HashedPassword],
    now: Moment,
    progress: &mut Progress,
) -> Result<()> {
    let rates = Rates::read()?;
    let mut chance = Chance::new(SEED);
    let mut courses = calendar::courses(district, &rates, now, &chance);
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
    let signatures = signing::signatures(district.posts.len(), now, &mut chance);
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
    settle::stop(change, &settled.leaving, now)
}
