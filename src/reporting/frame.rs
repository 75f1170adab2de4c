//! Frames of a month: one a kind of line, its schema asserted where it is made.

use std::collections::HashMap;

use chrono::{DateTime, NaiveDate};
use polars::prelude::{
    Column as Series, DataFrame, DataType, Expr, FillNullStrategy, IdxCa, IdxSize, IntoLazy,
    LazyFrame, NamedFrom, PolarsError, Series as PlainSeries, col, len, lit,
};

use super::figures;
use super::table::{self, Cell, Kind};
use crate::clinical::{Day, Moment};
use crate::registry::extract::{Column, Values};

/// A frame could not be made or asked; a fault of ours, never of the person at the desk.
pub(super) type Result<T> = std::result::Result<T, PolarsError>;

/// Name and kind of each column that a table relies on.
pub(super) type Schema = &'static [(&'static str, DataType)];

/// A frame of extracted columns: moments as seconds and days as day numbers since 1970, so that spans are whole numbers.
pub(super) fn of(columns: Vec<Column>) -> Result<DataFrame> {
    let series: Vec<Series> = columns.into_iter().map(series).collect();
    DataFrame::new_infer_height(series)
}

/// The frame, lazily. A month has some hundred lines: planning how to read fewer of them takes longer than reading them all.
pub(super) fn lazy(frame: DataFrame) -> LazyFrame {
    frame.lazy().without_optimizations()
}

/// The frame, lazily, once its columns are what the table relies on: a renamed field fails here and not as a count of nought.
pub(super) fn relied_on(frame: DataFrame, schema: Schema) -> Result<LazyFrame> {
    for (name, kind) in schema {
        let found = frame.column(name)?.dtype();
        if found != kind {
            let fault = format!("column {name} holds {found}, not {kind}");
            return Err(PolarsError::SchemaMismatch(fault.into()));
        }
    }
    Ok(lazy(frame))
}

fn series(column: Column) -> Series {
    let name = column.name.into();
    match column.values {
        Values::Code(values) => PlainSeries::new(name, values),
        Values::Id(values) => PlainSeries::new(name, values),
        Values::Whole(values) => PlainSeries::new(name, values),
        Values::Truth(values) => PlainSeries::new(name, values),
        Values::At(values) => PlainSeries::new(name, seconds(&values)),
        Values::On(values) => PlainSeries::new(name, day_numbers(&values)),
    }
    .into()
}

fn seconds(values: &[Option<Moment>]) -> Vec<Option<i64>> {
    values.iter().map(|at| at.map(second)).collect()
}

fn day_numbers(values: &[Option<Day>]) -> Vec<Option<i64>> {
    values.iter().map(|day| day.map(day_number)).collect()
}

/// Seconds since 1970, UTC.
pub(super) fn second(at: Moment) -> i64 {
    at.and_utc().timestamp()
}

/// Days since 1970.
pub(super) fn day_number(day: Day) -> i64 {
    day.signed_duration_since(NaiveDate::default()).num_days()
}

/// The day of a number; absent when it lies outside the calendar.
pub(super) fn day_of(number: i64) -> Option<Day> {
    DateTime::from_timestamp(number.checked_mul(86_400)?, 0).map(|at| at.date_naive())
}

/// The rows of a table, from a frame that has a column for each key, count, span and day.
///
/// A span stands there as twice its seconds; per cents are made from the counts, so that page and file round alike.
pub(super) fn rows(frame: &DataFrame, columns: &[table::Column]) -> Result<Vec<Vec<Cell>>> {
    let mut rows = vec![Vec::with_capacity(columns.len()); frame.height()];
    for column in columns {
        for (row, cell) in rows.iter_mut().zip(cells(frame, column)?) {
            row.push(cell);
        }
    }
    Ok(rows)
}

