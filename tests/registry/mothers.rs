//! Mothers are entered once, found in any writing, put right without losing one another's words.

use brimline::registry::mothers::{
    self, After, Born, NewMother, Person, Which, page, possible_doubles, register,
};
use brimline::registry::pregnancies;
use brimline::registry::{MotherId, RegistryError, posts};

use crate::house::{House, at, day};
use crate::women::{facts, person};

const NOW: &str = "2026-09-10T09:00";

fn found(house: &House, typed: &str) -> Vec<String> {
    let post = house.read(|db| posts::find(db, house.post));
    let page = house.read(|db| page(db, &post, typed, Which::All, None, day("2026-09-10"), 50));
    page.lines
        .into_iter()
        .map(|line| line.mother.name)
        .collect()
}

#[test]
fn the_same_request_twice_is_one_mother() {
    let house = House::new();
    let new = NewMother {
        person: person("Nela Asturo"),
        facts: facts(),
        request_key: Some("key-1".into()),
    };
    let first = house.nurse(NOW, |change| register(change, &new)).unwrap();
    let lines = house.count("audit");
    let second = house.nurse(NOW, |change| register(change, &new)).unwrap();
    assert_eq!(
        (first.mother, first.pregnancy, first.number),
        (second.mother, second.pregnancy, second.number)
    );
    assert_eq!((first.already, second.already), (false, true));
    assert_eq!((house.count("mothers"), house.count("audit")), (1, lines));
}

#[test]
fn numbers_run_in_each_post_by_itself() {
    let house = House::new();
    let (_, other_nurse) = house.other_post();
    assert_eq!(house.nela().number, 1);
    assert_eq!(
        house
            .registers(NOW, person("Ruta Belisande"), facts())
            .number,
        2
    );
    let new = NewMother {
        person: person("Dorrit Yarrowin"),
        facts: facts(),
        request_key: None,
    };
    let there = house
        .registry
        .write(&other_nurse, at(NOW), |change| register(change, &new))
        .unwrap();
    assert_eq!(there.number, 1);
    assert_eq!(house.read(|db| mothers::next_number(db, house.post)), 3);
}

#[test]
fn a_mother_is_found_by_any_word_in_any_writing() {
    let house = House::new();
    let zoe = Person {
        village: Some("Øvre Kelm".into()),
        phone: Some("+000 555-01 72 (sister)".into()),
        ..person("Zoë Ó’Brien-Łuk")
    };
    house.registers(NOW, zoe, facts());
    house.registers(NOW, person("Nela Asturo"), facts());
    for typed in [
        "zoe",
        "ZOË",
        "luk",
        "obr luk",
        "o'brien",
        "kelm",
        "ovre",
        "zoë kelm",
        "0172",
        "555 0172",
        "1",
        "QF1",
        "qf 0001",
        "QF 0001",
    ] {
        assert_eq!(found(&house, typed), ["Zoë Ó’Brien-Łuk"], "{typed}");
    }
    for typed in [
        "oe",
        "zoe asturo",
        "0173",
        "LS 1",
        "3",
        "%",
        "_",
        "zoe%",
        "' OR 1=1",
    ] {
        let expected: &[&str] = if typed == "zoe%" {
            &["Zoë Ó’Brien-Łuk"] // signs are no part of a word
        } else if typed.chars().any(char::is_alphanumeric) {
            &[]
        } else {
            &["Nela Asturo", "Zoë Ó’Brien-Łuk"]
        };
        assert_eq!(found(&house, typed), expected, "{typed}");
    }
}

#[test]
fn lists_go_on_by_key_without_losing_or_repeating_anyone() {
    let house = House::new();
    for number in 0..7 {
        // Three share a name: the id decides then.
        house.registers(
            NOW,
            person(["Ana", "Bea", "Bea", "Bea", "Cora", "Dora", "Elif"][number]),
            facts(),
        );
    }
    let post = house.read(|db| posts::find(db, house.post));
    let (mut after, mut seen, mut names): (Option<After>, Vec<MotherId>, Vec<String>) =
        (None, Vec::new(), Vec::new());
    loop {
        let page = house.read(|db| {
            page(
                db,
                &post,
                "",
                Which::Pregnant,
                after.as_ref(),
                day("2026-09-10"),
                2,
            )
        });
        seen.extend(page.lines.iter().map(|line| line.mother.id));
        names.extend(page.lines.into_iter().map(|line| line.mother.name));
        after = page.next;
        if after.is_none() {
            break;
        }
    }
    assert_eq!(names, ["Ana", "Bea", "Bea", "Bea", "Cora", "Dora", "Elif"]);
    seen.sort_unstable();
    seen.dedup();
    assert_eq!(seen.len(), 7);
}

