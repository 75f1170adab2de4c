//! Due dates against the published redating limits (ACOG/AIUM/SMFM Committee Opinion 700, 2017).

use brimline::clinical::{
    Basis, Dated, Dating, Day, Scan, UnknownReason, date_pregnancy, gestation_text,
};

fn day(text: &str) -> Day {
    text.parse().unwrap()
}

fn scan(on: &str, days: u16) -> Scan {
    Scan {
        on: day(on),
        gestation_days: Some(days),
        edd: None,
        babies: None,
    }
}

fn by_period(lmp: &str) -> Dating {
    Dating {
        lmp: Some(day(lmp)),
        ..Dating::default()
    }
}

fn with_scan(lmp: &str, on: &str, days: u16) -> Dated {
    let facts = Dating {
        scans: vec![scan(on, days)],
        ..by_period(lmp)
    };
    date_pregnancy(&facts, day(on))
}

#[test]
fn a_due_date_is_280_days_after_the_period_and_never_months() {
    for (lmp, edd) in [
        ("2024-01-01", "2024-10-07"),
        ("2024-02-29", "2024-12-05"),
        ("2023-05-31", "2024-03-06"),
        ("2025-03-10", "2025-12-15"),
        // A published worked example.
        ("2017-11-01", "2018-08-08"),
        // The same text makes "27 December" of it by counting months.
        ("2025-03-20", "2025-12-25"),
    ] {
        let known = date_pregnancy(&by_period(lmp), day(lmp));
        assert_eq!(known.edd(), Some(day(edd)), "{lmp}");
    }
}

#[test]
fn gestation_is_counted_in_days_from_the_due_date() {
    for (lmp, on, text) in [
        ("2024-01-01", "2024-07-01", "26w+0d"),
        ("2024-01-01", "2024-10-06", "39w+6d"),
        ("2024-01-01", "2024-11-04", "44w+0d"),
        ("2024-02-29", "2024-11-13", "36w+6d"),
        ("2024-02-29", "2024-11-14", "37w+0d"),
        ("2024-01-01", "2024-01-01", "0w+0d"),
        // EDD 2020-05-02 is 23w+6d on 2020-01-10 [R, published].
        ("2019-07-27", "2020-01-10", "23w+6d"),
    ] {
        let known = date_pregnancy(&by_period(lmp), day(on));
        assert_eq!(
            known.gestation.map(|it| it.text()),
            Some(text.to_owned()),
            "{lmp} on {on}"
        );
    }
    assert_eq!(gestation_text(256u16), "36w+4d");
}

#[test]
fn nobody_is_over_44_weeks() {
    let known = date_pregnancy(&by_period("2024-01-01"), day("2024-11-05"));
    assert_eq!(known.gestation, None);
    assert_eq!(known.reason, Some(UnknownReason::Over44Weeks));
    assert_eq!(known.days_told, Some(309));
}

/// LMP 2024-01-01; day of the scan, days that keep the period, days that redate and to when.
#[test]
fn a_scan_redates_only_beyond_its_limit() {
    type Row = (&'static str, &'static [u16], &'static [(u16, &'static str)]);
    let rows: &[Row] = &[
        ("2024-03-03", &[57, 67], &[(56, "2024-10-13")]),
        ("2024-03-04", &[56], &[(55, "2024-10-15")]),
        (
            "2024-03-18",
            &[70, 82],
            &[(69, "2024-10-15"), (85, "2024-09-29")],
        ),
        ("2024-04-21", &[104], &[(103, "2024-10-15")]),
        ("2024-04-22", &[102], &[(101, "2024-10-18")]),
        ("2024-05-06", &[116], &[(115, "2024-10-18")]),
        ("2024-06-02", &[143], &[(142, "2024-10-18")]),
        ("2024-06-03", &[140], &[(139, "2024-10-22")]),
        ("2024-07-14", &[181], &[(180, "2024-10-22")]),
        ("2024-07-15", &[175, 217], &[(174, "2024-10-29")]),
    ];
    for (on, keeps, redates) in rows {
        for days in *keeps {
            let known = with_scan("2024-01-01", on, *days).gestation.unwrap();
            assert_eq!(known.basis, Basis::Lmp, "{on} {days}");
            assert_eq!(known.edd, day("2024-10-07"), "{on} {days}");
        }
        for (days, edd) in *redates {
            let known = with_scan("2024-01-01", on, *days).gestation.unwrap();
            assert_eq!(
                (known.basis, known.edd),
                (Basis::Scan, day(edd)),
                "{on} {days}"
            );
        }
    }
}

