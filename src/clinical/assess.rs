//! From everything known about a case to what should happen.

use super::{Assessment, Case, Visit, dating, fundal_height, palpation};

/// Names the rules in force; it changes whenever a judgement can change.
pub const RULES_VERSION: &str = "2026-11";

/// Judges everything known at `case.on`; entries later than that are not known yet.
#[must_use]
pub fn assess(case: &Case) -> Assessment {
    let known = dating::date_pregnancy(&case.dating, case.on.date());
    let last = last_visit(case);
    let days = match last {
        Some(visit) => known.gestation_on(visit.at.date()),
        None => known.gestation.as_ref().map(|gestation| gestation.days),
    };
    Assessment {
        palpation: last
            .and_then(|visit| visit.palpation.as_ref())
            .and_then(palpation::read_palpation),
        fundal_height: last
            .and_then(|visit| visit.fundal_height_tenths)
            .and_then(|tenths| fundal_height::height_score(tenths, days)),
        gestation: known.gestation,
        gestation_reason: known.reason,
        flags: Vec::new(),
        labour: None,
    }
}

fn last_visit(case: &Case) -> Option<&Visit> {
    case.visits
        .iter()
        .filter(|visit| visit.at <= case.on)
        .max_by_key(|visit| visit.at)
}
