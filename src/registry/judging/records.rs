//! What was written down of one pregnancy, kept from one entry to the next where many are brought in together.

use std::collections::HashMap;

use diesel::prelude::*;

use super::case::scans_of;
use super::labour::{self, Labours};
use crate::clinical::{LabourRow, PalpationFindings, PastEvent, Scan};
use crate::registry::change::Change;
use crate::registry::connection::Db;
use crate::registry::error::Result;
use crate::registry::findings::{self, Findings};
use crate::registry::ids::{PregnancyId, VisitId};
use crate::registry::schema::pregnancy_history;

/// In the order of time, as they stand.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Records {
    pub(super) history: Vec<PastEvent>,
    pub(super) scans: Vec<Scan>,
    pub(super) visits: Vec<(VisitId, Findings)>,
    pub(super) labours: Labours,
}

/// The record that an entry adds to those already known.
#[derive(Clone, Copy)]
pub(in crate::registry) enum Added<'a> {
    Visit(VisitId, &'a Findings),
    /// And whether two counts of the heart were made at the same time.
    Row(&'a LabourRow, bool),
}

/// Those that a change has judged.
type Kept = HashMap<PregnancyId, Records>;

impl Records {
    /// # Errors
    /// `Broken` when the database fails.
    pub(super) fn of(db: &mut Db, pregnancy: PregnancyId) -> Result<Self> {
        let history = pregnancy_history::table
            .filter(pregnancy_history::pregnancy_id.eq(pregnancy))
            .order(pregnancy_history::past_event)
            .select(pregnancy_history::past_event)
            .load(db)?;
        Ok(Self {
            history,
            scans: scans_of(db, pregnancy)?,
            visits: findings::standing(db, pregnancy)?,
            labours: labour::of(db, pregnancy)?,
        })
    }

    fn add(&mut self, added: Added<'_>) {
        match added {
            Added::Visit(id, findings) => {
                let findings = as_read(findings);
                let at = findings.visit.at;
                let place = self.visits.partition_point(|(_, it)| it.visit.at <= at);
                self.visits.insert(place, (id, findings));
            }
            Added::Row(row, together) => self.labours.add(row, together),
        }
    }
}

/// As they come back from the register.
fn as_read(findings: &Findings) -> Findings {
    let mut findings = findings.clone();
    let visit = &mut findings.visit;
    visit
        .palpation
        .take_if(|hands| *hands == PalpationFindings::default());
    visit.danger_signs.sort_unstable_by_key(|sign| sign.code());
    visit.danger_signs.dedup();
    findings
}

/// The records of a pregnancy once `added` is written. Of many entries brought in together only the first reads them all.
pub(super) fn after(
    change: &mut Change<'_>,
    pregnancy: PregnancyId,
    added: Added<'_>,
) -> Result<Records> {
    let known = change.kept::<Kept>().and_then(|it| it.remove(&pregnancy));
    let Some(mut records) = known else {
        return Records::of(change.db(), pregnancy);
    };
    records.add(added);
    debug_assert_eq!(
        Some(&records),
        Records::of(change.db(), pregnancy).ok().as_ref()
    );
    Ok(records)
}

/// Keeps them for the next entry of this change.
pub(super) fn keep(change: &mut Change<'_>, pregnancy: PregnancyId, records: Records) {
    if let Some(kept) = change.kept::<Kept>() {
        kept.insert(pregnancy, records);
    }
}

/// They changed in another way than by an entry that is judged.
pub(in crate::registry) fn forget(change: &mut Change<'_>, pregnancy: PregnancyId) {
    if let Some(kept) = change.kept::<Kept>() {
        kept.remove(&pregnancy);
    }
}
