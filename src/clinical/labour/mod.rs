//! Clocks, lines and limits of labour (clinical reference, part 4).

mod contractions;
mod descent;
mod due;
mod heart;
mod limits;

use super::record::Record;
use super::{LabourProtocol, Moment, Stage};
use chrono::Duration;

pub(crate) use contractions::{is_contraction_record, too_many, too_often, weak};
pub(crate) use descent::{arrest, pushing};
pub(crate) use due::due;
pub(crate) use heart::{Limits, far_outside};
pub(crate) use limits::{AsShe, limits};

/// The dilatation that opens the active stage, with its record.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Active {
    pub(crate) at: Moment,
    pub(crate) cm: u8,
    /// Its place among the records of this labour.
    pub(crate) place: usize,
}

/// One labour up to the moment of judgement.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Labour {
    pub(crate) protocol: LabourProtocol,
    /// Regular painful contractions as told, else the first record.
    pub(crate) began: Moment,
    pub(crate) began_told: bool,
    /// The first record of this labour.
    pub(crate) from: Moment,
    /// The largest dilatation and when it was first recorded: the cervix does not close in labour [O].
    pub(crate) highest: Option<(u8, Moment)>,
    pub(crate) active: Option<Active>,
    /// The last recorded dilatation.
    pub(crate) last_dilatation: Option<(Moment, u8)>,
    pub(crate) stage: Option<Stage>,
    /// Births before is 0; unknown counts as a later birth, which has the shorter limits [O].
    pub(crate) first_birth: bool,
    pub(crate) births_known: bool,
}

impl Labour {
    /// Reads the records of this labour; absent when there are none.
    pub(crate) fn of(
        records: &[Record<'_>],
        protocol: LabourProtocol,
        began_told: Option<Moment>,
        births_before: Option<u8>,
    ) -> Option<Self> {
        let from = records.first()?.at();
        let (mut highest, mut active, mut last_dilatation) = (None::<(u8, Moment)>, None, None);
        for (place, record) in records.iter().enumerate() {
            let (at, Some(cm)) = (record.at(), record.dilatation()) else {
                continue;
            };
            if highest.is_none_or(|(most, _)| cm > most) {
                highest = Some((cm, at));
            }
            if active.is_none() && cm >= active_start(protocol) {
                active = Some(Active { at, cm, place });
            }
            last_dilatation = Some((at, cm));
        }
        Some(Self {
            protocol,
            began: began_told.unwrap_or(from),
            began_told: began_told.is_some(),
            from,
            highest,
            active,
            last_dilatation,
            stage: highest.map(|(cm, _)| match cm {
                10.. => Stage::Second,
                cm if cm >= active_start(protocol) => Stage::Active,
                _ => Stage::Latent,
            }),
            first_birth: births_before == Some(0),
            births_known: births_before.is_some(),
        })
    }

    pub(crate) fn is_partograph(&self) -> bool {
        self.protocol == LabourProtocol::Partograph
    }

    pub(crate) fn active_start(&self) -> u8 {
        active_start(self.protocol)
    }

    /// When the alert line stands at 4 cm; the first active record is written on that line [R BTC-3.15].
    pub(crate) fn t4(&self) -> Option<Moment> {
        let active = self.active.filter(|_| self.is_partograph())?;
        Some(active.at - Duration::hours(i64::from(active.cm) - 4))
    }

    /// The alert line at a dilatation: one centimetre an hour [R OU-L4.2.2].
    pub(crate) fn alert_at(&self, cm: u8) -> Option<Moment> {
        Some(self.t4()? + Duration::hours(i64::from(cm) - 4))
    }

    /// The action line at a dilatation, four hours on.
    pub(crate) fn action_at(&self, cm: u8) -> Option<Moment> {
        Some(self.alert_at(cm)? + Duration::hours(4))
    }

    /// How long one centimetre may stand under the labour care guide [M LCG].
    pub(crate) fn centimetre_limit(&self) -> Option<(u8, Moment, Duration)> {
        let (cm, since) = self.highest.filter(|_| !self.is_partograph())?;
        let minutes = match cm {
            5 => 360,
            6 => 300,
            7 => 180,
            8 => 150,
            9 => 120,
            _ => return None,
        };
        Some((cm, since, Duration::minutes(minutes)))
    }

    /// How long the active stage may last.
    pub(crate) fn active_limit(&self) -> Duration {
        Duration::hours(if self.is_partograph() || self.first_birth {
            12
        } else {
            10
        })
    }

    /// How long the second stage may last.
    pub(crate) fn second_limit(&self) -> Duration {
        Duration::hours(match (self.is_partograph(), self.first_birth) {
            (false, true) => 3,
            (false, false) | (true, true) => 2,
            (true, false) => 1,
        })
    }

    /// When 10 cm was first recorded.
    pub(crate) fn full_at(&self) -> Option<Moment> {
        self.highest.filter(|(cm, _)| *cm >= 10).map(|(_, at)| at)
    }

    /// Since when the active stage runs.
    pub(crate) fn active_since(&self) -> Option<Moment> {
        self.active.map(|active| active.at)
    }

    /// The shorter limits were used because nobody knows how many births she had.
    pub(crate) fn births_note(&self) -> &'static str {
        if self.births_known {
            ""
        } else {
            " Number of births unknown, shorter limit used."
        }
    }
}

/// 5 cm [R IPC18, ALG] or 4 cm [R MCPC C-60, OU-L4.2.2].
pub(crate) const fn active_start(protocol: LabourProtocol) -> u8 {
    match protocol {
        LabourProtocol::CareGuide => 5,
        LabourProtocol::Partograph => 4,
    }
}
