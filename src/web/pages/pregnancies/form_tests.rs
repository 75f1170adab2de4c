//! What is asked about a pregnancy, answered as a tired person answers it.

use super::form::{Days, PregnancyForm};
use crate::clinical::Day;
use crate::web::form::Typed;

fn day(text: &str) -> Day {
    text.parse().unwrap()
}

fn read(answers: &[(&str, &str)]) -> PregnancyForm {
    let typed: Typed = answers.iter().copied().collect();
    PregnancyForm::read(&typed, Days::opening(day("2026-11-25")))
}

#[track_caller]
fn faults(answers: &[(&str, &str)]) -> Vec<String> {
    let found = read(answers).faults();
    found
        .0
        .iter()
        .map(|fault| format!("{}: {}", fault.anchor, fault.why.replace('\u{a0}', " ")))
        .collect()
}

#[test]
fn nothing_is_needed_and_an_empty_scan_is_no_scan() {
    let blank = [
        ("lmp", ""),
        ("scan_on", ""),
        ("scan_weeks", ""),
        ("babies_on_scan", ""),
        ("births_before", ""),
    ];
    assert_eq!(faults(&blank), Vec::<String>::new());
    assert_eq!(read(&blank).facts().dating.scans, []);
}

#[test]
fn a_period_is_refused_in_the_future_and_beyond_52_weeks_and_asked_about_from_44_weeks_and_a_day() {
    assert_eq!(faults(&[("lmp", "2026-11-25")]), Vec::<String>::new());
    assert_eq!(
        faults(&[("lmp", "2026-11-26")]),
        ["lmp: 26 Nov 2026 has not come yet"]
    );
    // 308 days are 44w+0d, 364 are 52 weeks
    assert_eq!(faults(&[("lmp", "2026-01-21")]), Vec::<String>::new());
    let asked = faults(&[("lmp", "2026-01-20")]);
    assert!(
        asked[0].contains("makes her 44w+1d today") && asked[0].contains("Keep this day"),
        "{asked:?}"
    );
    assert_eq!(
        faults(&[("lmp", "2026-01-20"), ("lmp_kept", "2026-01-20")]),
        Vec::<String>::new()
    );
    assert_eq!(
        faults(&[("lmp", "2026-01-19"), ("lmp_kept", "2026-01-20")]).len(),
        1,
        "another day was kept"
    );
    assert_eq!(
        faults(&[("lmp", "2025-11-26"), ("lmp_kept", "2025-11-26")]),
        Vec::<String>::new()
    );
    assert!(
        faults(&[("lmp", "2025-11-25"), ("lmp_kept", "2025-11-25")])[0]
            .contains("more than 52 weeks ago")
    );
}

#[test]
fn only_a_period_that_may_be_kept_is_asked_about() {
    let days = Days::opening(day("2026-11-25"));
    for (lmp, asks) in [
        ("2026-01-21", false),
        ("2026-01-20", true),
        ("2025-11-26", true),
        ("2025-11-25", false),
        ("rubbish", false),
    ] {
        assert_eq!(
            read(&[("lmp", lmp)]).asks_to_keep_period(&days),
            asks,
            "{lmp}"
        );
    }
}

#[test]
fn an_old_pregnancy_is_held_against_the_day_it_was_opened() {
    let days = Days {
        today: day("2026-11-25"),
        opened: day("2024-05-01"),
    };
    let typed: Typed = [
        ("lmp", "2024-03-01"),
        ("scan_on", "2024-06-01"),
        ("scan_weeks", "13"),
    ]
    .into_iter()
    .collect();
    assert!(PregnancyForm::read(&typed, days).faults().is_empty());
}

#[test]
fn a_scan_says_at_least_one_thing_and_never_two_dates() {
    let on = ("scan_on", "2026-06-01");
    assert_eq!(
        faults(&[on])[0],
        "scan_weeks: write what the scan showed: gestation, due date or number of babies"
    );
    for one in [
        ("scan_weeks", "10"),
        ("scan_edd", "2026-12-22"),
        ("babies_on_scan", "1"),
    ] {
        assert_eq!(faults(&[on, one]), Vec::<String>::new(), "{one:?}");
    }
    assert_eq!(
        faults(&[on, ("scan_weeks", "10"), ("scan_edd", "2026-12-22")])[0],
        "scan_edd: give the gestation or the due date of a scan, not both"
    );
    assert_eq!(
        faults(&[("scan_weeks", "10")])[0],
        "scan_on: write the day on which it was made"
    );
    assert_eq!(
        faults(&[on, ("scan_days", "3")])[0],
        "scan_weeks: write the weeks too; days alone are not enough"
    );
}

