//! Mothers and visits in few words. All are invented.

use brimline::clinical::{Dating, PalpationFindings, Pole, Scan, Side};
use brimline::registry::mothers::{Born, NewMother, Person, Registered, register};
use brimline::registry::pregnancies::Facts;
use brimline::registry::visits::{Findings, NewVisit, record};
use brimline::registry::{PregnancyId, VisitId};

use crate::house::{House, at, day};

pub(crate) fn person(name: &str) -> Person {
    Person {
        name: name.into(),
        village: Some("Marrow Hill".into()),
        phone: None,
        may_phone: None,
        born: Born::Year(1998),
    }
}

/// One birth before, a certain last period, one baby on an early scan that agrees: 36w+0d on 10 September 2026.
pub(crate) fn facts() -> Facts {
    let scan = Scan {
        on: day("2026-03-26"),
        gestation_days: Some(84),
        edd: None,
        babies: Some(1),
    };
    Facts {
        dating: Dating {
            lmp: Some(day("2026-01-01")),
            lmp_certain: Some(true),
            scans: vec![scan],
        },
        births_before: Some(1),
        ..Facts::default()
    }
}

impl House {
    #[track_caller]
    pub(crate) fn registers(&self, now: &str, person: Person, facts: Facts) -> Registered {
        self.nurse(now, |change| {
            register(
                change,
                &NewMother {
                    person,
                    facts,
                    request_key: None,
                },
            )
        })
        .unwrap()
    }

    /// Nela Asturo, pregnant since January.
    #[track_caller]
    pub(crate) fn nela(&self) -> Registered {
        self.registers("2026-03-26T08:00", person("Nela Asturo"), facts())
    }

    #[track_caller]
    pub(crate) fn visits(&self, pregnancy: PregnancyId, findings: Findings) -> VisitId {
        let now = findings.visit.at;
        let new = NewVisit {
            pregnancy,
            findings,
            request_key: None,
        };
        self.registry
            .write(&self.nurse, now, |change| record(change, &new))
            .unwrap()
            .visit
    }
}

/// Head or breech below, clear.
pub(crate) fn felt(now: &str, below: Pole) -> Findings {
    let above = if below == Pole::HardRound {
        Pole::SoftIrregular
    } else {
        Pole::HardRound
    };
    let mut findings = Findings::at(at(now));
    findings.visit.palpation = Some(PalpationFindings {
        fundus: Some(above),
        left: Some(Side::SmallLumps),
        right: Some(Side::LongSmooth),
        lower: Some(below),
        ..PalpationFindings::default()
    });
    findings
}

pub(crate) fn breech(now: &str) -> Findings {
    felt(now, Pole::SoftIrregular)
}

pub(crate) fn head_below(now: &str) -> Findings {
    felt(now, Pole::HardRound)
}
