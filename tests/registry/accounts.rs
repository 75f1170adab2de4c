//! Accounts, passwords and sessions.

use brimline::registry::passwords::PasswordCost;
use brimline::registry::sessions::{self, Session};
use brimline::registry::staff::{self, NewStaff};
use brimline::registry::{By, RegistryError, Role, VisitForm};
use chrono::TimeDelta;

use crate::house::{House, PASSWORD, account, at, password};

const IDLE: TimeDelta = TimeDelta::hours(12);

fn signs_in(house: &House, name: &str, password: &str) -> Option<String> {
    let claim = house.read(|db| staff::claim(db, name));
    claim
        .proved_by(password, PasswordCost::PRACTICE)
        .unwrap()
        .map(|person| person.name)
}

#[test]
fn the_right_password_and_name_sign_in_and_nothing_else() {
    let house = House::new();
    assert_eq!(
        signs_in(&house, " Imke ", PASSWORD).as_deref(),
        Some("imke")
    );
    assert_eq!(signs_in(&house, "imke", "demo only, not for cars"), None);
    assert_eq!(signs_in(&house, "nobody", PASSWORD), None);
    assert_eq!(signs_in(&house, "", ""), None);
}

#[test]
fn a_stopped_account_signs_in_no_more_and_its_sessions_end() {
    let house = House::new();
    let nurse = house.nurse.staff.unwrap();
    let now = at("2026-09-10T09:00");
    let session = Session {
        staff: Some(nurse),
        state: "{}".into(),
    };
    sessions::begin(&house.registry, "key", &session, Some("phone"), now, IDLE).unwrap();
    house
        .registry
        .write(&house.keeper, now, |change| staff::stop(change, nurse))
        .unwrap();
    assert_eq!(house.read(|db| sessions::load(db, "key", now)), None);
    assert_eq!(signs_in(&house, "imke", PASSWORD), None);
    let again = house
        .registry
        .write(&house.keeper, now, |change| staff::stop(change, nurse));
    assert!(matches!(again, Err(RegistryError::Refused(_))));
    let listed = house.read(|db| staff::list(db, now));
    assert_eq!(
        listed.last().map(|account| account.staff.stopped_at),
        Some(Some(now)),
        "stopped ones stand last"
    );
}

#[test]
fn the_last_keeper_cannot_be_stopped() {
    let house = House::new();
    let now = at("2026-09-10T09:00");
    let keeper = house.keeper.staff.unwrap();
    let stop = |id| {
        house
            .registry
            .write(&house.keeper, now, |change| staff::stop(change, id))
    };
    assert!(matches!(stop(keeper), Err(RegistryError::Refused(_))));
    let second = house
        .registry
        .write(&house.keeper, now, |change| {
            account(change, "second", Role::Keeper, None)
        })
        .unwrap();
    stop(keeper).unwrap();
    assert!(
        matches!(stop(second), Err(RegistryError::Refused(_))),
        "now the second one is the last"
    );
}

#[test]
fn only_a_keeper_opens_accounts_and_each_fault_stands_beside_its_field() {
    let house = House::new();
    let now = at("2026-09-10T09:00");
    let add = |by: &By, sign_in: &str, name: &str, role, post| {
        let new = NewStaff {
            sign_in: sign_in.into(),
            name: name.into(),
            role,
            post,
            password: password(),
        };
        match house
            .registry
            .write(by, now, |change| staff::add(change, &new))
        {
            Ok(_) => "added",
            Err(RegistryError::RefusedField { field, .. }) => field,
            Err(RegistryError::Refused(_)) => "refused",
            Err(other) => panic!("{other:?}"),
        }
    };
    let post = Some(house.post);
    assert_eq!(
        add(&house.midwife, "new", "New", Role::Nurse, post),
        "refused"
    );
    assert_eq!(add(&house.keeper, "i", "New", Role::Nurse, post), "sign_in");
    assert_eq!(
        add(&house.keeper, "with space", "New", Role::Nurse, post),
        "sign_in"
    );
    assert_eq!(
        add(&house.keeper, "IMKE", "New", Role::Nurse, post),
        "sign_in"
    );
    assert_eq!(add(&house.keeper, "new", " ", Role::Nurse, post), "name");
    assert_eq!(add(&house.keeper, "new", "New", Role::Nurse, None), "post");
    assert_eq!(
        add(&house.keeper, "new", "New", Role::District, post),
        "post"
    );
    assert_eq!(add(&house.keeper, "new", "New", Role::Nurse, post), "added");
}

