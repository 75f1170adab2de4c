//! Pregnancies: facts that cannot be are refused, an old one can still be put right, the due date follows the dating.

use brimline::clinical::{Dating, PastEvent, Scan};
use brimline::registry::mothers::{NewMother, register};
use brimline::registry::pregnancies::{self, Facts};
use brimline::registry::{PregnancyEnding, RegistryError};

use crate::house::{House, at, day};
use crate::women::{facts, person};

const NOW: &str = "2026-09-10T09:00";

#[test]
fn facts_that_cannot_be_are_refused_beside_their_field() {
    let house = House::new();
    let scan = |on: &str, days: Option<u16>, edd: Option<&str>, babies| Scan {
        on: day(on),
        gestation_days: days,
        edd: edd.map(day),
        babies,
    };
    let with = |dating: Dating| Facts {
        dating,
        ..Facts::default()
    };
    let lmp = |text: &str| Dating {
        lmp: Some(day(text)),
        ..Dating::default()
    };
    let scanned = |one: Scan| Dating {
        lmp: Some(day("2026-03-01")),
        lmp_certain: None,
        scans: vec![one],
    };
    let births = |births_before, previous_caesareans| Facts {
        births_before,
        previous_caesareans,
        ..Facts::default()
    };
    let cases = [
        (with(lmp("2026-09-11")), "lmp"),
        (with(lmp("2025-09-10")), "lmp"),
        (
            with(scanned(scan("2026-02-28", Some(60), None, None))),
            "scan_on",
        ),
        (
            with(scanned(scan("2026-09-11", Some(60), None, None))),
            "scan_on",
        ),
        (
            with(scanned(scan("2026-05-01", None, None, None))),
            "scan_on",
        ),
        (
            with(scanned(scan(
                "2026-05-01",
                Some(60),
                Some("2026-12-06"),
                None,
            ))),
            "scan_edd",
        ),
        (
            with(scanned(scan("2026-05-01", Some(34), None, None))),
            "scan_weeks",
        ),
        (
            with(scanned(scan("2026-05-01", None, Some("2027-06-01"), None))),
            "scan_weeks",
        ),
        (
            with(scanned(scan("2026-05-01", None, None, Some(12)))),
            "babies_on_scan",
        ),
        (births(Some(26), None), "births_before"),
        (births(Some(1), Some(2)), "previous_caesareans"),
        (
            Facts {
                illness: Some("x".repeat(1_001)),
                ..Facts::default()
            },
            "illness",
        ),
        (
            Facts {
                companion: Some("a\u{7}b".into()),
                ..Facts::default()
            },
            "companion",
        ),
    ];
    for (facts, expected) in cases {
        let new = NewMother {
            person: person("Nela Asturo"),
            facts,
            request_key: None,
        };
        match house.nurse(NOW, |change| register(change, &new)) {
            Err(RegistryError::RefusedField { field, .. }) => {
                assert_eq!(field, expected, "{new:?}");
            }
            other => panic!("{other:?} for {new:?}"),
        }
    }
    let just = with(lmp("2025-09-11"));
    house.registers(NOW, person("Nela Asturo"), just);
    assert_eq!(house.count("mothers"), 1);
}

#[test]
fn a_second_pregnancy_opens_only_after_the_first_has_ended() {
    let house = House::new();
    let nela = house.nela();
    let second = Facts {
        dating: Dating {
            lmp: Some(day("2026-08-20")),
            ..Dating::default()
        },
        ..Facts::default()
    };
    let open = || {
        house.nurse(NOW, |change| {
            pregnancies::open(change, nela.mother, &second)
        })
    };
    assert!(matches!(open(), Err(RegistryError::Refused(_))));
    house
        .nurse(NOW, |change| {
            pregnancies::end(
                change,
                nela.pregnancy,
                PregnancyEnding::Loss,
                at("2026-05-01T09:00"),
            )
        })
        .unwrap();
    let second = open().unwrap();
    let all = house.read(|db| pregnancies::of_mother(db, nela.mother));
    assert_eq!(
        all.iter().map(|it| it.id).collect::<Vec<_>>(),
        [second, nela.pregnancy]
    );
    let reopened = house.nurse(NOW, |change| pregnancies::reopen(change, nela.pregnancy));
    assert!(
        matches!(reopened, Err(RegistryError::Refused(_))),
        "the later one lasts"
    );
}

#[test]
fn the_due_date_for_lists_follows_the_dating_in_force() {
    let house = House::new();
    let nela = house.nela();
    let due = || {
        house
            .read(|db| pregnancies::find(db, house.post, nela.pregnancy))
            .due_date
    };
    assert_eq!(due(), Some(day("2026-10-08")));
    let by_scan = Dating {
        lmp: Some(day("2026-01-20")),
        lmp_certain: Some(false),
        ..facts().dating
    };
    let changed = Facts {
        dating: by_scan,
        history: vec![PastEvent::Stillbirth, PastEvent::Stillbirth],
        ..facts()
    };
    house
        .nurse(NOW, |change| {
            pregnancies::amend(change, nela.pregnancy, 1, &changed)
        })
        .unwrap();
    assert_eq!(
        due(),
        Some(day("2026-10-08")),
        "the scan said 12 weeks on 26 March"
    );
    let kept = house.read(|db| pregnancies::find(db, house.post, nela.pregnancy));
    assert_eq!(
        (kept.facts.history.as_slice(), kept.revision),
        ([PastEvent::Stillbirth].as_slice(), 2)
    );
    let unknown = Facts {
        dating: Dating::default(),
        ..facts()
    };
    house
        .nurse(NOW, |change| {
            pregnancies::amend(change, nela.pregnancy, 2, &unknown)
        })
        .unwrap();
    assert_eq!(due(), None);
    let stale = house.nurse(NOW, |change| {
        pregnancies::amend(change, nela.pregnancy, 2, &unknown)
    });
    assert!(matches!(
        stale,
        Err(RegistryError::Stale {
            current_revision: 3
        })
    ));
}

#[test]
fn the_last_period_of_an_old_pregnancy_can_be_put_right_a_year_later() {
    let house = House::new();
    let nela = house.nela();
    let opened = house.read(|db| pregnancies::find(db, house.post, nela.pregnancy));
    let amend = |revision, lmp: chrono::NaiveDate| {
        let better = Facts {
            dating: Dating {
                lmp: Some(lmp),
                ..Dating::default()
            },
            ..Facts::default()
        };
        house.nurse("2027-12-01T09:00", |change| {
            pregnancies::amend(change, nela.pregnancy, revision, &better)
        })
    };
    let opened = opened.opened_at.date();
    amend(1, opened - chrono::TimeDelta::days(364)).unwrap();
    assert!(matches!(
        amend(2, opened - chrono::TimeDelta::days(365)),
        Err(RegistryError::RefusedField { field: "lmp", .. })
    ));
}
