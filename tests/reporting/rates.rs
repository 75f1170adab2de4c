//! The eighteen indicators of a month.

use brimline::registry::extract::{BabyLine, DangerLine, Extract, PregnancyLine, WomanLine};

use crate::births::baby;
use crate::{day, row, table};

const IDS: [&str; 18] = [
    "undated",
    "height-taken",
    "palpation-near-term",
    "referral-completed",
    "arrived-within-2h",
    "answered",
    "home-birth",
    "stillbirth",
    "stillbirth-fresh",
    "early-neonatal-death",
    "perinatal-death",
    "intrapartum-very-early-death",
    "low-birth-weight",
    "preterm",
    "small-for-gestation",
    "caesarean-referred",
    "missed-malpresentation",
    "missed-twins",
];

fn rate(lines: &Extract, id: &str) -> String {
    row(
        &table("rates", lines),
        &[id],
        &["numerator", "denominator", "unknown", "value"],
    )
}

fn woman(birth: &str) -> WomanLine {
    WomanLine {
        birth: Some(birth.to_owned()),
        twins_known: Some(false),
        referral_arrived: Some(false),
        seen_before_labour: Some(true),
        seen_from_32_weeks: Some(true),
        seen_near_term: Some(false),
        ..WomanLine::default()
    }
}

#[test]
fn all_eighteen_stand_there_also_when_nothing_is_counted() {
    let table = table("rates", &Extract::default());
    let ids: Vec<String> = table.rows.iter().map(|row| row[0].plain()).collect();
    assert_eq!(ids, IDS);
    assert!(
        table
            .rows
            .iter()
            .all(|row| row[6].plain().is_empty() && row[9].plain().is_empty())
    );
}

#[test]
fn deaths_are_told_per_thousand_and_an_unknown_day_leaves_both_counts() {
    let mut lines = Extract::default();
    let dead = |birth: &str, died_on: Option<&str>| BabyLine {
        died: Some(true),
        died_on: died_on.map(day),
        ..baby(birth)
    };
    for line in [
        baby("a"),
        baby("b"),
        dead("c", Some("2026-10-12")),
        dead("d", Some("2026-10-20")),
        dead("e", None),
        BabyLine {
            state: Some("stillborn-fresh"),
            ..baby("f")
        },
        BabyLine {
            state: Some("stillborn-unstated"),
            ..baby("g")
        },
    ] {
        lines.babies.push(line);
    }
    assert_eq!(
        rate(&lines, "stillbirth"),
        "numerator 2, denominator 7, unknown -, value 285.7"
    );
    assert_eq!(
        rate(&lines, "stillbirth-fresh"),
        "numerator 1, denominator 7, unknown 1, value 142.9"
    );
    assert_eq!(
        rate(&lines, "early-neonatal-death"),
        "numerator 1, denominator 4, unknown 1, value 250.0"
    );
    assert_eq!(
        rate(&lines, "perinatal-death"),
        "numerator 3, denominator 6, unknown 1, value 500.0"
    );
}

#[test]
fn deaths_around_birth_are_of_heavy_babies_and_lethal_malformations_are_left_out() {
    let mut lines = Extract::default();
    let dead = |birth: &str, died_on: &str| BabyLine {
        died: Some(true),
        died_on: Some(day(died_on)),
        ..baby(birth)
    };
    for line in [
        baby("a"),
        BabyLine {
            weight_g: Some(2499),
            ..dead("light", "2026-10-10")
        },
        BabyLine {
            weight_g: None,
            ..dead("unweighed", "2026-10-10")
        },
        dead("same day", "2026-10-10"),
        dead("next day", "2026-10-11"),
        dead("later", "2026-10-12"),
        BabyLine {
            lethal_malformation: Some(true),
            ..dead("malformed", "2026-10-10")
        },
        BabyLine {
            state: Some("stillborn-fresh"),
            ..baby("fresh")
        },
        BabyLine {
            state: Some("stillborn-macerated"),
            ..baby("macerated")
        },
        BabyLine {
            state: Some("stillborn-unstated"),
            ..baby("unstated")
        },
    ] {
        lines.babies.push(line);
    }
    // Heavy and viable: a, same day, next day (may have been), later, fresh, macerated, unstated (may have been).
    assert_eq!(
        rate(&lines, "intrapartum-very-early-death"),
        "numerator 2, denominator 5, unknown 3, value 40.0"
    );
}

