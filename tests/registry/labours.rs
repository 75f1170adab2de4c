//! Labour records: opened, rows added and amended, closed by what ended the labour.

use brimline::clinical::{LabourRow, Liquor, Moment, Urgency, Waters, assess};
use brimline::registry::labours::{
    self, Labour, NewLabour, NewRow, add_row, amend_row, close, judge_now, open,
};
use brimline::registry::mothers::Registered;
use brimline::registry::visits::Findings;
use brimline::registry::{LabourEnding, LabourId, PregnancyId, RegistryError, flags, judging};

use crate::house::{House, at};
use crate::women::breech;

/// A row in which only these were found.
pub(crate) fn row(now: &str, found: impl FnOnce(&mut LabourRow)) -> NewRow {
    let mut row = LabourRow::at(at(now));
    found(&mut row);
    NewRow {
        found: row,
        counted_together: false,
        note: None,
    }
}

pub(crate) fn dilated(now: &str, cm: u8) -> NewRow {
    row(now, |row| row.dilatation_cm = Some(cm))
}

impl House {
    #[track_caller]
    pub(crate) fn opens_labour(&self, pregnancy: PregnancyId, first: NewRow) -> LabourId {
        let now = first.found.at;
        let new = NewLabour {
            pregnancy,
            began_at: None,
            waters: None,
            waters_broke_at: None,
            first,
            request: None,
        };
        let opened = self
            .registry
            .write(&self.nurse, now, |change| open(change, &new));
        opened.unwrap()
    }

    #[track_caller]
    pub(crate) fn labour(&self, id: LabourId) -> Labour {
        self.read(|db| labours::one(db, self.post, id))
    }

    #[track_caller]
    fn raised(&self, pregnancy: PregnancyId) -> Vec<(String, Urgency)> {
        let standing = self.read(|db| flags::standing(db, pregnancy));
        standing
            .into_iter()
            .map(|flag| (flag.rule, flag.urgency))
            .collect()
    }

    #[track_caller]
    fn in_labour(&self, pregnancy: PregnancyId, now: &str) -> bool {
        let case = self.read(|db| judging::case_of(db, pregnancy, at(now)));
        assess(&case).labour.is_some()
    }
}

fn at_term() -> (House, Registered) {
    let house = House::new();
    let nela = house.nela();
    (house, nela)
}

#[test]
fn opening_puts_her_in_labour_and_the_same_form_again_opens_nothing_more() {
    let (house, nela) = at_term();
    let new = NewLabour {
        pregnancy: nela.pregnancy,
        began_at: Some(at("2026-09-30T05:00")),
        waters: None,
        waters_broke_at: None,
        first: dilated("2026-09-30T08:00", 5),
        request: Some("key-1".into()),
    };
    let first = house
        .nurse("2026-09-30T08:05", |change| open(change, &new))
        .unwrap();
    let again = house
        .nurse("2026-09-30T08:06", |change| open(change, &new))
        .unwrap();
    assert_eq!(first, again);
    assert_eq!(house.count("labours"), 1);
    assert_eq!(house.count("labour_rows"), 1);
    let labour = house.labour(first);
    assert_eq!(labour.opened_at, at("2026-09-30T08:00"));
    assert_eq!(labour.opened_by, "imke");
    assert!(house.in_labour(nela.pregnancy, "2026-09-30T08:05"));
    assert_eq!(
        house.read(|db| labours::in_labour(db, house.post)),
        [labour]
    );

    let second = NewLabour {
        request: None,
        ..new
    };
    let refused = house.nurse("2026-09-30T09:00", |change| open(change, &second));
    assert!(matches!(refused, Err(RegistryError::Refused(why)) if why.contains("open already")));
}

#[test]
fn opening_keeps_what_the_hands_knew_and_a_breech_in_labour_is_referred_now() {
    let (house, nela) = at_term();
    house.visits(nela.pregnancy, breech("2026-09-28T09:00"));
    house.opens_labour(nela.pregnancy, row("2026-09-30T08:00", |_| {}));
    let raised = house.raised(nela.pregnancy);
    assert!(
        raised.contains(&("breech-in-labour".to_owned(), Urgency::Now)),
        "{raised:?}"
    );
}

#[test]
fn what_she_says_of_the_waters_is_judged() {
    let told = |waters, broke: Option<&str>| {
        let (house, nela) = at_term();
        let new = NewLabour {
            pregnancy: nela.pregnancy,
            began_at: None,
            waters,
            waters_broke_at: broke.map(at),
            first: row("2026-09-30T08:00", |_| {}),
            request: None,
        };
        let id = house
            .nurse("2026-09-30T08:00", |change| open(change, &new))
            .unwrap();
        let first = house.read(|db| labours::rows(db, id)).remove(0).row.found;
        (
            house.labour(id).waters_broke_at,
            first.liquor,
            first.liquor_foul,
        )
    };
    let opened: Option<Moment> = Some(at("2026-09-30T08:00"));
    assert_eq!(told(None, None), (None, None, None));
    assert_eq!(
        told(Some(Waters::Intact), None),
        (None, Some(Liquor::Intact), None)
    );
    assert_eq!(told(Some(Waters::Broken), None), (opened, None, None));
    assert_eq!(
        told(Some(Waters::BrokenFoul), None),
        (opened, None, Some(true))
    );
    let earlier = Some(at("2026-09-30T02:00"));
    assert_eq!(
        told(Some(Waters::Broken), Some("2026-09-30T02:00")),
        (earlier, None, None)
    );
}