#[test]
fn dates_are_suboptimal_without_a_scan_before_22_weeks() {
    let kept = with_scan("2024-01-01", "2024-06-03", 140)
        .gestation
        .unwrap();
    assert!(kept.suboptimal, "22w+0d by the period that stays");
    let redated = with_scan("2024-01-01", "2024-06-03", 139)
        .gestation
        .unwrap();
    assert!(!redated.suboptimal, "19w+6d by the new date");
    for (days, suboptimal) in [(153, false), (154, true)] {
        let facts = Dating {
            scans: vec![scan("2026-05-10", days)],
            ..Dating::default()
        };
        let known = date_pregnancy(&facts, day("2026-05-10")).gestation.unwrap();
        assert_eq!(known.suboptimal, suboptimal, "{days}");
    }
    let alone = date_pregnancy(&by_period("2024-01-01"), day("2024-05-01"));
    assert!(alone.gestation.unwrap().suboptimal);
}

#[test]
fn an_uncertain_period_dates_nothing() {
    let uncertain = Dating {
        lmp_certain: Some(false),
        ..by_period("2024-01-01")
    };
    let known = date_pregnancy(&uncertain, day("2024-06-01"));
    assert_eq!(known.reason, Some(UnknownReason::UncertainLmp));
    let scanned = Dating {
        scans: vec![scan("2024-05-20", 130)],
        ..uncertain
    };
    let known = date_pregnancy(&scanned, day("2024-06-01"));
    assert_eq!(known.edd(), Some(day("2024-10-17")));
    assert_eq!(
        date_pregnancy(&Dating::default(), day("2024-06-01")).reason,
        Some(UnknownReason::NoDate)
    );
}

#[test]
fn the_first_scan_from_7_weeks_dates_and_the_last_one_counts_the_babies() {
    let counted = |on: &str, days, babies| Scan {
        babies: Some(babies),
        ..scan(on, days)
    };
    let facts = Dating {
        scans: vec![
            counted("2024-05-20", 140, 1),
            counted("2024-03-01", 48, 2),
            counted("2024-03-10", 49, 3),
        ],
        ..Dating::default()
    };
    let known = date_pregnancy(&facts, day("2024-06-01"));
    assert_eq!(known.edd(), Some(day("2024-10-27")));
    assert_eq!(known.babies, Some(1));
    let earlier = date_pregnancy(&facts, day("2024-03-10"));
    assert_eq!(earlier.babies, Some(3), "a look back sees what was known");
    let first = date_pregnancy(&facts, day("2024-03-05"));
    assert_eq!(
        first.edd(),
        Some(day("2024-10-19")),
        "a sac is better than nothing"
    );
}

#[test]
fn a_late_scan_that_makes_the_baby_younger_is_told() {
    let late = with_scan("2024-01-01", "2024-07-15", 174)
        .late_scan
        .unwrap();
    assert_eq!((late.by_period, late.by_scan), (196, 174));
    assert_eq!(
        with_scan("2024-01-01", "2024-07-14", 173).late_scan,
        None,
        "27w+6d"
    );
    assert_eq!(
        with_scan("2024-01-01", "2024-07-15", 218).late_scan,
        None,
        "older"
    );
    assert_eq!(
        with_scan("2024-01-01", "2024-07-15", 175).late_scan,
        None,
        "kept"
    );
}