#[test]
fn a_scan_lies_between_5_weeks_and_42() {
    let on = ("scan_on", "2026-06-01");
    assert_eq!(
        faults(&[on, ("scan_weeks", "54")])[0],
        "scan_weeks: 54 is outside 5 to 42"
    );
    assert_eq!(
        faults(&[on, ("scan_weeks", "42"), ("scan_days", "0")]),
        Vec::<String>::new()
    );
    assert_eq!(
        faults(&[on, ("scan_weeks", "42"), ("scan_days", "1")])[0],
        "scan_days: a scan counts up to 42w+0d"
    );
    assert_eq!(
        faults(&[on, ("scan_days", "7"), ("scan_weeks", "8")])[0],
        "scan_days: 7 is outside 0 to 6"
    );
    // 280 − 35 = 245 days after the scan at most, 14 days before it at least
    assert_eq!(
        faults(&[on, ("scan_edd", "2027-02-01")]),
        Vec::<String>::new()
    );
    assert!(
        faults(&[on, ("scan_edd", "2027-02-02")])[0]
            .contains("too long after the scan: she would have been 4w+6d then")
    );
    assert_eq!(
        faults(&[on, ("scan_edd", "2026-05-18")]),
        Vec::<String>::new()
    );
    assert!(faults(&[on, ("scan_edd", "2026-05-17")])[0].contains("too short after the scan"));
    assert_eq!(
        faults(&[on, ("babies_on_scan", "12")])[0],
        "babies_on_scan: 12 is outside 1 to 6"
    );
}

#[test]
fn a_scan_before_the_period_or_after_today_is_refused() {
    let found = faults(&[
        ("lmp", "2026-03-17"),
        ("scan_on", "2026-03-16"),
        ("scan_weeks", "8"),
    ]);
    assert_eq!(
        found,
        [
            "scan_on: 16 Mar 2026 is before her last period, 17 Mar 2026; correct one of the two days"
        ]
    );
    assert_eq!(
        faults(&[
            ("lmp", "2026-03-17"),
            ("scan_on", "2026-03-17"),
            ("babies_on_scan", "1")
        ]),
        Vec::<String>::new()
    );
    assert_eq!(
        faults(&[("scan_on", "2026-11-26"), ("babies_on_scan", "1")]),
        ["scan_on: 26 Nov 2026 has not come yet"]
    );
}

#[test]
fn further_scans_are_read_in_their_order() {
    let form = read(&[
        ("scan_on", "2026-06-01"),
        ("scan_weeks", "10"),
        ("scan_days", "2"),
        ("scan_on_2", "2026-08-01"),
        ("babies_on_scan_2", "2"),
        ("scan_on_3", ""),
    ]);
    let scans = form.facts().dating.scans;
    assert_eq!(
        (scans.len(), scans[0].gestation_days, scans[1].babies),
        (2, Some(72), Some(2))
    );
}

#[test]
fn caesareans_are_among_the_births() {
    assert_eq!(
        faults(&[("births_before", "2"), ("previous_caesareans", "3")]),
        ["previous_caesareans: 3 are more than the 2 births before"]
    );
    assert_eq!(
        faults(&[("births_before", "2"), ("previous_caesareans", "2")]),
        Vec::<String>::new()
    );
    assert_eq!(
        faults(&[("previous_caesareans", "1")]),
        Vec::<String>::new()
    );
    assert_eq!(
        faults(&[("births_before", "26")]),
        ["births_before: 26 is outside 0 to 25"]
    );
}

#[test]
fn a_phone_may_say_whose_it_is() {
    assert_eq!(
        super::phone("0555 0172 (sister)").unwrap(),
        "0555 0172 (sister)"
    );
    assert!(super::phone("sister").is_err());
    assert!(super::phone(&"5".repeat(19)).is_err());
}
