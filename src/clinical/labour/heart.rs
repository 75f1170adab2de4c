//! The limits of the fetal heart in labour, by protocol.

use crate::clinical::LabourProtocol;
use crate::clinical::record::Record;

/// What counts as outside.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Limits {
    protocol: LabourProtocol,
}

impl Limits {
    pub(crate) fn of(protocol: LabourProtocol) -> Self {
        Self { protocol }
    }

    /// Any count of the record is outside.
    pub(crate) fn broken_by(self, record: Record<'_>) -> bool {
        record.hearts().iter().any(|count| match self.protocol {
            // IPC18 calls 160 normal; the edge of LCG is kept, the safer side [M LCG; O].
            LabourProtocol::CareGuide => !(110..160).contains(count),
            LabourProtocol::Partograph => !(120..=160).contains(count),
        })
    }

    pub(crate) fn inside_words(self) -> &'static str {
        match self.protocol {
            LabourProtocol::CareGuide => "is inside 110 to 159 (labour care guide)",
            LabourProtocol::Partograph => "is inside 120 to 160 (partograph)",
        }
    }

    pub(crate) fn words(self) -> &'static str {
        match self.protocol {
            LabourProtocol::CareGuide => "labour care guide: 110 to 159",
            LabourProtocol::Partograph => "partograph: 120 to 160",
        }
    }
}

/// Any count below 100 or above 180 [R MCPC C-57, S-95].
pub(crate) fn far_outside(record: Record<'_>) -> bool {
    record
        .hearts()
        .iter()
        .any(|count| !(100..=180).contains(count))
}
