//! Women of Quern Ford in few words, written through the registry. All are invented.

use brimline::clinical::{Dating, LabourRow, Moment, PalpationFindings, Pole, Side};
use brimline::registry::labours::{self, NewLabour, NewRow};
use brimline::registry::mothers::{self, Born, NewMother, Person, Registered};
use brimline::registry::pregnancies::Facts;
use brimline::registry::visits::{self, Findings, NewVisit};
use brimline::registry::{By, LabourId, staff};
use chrono::TimeDelta;

use crate::district;
use crate::harness::Post;

/// So many minutes before every test's now.
pub(crate) fn ago(minutes: i64) -> Moment {
    district::now() - TimeDelta::minutes(minutes)
}

impl Post {
    pub(crate) fn by(&self, sign_in: &str) -> By {
        self.registry
            .read(|db| staff::named(db, sign_in))
            .unwrap()
            .by()
    }

    /// 38w+2d on the day of the tests: her last period began on 2 March 2026.
    #[track_caller]
    pub(crate) fn mother(&self, name: &str) -> Registered {
        let new = NewMother {
            person: Person {
                name: name.to_owned(),
                village: Some("Low Pennel".to_owned()),
                phone: None,
                may_phone: None,
                born: Born::Year(2002),
            },
            facts: Facts {
                dating: Dating {
                    lmp: "2026-03-02".parse().ok(),
                    lmp_certain: Some(true),
                    scans: Vec::new(),
                },
                births_before: Some(1),
                previous_caesareans: Some(0),
                ..Facts::default()
            },
            request_key: None,
        };
        let now = ago(60 * 24 * 30);
        self.registry
            .write(&self.by("nurse"), now, |change| {
                mothers::register(change, &new)
            })
            .unwrap()
    }

    /// A visit at which the hands found a breech, clear; it raises “refer soon” near term.
    #[track_caller]
    pub(crate) fn breech(&self, woman: Registered, minutes_ago: i64) {
        let mut findings = Findings::at(ago(minutes_ago));
        findings.visit.palpation = Some(PalpationFindings {
            fundus: Some(Pole::HardRound),
            left: Some(Side::LongSmooth),
            right: Some(Side::SmallLumps),
            lower: Some(Pole::SoftIrregular),
            ..PalpationFindings::default()
        });
        let new = NewVisit {
            pregnancy: woman.pregnancy,
            findings,
            request_key: None,
        };
        let now = ago(minutes_ago);
        self.registry
            .write(&self.by("nurse"), now, |change| {
                visits::record(change, &new)
            })
            .unwrap();
    }

    /// A labour record whose first row found these centimetres.
    #[track_caller]
    pub(crate) fn labour(&self, woman: Registered, minutes_ago: i64, cm: u8) -> LabourId {
        let mut found = LabourRow::at(ago(minutes_ago));
        found.dilatation_cm = Some(cm);
        let new = NewLabour {
            pregnancy: woman.pregnancy,
            began_at: None,
            waters: None,
            waters_broke_at: None,
            first: NewRow {
                found,
                counted_together: false,
                note: None,
            },
            request: None,
        };
        let now = ago(minutes_ago);
        self.registry
            .write(&self.by("nurse"), now, |change| labours::open(change, &new))
            .unwrap()
    }
}
