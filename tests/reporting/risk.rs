//! Births by what was flagged before.

use brimline::registry::extract::{BabyLine, DangerLine, Extract};

use crate::births::baby;
use crate::{row, table};

fn danger(birth: &str, category: &'static str) -> DangerLine {
    DangerLine {
        birth: Some(birth.to_owned()),
        category: Some(category),
        urgency: Some("soon"),
        before_birth: Some(true),
        before_labour: Some(true),
        dismissed: Some(false),
        stood_in_labour: Some(true),
    }
}

#[test]
fn a_woman_stands_once_in_each_of_her_categories_and_once_in_all() {
    let mut lines = Extract::default();
    for birth in ["two", "none", "again", "dismissed", "late"] {
        lines.babies.push(baby(birth));
    }
    lines.babies.push(BabyLine {
        position: Some(2),
        mode: Some("caesarean"),
        ..baby("two")
    });
    for line in [
        danger("two", "breech"),
        danger("two", "breech"),
        danger("two", "waters"),
        DangerLine {
            urgency: Some("recheck"),
            ..danger("again", "breech")
        },
        DangerLine {
            dismissed: Some(true),
            ..danger("dismissed", "breech")
        },
        DangerLine {
            before_birth: Some(false),
            ..danger("late", "breech")
        },
    ] {
        lines.dangers.push(line);
    }
    let table = table("births-by-risk", &lines);
    let of = |category: &str| row(&table, &[category], &["women", "babies", "caesareans"]);
    assert_eq!(of("breech"), "women 1, babies 2, caesareans 1");
    assert_eq!(of("waters"), "women 1, babies 2, caesareans 1");
    assert_eq!(of("none"), "women 4, babies 4, caesareans 0");
    assert_eq!(of("all"), "women 5, babies 6, caesareans 1");
    let order: Vec<String> = table.rows.iter().map(|row| row[0].plain()).collect();
    assert_eq!(order, ["breech", "waters", "none", "all"]);
}

#[test]
fn without_births_none_and_all_stand_there_with_nought() {
    let table = table("births-by-risk", &Extract::default());
    let order: Vec<String> = table.rows.iter().map(|row| row[0].plain()).collect();
    assert_eq!(order, ["none", "all"]);
    assert_eq!(
        row(&table, &["all"], &["women", "babies"]),
        "women 0, babies 0"
    );
}
