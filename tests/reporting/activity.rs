//! Who was registered and how many visits there were.

use brimline::registry::extract::{Extract, MotherLine, PregnancyLine, VisitLine};

use crate::table;

fn visit(
    in_labour: bool,
    gestation_days: Option<i64>,
    fundal_height_tenths: Option<i64>,
    twins_known: bool,
) -> VisitLine {
    VisitLine {
        in_labour: Some(in_labour),
        gestation_days,
        fundal_height_tenths,
        twins_known: Some(twins_known),
        ..VisitLine::default()
    }
}

#[test]
fn the_tape_is_asked_for_from_24_weeks_or_with_unknown_dates_and_not_in_labour_or_with_twins() {
    let mut lines = Extract::default();
    lines.mothers.push(MotherLine::default());
    lines.opened.push(PregnancyLine::default());
    lines.opened.push(PregnancyLine::default());
    for line in [
        visit(false, Some(167), Some(200), false),
        visit(false, Some(168), Some(240), false),
        visit(false, Some(250), None, false),
        visit(false, None, Some(300), false),
        visit(false, Some(250), Some(300), true),
        visit(true, Some(280), Some(360), false),
        visit(true, None, None, false),
    ] {
        lines.visits.push(line);
    }
    let table = table("activity", &lines);
    let cells: Vec<String> = table
        .columns
        .iter()
        .zip(&table.rows[0])
        .map(|(column, cell)| format!("{} {}", column.name, cell.plain()))
        .collect();
    assert_eq!(
        cells,
        [
            "mothers_registered 1",
            "pregnancies_opened 2",
            "visits 7",
            "labour_visits 2",
            "gestation_known 5",
            "gestation_known_percent 71.4",
            "height_taken 2",
            "height_base 3",
            "height_taken_percent 66.7",
        ]
    );
}

#[test]
fn a_month_without_visits_counts_nought_and_has_no_share() {
    let table = table("activity", &Extract::default());
    let cells: Vec<String> = table.rows[0]
        .iter()
        .map(brimline::reporting::table::Cell::plain)
        .collect();
    assert_eq!(cells, ["0", "0", "0", "0", "0", "", "0", "0", ""]);
}
