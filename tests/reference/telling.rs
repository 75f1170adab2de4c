//! Cases told in a few words, for the tests of this folder.

use brimline::clinical::{
    Case, Day, Front, LabourRow, Moment, PalpationFindings, Pole, Scan, Side, Visit,
};
use chrono::Duration;

/// `2026-09-10T09:00`.
pub(crate) fn moment(text: &str) -> Moment {
    Moment::parse_from_str(text, "%Y-%m-%dT%H:%M")
        .or_else(|_| Moment::parse_from_str(text, "%Y-%m-%dT%H:%M:%S"))
        .unwrap()
}

/// The usual mother: a scan of one at 12 weeks, one birth before; so many days of gestation on the day of `on`.
pub(crate) fn usual(on: Moment, days: i64) -> Case {
    let mut case = Case::new(on);
    let lmp: Day = on.date() - Duration::days(days);
    case.mother.births_before = Some(1);
    case.dating.lmp = Some(lmp);
    case.dating.scans.push(Scan {
        on: lmp + Duration::days(84),
        gestation_days: Some(84),
        edd: None,
        babies: Some(1),
    });
    case
}

pub(crate) fn visit(at: Moment, change: impl FnOnce(&mut Visit)) -> Visit {
    let mut visit = Visit::at(at);
    change(&mut visit);
    visit
}

pub(crate) fn row(at: Moment, change: impl FnOnce(&mut LabourRow)) -> LabourRow {
    let mut row = LabourRow::at(at);
    change(&mut row);
    row
}

pub(crate) fn breech() -> PalpationFindings {
    PalpationFindings {
        fundus: Some(Pole::HardRound),
        lower: Some(Pole::SoftIrregular),
        left: Some(Side::LongSmooth),
        right: Some(Side::SmallLumps),
        front: Some(Front::Nothing),
        ..PalpationFindings::default()
    }
}

pub(crate) fn head_below() -> PalpationFindings {
    PalpationFindings {
        fundus: Some(Pole::SoftIrregular),
        lower: Some(Pole::HardRound),
        ..breech()
    }
}

pub(crate) fn across() -> PalpationFindings {
    PalpationFindings {
        fundus: Some(Pole::Empty),
        lower: Some(Pole::Empty),
        left: Some(Side::HardRound),
        right: Some(Side::SoftIrregular),
        front: Some(Front::LongSmooth),
        ..PalpationFindings::default()
    }
}
