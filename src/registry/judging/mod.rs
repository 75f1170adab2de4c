//! From everything the register holds about one pregnancy to a judgement and its flags.
//!
//! Visits, labour rows and changed facts all come through here, in the transaction that wrote them: nothing is written unassessed.

mod case;
mod labour;
mod place;
mod records;

use super::change::Change;
use super::error::Result;
use super::flags::{self, Judged};
use super::ids::PregnancyId;
use crate::clinical::{Assessment, Case, Moment, OpenFlag, assess, settled};
use records::Records;

pub use super::flags::RaisedBy;
pub use case::case_of;
pub(in crate::registry) use case::{Held, dating_of, scans_of};
pub(in crate::registry) use place::Place;
pub use place::judges_at;
pub(in crate::registry) use records::{Added, forget};

/// Judges a pregnancy at the moment `on` and brings its flags up to date.
///
/// When an entry comes late, so that something later is known already, the flags follow the latest record; what is returned
/// is always the judgement at `on`.
///
/// # Errors
/// `Missing` when there is no such pregnancy; `Broken` when the database fails.
pub fn assess_pregnancy(
    change: &mut Change<'_>,
    pregnancy: PregnancyId,
    on: Moment,
    by: RaisedBy,
) -> Result<Assessment> {
    let records = Records::of(change.db(), pregnancy)?;
    judged(change, (pregnancy, records), on, by)
}

/// As [`assess_pregnancy`], after an entry that did nothing but add this record.
///
/// # Errors
/// As [`assess_pregnancy`].
pub(in crate::registry) fn assess_added(
    change: &mut Change<'_>,
    pregnancy: PregnancyId,
    added: Added<'_>,
    (on, by): (Moment, RaisedBy),
) -> Result<Assessment> {
    let records = records::after(change, pregnancy, added)?;
    judged(change, (pregnancy, records), on, by)
}

fn judged(
    change: &mut Change<'_>,
    (pregnancy, records): (PregnancyId, Records),
    on: Moment,
    by: RaisedBy,
) -> Result<Assessment> {
    let held = Held::with(change.db(), pregnancy, records)?;
    let place = place::kept(change, held.post)?;
    let case = held.case(&place, on);
    let assessment = assess(&case);
    follow(change, (&held, &place), &case, &assessment, by)?;
    let last = held.moments().max().filter(|last| *last > on);
    if let Some(last) = last {
        // As she stood then: her labour may have been opened in between, at an hour with another way to hospital.
        let case = held.case(&place, last);
        let later = assess(&case);
        follow(change, (&held, &place), &case, &later, RaisedBy::default())?;
    }
    if let Some(ended_at) = held.ended_at {
        // An entry that came after the end raises what belongs to its month, and nothing that stands.
        flags::end_all(change, pregnancy, ended_at)?;
    }
    records::keep(change, pregnancy, held.into_records());
    Ok(assessment)
}

fn follow(
    change: &mut Change<'_>,
    (held, place): (&Held, &Place),
    case: &Case,
    assessment: &Assessment,
    by: RaisedBy,
) -> Result<()> {
    let judged = Judged {
        pregnancy: held.pregnancy,
        mother: held.mother,
        post: held.post,
        register_number: &place.post.register_number(held.number),
        on: case.on,
        by,
        assessment,
    };
    flags::update(change, &judged, |silent| {
        let open: Vec<OpenFlag<'_>> = silent
            .iter()
            .map(|flag| OpenFlag {
                rule: &flag.rule,
                urgency: flag.highest,
                raised_at: flag.last_raised_at,
            })
            .collect();
        settled(case, assessment, &open)
    })
}
