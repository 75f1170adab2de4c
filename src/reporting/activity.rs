//! `activity`: who was registered and how many visits there were.

use polars::prelude::{DataFrame, DataType, Expr, LazyFrame, col, lit};

use super::frame::{self, Result, Schema, counted, lines};
use super::table::{Column, Kind, Table};

const TWENTY_FOUR_WEEKS: i64 = 168;

const RELIES_ON: Schema = &[
    ("in_labour", DataType::Boolean),
    ("twins_known", DataType::Boolean),
    ("gestation_days", DataType::Int64),
    ("fundal_height_tenths", DataType::Int64),
];

const COLUMNS: [Column; 9] = [
    Column {
        name: "mothers_registered",
        words: "Mothers registered",
        kind: Kind::Count,
        definition: "Women first registered in the month.",
    },
    Column {
        name: "pregnancies_opened",
        words: "Pregnancies opened",
        kind: Kind::Count,
        definition: "Pregnancies opened in the month; the second pregnancy of a known woman counts.",
    },
    Column {
        name: "visits",
        words: "Visits",
        kind: Kind::Count,
        definition: "Visits that took place in the month by the post’s own clock, whenever they were written down, those in labour included; an amended one counts once, and a row of the labour record is no visit.",
    },
    Column {
        name: "labour_visits",
        words: "Labour visits",
        kind: Kind::Count,
        definition: "Visits at which she was in labour.",
    },
    Column {
        name: "gestation_known",
        words: "Gestation known",
        kind: Kind::Count,
        definition: "Visits at which the gestation could be computed for that day.",
    },
    Column {
        name: "gestation_known_percent",
        words: "Gestation known",
        kind: Kind::Percent {
            part: "gestation_known",
            whole: "visits",
        },
        definition: "Visits with known gestation, of all visits.",
    },
    Column {
        name: "height_taken",
        words: "Height taken",
        kind: Kind::Count,
        definition: "Of the visits at which the tape is asked for, those with a fundal height.",
    },
    Column {
        name: "height_base",
        words: "Height asked for",
        kind: Kind::Count,
        definition: "Visits not in labour, from 24w+0d on or with unknown gestation, and no twins known.",
    },
    Column {
        name: "height_taken_percent",
        words: "Height taken",
        kind: Kind::Percent {
            part: "height_taken",
            whole: "height_base",
        },
        definition: "Visits with a fundal height, of those at which the tape is asked for.",
    },
];

/// The table, from the visits of the month and from how many women and pregnancies are new.
pub(super) fn table(visits: DataFrame, mothers: usize, pregnancies: usize) -> Result<Table> {
    let counts = counts(frame::relied_on(visits, RELIES_ON)?, mothers, pregnancies).collect()?;
    Ok(Table {
        id: "activity",
        title: "Activity",
        keys: 0,
        columns: COLUMNS.to_vec(),
        rows: frame::rows(&counts, &COLUMNS)?,
        foot: Vec::new(),
        sources: "Our own definitions [O]; the tape from 24 weeks: WHO recommendations on antenatal care, 2016.",
    })
}

fn counts(visits: LazyFrame, mothers: usize, pregnancies: usize) -> LazyFrame {
    visits
        .select([
            lines("visits"),
            counted(col("in_labour"), "labour_visits"),
            counted(col("gestation_days").is_not_null(), "gestation_known"),
            counted(
                height_is_asked_for().and(col("fundal_height_tenths").is_not_null()),
                "height_taken",
            ),
            counted(height_is_asked_for(), "height_base"),
        ])
        .with_columns([
            whole(mothers).alias("mothers_registered"),
            whole(pregnancies).alias("pregnancies_opened"),
        ])
}

fn height_is_asked_for() -> Expr {
    let late_enough = col("gestation_days")
        .gt_eq(lit(TWENTY_FOUR_WEEKS))
        .or(col("gestation_days").is_null());
    col("in_labour")
        .not()
        .and(late_enough)
        .and(col("twins_known").not())
}

fn whole(count: usize) -> Expr {
    lit(u64::try_from(count).unwrap_or(u64::MAX)).cast(DataType::Int64)
}
