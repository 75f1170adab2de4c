//! How pulse and pressure are judged, alone and beside each other.

use crate::clinical::flag::rule::Raised;
use crate::clinical::picture::Picture;
use crate::clinical::record::{Record, run_start};
use crate::clinical::speech::span;
use crate::clinical::verdict::{Spoken, Unit, Verdict, Why, ask, ask_fact, reaches, under};
use crate::clinical::{DangerSign, Moment};
use chrono::Duration;

/// How soon a reading that worries is taken again.
const AGAIN: Duration = Duration::minutes(15);

pub(super) fn shock(seen: &Picture<'_>, _: &Raised) -> Verdict {
    let (pulse_at, pulse) = seen
        .last(Record::pulse)
        .ok_or(Why::Fact("pulse not counted"))?;
    let (pressure_at, systolic) = seen
        .last(Record::systolic)
        .ok_or(Why::Fact("systolic not measured"))?;
    reaches("pulse", pulse, 110, Unit::Beats)?;
    under("systolic", systolic, 90, Unit::Pressure)?;
    ask(
        (pulse_at - pressure_at).abs() <= Duration::minutes(30),
        Why::Figure {
            what: "pulse and pressure",
            found: (pulse_at - pressure_at).num_seconds().abs(),
            is: "are more apart than",
            limit: 1800,
            unit: Unit::Time,
        },
    )?;
    Ok(Spoken::now(format!(
        "Pulse {pulse}{} with systolic {systolic} mmHg{}; shock from 110 with under 90.",
        seen.when(pulse_at),
        seen.when(pressure_at)
    )))
}

pub(super) fn pulse_fast(seen: &Picture<'_>, raised: &Raised) -> Verdict {
    raised.silent_beside(&["shock"])?;
    let (at, pulse) = seen
        .last(Record::pulse)
        .ok_or(Why::Fact("pulse not counted"))?;
    let (limit, place) = match seen.labour {
        Some(_) => (120, "in labour"),
        None => (110, "outside labour"),
    };
    reaches("pulse", pulse, limit, Unit::Beats)?;
    let words = format!("Pulse {pulse}{}; fast from {limit} {place}", seen.when(at));
    if seen.labour.is_some() {
        let counted = seen
            .current()
            .rev()
            .filter_map(|record| Some((record.at(), record.pulse()? >= 120)));
        let since = run_start(counted).unwrap_or(at);
        if at - since >= AGAIN {
            return Ok(Spoken::now(format!(
                "{words}, 120 or more for {} since {}.",
                span((at - since).num_seconds()),
                seen.time(since)
            )));
        }
    }
    Ok(Spoken::recheck(
        at + AGAIN,
        format!("{words}. To be counted again at {}.", seen.time(at + AGAIN)),
    ))
}

/// A pressure that is neither raised nor explained by shock.
fn quiet_pressure<'a>(seen: &'a Picture<'_>, raised: &Raised) -> Result<Record<'a>, Why> {
    raised.silent_beside(&["shock"])?;
    let record = seen.pressure().ok_or(Why::Fact("pressure not measured"))?;
    ask_fact(
        !record.pressure_raised(),
        "the pressure is raised: a raised-pressure rule says it",
    )?;
    Ok(record)
}

/// Both rules look at one pressure; only the more urgent speaks, the fall at equal urgency.
pub(super) fn low(seen: &Picture<'_>, raised: &Raised) -> Verdict {
    let record = quiet_pressure(seen, raised)?;
    let low = low_words(seen, record)?;
    match drop_words(seen, record) {
        Ok(drop) if drop.urgency <= low.urgency => Err(Why::Said("pressure-drop")),
        _ => Ok(low),
    }
}

pub(super) fn dropped(seen: &Picture<'_>, raised: &Raised) -> Verdict {
    let record = quiet_pressure(seen, raised)?;
    let drop = drop_words(seen, record)?;
    match low_words(seen, record) {
        Ok(low) if low.urgency < drop.urgency => Err(Why::Said("pressure-low")),
        _ => Ok(drop),
    }
}

fn low_words(seen: &Picture<'_>, record: Record<'_>) -> Verdict {
    let systolic = record
        .systolic()
        .ok_or(Why::Fact("systolic not measured"))?;
    under("systolic", systolic, 90, Unit::Pressure)?;
    let words = format!("Systolic {systolic} mmHg{}", seen.when(record.at()));
    Ok(if systolic < 80 {
        Spoken::now(format!("{words}, under 80."))
    } else {
        Spoken::recheck(
            record.at() + AGAIN,
            format!(
                "{words}, under 90. Again at {} on her left side.",
                seen.time(record.at() + AGAIN)
            ),
        )
    })
}

/// One fall of the diastolic: from, to, when.
struct Fall {
    before: (Moment, u16),
    at: Moment,
}

/// All falls that still stand: each reading since is 15 or more below the one before the fall.
fn falls(readings: &[(Moment, u16)]) -> Vec<Fall> {
    let Some(&(last_at, _)) = readings.last() else {
        return Vec::new();
    };
    readings
        .windows(2)
        .enumerate()
        .filter(|(k, pair)| {
            let (before, at) = (pair[0], pair[1].0);
            at - before.0 <= Duration::hours(24)
                && last_at - at <= Duration::hours(4)
                && readings[k + 1..]
                    .iter()
                    .all(|(_, diastolic)| i32::from(*diastolic) <= i32::from(before.1) - 15)
        })
        .map(|(_, pair)| Fall {
            before: pair[0],
            at: pair[1].0,
        })
        .collect()
}

fn drop_words(seen: &Picture<'_>, record: Record<'_>) -> Verdict {
    seen.labouring()?;
    let now = record
        .diastolic()
        .ok_or(Why::Fact("diastolic not measured"))?;
    let at = record.at();
    let readings = seen.diastolics_until(record);
    let falls = falls(&readings);
    let fall = falls.first().ok_or(Why::Fact(
        "no fall of 15 or more within 24 h that still stands and is at most 4 h old",
    ))?;
    let words = format!(
        "Diastolic {} at {}, {now} at {}: {} lower",
        fall.before.1,
        seen.time(fall.before.0),
        seen.time(at),
        fall.before.1 - now
    );
    let lasting = falls.iter().find(|fall| at - fall.at >= AGAIN);
    let beside = if record.pulse().is_some_and(|pulse| pulse >= 100) {
        Some("with a pulse of 100 or more")
    } else if record.systolic().is_some_and(|mmhg| mmhg < 100) {
        Some("with systolic under 100")
    } else if seen.sign(DangerSign::Bleeding).is_some() {
        Some("with bleeding")
    } else {
        None
    };
    Ok(match (lasting, beside) {
        (Some(fall), _) => Spoken::now(format!(
            "{words}, fallen since {} and not risen.",
            seen.time(fall.at)
        )),
        (None, Some(beside)) => Spoken::now(format!("{words}, {beside}.")),
        (None, None) => Spoken::recheck(
            at + AGAIN,
            format!("{words}. Again at {}.", seen.time(at + AGAIN)),
        ),
    })
}
