//! What became of the referrals of a month: eight referrals, counted by hand.

use brimline::registry::extract::{Extract, ReasonLine, ReferralLine};

use crate::{at, row, table_as_of};

const AS_OF: &str = "2026-10-09T12:00:00Z";
const COUNTS: [&str; 9] = [
    "decided",
    "left",
    "arrived",
    "answered",
    "declined",
    "stood_down",
    "not_arrived",
    "still_open",
    "lost",
];
const SPANS: [&str; 4] = [
    "hours_decided_left",
    "pairs_decided_left",
    "hours_left_arrived",
    "pairs_left_arrived",
];
const SHARES: [&str; 4] = [
    "within_2h",
    "within_2h_base",
    "within_2h_percent",
    "answered_percent",
];

/// Urgency, decided, left, arrived, how it ended: `?` is a time that nobody knows, an empty text is no such step.
const MONTH: [(&str, &str, &str, &str, &str, &str); 8] = [
    (
        "A",
        "now",
        "2026-10-01T08:00:00Z",
        "2026-10-01T08:30:00Z",
        "2026-10-01T10:00:00Z",
        "answered",
    ),
    (
        "B",
        "now",
        "2026-10-01T09:00:00Z",
        "2026-10-01T09:45:00Z",
        "2026-10-01T11:01:00Z",
        "arrived",
    ),
    (
        "C",
        "now",
        "2026-10-01T10:00:00Z",
        "2026-10-01T10:20:00Z",
        "",
        "left",
    ),
    (
        "D",
        "soon",
        "2026-10-04T12:00:00Z",
        "2026-10-05T07:00:00Z",
        "2026-10-05T08:10:00Z",
        "answered",
    ),
    ("E", "soon", "2026-10-01T12:30:00Z", "", "", "declined"),
    ("F", "now", "2026-10-01T13:00:00Z", "", "", "stood-down"),
    (
        "G",
        "now",
        "2026-10-01T14:00:00Z",
        "?",
        "2026-10-01T15:30:00Z",
        "answered",
    ),
    ("H", "now", "2026-10-01T16:00:00Z", "", "", "not-arrived"),
];

fn month() -> Extract {
    let mut lines = Extract::default();
    for (id, urgency, decided, left, arrived, state) in MONTH {
        let time = |text: &str| (!text.is_empty() && text != "?").then(|| at(text));
        lines.referrals.push(ReferralLine {
            id: Some(id.to_owned()),
            urgency: Some(urgency),
            state: Some(state),
            decided_at: Some(at(decided)),
            decided_on: Some(at(decided).date()),
            left: Some(!left.is_empty()),
            left_at: time(left),
            arrived: Some(!arrived.is_empty()),
            arrived_at: time(arrived),
            answered: Some(state == "answered"),
            outcome_told: Some(state == "answered"),
            ..ReferralLine::default()
        });
        let reasons: &[&str] = if id == "A" {
            &["breech", "waters"]
        } else {
            &["breech"]
        };
        for category in reasons {
            lines.reasons.push(ReasonLine {
                referral: Some(id.to_owned()),
                category: Some(category),
            });
        }
    }
    lines
}

#[test]
fn eight_referrals_are_counted_as_by_hand() {
    let table = table_as_of("referrals-by-urgency", &month(), AS_OF);
    let counts = |urgency: &str| row(&table, &[urgency], &COUNTS);
    assert_eq!(
        counts("all"),
        "decided 8, left 5, arrived 4, answered 3, declined 1, stood_down 1, not_arrived 1, still_open 2, lost 1"
    );
    assert_eq!(
        counts("now"),
        "decided 6, left 4, arrived 3, answered 2, declined 0, stood_down 1, not_arrived 1, still_open 2, lost 1"
    );
    assert_eq!(
        counts("soon"),
        "decided 2, left 1, arrived 1, answered 1, declined 1, stood_down 0, not_arrived 0, still_open 0, lost 0"
    );
    assert!(
        table.row(&["review"]).is_none(),
        "a row with nothing is left out"
    );
}

#[test]
fn medians_are_of_the_pairs_with_both_times() {
    let table = table_as_of("referrals-by-urgency", &month(), AS_OF);
    let spans = |urgency: &str| row(&table, &[urgency], &SPANS);
    assert_eq!(
        spans("all"),
        "hours_decided_left 0.6, pairs_decided_left 4, hours_left_arrived 1.3, pairs_left_arrived 3"
    );
    assert_eq!(
        spans("now"),
        "hours_decided_left 0.5, pairs_decided_left 3, hours_left_arrived 1.4, pairs_left_arrived 2"
    );
    assert_eq!(
        spans("soon"),
        "hours_decided_left 19.0, pairs_decided_left 1, hours_left_arrived 1.2, pairs_left_arrived 1"
    );
}