#[test]
fn a_new_password_ends_every_session_of_that_person_at_once() {
    let house = House::new();
    let now = at("2026-09-10T09:00");
    let hers = Session {
        staff: house.nurse.staff,
        state: "{}".into(),
    };
    let other = Session {
        staff: house.midwife.staff,
        state: "{}".into(),
    };
    for (key, session) in [("one", &hers), ("two", &hers), ("three", &other)] {
        sessions::begin(&house.registry, key, session, None, now, IDLE).unwrap();
    }
    house
        .nurse("2026-09-10T09:00", |change| {
            staff::set_own_password(change, &password())
        })
        .unwrap();
    let open = |key| house.read(|db| sessions::load(db, key, now)).is_some();
    assert_eq!(
        (open("one"), open("two"), open("three")),
        (false, false, true)
    );
    house
        .registry
        .write(&house.keeper, now, |change| {
            staff::reset_password(change, house.midwife.staff.unwrap(), &password())
        })
        .unwrap();
    assert!(!open("three"));
}

#[test]
fn a_session_ends_twelve_idle_hours_after_it_was_last_used() {
    let house = House::new();
    let began = at("2026-09-10T09:00");
    let session = Session {
        staff: house.nurse.staff,
        state: "{}".into(),
    };
    sessions::begin(&house.registry, "key", &session, None, began, IDLE).unwrap();
    let open = |now| house.read(|db| sessions::load(db, "key", now)).is_some();
    assert!(open(began + IDLE - TimeDelta::seconds(1)));
    assert!(!open(began + IDLE));
    sessions::touch(&house.registry, "key", began + TimeDelta::hours(11), IDLE).unwrap();
    assert!(open(began + TimeDelta::hours(22)));
    assert!(!open(began + TimeDelta::hours(23)));
    sessions::touch(&house.registry, "key", began + TimeDelta::hours(24), IDLE).unwrap();
    assert!(
        !open(began + TimeDelta::hours(24)),
        "a session that ended is not woken"
    );
    assert_eq!(
        sessions::sweep(&house.registry, began + TimeDelta::hours(24)).unwrap(),
        1
    );
}

#[test]
fn a_session_that_was_ended_elsewhere_is_not_brought_back_by_saving() {
    let house = House::new();
    let now = at("2026-09-10T09:00");
    let session = Session {
        staff: house.nurse.staff,
        state: "{}".into(),
    };
    for key in ["phone", "laptop"] {
        sessions::begin(&house.registry, key, &session, Some(key), now, IDLE).unwrap();
    }
    let lines = house.read(|db| sessions::of(db, house.nurse.staff.unwrap(), now));
    assert_eq!(
        lines
            .iter()
            .filter(|line| line.is_opened_by("phone"))
            .count(),
        1
    );
    let ended = house
        .nurse("2026-09-10T09:00", |change| {
            sessions::end_all_others(change, "phone")
        })
        .unwrap();
    assert_eq!(ended, 1);
    assert!(!sessions::keep(&house.registry, "laptop", &session, now, IDLE).unwrap());
    assert!(sessions::keep(&house.registry, "phone", &session, now, IDLE).unwrap());
    assert_eq!(house.read(|db| sessions::load(db, "laptop", now)), None);
}

#[test]
fn neither_keys_nor_passwords_are_kept_as_they_are() {
    let house = House::new();
    let session = Session {
        staff: house.nurse.staff,
        state: "{}".into(),
    };
    sessions::begin(
        &house.registry,
        "a key that nobody may read",
        &session,
        None,
        at("2026-09-10T09:00"),
        IDLE,
    )
    .unwrap();
    for file in ["registry.db", "registry.db-wal"] {
        let bytes = std::fs::read(house.file().with_file_name(file)).unwrap();
        for secret in ["a key that nobody may read", PASSWORD] {
            let found = bytes
                .windows(secret.len())
                .any(|window| window == secret.as_bytes());
            assert!(!found, "{secret} stands in {file}");
        }
    }
}

#[test]
fn somebody_else_cannot_end_my_session() {
    let house = House::new();
    let now = at("2026-09-10T09:00");
    let session = Session {
        staff: house.nurse.staff,
        state: "{}".into(),
    };
    sessions::begin(&house.registry, "key", &session, None, now, IDLE).unwrap();
    let line = house
        .read(|db| sessions::of(db, house.nurse.staff.unwrap(), now))
        .remove(0);
    let by_other = house.midwife("2026-09-10T09:00", |change| {
        sessions::end_one(change, line.id)
    });
    assert!(matches!(by_other, Err(RegistryError::Missing("session"))));
    house
        .nurse("2026-09-10T09:00", |change| {
            sessions::end_one(change, line.id)
        })
        .unwrap();
}

#[test]
fn a_person_keeps_how_she_likes_to_enter_a_visit() {
    let house = House::new();
    house
        .nurse("2026-09-10T09:00", |change| {
            staff::choose_visit_form(change, VisitForm::List)
        })
        .unwrap();
    let person = house.read(|db| staff::find(db, house.nurse.staff.unwrap()));
    assert_eq!(person.visit_form, VisitForm::List);
}
