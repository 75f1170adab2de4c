//! Visits and labour rows of one line.

use super::fields::{
    Path, code, codes, list, moment, object, required, tenths, truth, unknown, whole,
};
use super::json::Node;
use super::read::Fault;
use crate::clinical::{
    LabourRow, Moment, PalpationFault, PalpationFindings, Visit, palpation_faults,
};

/// Fields that visits and rows share; every other key goes to `$other`.
macro_rules! shared_field {
    ($record:ident, $key:expr, $value:expr, $here:expr, $other:expr) => {
        match $key {
            "at" => {}
            "fetal_hearts" => {}
            "heart_sought" => $record.heart_sought = truth($value, $here)?,
            "systolic" => $record.systolic = whole($value, $here, 40, 280)?,
            "diastolic" => $record.diastolic = whole($value, $here, 20, 180)?,
            "pulse" => $record.pulse = whole($value, $here, 20, 250)?,
            "temperature_c" => $record.temperature_tenths = tenths($value, $here, 300, 430)?,
            "urine_protein" => $record.urine_protein = code($value, $here)?,
            "danger_signs" => $record.danger_signs = codes($value, $here)?,
            _ => $other,
        }
    };
}

/// What cannot stand side by side in either list.
macro_rules! check_shared {
    ($record:ident, $path:expr) => {
        if let (Some(systolic), Some(diastolic)) = ($record.systolic, $record.diastolic)
            && diastolic >= systolic
        {
            return Err($path.key("diastolic").fault("is not below systolic"));
        }
        if $record.heart_sought == Some(false) && !$record.fetal_hearts.is_empty() {
            return Err($path.key("heart_sought").fault("false beside a count"));
        }
    };
}

/// One visit.
pub(super) fn visit(node: &Node<'_>, path: &Path<'_>) -> Result<Visit, Fault> {
    let (at, hearts) = opened(node, path)?;
    let mut visit = Visit::at(at);
    visit.fetal_hearts = hearts.unwrap_or_default();
    for (key, value) in object(node, path)? {
        let here = path.key(key);
        shared_field!(
            visit,
            &**key,
            value,
            &here,
            match &**key {
                "in_labour" => visit.in_labour = truth(value, &here)?.unwrap_or(false),
                "palpation" => visit.palpation = palpation(value, &here)?,
                "fundal_height_cm" => visit.fundal_height_tenths = tenths(value, &here, 100, 600)?,
                "movements" => visit.movements = code(value, &here)?,
                "waters" => visit.waters = code(value, &here)?,
                _ => return Err(unknown(&here)),
            }
        );
    }
    check_shared!(visit, path);
    Ok(visit)
}

/// One row of the labour record.
pub(super) fn row(node: &Node<'_>, path: &Path<'_>) -> Result<LabourRow, Fault> {
    let (at, hearts) = opened(node, path)?;
    let mut row = LabourRow::at(at);
    let listed = hearts.is_some();
    row.fetal_hearts = hearts.unwrap_or_default();
    for (key, value) in object(node, path)? {
        let here = path.key(key);
        shared_field!(
            row,
            &**key,
            value,
            &here,
            match &**key {
                "dilatation_cm" => row.dilatation_cm = whole(value, &here, 0, 10)?,
                "fifths" => row.fifths = whole(value, &here, 0, 5)?,
                "felt_inside" => row.felt_inside = code(value, &here)?,
                "occiput" => row.occiput = code(value, &here)?,
                "moulding" => row.moulding = whole(value, &here, 0, 3)?,
                "caput" => row.caput = whole(value, &here, 0, 3)?,
                "liquor" => row.liquor = code(value, &here)?,
                "liquor_foul" => row.liquor_foul = truth(value, &here)?,
                "fetal_heart" => {
                    if let Some(count) = whole(value, &here, 30, 250)? {
                        if listed {
                            return Err(here.fault("beside `fetal_hearts`"));
                        }
                        row.fetal_hearts = vec![count];
                    }
                }
                "deceleration" => row.deceleration = code(value, &here)?,
                "contractions_in_10_min" => {
                    row.contractions_in_10_min = whole(value, &here, 0, 15)?;
                }
                "contraction_seconds" => row.contraction_seconds = whole(value, &here, 0, 300)?,
                "pushing" => row.pushing = truth(value, &here)?,
                "obstruction_signs" => row.obstruction_signs = codes(value, &here)?,
                _ => return Err(unknown(&here)),
            }
        );
    }
    check_shared!(row, path);
    Ok(row)
}

/// Its moment, and its list of hearts if it has one.
fn opened(node: &Node<'_>, path: &Path<'_>) -> Result<(Moment, Option<Vec<u8>>), Fault> {
    if *node == Node::Null {
        return Err(path.fault("null inside a list"));
    }
    let entries = object(node, path)?;
    let find = |name: &str| entries.iter().find(|(key, _)| key == name);
    let at = find("at")
        .map(|(_, value)| moment(value, &path.key("at")))
        .transpose()?
        .flatten()
        .ok_or_else(|| required(&path.key("at")))?;
    let hearts = find("fetal_hearts")
        .map(|(_, value)| hearts(value, &path.key("fetal_hearts")))
        .transpose()?
        .flatten();
    Ok((at, hearts))
}

fn hearts(node: &Node<'_>, path: &Path<'_>) -> Result<Option<Vec<u8>>, Fault> {
    let Some(entries) = list(node, path)? else {
        return Ok(None);
    };
    if entries.len() > 4 {
        return Err(path.fault("more than 4 counts"));
    }
    entries
        .iter()
        .enumerate()
        .map(|(at, entry)| {
            let here = path.index(at);
            whole(entry, &here, 30, 250)?.ok_or_else(|| here.fault("null inside a list"))
        })
        .collect::<Result<_, _>>()
        .map(Some)
}

fn palpation(node: &Node<'_>, path: &Path<'_>) -> Result<Option<PalpationFindings>, Fault> {
    let mut found = PalpationFindings::default();
    for (key, value) in object(node, path)? {
        let here = path.key(key);
        match &**key {
            "fundus" => found.fundus = code(value, &here)?,
            "left" => found.left = code(value, &here)?,
            "right" => found.right = code(value, &here)?,
            "front" => found.front = code(value, &here)?,
            "lower" => found.lower = code(value, &here)?,
            "fifths" => found.fifths = whole(value, &here, 0, 5)?,
            "head" => found.head = code(value, &here)?,
            "many_small_parts" => found.many_small_parts = truth(value, &here)?,
            "belly_unusually_large" => found.belly_unusually_large = truth(value, &here)?,
            _ => return Err(unknown(&here)),
        }
    }
    palpation_faults(&found).map_err(|fault| {
        let field = match fault {
            PalpationFault::FifthsWithoutHead => "fifths",
            PalpationFault::MobilityWithoutHead => "head",
        };
        path.key(field).fault(fault.to_string())
    })?;
    Ok((found != PalpationFindings::default()).then_some(found))
}
