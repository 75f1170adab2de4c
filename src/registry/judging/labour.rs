//! The labour records of a pregnancy as one list of rows.

use diesel::prelude::*;

use crate::clinical::{
    DangerSign, Deceleration, FeltInside, LabourProtocol, LabourRow, Liquor, Moment,
    ObstructionSign, Occiput, Protein,
};
use crate::registry::connection::{Backend, Db};
use crate::registry::error::Result;
use crate::registry::findings::{hearts_from, small};
use crate::registry::ids::{LabourRowId, PregnancyId};
use crate::registry::schema::{labour_row_obstruction, labour_row_signs, labour_rows, labours};
use crate::registry::vocabulary::LabourEnding;

/// The middle of 110 to 160.
const USUAL_HEART: u8 = 135;

/// Every labour record of a pregnancy and their rows, in the order of time.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Labours {
    records: Vec<Record>,
    pub(super) rows: Vec<LabourRow>,
}

/// What the records say together at one moment.
#[derive(Default)]
pub(super) struct Told<'a> {
    pub(super) began_at: Option<Moment>,
    pub(super) waters_broke_at: Option<Moment>,
    /// Of the last record: an open labour keeps the protocol it began with.
    pub(super) protocol: Option<LabourProtocol>,
    pub(super) rows: &'a [LabourRow],
}

impl Labours {
    /// As of `on`; rows later than it are among them.
    pub(super) fn told(&self, on: Moment) -> Told<'_> {
        let last = self.records.iter().rfind(|record| record.opened_at <= on);
        last.map_or_else(Told::default, |last| Told {
            began_at: last.began_at.filter(|began| *began <= on),
            waters_broke_at: last.waters_broke_at.filter(|broke| *broke <= on),
            protocol: Some(last.protocol),
            rows: &self.rows,
        })
    }

    /// A row that was just written, where it will be read.
    pub(super) fn add(&mut self, row: &LabourRow, together: bool) {
        let mut found = row.clone();
        found.fetal_hearts = counting(found.fetal_hearts, together);
        found.danger_signs.sort_unstable_by_key(|sign| sign.code());
        found
            .obstruction_signs
            .sort_unstable_by_key(|sign| sign.code());
        let place = self.rows.partition_point(|row| row.at <= found.at);
        self.rows.insert(place, found);
    }

    /// When something was written in them.
    pub(super) fn moments(&self) -> impl Iterator<Item = Moment> {
        self.rows.iter().map(|row| row.at)
    }
}

#[derive(Debug, Clone, PartialEq, Queryable, Selectable)]
#[diesel(table_name = labours, check_for_backend(Backend))]
struct Record {
    opened_at: Moment,
    began_at: Option<Moment>,
    waters_broke_at: Option<Moment>,
    protocol: LabourProtocol,
}

#[derive(Queryable, Selectable)]
#[diesel(table_name = labour_rows, check_for_backend(Backend))]
struct Row {
    id: LabourRowId,
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
}

/// All but those that turned out to be no labour, and no row that was replaced.
pub(super) fn of(db: &mut Db, pregnancy: PregnancyId) -> Result<Labours> {
    let records: Vec<(Record, Option<LabourEnding>)> = labours::table
        .filter(labours::pregnancy_id.eq(pregnancy))
        .order((labours::opened_at, labours::id))
        .select((Record::as_select(), labours::closed_as))
        .load(db)?;
    let records: Vec<Record> = records
        .into_iter()
        .filter(|(_, ending)| *ending != Some(LabourEnding::NotInLabour))
        .map(|(record, _)| record)
        .collect();
    let rows = if records.is_empty() {
        Vec::new()
    } else {
        rows_of(db, pregnancy)?
    };
    Ok(Labours { records, rows })
}

/// Joined and not by a list of ids: a text of the same form every time is prepared once.
fn rows_of(db: &mut Db, pregnancy: PregnancyId) -> Result<Vec<LabourRow>> {
    let counts = || {
        labours::pregnancy_id
            .eq(pregnancy)
            .and(
                labours::closed_as
                    .is_null()
                    .or(labours::closed_as.ne(LabourEnding::NotInLabour)),
            )
            .and(labour_rows::replaced_by.is_null())
    };
    let rows: Vec<Row> = labour_rows::table
        .inner_join(labours::table)
        .filter(counts())
        .order((labour_rows::at, labour_rows::entered_at, labour_rows::id))
        .select(Row::as_select())
        .load(db)?;
    let signs: Vec<(LabourRowId, DangerSign)> = labour_row_signs::table
        .inner_join(labour_rows::table.inner_join(labours::table))
        .filter(counts())
        .order(labour_row_signs::danger_sign)
        .select((labour_row_signs::row_id, labour_row_signs::danger_sign))
        .load(db)?;
    let obstruction: Vec<(LabourRowId, ObstructionSign)> = labour_row_obstruction::table
        .inner_join(labour_rows::table.inner_join(labours::table))
        .filter(counts())
        .order(labour_row_obstruction::obstruction_sign)
        .select((
            labour_row_obstruction::row_id,
            labour_row_obstruction::obstruction_sign,
        ))
        .load(db)?;
    rows.into_iter()
        .map(|row| row.read(&signs, &obstruction))
        .collect()
}

/// Two counts would mean two people at the same time; of two in a row the one further from the usual counts [O: the safer side].
fn counting(mut hearts: Vec<u8>, together: bool) -> Vec<u8> {
    if !together && hearts.len() == 2 {
        hearts.sort_by_key(|count| std::cmp::Reverse(count.abs_diff(USUAL_HEART)));
        hearts.truncate(1);
    }
    hearts
}

impl Row {
    fn read(
        self,
        signs: &[(LabourRowId, DangerSign)],
        obstruction: &[(LabourRowId, ObstructionSign)],
    ) -> Result<LabourRow> {
        let hearts = hearts_from(self.fetal_hearts.as_deref())?;
        Ok(LabourRow {
            at: self.at,
            fetal_hearts: counting(hearts, self.counted_together),
            heart_sought: self.heart_sought,
            systolic: small("systolic", self.systolic)?,
            diastolic: small("diastolic", self.diastolic)?,
            pulse: small("pulse", self.pulse)?,
            temperature_tenths: small("temperature", self.temperature_tenths)?,
            urine_protein: self.urine_protein,
            danger_signs: signs
                .iter()
                .filter(|(row, _)| *row == self.id)
                .map(|(_, sign)| *sign)
                .collect(),
            dilatation_cm: small("dilatation", self.dilatation_cm)?,
            fifths: small("fifths", self.fifths)?,
            felt_inside: self.felt_inside,
            occiput: self.occiput,
            moulding: small("moulding", self.moulding)?,
            caput: small("caput", self.caput)?,
            liquor: self.liquor,
            liquor_foul: self.liquor_foul,
            deceleration: self.deceleration,
            contractions_in_10_min: small("contractions", self.contractions_in_10_min)?,
            contraction_seconds: small("seconds of a contraction", self.contraction_seconds)?,
            pushing: self.pushing,
            obstruction_signs: obstruction
                .iter()
                .filter(|(row, _)| *row == self.id)
                .map(|(_, sign)| *sign)
                .collect(),
        })
    }
}
