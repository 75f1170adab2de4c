//! `rates`: eighteen indicators of the month, always all, each with its interval.

mod counts;
mod definitions;

use polars::prelude::{DataFrame, LazyFrame};

use self::counts::Counts;
use self::definitions::{INDICATORS, Indicator};
use super::frame::Result;
use super::interval;
use super::table::{Cell, Column, Kind, Table};

const COLUMNS: [Column; 12] = [
    Column {
        name: "id",
        words: "Indicator",
        kind: Kind::Key,
        definition: "",
    },
    Column {
        name: "indicator",
        words: "Indicator",
        kind: Kind::Words,
        definition: "",
    },
    Column {
        name: "numerator",
        words: "Counted",
        kind: Kind::Count,
        definition: "",
    },
    Column {
        name: "denominator",
        words: "Of",
        kind: Kind::Count,
        definition: "",
    },
    Column {
        name: "unknown",
        words: "Not known",
        kind: Kind::Count,
        definition: "Left out of both counts because an answer is missing, unless the indicator says otherwise.",
    },
    Column {
        name: "per",
        words: "Per",
        kind: Kind::Count,
        definition: "",
    },
    Column {
        name: "value",
        words: "Rate",
        kind: Kind::Value,
        definition: "Under twenty the counts stand there and never the rate alone.",
    },
    Column {
        name: "low",
        words: "Low",
        kind: Kind::Value,
        definition: "The 95 % interval (Wilson): what the true rate may well be.",
    },
    Column {
        name: "high",
        words: "High",
        kind: Kind::Value,
        definition: "",
    },
    Column {
        name: "interval",
        words: "May well be",
        kind: Kind::Words,
        definition: "",
    },
    Column {
        name: "definition",
        words: "What it counts",
        kind: Kind::Words,
        definition: "",
    },
    Column {
        name: "source",
        words: "Source",
        kind: Kind::Words,
        definition: "",
    },
];

/// What the rates are counted in.
pub(super) struct Sources<'a> {
    /// Pregnancies opened in the month.
    pub(super) opened: DataFrame,
    /// Judged, born in the month.
    pub(super) babies: &'a DataFrame,
    /// Who gave birth in the month.
    pub(super) women: &'a LazyFrame,
    /// The table of visits.
    pub(super) activity: &'a Table,
    /// The table of referrals.
    pub(super) referrals: &'a Table,
    /// Referrals as the tables count them, for arrivals at an unknown time.
    pub(super) unknown_arrivals: i64,
}

/// The table.
pub(super) fn table(sources: Sources<'_>) -> Result<Table> {
    let counts = Counts::of(sources)?;
    Ok(Table {
        id: "rates",
        title: "Rates",
        keys: 1,
        columns: COLUMNS.to_vec(),
        rows: INDICATORS.iter().map(|one| row(one, &counts)).collect(),
        foot: vec!["Babies of one birth are taken as independent in the intervals.".to_owned()],
        sources: "Beside each indicator. Interval: Newcombe, Stat Med 1998;17:857, method 3.",
    })
}

fn row(one: &Indicator, counts: &Counts) -> Vec<Cell> {
    let (part, whole, unknown) = counts.get(one.id);
    let limits = interval::limits(part, whole, one.per);
    let text = |text: &str| Cell::Text(text.to_owned());
    vec![
        text(one.id),
        text(one.words),
        Cell::Count(part),
        Cell::Count(whole),
        unknown.map_or(Cell::Absent, Cell::Count),
        Cell::Count(one.per),
        Cell::Share {
            part,
            whole,
            per: one.per,
        },
        Cell::from(limits.map(|(low, _)| low)),
        Cell::from(limits.map(|(_, high)| high)),
        limits.map_or(Cell::Absent, |(low, high)| {
            Cell::Text(format!("{low} to {high}"))
        }),
        text(one.definition),
        text(one.source),
    ]
}