#[test]
fn a_breech_is_missed_when_no_flag_of_it_stood_in_labour() {
    let mut lines = Extract::default();
    let breech = |birth: &str| BabyLine {
        presentation: Some("breech"),
        ..baby(birth)
    };
    for (line, woman) in [
        (breech("found"), woman("found")),
        (breech("settled"), woman("settled")),
        (breech("unflagged"), woman("unflagged")),
        (
            breech("unseen"),
            WomanLine {
                seen_from_32_weeks: Some(false),
                ..woman("unseen")
            },
        ),
        (baby("head first"), woman("head first")),
        (
            BabyLine {
                presentation: Some("unknown"),
                ..baby("unknown")
            },
            woman("unknown"),
        ),
        (
            BabyLine {
                babies: Some(2),
                ..breech("twins")
            },
            woman("twins"),
        ),
    ] {
        lines.babies.push(line);
        lines.women.push(woman);
    }
    let flag = |birth: &str, stood| DangerLine {
        birth: Some(birth.to_owned()),
        category: Some("transverse-lie"),
        urgency: Some("recheck"),
        before_birth: Some(true),
        before_labour: Some(true),
        dismissed: Some(false),
        stood_in_labour: Some(stood),
    };
    lines.dangers.push(flag("found", true));
    lines.dangers.push(flag("settled", false));
    assert_eq!(
        rate(&lines, "missed-malpresentation"),
        "numerator 2, denominator 3, unknown 1, value 66.7"
    );
    assert_eq!(
        rate(&lines, "missed-twins"),
        "numerator 1, denominator 1, unknown -, value 100.0"
    );
}

#[test]
fn a_woman_s_rates_count_women() {
    let mut lines = Extract::default();
    for (line, woman) in [
        (
            BabyLine {
                first_place: Some("home"),
                ..baby("a")
            },
            WomanLine {
                seen_near_term: Some(true),
                near_term_certainty: Some("probable"),
                ..woman("a")
            },
        ),
        (
            BabyLine {
                first_place: Some("on-the-way"),
                ..baby("b")
            },
            WomanLine {
                seen_near_term: Some(true),
                near_term_certainty: Some("conflicting"),
                ..woman("b")
            },
        ),
        (
            BabyLine {
                first_place: Some("unknown"),
                ..baby("c")
            },
            WomanLine {
                seen_near_term: Some(true),
                twins_known: Some(true),
                ..woman("c")
            },
        ),
        (
            BabyLine {
                mode: Some("caesarean"),
                ..baby("d")
            },
            WomanLine {
                referral_arrived: Some(true),
                ..woman("d")
            },
        ),
        (
            BabyLine {
                mode: Some("unknown"),
                ..baby("e")
            },
            WomanLine {
                referral_arrived: Some(true),
                ..woman("e")
            },
        ),
        (
            baby("f"),
            WomanLine {
                referral_arrived: Some(true),
                seen_near_term: Some(true),
                ..woman("f")
            },
        ),
    ] {
        lines.babies.push(line);
        lines.women.push(woman);
    }
    lines.opened.push(PregnancyLine {
        dated: Some(false),
        ..PregnancyLine::default()
    });
    lines.opened.push(PregnancyLine {
        dated: Some(true),
        ..PregnancyLine::default()
    });
    assert_eq!(
        rate(&lines, "home-birth"),
        "numerator 2, denominator 5, unknown 1, value 40.0"
    );
    assert_eq!(
        rate(&lines, "palpation-near-term"),
        "numerator 1, denominator 3, unknown -, value 33.3"
    );
    assert_eq!(
        rate(&lines, "caesarean-referred"),
        "numerator 1, denominator 2, unknown 1, value 50.0"
    );
    assert_eq!(
        rate(&lines, "undated"),
        "numerator 1, denominator 2, unknown -, value 50.0"
    );
    let interval = row(
        &table("rates", &lines),
        &["undated"],
        &["per", "low", "high", "interval"],
    );
    assert_eq!(
        interval,
        "per 100, low 9.5, high 90.5, interval 9.5 to 90.5"
    );
}
