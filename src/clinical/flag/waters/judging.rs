//! How broken waters are judged, in labour and outside it.

use crate::clinical::flag::rule::Raised;
use crate::clinical::picture::Picture;
use crate::clinical::record::Record;
use crate::clinical::speech::span;
use crate::clinical::verdict::{Spoken, Unit, Verdict, Why, ask_fact, reaches, under};
use crate::clinical::{Head, Presentation, gestation_text};
use chrono::Duration;

/// Waters broken outside labour, with the gestation of today.
fn outside_labour(seen: &Picture<'_>) -> Result<(), Why> {
    seen.waters_broken()?;
    seen.not_labouring()
}

pub(super) fn before_37(seen: &Picture<'_>, _: &Raised) -> Verdict {
    outside_labour(seen)?;
    let days = seen.today.ok_or(Why::Fact("gestation unknown"))?;
    under("G", days, 259, Unit::Gestation)?;
    Ok(Spoken::now(format!(
        "{} at {}, under 37w+0d.{}",
        seen.waters_since_words(),
        gestation_text(days),
        seen.waters_note()
    )))
}

fn term(seen: &Picture<'_>) -> Result<(), Why> {
    seen.today
        .map_or(Ok(()), |days| reaches("G", days, 259, Unit::Gestation))
}

pub(super) fn long(seen: &Picture<'_>, _: &Raised) -> Verdict {
    seen.waters_broken()?;
    let since = seen.waters.since.unwrap_or(seen.on);
    if seen.labour.is_some() {
        reaches(
            "waters broken for",
            (seen.on - since).num_seconds(),
            18 * 3600,
            Unit::Time,
        )?;
        let words = seen.waters_since_words();
        let note = seen.waters_note();
        return Ok(if seen.on - since >= Duration::hours(24) {
            Spoken::now(format!("{words}, in labour; limit 24 h.{note}"))
        } else {
            Spoken::review(format!("{words}, in labour; from 18 h, limit 24 h.{note}"))
        });
    }
    term(seen)?;
    let minutes = i64::from(seen.case.post.travel_minutes.unwrap_or(0));
    if seen.waters.told {
        let arrival = seen.on + Duration::minutes(minutes) - since;
        reaches(
            "waters broken on arrival for",
            arrival.num_seconds(),
            12 * 3600,
            Unit::Time,
        )?;
    }
    let counted = if seen.waters.told {
        "with the way 12 h are reached"
    } else {
        "the time is not known, counted as 12 h"
    };
    Ok(Spoken::now(format!(
        "{}, {}; travel {}; {counted}.{}",
        seen.waters_since_words(),
        seen.age_today(),
        travel_words(seen),
        seen.waters_note()
    )))
}

fn travel_words(seen: &Picture<'_>) -> String {
    seen.case.post.travel_minutes.map_or_else(
        || "not set".to_owned(),
        |minutes| span(i64::from(minutes) * 60),
    )
}

pub(super) fn at_term(seen: &Picture<'_>, raised: &Raised) -> Verdict {
    outside_labour(seen)?;
    term(seen)?;
    raised.silent_beside(&["waters-long"])?;
    let minutes = i64::from(seen.case.post.travel_minutes.unwrap_or(0));
    let leave_by =
        seen.waters.since.unwrap_or(seen.on) + Duration::hours(12) - Duration::minutes(minutes);
    Ok(Spoken::review(format!(
        "{}, {}, not in labour; travel {}: leave by {}.{}",
        seen.waters_since_words(),
        seen.age_today(),
        travel_words(seen),
        seen.time(leave_by),
        seen.waters_note()
    )))
}

pub(super) fn cord_risk(seen: &Picture<'_>, _: &Raised) -> Verdict {
    seen.waters_broken()?;
    seen.presents(Presentation::Cephalic)?;
    let fifths = seen.last(Record::fifths);
    let head = seen
        .v
        .filter(|_| seen.visit_is_current())
        .and_then(|visit| visit.palpation.as_ref()?.head);
    let high = match (fifths, head) {
        (Some((at, fifths)), _) => {
            reaches("fifths", fifths, 4, Unit::Fifths)?;
            format!("head {fifths}/5{}", seen.when(at))
        }
        (None, Some(Head::Mobile)) => "head mobile".to_owned(),
        (None, _) => return Err(Why::Fact("fifths not counted and the head not mobile")),
    };
    let since = seen.waters.since.unwrap_or(seen.on);
    let examined = seen
        .labour_records()
        .iter()
        .any(|record| record.dilatation().is_some() && record.at() >= since);
    ask_fact(!examined, "examined inside since the waters broke")?;
    Ok(Spoken::review(format!(
        "{}, {high}, not examined inside since.{}",
        seen.waters_since_words(),
        seen.waters_note()
    )))
}
