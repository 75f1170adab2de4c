//! The usual mother of the boundary cases: 36w+0d unless said, a scan of one at 12 weeks, one birth before.

use crate::clinical::{
    Case, Day, Front, Head, LabourProtocol, LabourRow, Moment, PalpationFindings, Pole, Scan, Side,
    Visit,
};
use chrono::Duration;

/// A case that is being told.
pub(super) struct Usual(Case);

/// A visit at this moment; its days are those of the clinical reference's examples.
fn now() -> Moment {
    let day = Day::from_ymd_opt(2026, 9, 10).unwrap_or_default();
    day.and_hms_opt(9, 0, 0).unwrap_or_default()
}

/// At so many days of gestation, with one visit now that found nothing yet.
pub(super) fn at(days: i64) -> Usual {
    let mut told = undated();
    let today = now().date();
    told.0.dating.lmp = Some(today - Duration::days(days));
    told.0.dating.scans = vec![Scan {
        on: today - Duration::days(days - 84),
        gestation_days: Some(84),
        edd: None,
        babies: Some(1),
    }];
    told
}

/// The same without any date, so that nobody counted babies either.
pub(super) fn undated() -> Usual {
    let mut case = Case::new(now());
    case.mother.births_before = Some(1);
    case.visits.push(Visit::at(now()));
    Usual(case)
}

/// In labour at 40w+0d with rows only.
pub(super) fn labour() -> Usual {
    let mut told = at(280);
    told.0.visits.clear();
    told
}

impl Usual {
    /// Changes anything.
    pub(super) fn told(mut self, change: impl FnOnce(&mut Case)) -> Self {
        change(&mut self.0);
        self
    }

    /// Changes the visit of now.
    pub(super) fn visit(mut self, change: impl FnOnce(&mut Visit)) -> Self {
        if let Some(visit) = self.0.visits.last_mut() {
            change(visit);
        }
        self
    }

    /// A visit so many minutes before.
    pub(super) fn visit_before(mut self, minutes: i64, change: impl FnOnce(&mut Visit)) -> Self {
        let mut visit = Visit::at(self.0.on - Duration::minutes(minutes));
        change(&mut visit);
        self.0.visits.insert(0, visit);
        self
    }

    /// A visit so many days before.
    pub(super) fn days_before(self, days: i64, change: impl FnOnce(&mut Visit)) -> Self {
        self.visit_before(days * 1440, change)
    }

    /// A labour row so many minutes before.
    pub(super) fn row(mut self, minutes: i64, change: impl FnOnce(&mut LabourRow)) -> Self {
        let mut row = LabourRow::at(self.0.on - Duration::minutes(minutes));
        change(&mut row);
        self.0.labour.push(row);
        self
    }

    /// A row with a dilatation so many minutes before.
    pub(super) fn opened(self, cm: u8, minutes: i64) -> Self {
        self.row(minutes, |row| row.dilatation_cm = Some(cm))
    }

    /// Now instead, so many seconds later than all that was told.
    pub(super) fn later(mut self, seconds: i64) -> Self {
        self.0.on += Duration::seconds(seconds);
        self
    }

    pub(super) fn hands(self, felt: PalpationFindings) -> Self {
        self.visit(|visit| visit.palpation = Some(felt))
    }

    pub(super) fn tape(self, tenths: u16) -> Self {
        self.visit(|visit| visit.fundal_height_tenths = Some(tenths))
    }

    pub(super) fn in_labour(self) -> Self {
        self.visit(|visit| visit.in_labour = true)
    }

    pub(super) fn partograph(self) -> Self {
        self.told(|case| case.post.labour_protocol = LabourProtocol::Partograph)
    }

    pub(super) fn first_birth(self) -> Self {
        self.told(|case| case.mother.births_before = Some(0))
    }

    /// Without the scan that counted one baby.
    pub(super) fn uncounted(self) -> Self {
        self.told(|case| {
            for scan in &mut case.dating.scans {
                scan.babies = None;
            }
        })
    }

    /// Her only scan at so many days by her period, which it agrees with.
    pub(super) fn scanned_at(self, days: i64) -> Self {
        self.told(|case| {
            let Some(period) = case.dating.lmp else {
                return;
            };
            for scan in &mut case.dating.scans {
                scan.on = period + Duration::days(days);
                scan.gestation_days = u16::try_from(days).ok();
            }
        })
    }

    /// Without any scan: suboptimal dating.
    pub(super) fn unscanned(self) -> Self {
        self.told(|case| case.dating.scans.clear())
    }

    pub(super) fn case(self) -> Case {
        self.0
    }
}

/// Head at her left, breech at her right, both ends empty.
pub(super) fn across() -> PalpationFindings {
    PalpationFindings {
        fundus: Some(Pole::Empty),
        left: Some(Side::HardRound),
        right: Some(Side::SoftIrregular),
        front: Some(Front::LongSmooth),
        lower: Some(Pole::Empty),
        ..PalpationFindings::default()
    }
}

/// Head on top, breech below.
pub(super) fn breech() -> PalpationFindings {
    PalpationFindings {
        fundus: Some(Pole::HardRound),
        left: Some(Side::SmallLumps),
        right: Some(Side::LongSmooth),
        front: Some(Front::Nothing),
        lower: Some(Pole::SoftIrregular),
        ..PalpationFindings::default()
    }
}

/// Breech on top, head below.
pub(super) fn head_below() -> PalpationFindings {
    PalpationFindings {
        fundus: Some(Pole::SoftIrregular),
        left: Some(Side::LongSmooth),
        right: Some(Side::SmallLumps),
        front: Some(Front::Nothing),
        lower: Some(Pole::HardRound),
        ..PalpationFindings::default()
    }
}

/// Head below with so many fifths over the brim.
pub(super) fn head_at(fifths: u8) -> PalpationFindings {
    PalpationFindings {
        fifths: Some(fifths),
        ..head_below()
    }
}

/// Head below that moves.
pub(super) fn head_mobile() -> PalpationFindings {
    PalpationFindings {
        head: Some(Head::Mobile),
        ..head_below()
    }
}
