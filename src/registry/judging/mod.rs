//! From everything the register holds about one pregnancy to a judgement and its flags.
//!
//! Visits, labour rows and changed facts all come through here, in the transaction that wrote them: nothing is written unassessed.

mod case;
mod labour;

use super::change::Change;
use super::error::Result;
use super::flags::{self, Judged};
use super::ids::PregnancyId;
use crate::clinical::{Assessment, Moment, OpenFlag, assess, settled};

pub use super::flags::RaisedBy;
pub use case::{case_of, judges_at};
pub(in crate::registry) use case::{dating_of, scans_of};

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
    let mut known = case::known_of(change.db(), pregnancy, on)?;
    let assessment = assess(&known.case);
    follow(change, &known, &assessment, by)?;
    let last = known.last_record().filter(|last| *last > on);
    if let Some(last) = last {
        known.case.on = last;
        let later = assess(&known.case);
        follow(change, &known, &later, RaisedBy::default())?;
    }
    if let Some(ended_at) = known.ended_at {
        // An entry that came after the end raises what belongs to its month, and nothing that stands.
        flags::end_all(change, pregnancy, ended_at)?;
    }
    Ok(assessment)
}

fn follow(
    change: &mut Change<'_>,
    known: &case::Known,
    assessment: &Assessment,
    by: RaisedBy,
) -> Result<()> {
    let judged = Judged {
        pregnancy: known.pregnancy,
        mother: known.mother,
        post: known.post,
        register_number: &known.register_number,
        on: known.case.on,
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
        settled(&known.case, assessment, &open)
    })
}
