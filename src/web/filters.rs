//! Filters for templates: `{{ day|day }}`, `{{ visit.at|moment(zone) }}`. The words are made in `spoken`.
//!
//! A file with a template that uses one needs `use crate::web::filters;`.

use askama::Values;
use chrono_tz::Tz;

use crate::clinical::{Day, Moment};
use crate::web::spoken;

/// `10 Sep 2026`.
#[askama::filter_fn]
pub(crate) fn day(day: &Day, _: &dyn Values) -> askama::Result<String> {
    Ok(spoken::day(*day))
}

/// `10 Sep 2026, 09:20`.
#[askama::filter_fn]
pub(crate) fn moment(moment: &Moment, _: &dyn Values, zone: &Tz) -> askama::Result<String> {
    Ok(spoken::moment(*moment, *zone))
}
