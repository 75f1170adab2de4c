//! How one pressure, the signs and the urine are judged.

use crate::clinical::flag::rule::Raised;
use crate::clinical::picture::Picture;
use crate::clinical::record::Record;
use crate::clinical::speech::span;
use crate::clinical::verdict::{Spoken, Verdict, Why, ask, ask_fact};
use crate::clinical::{DangerSign, Moment, Protein};
use chrono::Duration;

/// Signs that make a raised pressure an emergency [R PEP-3-17].
const SIGNS: [DangerSign; 6] = [
    DangerSign::SevereHeadache,
    DangerSign::BlurredVision,
    DangerSign::SevereAbdominalPain,
    DangerSign::BreathingDifficulty,
    DangerSign::Convulsions,
    DangerSign::Unconscious,
];

fn raised<'a>(seen: &'a Picture<'_>) -> Result<Record<'a>, Why> {
    let record = seen.pressure().ok_or(Why::Fact("pressure not measured"))?;
    ask(
        record.pressure_raised(),
        pressure(record, "is below 140 and below 90"),
    )?;
    Ok(record)
}

/// The pressure of a record, for a rule that keeps silent.
fn pressure(record: Record<'_>, is: &'static str) -> Why {
    Why::Pair {
        what: "pressure",
        first: record.systolic(),
        between: "/",
        second: record.diastolic(),
        is,
    }
}

/// `150/95 mmHg at 06:00`; a figure that was not measured is a stroke.
fn pressure_words(seen: &Picture<'_>, record: Record<'_>) -> String {
    let figure = |mmhg: Option<u16>| mmhg.map_or_else(|| "–".to_owned(), |mmhg| mmhg.to_string());
    format!(
        "Pressure {}/{} mmHg{}",
        figure(record.systolic()),
        figure(record.diastolic()),
        seen.when(record.at())
    )
}

pub(super) fn severe(seen: &Picture<'_>, _: &Raised) -> Verdict {
    let record = raised(seen)?;
    ask(
        record.systolic().is_some_and(|mmhg| mmhg >= 160)
            || record.diastolic().is_some_and(|mmhg| mmhg >= 110),
        pressure(record, "is below 160 and below 110"),
    )?;
    Ok(Spoken::now(format!(
        "{}; severe from 160 or 110.",
        pressure_words(seen, record)
    )))
}

pub(super) fn with_sign(seen: &Picture<'_>, said: &Raised) -> Verdict {
    let record = raised(seen)?;
    said.silent_beside(&["pressure-severe"])?;
    let (sign, at) = SIGNS
        .iter()
        .find_map(|sign| Some((sign, seen.sign(*sign)?)))
        .ok_or(Why::Fact("none of the six signs is recorded"))?;
    Ok(Spoken::now(format!(
        "{}, raised from 140 or 90, with {}{}.",
        pressure_words(seen, record),
        sign.words(),
        seen.when(at)
    )))
}

/// The last urine, if it is not older than 28 days.
fn protein_of_28_days(seen: &Picture<'_>) -> Option<(Moment, Protein)> {
    seen.line
        .all()
        .iter()
        .rev()
        .find_map(|record| Some((record.at(), record.protein()?)))
        .filter(|(at, _)| seen.on - *at <= Duration::days(28))
}

fn at_least_one_plus(what: &'static str, protein: Protein) -> Result<(), Why> {
    ask(
        protein >= Protein::One,
        Why::Word {
            what,
            found: protein.code(),
            wanted: "1+ or more",
        },
    )
}

pub(super) fn with_protein(seen: &Picture<'_>, said: &Raised) -> Verdict {
    let record = raised(seen)?;
    said.silent_beside(&["pressure-severe", "pressure-with-sign"])?;
    let (at, protein) =
        protein_of_28_days(seen).ok_or(Why::Fact("no urine tested in the last 28 days"))?;
    at_least_one_plus("the last protein of 28 days", protein)?;
    let evidence = format!(
        "{}, raised from 140 or 90, with protein {} ({}).",
        pressure_words(seen, record),
        protein.words(),
        seen.clock.day_of(at)
    );
    Ok(match (protein >= Protein::Two, seen.labour.is_some()) {
        (true, _) => Spoken::now(evidence),
        (false, true) => Spoken::review(evidence + " In labour waters and show give 1+."),
        (false, false) => Spoken::soon(evidence),
    })
}

pub(super) fn twice(seen: &Picture<'_>, said: &Raised) -> Verdict {
    let record = raised(seen)?;
    said.silent_beside(&[
        "pressure-severe",
        "pressure-with-sign",
        "pre-eclampsia-likely",
    ])?;
    let apart = |earlier: &Record<'_>| record.at() - earlier.at();
    let earlier = seen
        .records_before(record)
        .iter()
        .rev()
        .find(|earlier| {
            earlier.pressure_raised()
                && apart(earlier) >= Duration::hours(4)
                && apart(earlier) <= Duration::days(28)
        })
        .ok_or(Why::Fact("not raised before, 4 h to 28 days earlier"))?;
    let evidence = format!(
        "{}, and {} at {}: raised twice, {} apart.",
        pressure_words(seen, record),
        pressure_words(seen, *earlier)
            .split(" mmHg")
            .next()
            .unwrap_or_default()
            .to_lowercase(),
        seen.time(earlier.at()),
        span(apart(earlier).num_seconds())
    );
    Ok(if seen.labour.is_some() {
        Spoken::review(evidence)
    } else {
        Spoken::soon(evidence)
    })
}

pub(super) fn raised_once(seen: &Picture<'_>, said: &Raised) -> Verdict {
    let record = raised(seen)?;
    said.silent_beside(&[
        "pressure-severe",
        "pressure-with-sign",
        "pre-eclampsia-likely",
        "pressure-twice",
    ])?;
    Ok(Spoken::review(format!(
        "{}; raised from 140 or 90.",
        pressure_words(seen, record)
    )))
}

pub(super) fn protein_alone(seen: &Picture<'_>, _: &Raised) -> Verdict {
    ask_fact(
        !seen.pressure().is_some_and(Record::pressure_raised),
        "the pressure is raised: a raised-pressure rule says it",
    )?;
    let (at, protein) = seen
        .last(Record::protein)
        .ok_or(Why::Fact("urine not tested"))?;
    at_least_one_plus("the last protein", protein)?;
    let evidence = format!(
        "Protein {}{} ({}), pressure {}",
        protein.words(),
        seen.when(at),
        seen.clock.day_of(at),
        if seen.pressure().is_some() {
            "not raised"
        } else {
            "not measured"
        }
    );
    match (protein >= Protein::Two, seen.labour.is_some()) {
        (true, true) => Ok(Spoken::review(evidence + ".")),
        (true, false) => Ok(Spoken::soon(evidence + ".")),
        (false, true) => Err(Why::Fact("1+ in labour may come from the waters")),
        (false, false) => Ok(Spoken::recheck(
            seen.on,
            evidence + ". A clean sample today.",
        )),
    }
}
