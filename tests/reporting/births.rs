//! Women and babies of a month.

use brimline::registry::extract::{BabyLine, Extract, PregnancyLine};

use crate::{day, row, table};

pub(crate) fn baby(birth: &str) -> BabyLine {
    BabyLine {
        birth: Some(birth.to_owned()),
        position: Some(1),
        babies: Some(1),
        first_born_on: Some(day("2026-10-10")),
        first_place: Some("here"),
        last_born_on: Some(day("2026-10-10")),
        born_on: Some(day("2026-10-10")),
        days_old: Some(41),
        place: Some("here"),
        mode: Some("vaginal"),
        presentation: Some("cephalic"),
        sex: Some("girl"),
        weight_g: Some(3200),
        state: Some("alive"),
        died: Some(false),
        seen_alive_on: Some(day("2026-10-18")),
        gestation_days: Some(280),
        mother_outcome: Some("well"),
        ..BabyLine::default()
    }
}

fn month() -> Extract {
    let mut lines = Extract::default();
    let second_twin = BabyLine {
        position: Some(2),
        place: Some("hospital"),
        mode: Some("caesarean"),
        weight_g: Some(2400),
        sex: Some("boy"),
        ..baby("twins")
    };
    for line in [
        baby("a"),
        BabyLine {
            gestation_days: Some(250),
            weight_g: Some(2499),
            ..baby("b")
        },
        BabyLine {
            babies: Some(2),
            ..baby("twins")
        },
        BabyLine {
            babies: Some(2),
            ..second_twin
        },
        BabyLine {
            state: Some("stillborn-fresh"),
            place: Some("hospital"),
            first_place: Some("hospital"),
            ..baby("c")
        },
        BabyLine {
            state: Some("stillborn-macerated"),
            gestation_days: Some(190),
            ..baby("lost")
        },
        BabyLine {
            state: Some("stillborn-unstated"),
            gestation_days: None,
            weight_g: None,
            place: Some("home"),
            first_place: Some("home"),
            ..baby("d")
        },
        BabyLine {
            died: Some(true),
            died_on: Some(day("2026-10-16")),
            seen_alive_on: None,
            mother_outcome: Some("died"),
            mother_died_on: Some(day("2026-10-12")),
            ..baby("e")
        },
    ] {
        lines.babies.push(line);
    }
    lines.ended.push(PregnancyLine {
        ending: Some("maternal-death"),
        ..PregnancyLine::default()
    });
    lines.ended.push(PregnancyLine {
        ending: Some("loss"),
        ..PregnancyLine::default()
    });
    lines
}

#[test]
fn a_woman_stands_in_the_row_of_her_first_baby_and_a_baby_in_its_own() {
    let table = table("births", &month());
    let of = |place: &str| row(&table, &[place], &["women", "babies", "live", "caesareans"]);
    assert_eq!(of("here"), "women 4, babies 4, live 4, caesareans 1");
    assert_eq!(of("hospital"), "women 1, babies 2, live 1, caesareans 0");
    assert_eq!(of("all"), "women 6, babies 7, live 5, caesareans 1");
}

#[test]
fn every_place_has_its_row_and_a_loss_before_28_weeks_is_no_birth() {
    let table = table("births", &month());
    let order: Vec<String> = table.rows.iter().map(|row| row[0].plain()).collect();
    assert_eq!(
        order,
        ["here", "hospital", "on-the-way", "home", "unknown", "all"]
    );
    let of = |place: &str| {
        row(
            &table,
            &[place],
            &[
                "fresh",
                "macerated",
                "skin_not_stated",
                "early_neonatal_deaths",
            ],
        )
    };
    assert_eq!(
        of("all"),
        "fresh 1, macerated 0, skin_not_stated 1, early_neonatal_deaths 1"
    );
    assert_eq!(
        of("on-the-way"),
        "fresh 0, macerated 0, skin_not_stated 0, early_neonatal_deaths 0"
    );
    assert_eq!(
        table.foot,
        [
            "Losses before 28 weeks: 2.",
            "Weight unknown: 1.",
            "Gestation unknown: 1.",
            "Not followed to day 7: 0."
        ]
    );
}

#[test]
fn small_babies_are_counted_among_the_live_ones_that_could_be_judged() {
    let table = table("births", &month());
    let all = row(
        &table,
        &["all"],
        &[
            "low_weight",
            "low_weight_base",
            "preterm",
            "preterm_base",
            "small",
            "small_base",
        ],
    );
    assert_eq!(
        all,
        "low_weight 2, low_weight_base 5, preterm 1, preterm_base 5, small 1, small_base 5"
    );
}

#[test]
fn a_woman_who_died_undelivered_stands_in_the_row_unknown() {
    let table = table("births", &month());
    let deaths = |place: &str| row(&table, &[place], &["maternal_deaths"]);
    assert_eq!(
        (deaths("here"), deaths("unknown"), deaths("all")),
        (
            "maternal_deaths 1".into(),
            "maternal_deaths 1".into(),
            "maternal_deaths 2".into()
        )
    );
}

#[test]
fn the_places_add_up_to_all() {
    let table = table("births", &month());
    let all = table.row(&["all"]).unwrap();
    for (place, column) in table.columns.iter().enumerate().skip(1) {
        let sum: i64 = table
            .rows
            .iter()
            .filter(|row| row[0].plain() != "all")
            .map(|row| row[place].count().unwrap())
            .sum();
        assert_eq!(all[place].count().unwrap(), sum, "{}", column.name);
    }
}
