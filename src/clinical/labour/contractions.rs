//! Too few, too short, too often, too long.

use crate::clinical::record::Record;
use crate::clinical::{LabourProtocol, LabourRow};

/// Contractions were counted or timed.
pub(crate) fn is_contraction_record(record: Record<'_>) -> bool {
    record.row().is_some_and(counted)
}

fn counted(row: &LabourRow) -> bool {
    row.contractions_in_10_min.is_some() || row.contraction_seconds.is_some()
}

/// Weak by the protocol; what was not counted never fits.
pub(crate) fn weak(record: Record<'_>, protocol: LabourProtocol) -> bool {
    let Some(row) = record.row() else {
        return false;
    };
    let (number, seconds) = (row.contractions_in_10_min, row.contraction_seconds);
    match protocol {
        // [M LCG]
        LabourProtocol::CareGuide => {
            number.is_some_and(|number| number <= 2) || seconds.is_some_and(|it| it < 20)
        }
        // [R MCPC S-57, S-66]
        LabourProtocol::Partograph => {
            number.is_some_and(|number| number < 3) && seconds.is_none_or(|it| it < 40)
        }
    }
}

/// More than five in ten minutes [M LCG; R GPN].
pub(crate) fn too_often(record: Record<'_>) -> bool {
    record
        .row()
        .and_then(|row| row.contractions_in_10_min)
        .is_some_and(|number| number > 5)
}

/// Too often, or longer than a minute.
pub(crate) fn too_many(record: Record<'_>) -> bool {
    let long = record
        .row()
        .and_then(|row| row.contraction_seconds)
        .is_some_and(|seconds| seconds > 60);
    long || too_often(record)
}
