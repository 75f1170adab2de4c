//! All tapes of one pregnancy, for the height chart of whichever page shows it.

use crate::clinical::{Dated, HeightMethod, read_palpation};
use crate::registry::visits::Findings;
use crate::web::charts::height::{Course, Reading};
use crate::web::form::Sense;

/// In the order of the visits; gestation by the due date that is known today.
pub(in crate::web::pages) fn course<'a>(
    visits: impl IntoIterator<Item = &'a Findings>,
    dated: &Dated,
    method: HeightMethod,
    sense: &Sense,
) -> Course {
    let reading = |found: &Findings| {
        let day = sense.local(found.visit.at).date();
        let hands = found.visit.palpation.as_ref();
        Some(Reading {
            day,
            gestation_days: dated.gestation_on(day),
            height_tenths: found.visit.fundal_height_tenths?,
            palpation: hands.and_then(read_palpation),
        })
    };
    Course {
        readings: visits.into_iter().filter_map(reading).collect(),
        method,
        twins_known: dated.babies.is_some_and(|babies| babies > 1),
    }
}
