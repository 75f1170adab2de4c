//! How age, births and what happened before choose the place of birth.

use crate::clinical::PastEvent;
use crate::clinical::flag::rule::Raised;
use crate::clinical::picture::Picture;
use crate::clinical::speech::count;
use crate::clinical::verdict::{Spoken, Unit, Verdict, Why, ask_fact, exceeds, reaches, under};

fn booked(seen: &Picture<'_>, fact: &str) -> Spoken {
    let chosen = match seen.today {
        Some(_) => seen.age_today(),
        None => format!("gestation unknown, {}", seen.tape_words()),
    };
    if seen.labour.is_some() {
        Spoken::review(format!("{fact}; {chosen}, in labour."))
    } else if seen.late() {
        Spoken::soon(format!("{fact}; {chosen}, booked from 36w+0d."))
    } else {
        Spoken::review(format!("{fact}; {chosen}, to be booked from 36w+0d."))
    }
}

fn told(seen: &Picture<'_>, event: PastEvent) -> Result<(), Why> {
    ask_fact(
        seen.case.mother.history.contains(&event),
        "nothing of the kind is told",
    )
}

pub(super) fn late_history(seen: &Picture<'_>, event: PastEvent, fact: &str) -> Verdict {
    told(seen, event)?;
    Ok(booked(seen, fact))
}

pub(super) fn once_history(seen: &Picture<'_>, event: PastEvent, fact: &str) -> Verdict {
    told(seen, event)?;
    Ok(Spoken::review(format!("{fact}.")))
}

fn age(seen: &Picture<'_>) -> Result<u8, Why> {
    seen.case.mother.age_years.ok_or(Why::Fact("age not known"))
}

pub(super) fn under_14(seen: &Picture<'_>, _: &Raised) -> Verdict {
    let years = age(seen)?;
    under("age", years, 14, Unit::Plain)?;
    Ok(booked(seen, &format!("{years} years old, under 14")))
}

pub(super) fn under_16(seen: &Picture<'_>, _: &Raised) -> Verdict {
    let years = age(seen)?;
    reaches("age", years, 14, Unit::Plain)?;
    under("age", years, 16, Unit::Plain)?;
    Ok(Spoken::review(format!("{years} years old, under 16.")))
}

pub(super) fn from_40(seen: &Picture<'_>, _: &Raised) -> Verdict {
    let years = age(seen)?;
    reaches("age", years, 40, Unit::Plain)?;
    Ok(Spoken::review(format!("{years} years old, from 40.")))
}

pub(super) fn many_births(seen: &Picture<'_>, _: &Raised) -> Verdict {
    let births = seen
        .case
        .mother
        .births_before
        .ok_or(Why::Fact("number of births not known"))?;
    exceeds("births before", births, 6, Unit::Plain)?;
    Ok(Spoken::review(format!(
        "{} before, more than 6.",
        count(births.into(), "birth", "births")
    )))
}
