//! Between a row of `visit_findings` and what it says.

use diesel::prelude::*;

use super::Findings;
use crate::clinical::{
    DangerSign, Day, Front, Head, Moment, Movements, PalpationFindings, Pole, Protein, Side, Visit,
    Waters,
};
use crate::registry::connection::Backend;
use crate::registry::error::{RegistryError, Result};
use crate::registry::ids::{StaffId, VisitId};
use crate::registry::schema::visit_findings;

/// Who wrote a revision, when and why.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(in crate::registry) struct Written {
    pub(in crate::registry) revision: i32,
    pub(in crate::registry) at: Moment,
    pub(in crate::registry) by: StaffId,
    pub(in crate::registry) reason: Option<String>,
}

#[derive(Queryable, Selectable, Insertable)]
#[diesel(table_name = visit_findings, check_for_backend(Backend))]
pub(in crate::registry) struct FindingsRow {
    pub(super) visit_id: VisitId,
    revision: i32,
    at: Moment,
    in_labour: bool,
    labour_began_at: Option<Moment>,
    waters_broke_at: Option<Moment>,
    bladder_empty: Option<bool>,
    fundus: Option<Pole>,
    left_side: Option<Side>,
    right_side: Option<Side>,
    front: Option<Front>,
    lower_pole: Option<Pole>,
    fifths: Option<i32>,
    head: Option<Head>,
    many_small_parts: Option<bool>,
    belly_unusually_large: Option<bool>,
    fundal_height_tenths: Option<i32>,
    movements: Option<Movements>,
    waters: Option<Waters>,
    fetal_hearts: Option<String>,
    heart_sought: Option<bool>,
    systolic: Option<i32>,
    diastolic: Option<i32>,
    pulse: Option<i32>,
    temperature_tenths: Option<i32>,
    urine_protein: Option<Protein>,
    signs_asked: bool,
    next_visit_on: Option<Day>,
    note: Option<String>,
    reason: Option<String>,
    written_at: Moment,
    written_by: StaffId,
}

/// A stored number as the small one it must be.
pub(in crate::registry) fn small<T: TryFrom<i32>>(
    what: &str,
    stored: Option<i32>,
) -> Result<Option<T>> {
    stored
        .map(|number| {
            T::try_from(number).map_err(|_| RegistryError::corrupt(format!("{what} is {number}")))
        })
        .transpose()
}

/// `142,140`; absent when nobody counted.
fn hearts_text(hearts: &[u8]) -> Option<String> {
    let texts: Vec<String> = hearts.iter().map(u8::to_string).collect();
    (!texts.is_empty()).then(|| texts.join(","))
}

/// The counts of `142,140`.
pub(in crate::registry) fn hearts_from(text: Option<&str>) -> Result<Vec<u8>> {
    let count = |part: &str| {
        part.parse()
            .map_err(|_| RegistryError::corrupt(format!("a heart rate is {part:?}")))
    };
    text.map_or_else(
        || Ok(Vec::new()),
        |text| text.split(',').map(count).collect(),
    )
}

impl FindingsRow {
    pub(super) fn of(visit_id: VisitId, findings: &Findings, written: &Written) -> Self {
        let visit = &findings.visit;
        let hands = visit.palpation.clone().unwrap_or_default();
        Self {
            visit_id,
            revision: written.revision,
            at: visit.at,
            in_labour: visit.in_labour,
            labour_began_at: findings.labour_began_at,
            waters_broke_at: findings.waters_broke_at,
            bladder_empty: findings.bladder_empty,
            fundus: hands.fundus,
            left_side: hands.left,
            right_side: hands.right,
            front: hands.front,
            lower_pole: hands.lower,
            fifths: hands.fifths.map(i32::from),
            head: hands.head,
            many_small_parts: hands.many_small_parts,
            belly_unusually_large: hands.belly_unusually_large,
            fundal_height_tenths: visit.fundal_height_tenths.map(i32::from),
            movements: visit.movements,
            waters: visit.waters,
            fetal_hearts: hearts_text(&visit.fetal_hearts),
            heart_sought: visit.heart_sought,
            systolic: visit.systolic.map(i32::from),
            diastolic: visit.diastolic.map(i32::from),
            pulse: visit.pulse.map(i32::from),
            temperature_tenths: visit.temperature_tenths.map(i32::from),
            urine_protein: visit.urine_protein,
            signs_asked: findings.signs_asked,
            next_visit_on: findings.next_visit_on,
            note: findings.note.clone(),
            reason: written.reason.clone(),
            written_at: written.at,
            written_by: written.by,
        }
    }

    /// `signs` may hold those of other visits and revisions too.
    pub(super) fn read(self, signs: &[(VisitId, i32, DangerSign)]) -> Result<(Findings, Written)> {
        let hands = PalpationFindings {
            fundus: self.fundus,
            left: self.left_side,
            right: self.right_side,
            front: self.front,
            lower: self.lower_pole,
            fifths: small("fifths", self.fifths)?,
            head: self.head,
            many_small_parts: self.many_small_parts,
            belly_unusually_large: self.belly_unusually_large,
        };
        let own = signs
            .iter()
            .filter(|(visit, revision, _)| *visit == self.visit_id && *revision == self.revision);
        let visit = Visit {
            at: self.at,
            fetal_hearts: hearts_from(self.fetal_hearts.as_deref())?,
            heart_sought: self.heart_sought,
            systolic: small("systolic", self.systolic)?,
            diastolic: small("diastolic", self.diastolic)?,
            pulse: small("pulse", self.pulse)?,
            temperature_tenths: small("temperature", self.temperature_tenths)?,
            urine_protein: self.urine_protein,
            danger_signs: own.map(|(.., sign)| *sign).collect(),
            in_labour: self.in_labour,
            palpation: (hands != PalpationFindings::default()).then_some(hands),
            fundal_height_tenths: small("fundal height", self.fundal_height_tenths)?,
            movements: self.movements,
            waters: self.waters,
        };
        let findings = Findings {
            visit,
            labour_began_at: self.labour_began_at,
            waters_broke_at: self.waters_broke_at,
            bladder_empty: self.bladder_empty,
            signs_asked: self.signs_asked,
            next_visit_on: self.next_visit_on,
            note: self.note,
        };
        let written = Written {
            revision: self.revision,
            at: self.written_at,
            by: self.written_by,
            reason: self.reason,
        };
        Ok((findings, written))
    }
}
