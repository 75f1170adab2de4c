//! Who she is, as people tell it.

use super::form::MotherForm;
use crate::web::form::Typed;

#[track_caller]
fn faults(answers: &[(&str, &str)]) -> Vec<String> {
    let typed: Typed = answers.iter().copied().collect();
    let found = MotherForm::read(&typed.sent_now(), "2026-11-25".parse().unwrap()).faults();
    found
        .0
        .iter()
        .map(|fault| format!("{}: {}", fault.anchor, fault.why))
        .collect()
}

#[test]
fn a_name_and_a_year_or_an_age_are_enough() {
    let none = Vec::<String>::new();
    assert_eq!(
        faults(&[("name", "Nela Asturo"), ("birth_year", "1997")]),
        none
    );
    assert_eq!(
        faults(&[("name", "Nela Asturo"), ("age_years", "29")]),
        none
    );
    assert_eq!(
        faults(&[]),
        [
            "name: write the name she goes by",
            "birth_year: give the year, or an age; a guess will do"
        ]
    );
}

#[test]
fn an_age_that_no_mother_has_is_refused() {
    let with = |name, text| faults(&[("name", "Nela"), (name, text)]);
    assert_eq!(
        with("birth_year", "1898"),
        ["birth_year: 1898 makes her 128 years old; write four figures, or give an age instead"]
    );
    assert_eq!(
        with("birth_year", "2031"),
        ["birth_year: 2031 has not come yet; write four figures, or give an age instead"]
    );
    for text in ["98", "19998", "x", "1998.0"] {
        assert_eq!(
            with("birth_year", text),
            ["birth_year: write four figures, such as 1998"],
            "{text}"
        );
    }
    assert_eq!(with("birth_year", "1966"), Vec::<String>::new());
    assert_eq!(with("birth_year", "2018"), Vec::<String>::new());
    assert_eq!(with("age_years", "7"), ["age_years: 7 is outside 8 to 60"]);
}

#[test]
fn a_year_and_an_age_agree_within_a_birthday() {
    let both = |year, age| faults(&[("name", "Nela"), ("birth_year", year), ("age_years", age)]);
    assert_eq!(both("1997", "29"), Vec::<String>::new());
    assert_eq!(both("1997", "28"), Vec::<String>::new());
    assert_eq!(
        both("1997", "30"),
        ["age_years: born in 1997 she is 28 or 29; correct one of the two, or empty one"]
    );
}

#[test]
fn text_over_its_limit_and_hidden_signs_are_refused() {
    let long = "a".repeat(81);
    assert_eq!(
        faults(&[("name", &long), ("age_years", "20")]),
        ["name: has 81 letters; there is room for 80"]
    );
    assert_eq!(
        faults(&[("name", "Ne\u{1}la"), ("age_years", "20")]),
        ["name: has hidden signs in it; type it again"]
    );
    assert_eq!(
        faults(&[("name", "Nela"), ("name", "Nela"), ("age_years", "20")]),
        ["name: was sent twice; give one answer"]
    );
}
