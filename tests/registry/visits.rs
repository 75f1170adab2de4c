//! Visits: recorded whole with their flags, amended without losing a word.

use brimline::clinical::{DangerSign, Head, Movements, Pole, Protein, Urgency, Waters, assess};
use brimline::registry::visits::{self, Findings, NewVisit, amend, enter_in_error, find, record};
use brimline::registry::{PregnancyEnding, RegistryError, flags, judging, pregnancies, story};
use chrono::TimeDelta;

use crate::house::{House, at, day};
use crate::women::{breech, felt, head_below};

const VISIT: &str = "2026-09-10T09:00";

#[test]
fn everything_that_was_found_reads_back_as_it_was_written() {
    let house = House::new();
    let nela = house.nela();
    let mut findings = felt(VISIT, Pole::HardRound);
    let hands = findings.visit.palpation.as_mut().unwrap();
    (hands.fifths, hands.head, hands.many_small_parts) = (Some(3), Some(Head::Fixed), Some(false));
    let visit = &mut findings.visit;
    (visit.fetal_hearts, visit.heart_sought) = (vec![142, 128], Some(true));
    (visit.systolic, visit.diastolic, visit.pulse) = (Some(118), Some(76), Some(86));
    (visit.temperature_tenths, visit.fundal_height_tenths) = (Some(368), Some(335));
    (visit.urine_protein, visit.movements, visit.waters) = (
        Some(Protein::Trace),
        Some(Movements::Normal),
        Some(Waters::Broken),
    );
    visit.danger_signs = vec![DangerSign::BlurredVision, DangerSign::SevereHeadache];
    visit.in_labour = true;
    findings.labour_began_at = Some(at("2026-09-10T05:30"));
    findings.waters_broke_at = Some(at("2026-09-10T06:00"));
    (findings.bladder_empty, findings.signs_asked) = (Some(true), true);
    (findings.next_visit_on, findings.note) = (
        Some(day("2026-09-17")),
        Some("came by boat\nwith her aunt".into()),
    );
    let id = house.visits(nela.pregnancy, findings.clone());
    let kept = house.read(|db| find(db, house.post, id)).standing.findings;
    assert_eq!(kept, findings);
    assert_eq!(
        house.read(|db| visits::of_pregnancy(db, nela.pregnancy)),
        [(id, findings)]
    );
}

#[test]
fn what_was_not_examined_stays_absent() {
    let house = House::new();
    let nela = house.nela();
    let id = house.visits(nela.pregnancy, Findings::at(at(VISIT)));
    let kept = house.read(|db| find(db, house.post, id)).standing.findings;
    assert_eq!(kept, Findings::at(at(VISIT)));
    assert_eq!(kept.visit.palpation, None);
}

#[test]
fn a_breech_near_term_is_flagged_in_the_same_breath() {
    let house = House::new();
    let nela = house.nela();
    let new = NewVisit {
        pregnancy: nela.pregnancy,
        findings: breech(VISIT),
        request_key: Some("once".into()),
    };
    let recorded = house.nurse(VISIT, |change| record(change, &new)).unwrap();
    let raised = house.read(|db| flags::by_visit(db, recorded.visit));
    let said: Vec<_> = raised
        .iter()
        .map(|(said, flag)| (flag.rule.as_str(), said.urgency))
        .collect();
    assert_eq!(said, [("breech-near-term", Urgency::Soon)]);
    assert_eq!(recorded.assessment.unwrap().urgency(), Some(Urgency::Soon));
    let case = house.read(|db| judging::case_of(db, nela.pregnancy, at(VISIT)));
    assert_eq!(case.post.travel_minutes, Some(90), "to Amberholt by day");
    assert_eq!(assess(&case).flags[0].evidence, raised[0].0.evidence);
    let again = house.nurse(VISIT, |change| record(change, &new)).unwrap();
    assert_eq!((again.visit, again.assessment), (recorded.visit, None));
    assert_eq!((house.count("visits"), house.count("flags")), (1, 1));
}

