//! `births-by-risk`: women and babies by what was flagged before the birth.

use polars::prelude::{DataFrame, JoinArgs, JoinType, LazyFrame, col, lit};

use super::columns::{COLUMNS, SOURCES};
use super::tally::tallied;
use crate::clinical::{Category, Urgency};
use crate::reporting::frame::{self, Result, is};
use crate::reporting::table::{Cell, Column, Table};

/// The row of women without a flag.
const NONE: &str = "none";

/// The table, from the judged babies and the flags of their pregnancies.
pub(in crate::reporting) fn table(babies: &DataFrame, dangers: DataFrame) -> Result<Table> {
    let babies = frame::lazy(babies.clone());
    let by_category = babies
        .clone()
        .join(
            risks(dangers),
            [col("birth")],
            [col("birth")],
            JoinArgs::new(JoinType::Left),
        )
        .with_columns([col("category").fill_null(lit(NONE))]);
    let mut codes: Vec<[&str; 1]> = Category::ALL.iter().map(|it| [it.code()]).collect();
    codes.push([NONE]);
    let mut columns = COLUMNS.to_vec();
    columns[0] = Column {
        name: "category",
        words: "Flagged before the birth",
        definition: "Flags raised before the birth of the first baby, more urgent than “check again” at some time, and not dismissed. A woman and her babies stand once in each of her categories.",
        ..columns[0]
    };
    let lines = tallied(by_category, "category", "category", &codes)?;
    let mut rows = frame::rows(&lines, &columns)?;
    rows.retain(|row| {
        row[0] == Cell::Text(NONE.to_owned())
            || row
                .iter()
                .any(|cell| cell.count().is_some_and(|count| count > 0))
    });
    let everybody = babies.with_columns([lit("all").alias("category")]);
    let all = tallied(everybody, "category", "category", &[["all"]])?;
    rows.extend(frame::rows(&all, &columns)?);
    Ok(Table {
        id: "births-by-risk",
        title: "Births, by what was flagged before",
        keys: 1,
        columns,
        rows,
        foot: vec![
            "“None” and the women with a flag add up to “all”; the categories do not.".to_owned(),
            "A woman who died undelivered stands only in the table by place.".to_owned(),
        ],
        sources: SOURCES,
    })
}

/// Each birth once with each of its categories.
fn risks(dangers: DataFrame) -> LazyFrame {
    let asked_for_more = is("urgency", Urgency::Recheck.code()).not();
    frame::lazy(dangers)
        .filter(
            col("before_birth")
                .and(col("dismissed").not())
                .and(asked_for_more),
        )
        .group_by([col("birth"), col("category")])
        .agg([col("urgency").first()])
        .select([col("birth"), col("category")])
}
