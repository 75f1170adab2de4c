//! The edges of every definition, with the case in each message.
#![allow(clippy::unwrap_used, reason = "a test stops at the first surprise")]

use super::*;

#[test]
fn a_baby_without_a_sign_of_life_is_reported_from_28_weeks_or_1000_g() {
    use CountsAs::{Live, NotReported, Stillbirth};
    // Sign of life, days, grams, counted as, criteria disagree. ICD-10 puts weight first, the international rates 28 weeks (BMC09).
    let cases = [
        (false, Some(196), Some(3000), Stillbirth, false),
        (false, Some(196), None, Stillbirth, false),
        (false, Some(195), None, NotReported, false),
        (false, Some(195), Some(980), NotReported, false),
        (false, Some(195), Some(999), NotReported, false),
        (false, Some(195), Some(1000), NotReported, true),
        (false, Some(195), Some(1050), NotReported, true),
        (false, Some(196), Some(980), Stillbirth, true),
        (false, Some(196), Some(1000), Stillbirth, false),
        (false, None, Some(1000), Stillbirth, false),
        (false, None, Some(999), NotReported, false),
        (false, None, None, Stillbirth, false),
        (true, Some(168), Some(600), Live, false),
        (true, None, None, Live, false),
        (true, Some(154), None, Live, false),
        (false, Some(308), Some(3500), Stillbirth, false),
    ];
    for (life, days, grams, expected, disagree) in cases {
        let case = format!("life {life}, {days:?} days, {grams:?} g");
        assert_eq!(counts_as(life, days, grams), expected, "{case}");
        assert_eq!(criteria_disagree(life, days, grams), disagree, "{case}");
    }
}

#[test]
fn a_death_is_early_under_168_hours_or_by_day_6() {
    // Born, died, early, in the first 24 h (MET: day 0 is the day of birth; hours win when both are known).
    let cases = [
        (
            "2026-10-01T23:00:00",
            "2026-10-08T01:00:00",
            Some(true),
            Some(false),
        ),
        ("2026-10-01", "2026-10-08", Some(false), Some(false)),
        ("2026-10-01", "2026-10-07", Some(true), Some(false)),
        (
            "2026-10-01T10:00:00",
            "2026-10-08T09:59:59",
            Some(true),
            Some(false),
        ),
        (
            "2026-10-01T10:00:00",
            "2026-10-08T10:00:00",
            Some(false),
            Some(false),
        ),
        (
            "2026-10-01T10:00:00",
            "2026-10-08",
            Some(false),
            Some(false),
        ),
        (
            "2026-10-01T10:00:00",
            "2026-10-02T09:59:59",
            Some(true),
            Some(true),
        ),
        (
            "2026-10-01T10:00:00",
            "2026-10-02T10:00:00",
            Some(true),
            Some(false),
        ),
        ("2026-10-01", "2026-10-01", Some(true), Some(true)),
        ("2026-10-01", "2026-10-02", Some(true), None),
        ("2026-10-01", "2026-10-03", Some(true), Some(false)),
        (
            "2026-10-01T00:00:00",
            "2026-10-07T23:59:00",
            Some(true),
            Some(false),
        ),
        ("2026-10-01", "", None, None),
        (
            "2026-10-31T22:00:00",
            "2026-11-02T03:00:00",
            Some(true),
            Some(false),
        ),
    ];
    for (born, died, early, first_day) in cases {
        let case = format!("born {born}, died {died}");
        assert_eq!(died_early(when(born), when(died)), early, "{case}");
        assert_eq!(died_in_24_h(when(born), when(died)), first_day, "{case}");
    }
}

#[test]
fn weight_is_low_under_2500_g_and_a_birth_preterm_under_37_weeks() {
    let judged = |grams, days| {
        judge(&BabyLine {
            weight_g: grams,
            gestation_days: days,
            ..alive()
        })
    };
    assert_eq!(judged(Some(2499), Some(258)).low_weight, Some(true));
    assert_eq!(judged(Some(2500), Some(258)).low_weight, Some(false));
    assert_eq!(judged(Some(2500), Some(258)).preterm, Some(true));
    assert_eq!(judged(Some(2500), Some(259)).preterm, Some(false));
    let unknown = judged(None, None);
    assert_eq!(
        (unknown.low_weight, unknown.preterm, unknown.small),
        (None, None, None)
    );
}

#[test]
fn a_stillborn_baby_is_in_no_denominator_of_the_live_ones() {
    let stillborn = BabyLine {
        state: Some("stillborn-fresh"),
        weight_g: Some(2000),
        gestation_days: Some(250),
        sex: Some("boy"),
        ..alive()
    };
    let judged = judge(&stillborn);
    assert_eq!(judged.counts_as, CountsAs::Stillbirth);
    assert_eq!(
        (judged.low_weight, judged.preterm, judged.small),
        (None, None, None)
    );
}

#[test]
fn an_unknown_sex_is_never_judged_by_the_boys_table() {
    let small = |sex| {
        judge(&BabyLine {
            sex,
            weight_g: Some(2000),
            gestation_days: Some(280),
            ..alive()
        })
        .small
    };
    assert_eq!(small(Some("boy")), Some(true));
    assert_eq!(small(Some("indeterminate")), None);
    assert_eq!(small(None), None);
}

#[test]
fn a_mother_s_death_counts_up_to_the_42nd_day() {
    for (days, counts) in [(0, true), (42, true), (43, false)] {
        assert_eq!(is_maternal_death(days), counts, "day {days}");
    }
    let died = |died_on: &str| {
        judge(&BabyLine {
            mother_outcome: Some("died"),
            mother_died_on: when(died_on).on,
            ..alive()
        })
        .maternal_death
    };
    assert!(died("2026-11-12"), "42 days after 1 October");
    assert!(!died("2026-11-13"), "43 days after 1 October");
    assert!(died(""), "a death without a day must not vanish");
}

#[test]
fn a_live_baby_is_without_news_until_somebody_saw_it_on_day_7() {
    let without = |days_old, seen: &str| {
        judge(&BabyLine {
            days_old: Some(days_old),
            seen_alive_on: when(seen).on,
            ..alive()
        })
        .without_news
    };
    assert!(!without(7, ""), "day 7 is not past");
    assert!(without(8, ""));
    assert!(without(8, "2026-10-07"), "day 6");
    assert!(!without(8, "2026-10-08"), "day 7");
    assert!(
        !judge(&BabyLine {
            days_old: Some(30),
            died: Some(true),
            ..alive()
        })
        .without_news,
        "a death is news"
    );
}

fn alive() -> BabyLine {
    BabyLine {
        state: Some("alive"),
        born_on: when("2026-10-01").on,
        last_born_on: when("2026-10-01").on,
        ..BabyLine::default()
    }
}

/// A day, or a local day and time; the posts of these cases keep UTC.
fn when(text: &str) -> When {
    let at = Moment::parse_from_str(text, "%Y-%m-%dT%H:%M:%S").ok();
    let day = text.get(..10).map(|day| day.parse().unwrap());
    When { on: day, at }
}
