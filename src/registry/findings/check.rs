//! What no visit can have found: refused whoever brings it, a form or a paper register.
//!
//! Ranges as in the clinical reference; the web form refuses the same earlier and beside each field.

use std::ops::RangeInclusive;

use chrono::TimeDelta;

use super::Findings;
use crate::clinical::{
    Dating, Day, Moment, PalpationFault, Visit, date_pregnancy, palpation_faults,
};
use crate::registry::error::{RegistryError, Result};
use crate::registry::limits;

/// A clock on a wall and one in a server may differ by this much.
const CLOCKS_DIFFER: TimeDelta = TimeDelta::minutes(5);
/// No appointment is made further ahead [O].
const NEXT_AT_MOST: TimeDelta = TimeDelta::days(300);

/// Refuses findings that cannot be, each beside its field.
pub(in crate::registry) fn refuse_impossible(
    findings: &Findings,
    dating: &Dating,
    now: Moment,
) -> Result<()> {
    let refuse = |field, why: &str| Err(RegistryError::field(field, why));
    let visit = &findings.visit;
    if visit.at > now + CLOCKS_DIFFER {
        return refuse(
            "at_time",
            "This is later than now. Write when she was examined.",
        );
    }
    refuse_before_pregnancy(visit.at.date(), dating, now.date())?;
    if findings
        .labour_began_at
        .is_some_and(|began| began > visit.at)
    {
        return refuse(
            "labour_began_at",
            "Labour cannot begin after the visit; write when it began.",
        );
    }
    if findings
        .waters_broke_at
        .is_some_and(|broke| broke > visit.at)
    {
        return refuse(
            "waters_broke_at",
            "This is later than the visit; write when the waters broke.",
        );
    }
    if let Some(next) = findings.next_visit_on {
        if next < visit.at.date() {
            return refuse("next_visit_on", "The next visit is after this one.");
        }
        if next - visit.at.date() > NEXT_AT_MOST {
            return refuse("next_visit_on", "This is more than 300 days ahead.");
        }
    }
    limits::fits("note", findings.note.as_deref(), limits::NOTE)?;
    refuse_out_of_range(visit)?;
    refuse_contradictions(visit)
}

fn refuse_before_pregnancy(day: Day, dating: &Dating, today: Day) -> Result<()> {
    if let Some(lmp) = dating
        .lmp
        .filter(|lmp| dating.lmp_certain != Some(false) && day < *lmp)
    {
        return Err(RegistryError::field(
            "at_date",
            format!("This is before her last period, {lmp}."),
        ));
    }
    // By the chosen due date, also where nobody believes it any more.
    let begun = date_pregnancy(dating, today)
        .days_told
        .map(|days| today - TimeDelta::days(days));
    if let Some(begun) = begun.filter(|begun| day < *begun) {
        return Err(RegistryError::field(
            "at_date",
            format!("By her due date this pregnancy began later, on {begun}."),
        ));
    }
    Ok(())
}

fn refuse_out_of_range(visit: &Visit) -> Result<()> {
    let within = |field, value: Option<u16>, range: RangeInclusive<u16>, unit: &str| match value {
        Some(value) if !range.contains(&value) => Err(RegistryError::field(
            field,
            format!("Write {} to {}{unit}.", range.start(), range.end()),
        )),
        _ => Ok(()),
    };
    if visit.fetal_hearts.len() > 4 {
        return Err(RegistryError::field(
            "fetal_hearts",
            "Write at most four counts.",
        ));
    }
    for heart in &visit.fetal_hearts {
        within(
            "fetal_hearts",
            Some(u16::from(*heart)),
            30..=250,
            " a minute",
        )?;
    }
    within("systolic", visit.systolic, 40..=280, " mmHg")?;
    within("diastolic", visit.diastolic, 20..=180, " mmHg")?;
    within("pulse", visit.pulse.map(u16::from), 20..=250, " a minute")?;
    within(
        "fifths",
        visit
            .palpation
            .as_ref()
            .and_then(|it| it.fifths)
            .map(u16::from),
        0..=5,
        "",
    )?;
    if visit
        .temperature_tenths
        .is_some_and(|it| !(300..=430).contains(&it))
    {
        return Err(RegistryError::field(
            "temperature_c",
            "Write 30.0 to 43.0 °C.",
        ));
    }
    if visit
        .fundal_height_tenths
        .is_some_and(|it| !(100..=600).contains(&it))
    {
        return Err(RegistryError::field(
            "fundal_height_cm",
            "Write 10.0 to 60.0 cm.",
        ));
    }
    Ok(())
}

fn refuse_contradictions(visit: &Visit) -> Result<()> {
    if let (Some(systolic), Some(diastolic)) = (visit.systolic, visit.diastolic)
        && diastolic >= systolic
    {
        return Err(RegistryError::field(
            "diastolic",
            "The lower figure must be below the upper one.",
        ));
    }
    if visit.heart_sought == Some(false) && !visit.fetal_hearts.is_empty() {
        return Err(RegistryError::field(
            "heart_sought",
            "A count says that the heart was looked for.",
        ));
    }
    match visit.palpation.as_ref().map(palpation_faults) {
        Some(Err(PalpationFault::FifthsWithoutHead)) => Err(RegistryError::field(
            "fifths",
            "Fifths are of a head over the brim: the lower pole must be hard, round, or empty with 0.",
        )),
        Some(Err(PalpationFault::MobilityWithoutHead)) => Err(RegistryError::field(
            "head",
            "Mobile or fixed is said of a head over the brim: the lower pole must be hard, round.",
        )),
        Some(Ok(())) | None => Ok(()),
    }
}
