//! What was raised in a month and what became of it.

use brimline::clinical::Category;
use brimline::registry::extract::{Extract, FlagLine};

use crate::{at, row, table, table_as_of};

fn flag(category: &'static str, urgency: &'static str) -> FlagLine {
    let raised = at("2026-10-05T08:00:00Z");
    FlagLine {
        id: Some("f".to_owned()),
        category: Some(category),
        urgency: Some(urgency),
        raised_at: Some(raised),
        raised_on: Some(raised.date()),
        ..FlagLine::default()
    }
}

fn decided(flag: FlagLine, decision: &'static str, when: &str) -> FlagLine {
    FlagLine {
        decision: Some(decision),
        decided_at: Some(at(when)),
        ..flag
    }
}

fn closed(flag: FlagLine, closing: &'static str, when: &str) -> FlagLine {
    FlagLine {
        closing: Some(closing),
        closed_at: Some(at(when)),
        ..flag
    }
}

fn month() -> Extract {
    let mut lines = Extract::default();
    let soon = || flag("breech", "soon");
    for line in [
        decided(soon(), "confirmed", "2026-10-05T09:00:00Z"),
        closed(
            decided(soon(), "confirmed", "2026-10-05T11:00:00Z"),
            "settled",
            "2026-10-20T08:00:00Z",
        ),
        closed(
            decided(soon(), "dismissed", "2026-10-05T12:30:00Z"),
            "dismissed",
            "2026-10-05T12:30:00Z",
        ),
        closed(soon(), "settled", "2026-10-20T08:00:00Z"),
        closed(soon(), "ended", "2026-10-21T08:00:00Z"),
        soon(),
        closed(flag("breech", "recheck"), "settled", "2026-10-09T08:00:00Z"),
        decided(
            flag("transverse-lie", "now"),
            "confirmed",
            "2026-10-05T08:00:30Z",
        ),
    ] {
        lines.flags.push(line);
    }
    lines
}

const OUTCOMES: [&str; 7] = [
    "raised",
    "confirmed",
    "dismissed",
    "reviewed",
    "settled",
    "ended",
    "open",
];

#[test]
fn each_flag_has_one_outcome_and_a_review_comes_before_settling() {
    let table = table("flags", &month());
    assert_eq!(
        row(&table, &["breech", "soon"], &OUTCOMES),
        "raised 6, confirmed 2, dismissed 1, reviewed 3, settled 1, ended 1, open 1"
    );
    assert_eq!(
        row(&table, &["breech", "recheck"], &OUTCOMES),
        "raised 1, confirmed 0, dismissed 0, reviewed 0, settled 1, ended 0, open 0"
    );
    assert_eq!(
        row(&table, &["all", "all"], &OUTCOMES),
        "raised 8, confirmed 3, dismissed 1, reviewed 4, settled 2, ended 1, open 1"
    );
}

#[test]
fn the_outcomes_of_every_row_add_up_to_what_was_raised() {
    let table = table("flags", &month());
    assert!(table.rows.len() > 2);
    for row in &table.rows {
        let count = |name: &str| table.cell(row, name).count().unwrap();
        let parts: i64 = ["confirmed", "dismissed", "settled", "ended", "open"]
            .into_iter()
            .map(count)
            .sum();
        assert_eq!(count("raised"), parts, "{row:?}");
    }
}

#[test]
fn the_median_to_review_is_of_the_reviewed_flags_alone() {
    let table = table("flags", &month());
    let review = |keys: &[&str]| row(&table, keys, &["median_hours_to_review", "pairs"]);
    assert_eq!(
        review(&["breech", "soon"]),
        "median_hours_to_review 3.0, pairs 3",
        "1 h, 3 h and 4.5 h"
    );
    assert_eq!(
        review(&["breech", "recheck"]),
        "median_hours_to_review -, pairs 0"
    );
    assert_eq!(
        review(&["transverse-lie", "now"]),
        "median_hours_to_review 0.0, pairs 1",
        "30 s"
    );
}

#[test]
fn what_happened_after_the_report_was_made_is_not_known_to_it() {
    let table = table_as_of("flags", &month(), "2026-10-05T11:30:00Z");
    assert_eq!(
        row(&table, &["breech", "soon"], &OUTCOMES),
        "raised 6, confirmed 2, dismissed 0, reviewed 2, settled 0, ended 0, open 4"
    );
}

#[test]
fn rows_keep_the_order_of_the_reference_and_rows_with_nothing_are_left_out() {
    let mut lines = Extract::default();
    for category in Category::ALL.iter().rev() {
        lines.flags.push(flag(category.code(), "review"));
        lines.flags.push(flag(category.code(), "now"));
    }
    let table = table("flags", &lines);
    let order: Vec<(String, String)> = table
        .rows
        .iter()
        .map(|row| (row[0].plain(), row[1].plain()))
        .collect();
    let expected: Vec<(String, String)> = Category::ALL
        .iter()
        .flat_map(|category| {
            ["now", "review"].map(|urgency| (category.code().to_owned(), urgency.to_owned()))
        })
        .chain([("all".to_owned(), "all".to_owned())])
        .collect();
    assert_eq!(order, expected);
}