#[test]
fn an_amendment_keeps_the_first_entry_and_a_stale_one_is_told_so() {
    let house = House::new();
    let nela = house.nela();
    let id = house.visits(nela.pregnancy, breech(VISIT));
    let amended = |revision, findings: &Findings, reason: &str| {
        house.nurse("2026-09-10T09:50", |change| {
            amend(change, id, revision, findings, reason)
        })
    };
    assert!(matches!(
        amended(1, &head_below(VISIT), " "),
        Err(RegistryError::RefusedField {
            field: "reason",
            ..
        })
    ));
    amended(1, &head_below(VISIT), "felt again with Sarai").unwrap();
    assert!(matches!(
        amended(1, &breech(VISIT), "mine"),
        Err(RegistryError::Stale {
            current_revision: 2
        })
    ));
    let visit = house.read(|db| find(db, house.post, id));
    assert_eq!((visit.place.revision, visit.standing.number), (2, 2));
    assert_eq!(visit.standing.findings, head_below(VISIT));
    assert_eq!(
        visit.standing.reason.as_deref(),
        Some("felt again with Sarai")
    );
    assert_eq!(
        visit
            .earlier
            .iter()
            .map(|it| &it.findings)
            .collect::<Vec<_>>(),
        [&breech(VISIT)]
    );
    let flag = house
        .read(|db| flags::of_pregnancy(db, nela.pregnancy))
        .remove(0);
    assert!(
        !flag.stands(),
        "what was never found needs no further examination"
    );
}

#[test]
fn a_visit_entered_in_error_is_in_no_judgement_and_stays_readable() {
    let house = House::new();
    let nela = house.nela();
    let id = house.visits(nela.pregnancy, breech(VISIT));
    house
        .nurse("2026-09-10T10:00", |change| {
            enter_in_error(change, id, 1, "another woman")
        })
        .unwrap();
    assert!(
        house
            .read(|db| visits::of_pregnancy(db, nela.pregnancy))
            .is_empty()
    );
    assert!(
        house
            .read(|db| flags::standing(db, nela.pregnancy))
            .iter()
            .all(|flag| flag.rule != "breech-near-term")
    );
    let kept = house.read(|db| find(db, house.post, id));
    assert!(kept.place.entered_in_error);
    assert_eq!(kept.standing.findings, breech(VISIT));
    let again = house.nurse("2026-09-10T10:05", |change| {
        amend(change, id, 2, &breech(VISIT), "no")
    });
    assert!(matches!(again, Err(RegistryError::Refused(_))));
}

#[test]
fn what_cannot_have_been_found_is_refused_beside_its_field() {
    let house = House::new();
    let nela = house.nela();
    let with = |change: &dyn Fn(&mut Findings)| {
        let mut findings = breech(VISIT);
        change(&mut findings);
        let new = NewVisit {
            pregnancy: nela.pregnancy,
            findings,
            request_key: None,
        };
        match house.nurse(VISIT, |change| record(change, &new)) {
            Err(RegistryError::RefusedField { field, .. }) => field,
            Ok(_) => "recorded",
            Err(other) => panic!("{other:?}"),
        }
    };
    assert_eq!(with(&|it| it.visit.at += TimeDelta::minutes(6)), "at_time");
    assert_eq!(with(&|it| it.visit.at = at("2025-12-31T23:00")), "at_date");
    assert_eq!(
        with(&|it| it.labour_began_at = Some(at("2026-09-10T09:01"))),
        "labour_began_at"
    );
    assert_eq!(
        with(&|it| it.waters_broke_at = Some(at("2026-09-10T09:01"))),
        "waters_broke_at"
    );
    assert_eq!(
        with(&|it| it.next_visit_on = Some(day("2026-09-09"))),
        "next_visit_on"
    );
    assert_eq!(
        with(&|it| it.next_visit_on = Some(day("2027-09-09"))),
        "next_visit_on"
    );
    assert_eq!(with(&|it| it.visit.fetal_hearts = vec![29]), "fetal_hearts");
    assert_eq!(
        with(&|it| it.visit.fetal_hearts = vec![140; 5]),
        "fetal_hearts"
    );
    assert_eq!(with(&|it| it.visit.systolic = Some(281)), "systolic");
    assert_eq!(with(&|it| it.visit.diastolic = Some(19)), "diastolic");
    assert_eq!(
        with(&|it| (it.visit.systolic, it.visit.diastolic) = (Some(90), Some(90))),
        "diastolic"
    );
    assert_eq!(with(&|it| it.visit.pulse = Some(251)), "pulse");
    assert_eq!(
        with(&|it| it.visit.temperature_tenths = Some(431)),
        "temperature_c"
    );
    assert_eq!(
        with(&|it| it.visit.fundal_height_tenths = Some(99)),
        "fundal_height_cm"
    );
    assert_eq!(
        with(&|it| it.visit.palpation.as_mut().unwrap().fifths = Some(3)),
        "fifths"
    );
    assert_eq!(
        with(&|it| it.visit.palpation.as_mut().unwrap().head = Some(Head::Mobile)),
        "head"
    );
    assert_eq!(
        with(&|it| (it.visit.heart_sought, it.visit.fetal_hearts) = (Some(false), vec![140])),
        "heart_sought"
    );
    assert_eq!(with(&|it| it.note = Some("x".repeat(1_001))), "note");
    assert_eq!(with(&|_| ()), "recorded");
    assert_eq!(house.count("visits"), 1);
}

