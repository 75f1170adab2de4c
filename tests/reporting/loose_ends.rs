//! What of a month is not known yet.

use brimline::registry::extract::{BabyLine, Extract, FlagLine, PregnancyLine, ReferralLine};

use crate::births::baby;
use crate::{at, day, row, table, table_as_of};

const ROWS: [&str; 13] = [
    "open referrals without arrival",
    "arrived without an answer",
    "answered without outcome",
    "due date passed without birth",
    "births without weight",
    "births without gestation",
    "births without place",
    "births without sex",
    "stillbirths with neither gestation nor weight",
    "criteria disagree",
    "deaths of babies without a date",
    "live births without news after day 6",
    "flags not reviewed",
];

fn found(lines: &Extract, what: &str) -> String {
    row(
        &table("loose-ends", lines),
        &[what],
        &["how_many", "oldest"],
    )
}

fn referral(state: &'static str) -> ReferralLine {
    ReferralLine {
        state: Some(state),
        urgency: Some("soon"),
        decided_at: Some(at("2026-10-01T08:00:00Z")),
        decided_on: Some(day("2026-10-01")),
        left: Some(false),
        arrived: Some(false),
        answered: Some(false),
        outcome_told: Some(false),
        ..ReferralLine::default()
    }
}

#[test]
fn all_thirteen_rows_stand_there_also_when_nothing_is_missing() {
    let table = table("loose-ends", &Extract::default());
    let rows: Vec<String> = table.rows.iter().map(|row| row[0].plain()).collect();
    assert_eq!(rows, ROWS);
    assert!(
        table
            .rows
            .iter()
            .all(|row| row[1].plain() == "0" && row[2].plain().is_empty())
    );
}

#[test]
fn a_referral_is_open_until_she_arrives_and_unanswered_seven_days_later() {
    let mut lines = Extract::default();
    lines.referrals.push(referral("decided"));
    lines.referrals.push(ReferralLine {
        decided_on: Some(day("2026-10-03")),
        ..referral("left")
    });
    lines.referrals.push(ReferralLine {
        arrived: Some(true),
        arrived_at: Some(at("2026-10-01T10:00:00Z")),
        ..referral("arrived")
    });
    lines.referrals.push(ReferralLine {
        arrived: Some(true),
        arrival_entered_at: Some(at("2026-10-02T10:00:00Z")),
        ..referral("seen")
    });
    lines.referrals.push(referral("answered"));
    lines.referrals.push(ReferralLine {
        outcome_told: Some(true),
        ..referral("answered")
    });
    assert_eq!(found(&lines, ROWS[0]), "how_many 2, oldest 2026-10-01");
    assert_eq!(found(&lines, ROWS[2]), "how_many 1, oldest 2026-10-01");
    let unanswered = |as_of: &str| {
        row(
            &table_as_of("loose-ends", &lines, as_of),
            &[ROWS[1]],
            &["how_many"],
        )
    };
    assert_eq!(
        unanswered("2026-10-08T10:00:00Z"),
        "how_many 0",
        "seven days are not more than seven days"
    );
    assert_eq!(unanswered("2026-10-08T10:00:01Z"), "how_many 1");
    assert_eq!(
        unanswered("2026-10-09T10:00:01Z"),
        "how_many 2",
        "an unknown time counts from when it was written down"
    );
}

#[test]
fn a_due_date_is_passed_after_more_than_14_days() {
    let mut lines = Extract::default();
    for (days, due) in [(14, "2026-10-06"), (15, "2026-10-05")] {
        lines.due.push(PregnancyLine {
            due_date: Some(day(due)),
            days_past_due: Some(days),
            ..PregnancyLine::default()
        });
    }
    assert_eq!(found(&lines, ROWS[3]), "how_many 1, oldest 2026-10-05");
}

#[test]
fn what_is_missing_of_a_birth_is_found_and_a_loss_before_28_weeks_misses_nothing() {
    let mut lines = Extract::default();
    let stillborn = |birth: &str| BabyLine {
        state: Some("stillborn-fresh"),
        ..baby(birth)
    };
    for line in [
        baby("whole"),
        BabyLine {
            weight_g: None,
            ..baby("weight")
        },
        BabyLine {
            gestation_days: None,
            ..baby("gestation")
        },
        BabyLine {
            place: Some("unknown"),
            ..baby("place")
        },
        BabyLine {
            sex: None,
            ..baby("sex")
        },
        BabyLine {
            gestation_days: None,
            weight_g: None,
            ..stillborn("neither")
        },
        BabyLine {
            gestation_days: Some(195),
            weight_g: Some(1000),
            ..stillborn("heavy and early")
        },
        BabyLine {
            gestation_days: Some(190),
            weight_g: None,
            sex: None,
            ..stillborn("lost")
        },
        BabyLine {
            died: Some(true),
            ..baby("no day of death")
        },
        BabyLine {
            seen_alive_on: None,
            born_on: Some(day("2026-10-02")),
            ..baby("no news")
        },
    ] {
        lines.babies.push(line);
    }
    for (what, expected) in [
        (ROWS[4], "how_many 2"),
        (ROWS[5], "how_many 2"),
        (ROWS[6], "how_many 1"),
        (ROWS[7], "how_many 1"),
        (ROWS[8], "how_many 1"),
        (ROWS[9], "how_many 1"),
        (ROWS[10], "how_many 1"),
    ] {
        assert_eq!(
            found(&lines, what).split(',').next(),
            Some(expected),
            "{what}"
        );
    }
    assert_eq!(found(&lines, ROWS[11]), "how_many 1, oldest 2026-10-02");
}

#[test]
fn a_flag_waits_too_long_after_72_hours_and_check_again_never_does() {
    let mut lines = Extract::default();
    for urgency in ["now", "soon", "review", "recheck"] {
        lines.flags.push(FlagLine {
            urgency: Some(urgency),
            raised_at: Some(at("2026-10-05T08:00:00Z")),
            raised_on: Some(day("2026-10-05")),
            ..FlagLine::default()
        });
    }
    let waiting = |as_of: &str| {
        row(
            &table_as_of("loose-ends", &lines, as_of),
            &[ROWS[12]],
            &["how_many"],
        )
    };
    assert_eq!(waiting("2026-10-08T08:00:00Z"), "how_many 0");
    assert_eq!(waiting("2026-10-08T08:00:01Z"), "how_many 3");
}