#[test]
fn within_two_hours_holds_the_120th_minute_and_no_unknown_time() {
    let table = table_as_of("referrals-by-urgency", &month(), AS_OF);
    let shares = |urgency: &str| row(&table, &[urgency], &SHARES);
    assert_eq!(
        shares("all"),
        "within_2h 2, within_2h_base 7, within_2h_percent 28.6, answered_percent 75.0"
    );
    assert_eq!(
        shares("now"),
        "within_2h 2, within_2h_base 5, within_2h_percent 40.0, answered_percent 66.7"
    );
    assert_eq!(
        shares("soon"),
        "within_2h 0, within_2h_base 2, within_2h_percent 0.0, answered_percent 100.0"
    );
}

#[test]
fn an_arrival_that_only_an_answer_tells_counts_and_is_within_no_time() {
    let mut lines = Extract::default();
    lines.referrals.push(ReferralLine {
        id: Some("G".to_owned()),
        urgency: Some("now"),
        state: Some("answered"),
        decided_at: Some(at("2026-10-01T14:00:00Z")),
        left: Some(false),
        arrived: Some(false),
        answered: Some(true),
        ..ReferralLine::default()
    });
    let table = table_as_of("referrals-by-urgency", &lines, AS_OF);
    assert_eq!(
        row(
            &table,
            &["all"],
            &["left", "arrived", "answered", "within_2h"]
        ),
        "left 1, arrived 1, answered 1, within_2h 0"
    );
    assert_eq!(
        table.foot,
        ["Arrived at an unknown time, and so not counted within 2 h: 1."]
    );
}

#[test]
fn a_referral_with_two_reasons_stands_in_both_rows_and_once_in_all() {
    let table = table_as_of("referrals-by-reason", &month(), AS_OF);
    let decided = |category: &str| row(&table, &[category], &["decided"]);
    assert_eq!(
        (decided("breech"), decided("waters"), decided("all")),
        ("decided 8".into(), "decided 1".into(), "decided 8".into())
    );
    let order: Vec<String> = table.rows.iter().map(|row| row[0].plain()).collect();
    assert_eq!(order, ["breech", "waters", "all"]);
}

#[test]
fn she_is_lost_seven_days_after_leaving_and_not_a_minute_before() {
    let lost = |as_of: &str, planned: Option<&str>, left: Option<&str>| {
        let mut lines = Extract::default();
        lines.referrals.push(ReferralLine {
            id: Some("C".to_owned()),
            urgency: Some("soon"),
            state: Some(if left.is_some() { "left" } else { "decided" }),
            decided_at: Some(at("2026-10-01T08:00:00Z")),
            planned_at: planned.map(at),
            left: Some(left.is_some()),
            left_at: left.map(at),
            arrived: Some(false),
            answered: Some(false),
            ..ReferralLine::default()
        });
        row(
            &table_as_of("referrals-by-urgency", &lines, as_of),
            &["all"],
            &["lost"],
        )
    };
    let left = Some("2026-10-01T08:30:00Z");
    assert_eq!(lost("2026-10-08T08:29:59Z", None, left), "lost 0");
    assert_eq!(lost("2026-10-08T08:30:00Z", None, left), "lost 1");
    assert_eq!(
        lost("2026-10-08T08:00:00Z", None, None),
        "lost 1",
        "since decided, when left is unknown"
    );
    assert_eq!(
        lost("2026-10-08T08:00:00Z", Some("2026-10-05T00:00:00Z"), None),
        "lost 0",
        "booked for a later day"
    );
    assert_eq!(
        lost("2026-10-12T00:00:00Z", Some("2026-10-05T00:00:00Z"), None),
        "lost 1"
    );
}

#[test]
fn a_month_without_referrals_has_no_shares() {
    let table = table_as_of("referrals-by-urgency", &Extract::default(), AS_OF);
    assert_eq!(table.rows.len(), 1);
    let all = row(
        &table,
        &["all"],
        &[
            "decided",
            "hours_decided_left",
            "within_2h",
            "within_2h_percent",
            "answered_percent",
        ],
    );
    assert_eq!(
        all,
        "decided 0, hours_decided_left -, within_2h 0, within_2h_percent -, answered_percent -"
    );
}