#[test]
fn after_the_end_of_a_pregnancy_no_later_visit_is_recorded_and_a_late_entry_raises_nothing_that_stands()
 {
    let house = House::new();
    let nela = house.nela();
    house
        .nurse("2026-09-12T09:00", |change| {
            pregnancies::end(
                change,
                nela.pregnancy,
                PregnancyEnding::MovedAway,
                at("2026-09-11T09:00"),
            )
        })
        .unwrap();
    let late = |findings| {
        let new = NewVisit {
            pregnancy: nela.pregnancy,
            findings,
            request_key: None,
        };
        house.nurse("2026-09-12T10:00", |change| record(change, &new))
    };
    assert!(matches!(
        late(breech("2026-09-11T09:01")),
        Err(RegistryError::Refused(_))
    ));
    late(breech(VISIT)).unwrap();
    assert!(
        house
            .read(|db| flags::standing(db, nela.pregnancy))
            .is_empty()
    );
}

#[test]
fn a_post_neither_reads_nor_writes_another_post_s_visit() {
    let house = House::new();
    let nela = house.nela();
    let id = house.visits(nela.pregnancy, breech(VISIT));
    let (other, nurse) = house.other_post();
    assert!(matches!(
        house.registry.read(|db| find(db, other, id)),
        Err(RegistryError::Missing("visit"))
    ));
    let new = NewVisit {
        pregnancy: nela.pregnancy,
        findings: breech(VISIT),
        request_key: None,
    };
    let written = house
        .registry
        .write(&nurse, at(VISIT), |change| record(change, &new));
    assert!(matches!(written, Err(RegistryError::Missing("pregnancy"))));
    let amended = house.registry.write(&nurse, at(VISIT), |change| {
        amend(change, id, 1, &breech(VISIT), "why")
    });
    assert!(matches!(amended, Err(RegistryError::Missing("visit"))));
}

#[test]
fn her_page_tells_everything_in_the_order_of_time() {
    let house = House::new();
    let nela = house.nela();
    house.visits(nela.pregnancy, head_below("2026-08-01T09:00"));
    house.visits(nela.pregnancy, breech(VISIT));
    let story = house.read(|db| story::tell(db, house.post, nela.mother));
    let told: Vec<_> = story.chapters[0]
        .events
        .iter()
        .map(|event| match &event.what {
            story::Happening::Visit(seen) => format!("{} visit by {}", event.at.date(), seen.by),
            story::Happening::Flag(flag) => format!("{} {}", event.at.date(), flag.rule),
            other => format!("{other:?}"),
        })
        .collect();
    assert_eq!(
        told,
        [
            "2026-09-10 breech-near-term",
            "2026-09-10 visit by imke",
            "2026-08-01 visit by imke"
        ]
    );
}
