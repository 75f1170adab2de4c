//! What nobody can have told of a pregnancy.

use chrono::TimeDelta;

use super::Facts;
use crate::clinical::{Day, Scan};
use crate::registry::error::{RegistryError, Result};
use crate::registry::limits;

/// A last period further back is a slip of the pen [O]; from 44w+1d on it is asked about and kept.
const PERIOD_AT_MOST_BACK: TimeDelta = TimeDelta::weeks(52);

/// Refuses facts that cannot be, each beside its field; days by the post's clock. An old pregnancy may be amended long after it
/// was opened, so the period is held against the day of its opening.
pub(super) fn refuse_impossible(facts: &Facts, opened: Day, today: Day) -> Result<()> {
    let refuse = |field, why: &str| Err(RegistryError::field(field, why));
    let lmp = facts.dating.lmp;
    if lmp.is_some_and(|lmp| lmp > today) {
        return refuse("lmp", "The last period cannot begin after today.");
    }
    if lmp.is_some_and(|lmp| opened - lmp > PERIOD_AT_MOST_BACK) {
        return refuse(
            "lmp",
            "This is more than 52 weeks before she came. Check the year.",
        );
    }
    for scan in &facts.dating.scans {
        refuse_scan(scan, lmp, today)?;
    }
    if facts.births_before.is_some_and(|births| births > 25) {
        return refuse("births_before", "Write 0 to 25.");
    }
    if facts
        .previous_caesareans
        .is_some_and(|caesareans| caesareans > 15)
    {
        return refuse("previous_caesareans", "Write 0 to 15.");
    }
    if let (Some(births), Some(caesareans)) = (facts.births_before, facts.previous_caesareans)
        && caesareans > births
    {
        return refuse(
            "previous_caesareans",
            "This is more than her births before.",
        );
    }
    let lines = [
        ("blood_group", &facts.blood_group),
        ("companion", &facts.companion),
        ("companion_phone", &facts.companion_phone),
    ];
    let notes = [
        ("illness", &facts.illness),
        ("allergies", &facts.allergies),
        ("medicines", &facts.medicines),
        ("tests", &facts.tests),
    ];
    lines
        .iter()
        .try_for_each(|(field, text)| limits::fits(field, text.as_deref(), limits::LINE))?;
    notes
        .iter()
        .try_for_each(|(field, text)| limits::fits(field, text.as_deref(), limits::NOTE))
}

fn refuse_scan(scan: &Scan, lmp: Option<Day>, today: Day) -> Result<()> {
    let refuse = |field, why: &str| Err(RegistryError::field(field, why));
    if scan.on > today {
        return refuse("scan_on", "The day of the scan cannot be after today.");
    }
    if lmp.is_some_and(|lmp| scan.on < lmp) {
        return refuse("scan_on", "This scan is before her last period.");
    }
    let days = match (scan.gestation_days, scan.edd) {
        (Some(_), Some(_)) => {
            return refuse(
                "scan_edd",
                "Write the gestation at the scan or its due date, not both.",
            );
        }
        (Some(days), None) => Some(i64::from(days)),
        (None, Some(edd)) => Some(crate::clinical::dating::TERM_DAYS - (edd - scan.on).num_days()),
        (None, None) => None,
    };
    if days.is_some_and(|days| !(35..=294).contains(&days)) {
        return refuse("scan_weeks", "A scan can tell from 5 weeks to 42 weeks.");
    }
    if scan.babies.is_some_and(|babies| !(1..=6).contains(&babies)) {
        return refuse("babies_on_scan", "Write 1 to 6 babies.");
    }
    if days.is_none() && scan.babies.is_none() {
        return refuse(
            "scan_on",
            "Write what the scan said: gestation, due date or number of babies.",
        );
    }
    Ok(())
}