#[test]
fn a_possible_double_has_the_same_name_and_year_or_the_same_phone() {
    let house = House::new();
    let known = Person {
        phone: Some("0555 0183".into()),
        ..person("Solveig Wenlove")
    };
    house.registers(NOW, known, facts());
    let alike = |name: &str, born, phone: Option<&str>| {
        let typed = Person {
            born,
            phone: phone.map(Into::into),
            ..person(name)
        };
        house
            .read(|db| possible_doubles(db, house.post, &typed, day("2026-09-10")))
            .len()
    };
    assert_eq!(alike("sólveig  wenlove", Born::Year(1998), None), 1);
    assert_eq!(alike("Solveig Wenlove", Born::Year(1997), None), 0);
    assert_eq!(
        alike("Solveig Wenlove", Born::Unknown, None),
        1,
        "what is not known differs from nothing"
    );
    let age = |years| Born::Age {
        years,
        told_on: day("2026-09-10"),
    };
    assert_eq!(
        alike("Solveig Wenlove", age(27), None),
        1,
        "27 may be born in 1998 or 1999"
    );
    assert_eq!(alike("Solveig Wenlove", age(30), None), 0);
    assert_eq!(
        alike("Somebody Else", Born::Year(1980), Some("05550183")),
        1
    );
    assert_eq!(alike("Somebody Else", Born::Year(1980), Some("none")), 0);
    let (other, _) = house.other_post();
    let typed = person("Solveig Wenlove");
    assert!(
        house
            .read(|db| possible_doubles(db, other, &typed, day("2026-09-10")))
            .is_empty(),
        "other posts are not searched"
    );
}

#[test]
fn a_stale_amendment_is_refused_and_a_fresh_one_is_found_by_its_new_words() {
    let house = House::new();
    let nela = house.nela();
    let amend = |revision, name: &str| {
        house.nurse(NOW, |change| {
            mothers::amend(change, nela.mother, revision, &person(name))
        })
    };
    amend(1, "Nela Astoria").unwrap();
    assert!(matches!(
        amend(1, "Nela Other"),
        Err(RegistryError::Stale {
            current_revision: 2
        })
    ));
    assert_eq!(found(&house, "astoria"), ["Nela Astoria"]);
    assert!(found(&house, "asturo").is_empty());
    assert_eq!(found(&house, "marrow"), ["Nela Astoria"]);
}

#[test]
fn her_name_and_age_are_checked() {
    let house = House::new();
    let refused = |person: Person| {
        let new = NewMother {
            person,
            facts: facts(),
            request_key: None,
        };
        match house.nurse(NOW, |change| register(change, &new)) {
            Err(RegistryError::RefusedField { field, .. }) => field,
            other => panic!("{other:?}"),
        }
    };
    let age = |years| Born::Age {
        years,
        told_on: day("2026-09-10"),
    };
    assert_eq!(refused(person(" - ")), "name");
    assert_eq!(refused(person(&"n".repeat(81))), "name");
    assert_eq!(refused(person("Nela\u{0} Asturo")), "name");
    assert_eq!(
        refused(Person {
            born: Born::Year(1965),
            ..person("Nela")
        }),
        "birth_year"
    );
    assert_eq!(
        refused(Person {
            born: Born::Year(2019),
            ..person("Nela")
        }),
        "birth_year"
    );
    assert_eq!(
        refused(Person {
            born: age(7),
            ..person("Nela")
        }),
        "age_years"
    );
    assert_eq!(
        refused(Person {
            born: age(61),
            ..person("Nela")
        }),
        "age_years"
    );
    assert_eq!(
        refused(Person {
            village: Some("v".repeat(81)),
            ..person("Nela")
        }),
        "village"
    );
}

#[test]
fn another_post_s_mother_is_as_missing_as_one_that_never_was() {
    let house = House::new();
    let nela = house.nela();
    let (other, nurse) = house.other_post();
    let missing = |id| {
        matches!(
            house.registry.read(|db| mothers::find(db, other, id)),
            Err(RegistryError::Missing("mother"))
        )
    };
    assert!(missing(nela.mother) && missing(MotherId::made(at(NOW))));
    let amended = house.registry.write(&nurse, at(NOW), |change| {
        mothers::amend(change, nela.mother, 1, &person("Taken"))
    });
    assert!(matches!(amended, Err(RegistryError::Missing("mother"))));
    let opened = house.registry.write(&nurse, at(NOW), |change| {
        pregnancies::open(change, nela.mother, &facts())
    });
    assert!(matches!(opened, Err(RegistryError::Missing("mother"))));
}

#[test]
fn who_was_entered_in_error_is_in_no_list_and_still_readable() {
    let house = House::new();
    let nela = house.nela();
    house
        .nurse(NOW, |change| {
            mothers::enter_in_error(change, nela.mother, 1, "a double of QF 0003")
        })
        .unwrap();
    assert!(found(&house, "nela").is_empty() && found(&house, "").is_empty());
    let kept = house.read(|db| mothers::find(db, house.post, nela.mother));
    assert!(kept.entered_in_error);
    let last = house.read(|db| pregnancies::lasting(db, nela.mother));
    assert_eq!(last, None);
}
