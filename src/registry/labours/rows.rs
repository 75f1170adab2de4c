//! A row of the labour record as it is stored, and as `assess` sees it.

use diesel::prelude::*;

use super::super::connection::{Backend, Db};
use super::super::error::Result;
use super::super::findings::{hearts_from, small};
use super::super::ids::{LabourId, LabourRowId, StaffId};
use super::super::schema::{labour_row_obstruction, labour_row_signs, labour_rows};
use crate::clinical::{
    DangerSign, Deceleration, FeltInside, LabourRow, Liquor, Moment, ObstructionSign, Occiput,
    Protein,
};

/// What somebody wrote into the labour record at one time.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NewRow {
    /// What was found, and when.
    pub found: LabourRow,
    /// Two counts of the heart were made by two people at the same time.
    pub counted_together: bool,
    /// In words.
    pub note: Option<String>,
}

impl NewRow {
    /// Whether anything was found or noted; a row with nothing but its time is none.
    #[must_use]
    pub fn says_something(&self) -> bool {
        self.found != LabourRow::at(self.found.at) || self.note.is_some()
    }
}

/// A row with its place in the record.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StoredRow {
    /// Its id.
    pub id: LabourRowId,
    /// What was found.
    pub row: NewRow,
    /// When it was written down.
    pub entered_at: Moment,
    /// By whom, in words.
    pub entered_by: String,
    /// The row that stands for it since it was amended.
    pub replaced_by: Option<LabourRowId>,
    /// Why it replaces an older one.
    pub reason: Option<String>,
}

#[derive(Debug, Clone, Queryable, Selectable, Insertable)]
#[diesel(table_name = labour_rows, check_for_backend(Backend))]
pub(super) struct RowColumns {
    pub(super) id: LabourRowId,
    pub(super) labour_id: LabourId,
    at: Moment,
    fetal_hearts: Option<String>,
    counted_together: bool,
    heart_sought: Option<bool>,
    systolic: Option<i32>,
    diastolic: Option<i32>,
    pulse: Option<i32>,
    temperature_tenths: Option<i32>,
    urine_protein: Option<Protein>,
    dilatation_cm: Option<i32>,
    fifths: Option<i32>,
    felt_inside: Option<FeltInside>,
    occiput: Option<Occiput>,
    moulding: Option<i32>,
    caput: Option<i32>,
    liquor: Option<Liquor>,
    liquor_foul: Option<bool>,
    deceleration: Option<Deceleration>,
    contractions_in_10_min: Option<i32>,
    contraction_seconds: Option<i32>,
    pushing: Option<bool>,
    note: Option<String>,
    entered_at: Moment,
    entered_by: StaffId,
    request_key: Option<String>,
    pub(super) replaced_by: Option<LabourRowId>,
    reason: Option<String>,
}

/// Who writes a row down, when, and what for.
pub(super) struct Entry<'a> {
    pub(super) labour: LabourId,
    pub(super) now: Moment,
    pub(super) author: StaffId,
    pub(super) request: Option<&'a str>,
    pub(super) reason: Option<&'a str>,
}

/// Writes the row and its signs.
pub(super) fn insert(db: &mut Db, entry: &Entry<'_>, new: &NewRow) -> Result<LabourRowId> {
    let id = LabourRowId::made(entry.now);
    let found = &new.found;
    let counts: Vec<String> = found.fetal_hearts.iter().map(u8::to_string).collect();
    let columns = RowColumns {
        id,
        labour_id: entry.labour,
        at: found.at,
        fetal_hearts: (!counts.is_empty()).then(|| counts.join(",")),
        counted_together: new.counted_together,
        heart_sought: found.heart_sought,
        systolic: found.systolic.map(i32::from),
        diastolic: found.diastolic.map(i32::from),
        pulse: found.pulse.map(i32::from),
        temperature_tenths: found.temperature_tenths.map(i32::from),
        urine_protein: found.urine_protein,
        dilatation_cm: found.dilatation_cm.map(i32::from),
        fifths: found.fifths.map(i32::from),
        felt_inside: found.felt_inside,
        occiput: found.occiput,
        moulding: found.moulding.map(i32::from),
        caput: found.caput.map(i32::from),
        liquor: found.liquor,
        liquor_foul: found.liquor_foul,
        deceleration: found.deceleration,
        contractions_in_10_min: found.contractions_in_10_min.map(i32::from),
        contraction_seconds: found.contraction_seconds.map(i32::from),
        pushing: found.pushing,
        note: new.note.clone(),
        entered_at: entry.now,
        entered_by: entry.author,
        request_key: entry.request.map(str::to_owned),
        replaced_by: None,
        reason: entry.reason.map(str::to_owned),
    };
    diesel::insert_into(labour_rows::table)
        .values(&columns)
        .execute(db)?;
    for sign in &found.danger_signs {
        diesel::insert_into(labour_row_signs::table)
            .values((
                labour_row_signs::row_id.eq(id),
                labour_row_signs::danger_sign.eq(*sign),
            ))
            .execute(db)?;
    }
    for sign in &found.obstruction_signs {
        diesel::insert_into(labour_row_obstruction::table)
            .values((
                labour_row_obstruction::row_id.eq(id),
                labour_row_obstruction::obstruction_sign.eq(*sign),
            ))
            .execute(db)?;
    }
    Ok(id)
}

/// Reads the signs and turns the columns into findings.
pub(super) fn read(db: &mut Db, columns: RowColumns, entered_by: String) -> Result<StoredRow> {
    let danger_signs: Vec<DangerSign> = labour_row_signs::table
        .filter(labour_row_signs::row_id.eq(columns.id))
        .order(labour_row_signs::danger_sign)
        .select(labour_row_signs::danger_sign)
        .load(db)?;
    let obstruction_signs: Vec<ObstructionSign> = labour_row_obstruction::table
        .filter(labour_row_obstruction::row_id.eq(columns.id))
        .order(labour_row_obstruction::obstruction_sign)
        .select(labour_row_obstruction::obstruction_sign)
        .load(db)?;
    let found = LabourRow {
        at: columns.at,
        fetal_hearts: hearts_from(columns.fetal_hearts.as_deref())?,
        heart_sought: columns.heart_sought,
        systolic: small("systolic", columns.systolic)?,
        diastolic: small("diastolic", columns.diastolic)?,
        pulse: small("pulse", columns.pulse)?,
        temperature_tenths: small("temperature_tenths", columns.temperature_tenths)?,
        urine_protein: columns.urine_protein,
        danger_signs,
        dilatation_cm: small("dilatation_cm", columns.dilatation_cm)?,
        fifths: small("fifths", columns.fifths)?,
        felt_inside: columns.felt_inside,
        occiput: columns.occiput,
        moulding: small("moulding", columns.moulding)?,
        caput: small("caput", columns.caput)?,
        liquor: columns.liquor,
        liquor_foul: columns.liquor_foul,
        deceleration: columns.deceleration,
        contractions_in_10_min: small("contractions_in_10_min", columns.contractions_in_10_min)?,
        contraction_seconds: small("contraction_seconds", columns.contraction_seconds)?,
        pushing: columns.pushing,
        obstruction_signs,
    };
    Ok(StoredRow {
        id: columns.id,
        row: NewRow {
            found,
            counted_together: columns.counted_together,
            note: columns.note,
        },
        entered_at: columns.entered_at,
        entered_by,
        replaced_by: columns.replaced_by,
        reason: columns.reason,
    })
}
