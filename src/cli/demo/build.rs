//! Builds the scenario: every deed in the order of time, through the registry's own verbs, in one transaction.

use anyhow::{Context, Result};

use super::calendar;
use super::settle;
use super::tables::District;
use crate::cli::terminal::Progress;
use crate::clinical::Moment;
use crate::registry::{By, Change, Registry, RegistryError};

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
        .take(4)
        .map(|row| row.sign_in.to_owned())
        .collect())
}

fn all(
    change: &mut Change<'_>,
    district: &District,
    passwords: &[crate::registry::passwords::HashedPassword],
    now: Moment,
    progress: &mut Progress,
) -> Result<()> {
    let begins = calendar::first_day(now.date()).and_time(chrono::NaiveTime::MIN);
    let settled = settle::district(change, district, passwords, begins)?;
    progress.at(1, Some(1));
    settle::stop(change, &settled.leaving, now)?;
    Ok(())
}
