//! Births: one for each pregnancy, with every baby; amended by revisions.

use brimline::registry::births::{
    self, Birth, BirthRecord, NewBirth, Newborn, Which, amend, mark_error, record,
};
use brimline::registry::{
    BirthId, BirthPlace, BirthPresentation, FlagClosing, LabourEnding, Mode, MotherOutcome,
    NewbornState, Onset, PregnancyEnding, PregnancyId, RegistryError, Sex, flags, labours,
    pregnancies,
};

use crate::house::{House, at, day};
use crate::labours::dilated;
use crate::women::breech;

pub(crate) fn girl(on: &str) -> Newborn {
    Newborn {
        born_on: day(on),
        born_at: Some(at(&format!("{on}T14:00"))),
        place: BirthPlace::Here,
        mode: Mode::Vaginal,
        presentation: BirthPresentation::Cephalic,
        sex: Some(Sex::Girl),
        weight_g: Some(3180),
        apgar_1: Some(8),
        apgar_5: Some(9),
        state: NewbornState::Alive,
        died: false,
        died_on: None,
        died_at: None,
        lethal_malformation: None,
        seen_alive_on: None,
    }
}

fn of(newborns: Vec<Newborn>) -> BirthRecord {
    BirthRecord {
        onset: Onset::Spontaneous,
        mother_outcome: MotherOutcome::Well,
        mother_died_on: None,
        note: None,
        newborns,
    }
}

impl House {
    fn bears(
        &self,
        pregnancy: PregnancyId,
        newborns: Vec<Newborn>,
    ) -> Result<BirthId, RegistryError> {
        let new = NewBirth {
            pregnancy,
            record: of(newborns),
            request: Some("birth-1".into()),
        };
        self.nurse("2026-09-30T18:00", |change| record(change, &new))
    }

    #[track_caller]
    fn birth(&self, id: BirthId) -> Birth {
        self.read(|db| births::one(db, self.post, id))
    }
}

#[test]
fn a_birth_ends_the_pregnancy_its_flags_and_the_labour_record() {
    let house = House::new();
    let nela = house.nela();
    house.visits(nela.pregnancy, breech("2026-09-10T09:00"));
    let labour = house.opens_labour(nela.pregnancy, dilated("2026-09-30T08:00", 5));
    let id = house
        .bears(nela.pregnancy, vec![girl("2026-09-30")])
        .unwrap();
    assert_eq!(
        house
            .bears(nela.pregnancy, vec![girl("2026-09-30")])
            .unwrap(),
        id,
        "the same form again"
    );
    let pregnancy = house.read(|db| pregnancies::find(db, house.post, nela.pregnancy));
    assert_eq!(pregnancy.ending, Some(PregnancyEnding::Birth));
    assert_eq!(pregnancy.ended_at, Some(at("2026-09-30T14:00")));
    let flags = house.read(|db| flags::of_pregnancy(db, nela.pregnancy));
    assert!(
        !flags.is_empty()
            && flags
                .iter()
                .all(|flag| flag.closing == Some(FlagClosing::Ended))
    );
    assert_eq!(house.labour(labour).closed_as, Some(LabourEnding::Birth));
    assert!(
        house
            .read(|db| labours::in_labour(db, house.post))
            .is_empty()
    );
    let second = NewBirth {
        pregnancy: nela.pregnancy,
        record: of(vec![girl("2026-09-30")]),
        request: None,
    };
    let refused = house.nurse("2026-09-30T19:00", |change| record(change, &second));
    assert!(matches!(refused, Err(RegistryError::Refused(_))));
}

#[test]
fn twins_are_kept_in_the_order_in_which_they_were_born() {
    let house = House::new();
    let nela = house.nela();
    let boy = Newborn {
        born_at: Some(at("2026-09-30T14:20")),
        sex: Some(Sex::Boy),
        weight_g: None,
        presentation: BirthPresentation::Breech,
        ..girl("2026-09-30")
    };
    let id = house
        .bears(nela.pregnancy, vec![girl("2026-09-30"), boy.clone()])
        .unwrap();
    assert_eq!(house.birth(id).record.newborns, [girl("2026-09-30"), boy]);
    let month = Which::Between(day("2026-09-01"), day("2026-10-01"));
    let lines = house.read(|db| births::list(db, house.post, month, None, 50));
    assert_eq!((lines.len(), lines[0].newborns.len()), (1, 2));
    assert_eq!(lines[0].lacks(), ["weight"]);
    assert_eq!(
        house
            .read(|db| births::list(db, house.post, Which::Lacking, None, 50))
            .len(),
        1
    );
}