fn cells(frame: &DataFrame, column: &table::Column) -> Result<Vec<Cell>> {
    let made = match column.kind {
        Kind::Key | Kind::Words => texts(frame, column.name)?
            .into_iter()
            .map(|text| text.map_or(Cell::Absent, Cell::Text))
            .collect(),
        Kind::Count => whole_numbers(frame, column.name)?
            .into_iter()
            .map(|count| count.map_or(Cell::Absent, Cell::Count))
            .collect(),
        Kind::Hours { .. } => whole_numbers(frame, column.name)?
            .into_iter()
            .map(|twice| Cell::from(twice.map(figures::hours)))
            .collect(),
        Kind::Date => whole_numbers(frame, column.name)?
            .into_iter()
            .map(|number| Cell::from(number.and_then(day_of)))
            .collect(),
        Kind::Percent { part, whole } => {
            let parts = whole_numbers(frame, part)?;
            let wholes = whole_numbers(frame, whole)?;
            let share = |(part, whole)| Cell::Share {
                part,
                whole,
                per: 100,
            };
            parts
                .into_iter()
                .zip(wholes)
                .map(|(part, whole)| part.zip(whole).map_or(Cell::Absent, share))
                .collect()
        }
        Kind::Value => {
            let fault = format!("no table reads {} from a frame", column.name);
            return Err(PolarsError::ComputeError(fault.into()));
        }
    };
    Ok(made)
}

/// A column of whole numbers.
pub(super) fn whole_numbers(frame: &DataFrame, name: &str) -> Result<Vec<Option<i64>>> {
    Ok(frame.column(name)?.i64()?.iter().collect())
}

/// A column of texts.
pub(super) fn texts(frame: &DataFrame, name: &str) -> Result<Vec<Option<String>>> {
    let texts = frame.column(name)?.str()?.iter();
    Ok(texts.map(|text| text.map(str::to_owned)).collect())
}

/// How many lines, or how many for which `yes` holds; not known is not counted.
pub(super) fn counted(yes: Expr, name: &str) -> Expr {
    yes.sum().cast(DataType::Int64).alias(name)
}

/// The counts of a frame of one row, by name.
pub(super) fn counts(frame: LazyFrame) -> Result<HashMap<String, i64>> {
    let frame = frame.collect()?;
    let mut counts = HashMap::new();
    for name in frame.get_column_names() {
        let count = whole_numbers(&frame, name)?.into_iter().flatten().sum();
        counts.insert(name.to_string(), count);
    }
    Ok(counts)
}

/// How many lines.
pub(super) fn lines(name: &str) -> Expr {
    len().cast(DataType::Int64).alias(name)
}

/// The code in this column is that one.
pub(super) fn is(name: &str, code: &str) -> Expr {
    col(name).eq(lit(code.to_owned()))
}

/// Twice the median of whole seconds, of the spans that are known.
pub(super) fn twice_median(seconds: Expr, name: &str) -> Expr {
    (seconds.median() * lit(2.0))
        .cast(DataType::Int64)
        .alias(name)
}

/// A frame of codes in their own order, onto which counts are laid so that no row gets lost.
pub(super) fn every<const N: usize>(
    keys: [&str; N],
    codes: &[[&'static str; N]],
) -> Result<DataFrame> {
    let mut columns: Vec<Series> = Vec::new();
    for (place, key) in keys.into_iter().enumerate() {
        let own: Vec<&str> = codes.iter().map(|row| row[place]).collect();
        columns.push(PlainSeries::new(key.into(), own).into());
    }
    DataFrame::new_infer_height(columns)
}

/// Counts laid beside every code: what does not occur counts nought, a span that nobody has stays unknown.
///
/// By places and not by a join: some dozen rows, whose order stays.
pub(super) fn onto<const N: usize>(
    every: DataFrame,
    counts: LazyFrame,
    keys: [&str; N],
    counted: &[&str],
) -> Result<DataFrame> {
    let counts = counts.collect()?;
    let places: HashMap<Vec<Option<String>>, IdxSize> =
        keys_of(&counts, &keys)?.into_iter().zip(0..).collect();
    let wanted = keys_of(&every, &keys)?;
    let found: Vec<Option<IdxSize>> = wanted.iter().map(|key| places.get(key).copied()).collect();
    let found = IdxCa::new("place".into(), found);
    let mut beside = Vec::new();
    for column in counts.columns() {
        if !keys.contains(&column.name().as_str()) {
            let laid = column.take(&found)?;
            beside.push(if counted.contains(&column.name().as_str()) {
                laid.fill_null(FillNullStrategy::Zero)?
            } else {
                laid
            });
        }
    }
    every.hstack(&beside)
}

/// The codes that name each row.
fn keys_of(frame: &DataFrame, keys: &[&str]) -> Result<Vec<Vec<Option<String>>>> {
    let mut rows = vec![Vec::with_capacity(keys.len()); frame.height()];
    for key in keys {
        for (row, text) in rows.iter_mut().zip(texts(frame, key)?) {
            row.push(text);
        }
    }
    Ok(rows)
}
