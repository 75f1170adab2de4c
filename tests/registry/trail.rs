//! Nothing is written without its line, half, or by two at once; a changed line shows.

use std::panic::{AssertUnwindSafe, catch_unwind};
use std::time::Duration;

use brimline::registry::audit::{ChainCheck, Filter, check_chain, page};
use brimline::registry::mothers::{NewMother, register};
use brimline::registry::{By, Durability, Registry, RegistryError, staff};

use crate::house::{House, at, run};
use crate::women::{facts, person};

#[test]
fn a_change_that_tells_the_trail_nothing_is_refused() {
    let house = House::new();
    let refused = house.nurse("2026-09-10T09:00", |_| Ok(()));
    assert!(
        matches!(refused, Err(RegistryError::Broken(_))),
        "{refused:?}"
    );
}

#[test]
fn an_error_after_writing_leaves_nothing() {
    let house = House::new();
    let before = house.count("audit");
    let failed: Result<(), _> = house.nurse("2026-09-10T09:00", |change| {
        register(
            change,
            &NewMother {
                person: person("Nela Asturo"),
                facts: facts(),
                request_key: None,
            },
        )?;
        Err(RegistryError::refused("changed my mind"))
    });
    assert!(failed.is_err());
    assert_eq!(
        (
            house.count("mothers"),
            house.count("mother_words"),
            house.count("audit")
        ),
        (0, 0, before)
    );
    assert_eq!(
        house.nela().number,
        1,
        "the number that was drawn is drawn again"
    );
}

#[test]
fn a_panic_while_writing_leaves_nothing_and_the_next_one_writes() {
    let house = House::new();
    let before = house.count("audit");
    let fell = catch_unwind(AssertUnwindSafe(|| {
        house.nurse("2026-09-10T09:00", |change| {
            register(
                change,
                &NewMother {
                    person: person("Nela Asturo"),
                    facts: facts(),
                    request_key: None,
                },
            )?;
            panic!("a fault of ours");
            #[expect(unreachable_code, reason = "gives the closure its type")]
            Ok(())
        })
    }));
    assert!(fell.is_err());
    assert_eq!((house.count("mothers"), house.count("audit")), (0, before));
    house.nela();
    assert_eq!(house.count("mothers"), 1);
}

#[test]
fn a_panic_while_reading_takes_no_place_away() {
    let house = House::new();
    for _ in 0..20 {
        let fell = catch_unwind(AssertUnwindSafe(|| {
            house.registry.read::<()>(|_| panic!("a fault of ours"))
        }));
        assert!(fell.is_err());
    }
    assert!(house.read(staff::has_keeper));
}

#[test]
fn a_line_that_was_changed_or_taken_out_shows() {
    let house = House::new();
    house.nela();
    let whole = house.count("audit");
    assert_eq!(
        house.read(check_chain),
        ChainCheck {
            whole,
            broken_at: None
        }
    );
    assert_eq!(
        run(
            &mut house.beside(),
            "UPDATE audit SET detail = 'other' WHERE seq = 3"
        ),
        1
    );
    assert_eq!(
        house.read(check_chain),
        ChainCheck {
            whole: 2,
            broken_at: Some(3)
        }
    );

    let other = House::new();
    other.nela();
    assert_eq!(
        run(&mut other.beside(), "DELETE FROM audit WHERE seq = 4"),
        1
    );
    assert_eq!(other.read(check_chain).broken_at, Some(4));
}

#[test]
fn the_trail_pages_by_number_and_names_no_mother() {
    let house = House::new();
    house.nela();
    let first = house.read(|db| page(db, &Filter::default(), None, 3));
    let second =
        house.read(|db| page(db, &Filter::default(), first.last().map(|line| line.seq), 3));
    let numbers: Vec<_> = first.iter().chain(&second).map(|line| line.seq).collect();
    let whole = house.count("audit");
    assert_eq!(numbers, (whole - 5..=whole).rev().collect::<Vec<_>>());
    let mine = Filter {
        staff: house.nurse.staff,
        ..Filter::default()
    };
    let lines = house.read(|db| page(db, &mine, None, 50));
    assert!(
        lines
            .iter()
            .any(|line| line.verb == "mother registered" && line.detail == "QF 0001"),
        "{lines:?}"
    );
    let every = house.read(|db| page(db, &Filter::default(), None, 500));
    assert!(
        every
            .iter()
            .all(|line| !format!("{line:?}").contains("Asturo"))
    );
}

#[test]
fn many_writers_at_once_all_get_through_and_the_chain_holds() {
    let house = House::new();
    std::thread::scope(|scope| {
        for writer in 0..8 {
            let house = &house;
            scope.spawn(move || {
                for turn in 0..10 {
                    let name = format!("Woman {writer} {turn}");
                    house.registers("2026-03-26T08:00", person(&name), facts());
                    house.read(|db| page(db, &Filter::default(), None, 5));
                }
            });
        }
    });
    assert_eq!(house.count("mothers"), 80);
    assert_eq!(house.count("(SELECT DISTINCT number FROM mothers)"), 80);
    assert_eq!(house.read(check_chain).broken_at, None);
}

#[test]
fn while_one_program_writes_another_waits_instead_of_failing() {
    let house = House::new();
    let second = Registry::open_in(house.file().parent().unwrap(), Durability::Full).unwrap();
    std::thread::scope(|scope| {
        let slow = &house;
        scope.spawn(move || {
            slow.nurse("2026-09-10T09:00", |change| {
                change.tell("waited", "test", "", "")?;
                std::thread::sleep(Duration::from_millis(300));
                Ok(())
            })
            .unwrap();
        });
        std::thread::sleep(Duration::from_millis(50));
        second
            .write(&By::program("second"), at("2026-09-10T09:00"), |change| {
                change.tell("came after", "test", "", "")
            })
            .unwrap();
    });
    assert_eq!(house.read(check_chain).broken_at, None);
}

#[test]
fn a_reader_cannot_write() {
    use diesel::RunQueryDsl;
    let house = House::new();
    let written = house
        .registry
        .read(|db| Ok(diesel::sql_query("DELETE FROM sessions").execute(db)?));
    assert!(written.is_err());
}