#[test]
fn what_cannot_be_is_refused_and_nothing_is_written() {
    let house = House::new();
    let nela = house.nela();
    let field = |newborns: Vec<Newborn>| match house.bears(nela.pregnancy, newborns) {
        Err(RegistryError::RefusedField { field, .. }) => field,
        other => panic!("{other:?}"),
    };
    assert_eq!(field(vec![girl("2026-09-30"); 7]), "add");
    assert_eq!(field(Vec::new()), "add");
    assert_eq!(
        field(vec![Newborn {
            weight_g: Some(299),
            ..girl("2026-09-30")
        }]),
        "weight_g"
    );
    let macerated = NewbornState::StillbornMacerated;
    assert_eq!(
        field(vec![Newborn {
            state: macerated,
            ..girl("2026-09-30")
        }]),
        "state"
    );
    assert_eq!(field(vec![girl("2026-10-01")]), "born_on");
    assert_eq!(
        field(vec![Newborn {
            born_at: None,
            ..girl("2025-12-31")
        }]),
        "born_on"
    );
    assert_eq!(house.count("births") + house.count("newborns"), 0);
}

#[test]
fn an_amended_birth_keeps_its_old_version_and_a_stale_page_loses_nothing() {
    let house = House::new();
    let nela = house.nela();
    let id = house
        .bears(nela.pregnancy, vec![girl("2026-09-30")])
        .unwrap();
    let better = of(vec![Newborn {
        weight_g: Some(3080),
        born_at: Some(at("2026-09-30T13:00")),
        ..girl("2026-09-30")
    }]);
    let write = |revision, why: &str| {
        house.nurse("2026-10-01T08:00", |change| {
            amend(change, id, revision, &better, why)
        })
    };
    assert!(matches!(
        write(1, " "),
        Err(RegistryError::RefusedField {
            field: "reason",
            ..
        })
    ));
    write(1, "weighed again").unwrap();
    assert!(matches!(
        write(1, "again"),
        Err(RegistryError::Stale {
            current_revision: 2
        })
    ));
    let revisions = house.read(|db| births::revisions(db, id));
    let weights: Vec<_> = revisions
        .iter()
        .map(|it| it.record.newborns[0].weight_g)
        .collect();
    assert_eq!(weights, [Some(3080), Some(3180)]);
    assert_eq!(revisions[0].reason.as_deref(), Some("weighed again"));
    let pregnancy = house.read(|db| pregnancies::find(db, house.post, nela.pregnancy));
    assert_eq!(pregnancy.ended_at, Some(at("2026-09-30T13:00")));
}

#[test]
fn a_birth_entered_in_error_opens_the_pregnancy_again_and_the_true_one_takes_its_place() {
    let house = House::new();
    let nela = house.nela();
    house.visits(nela.pregnancy, breech("2026-09-10T09:00"));
    let id = house
        .bears(nela.pregnancy, vec![girl("2026-09-30")])
        .unwrap();
    let mark = |by, why: &str| {
        house.registry.write(by, at("2026-10-01T08:00"), |change| {
            mark_error(change, id, 1, why)
        })
    };
    assert!(matches!(
        mark(&house.nurse, "wrong woman"),
        Err(RegistryError::Refused(_))
    ));
    mark(&house.midwife, "wrong woman").unwrap();
    let pregnancy = house.read(|db| pregnancies::find(db, house.post, nela.pregnancy));
    assert_eq!((pregnancy.ended_at, pregnancy.ending), (None, None));
    assert!(
        !house
            .read(|db| flags::standing(db, nela.pregnancy))
            .is_empty()
    );
    assert!(
        house
            .read(|db| births::list(db, house.post, Which::Lacking, None, 50))
            .is_empty()
    );
    let new = NewBirth {
        pregnancy: nela.pregnancy,
        record: of(vec![girl("2026-10-02")]),
        request: None,
    };
    let again = house
        .nurse("2026-10-02T18:00", |change| record(change, &new))
        .unwrap();
    assert_eq!(again, id);
    let birth = house.birth(id);
    assert_eq!((birth.revision, birth.entered_in_error), (2, false));
}

#[test]
fn a_due_date_that_passed_without_a_birth_is_listed_until_it_is_recorded() {
    let house = House::new();
    let nela = house.nela(); // due 8 October 2026
    let listed = |today: &str| {
        house
            .read(|db| births::not_recorded(db, house.post, day(today), None, 50))
            .len()
    };
    assert_eq!(listed("2026-10-08"), 0);
    assert_eq!(listed("2026-10-09"), 1);
    house
        .bears(nela.pregnancy, vec![girl("2026-09-30")])
        .unwrap();
    assert_eq!(listed("2026-10-09"), 0);
}

#[test]
fn a_colleague_of_another_post_finds_no_such_birth() {
    let house = House::new();
    let nela = house.nela();
    let id = house
        .bears(nela.pregnancy, vec![girl("2026-09-30")])
        .unwrap();
    let (post, nurse) = house.other_post();
    let found = house.registry.read(|db| births::one(db, post, id));
    assert!(matches!(found, Err(RegistryError::Missing("birth"))));
    let changed = house
        .registry
        .write(&nurse, at("2026-10-01T08:00"), |change| {
            amend(change, id, 1, &of(vec![girl("2026-09-30")]), "mine")
        });
    assert!(matches!(changed, Err(RegistryError::Missing("birth"))));
}