#[test]
fn a_row_is_added_amended_and_the_old_one_stays_readable() {
    let (house, nela) = at_term();
    let id = house.opens_labour(nela.pregnancy, dilated("2026-09-30T08:00", 5));
    let wrong = house
        .nurse("2026-09-30T12:00", |change| {
            add_row(change, id, &dilated("2026-09-30T12:00", 9), Some("k"))
        })
        .unwrap();
    let resent = house
        .nurse("2026-09-30T12:01", |change| {
            add_row(change, id, &dilated("2026-09-30T12:00", 9), Some("k"))
        })
        .unwrap();
    assert_eq!(wrong, resent);
    let better = dilated("2026-09-30T12:00", 6);
    let unreasoned = house.nurse("2026-09-30T12:10", |change| {
        amend_row(change, wrong, &better, " ", None)
    });
    assert!(matches!(
        unreasoned,
        Err(RegistryError::RefusedField {
            field: "reason",
            ..
        })
    ));
    let right = house
        .nurse("2026-09-30T12:10", |change| {
            amend_row(change, wrong, &better, "misread", None)
        })
        .unwrap();
    let rows = house.read(|db| labours::rows(db, id));
    assert_eq!(rows.len(), 3);
    let old = rows.iter().find(|row| row.id == wrong).unwrap();
    assert_eq!(old.replaced_by, Some(right));
    assert_eq!(old.row.found.dilatation_cm, Some(9));
    let case = house.read(|db| judging::case_of(db, nela.pregnancy, at("2026-09-30T12:10")));
    let centimetres: Vec<_> = case.labour.iter().map(|row| row.dilatation_cm).collect();
    assert_eq!(
        centimetres,
        [Some(5), Some(6)],
        "the replaced row is judged no more"
    );

    let stale = house.nurse("2026-09-30T12:20", |change| {
        amend_row(change, wrong, &better, "again", None)
    });
    assert!(matches!(stale, Err(RegistryError::Stale { .. })));
}

#[test]
fn a_row_of_tomorrow_of_last_week_or_of_nothing_is_refused() {
    let (house, nela) = at_term();
    let id = house.opens_labour(nela.pregnancy, dilated("2026-09-30T08:00", 5));
    let add =
        |row: NewRow| house.nurse("2026-09-30T10:00", |change| add_row(change, id, &row, None));
    assert!(matches!(
        add(dilated("2026-09-30T10:01", 6)),
        Err(RegistryError::RefusedField {
            field: "at_date",
            ..
        })
    ));
    assert!(matches!(
        add(dilated("2026-09-20T10:00", 6)),
        Err(RegistryError::RefusedField {
            field: "at_date",
            ..
        })
    ));
    assert!(matches!(
        add(row("2026-09-30T10:00", |_| {})),
        Err(RegistryError::Refused(_))
    ));
    assert!(
        add(dilated("2026-09-30T07:00", 4)).is_ok(),
        "a row may be written down late"
    );
}

#[test]
fn a_limit_that_passes_with_nobody_writing_raises_its_flag_when_somebody_looks() {
    let (house, nela) = at_term();
    house.opens_labour(nela.pregnancy, dilated("2026-09-30T06:00", 5));
    let look = |now: &str| {
        house
            .nurse(now, |change| judge_now(change, nela.pregnancy))
            .unwrap();
    };
    // Labour care guide: 5 cm for 6 h (clinical reference 4.8, L1).
    look("2026-09-30T11:59");
    assert!(
        !house
            .raised(nela.pregnancy)
            .iter()
            .any(|(rule, _)| rule == "slow-dilatation")
    );
    look("2026-09-30T12:00");
    assert!(
        house
            .raised(nela.pregnancy)
            .contains(&("slow-dilatation".to_owned(), Urgency::Now))
    );
    look("2026-09-30T12:01");
}

#[test]
fn not_in_labour_after_all_takes_rows_and_visits_out_of_the_judgement() {
    let (house, nela) = at_term();
    let mut visit = Findings::at(at("2026-09-30T07:50"));
    visit.visit.in_labour = true;
    let visit = house.visits(nela.pregnancy, visit);
    let id = house.opens_labour(nela.pregnancy, dilated("2026-09-30T08:00", 2));
    assert!(house.in_labour(nela.pregnancy, "2026-09-30T09:00"));
    let shut = |revision| {
        house.nurse("2026-09-30T12:00", |change| {
            let ending = LabourEnding::NotInLabour;
            close(
                change,
                id,
                revision,
                ending,
                at("2026-09-30T12:00"),
                Some("contractions stopped"),
            )
        })
    };
    assert!(matches!(
        shut(7),
        Err(RegistryError::Stale {
            current_revision: 1
        })
    ));
    shut(1).unwrap();
    assert!(!house.in_labour(nela.pregnancy, "2026-09-30T12:00"));
    let amended = house.read(|db| brimline::registry::visits::find(db, house.post, visit));
    assert!(!amended.standing.findings.visit.in_labour);
    assert_eq!(
        amended.earlier.len(),
        1,
        "what was written first stays readable"
    );
    let added = house.nurse("2026-09-30T12:05", |change| {
        add_row(change, id, &dilated("2026-09-30T12:05", 3), None)
    });
    assert!(matches!(added, Err(RegistryError::Refused(why)) if why.contains("closed")));
}

#[test]
fn a_colleague_of_another_post_finds_no_such_labour() {
    let (house, nela) = at_term();
    let id = house.opens_labour(nela.pregnancy, dilated("2026-09-30T08:00", 5));
    let (post, nurse) = house.other_post();
    let found = house.registry.read(|db| labours::one(db, post, id));
    assert!(matches!(found, Err(RegistryError::Missing("labour"))));
    let now = at("2026-09-30T09:00");
    let added = house.registry.write(&nurse, now, |change| {
        add_row(change, id, &dilated("2026-09-30T09:00", 6), None)
    });
    assert!(matches!(added, Err(RegistryError::Missing("labour"))));
}
