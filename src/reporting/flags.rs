//! `flags`: what was raised in the month and what became of it.

use polars::prelude::{DataFrame, DataType, Expr, LazyFrame, col, lit};

use super::frame::{self, Result, Schema, counted, is, lines, twice_median};
use super::table::{Cell, Column, Kind, Table};
use crate::clinical::{Category, Moment, Urgency};
use crate::registry::{FlagClosing, FlagDecision};

const RELIES_ON: Schema = &[
    ("category", DataType::String),
    ("urgency", DataType::String),
    ("raised_at", DataType::Int64),
    ("decision", DataType::String),
    ("decided_at", DataType::Int64),
    ("closing", DataType::String),
    ("closed_at", DataType::Int64),
];

const COUNTS: [&str; 8] = [
    "raised",
    "confirmed",
    "dismissed",
    "reviewed",
    "settled",
    "ended",
    "open",
    "pairs",
];

const COLUMNS: [Column; 11] = [
    Column {
        name: "category",
        words: "Category",
        kind: Kind::Key,
        definition: "",
    },
    Column {
        name: "urgency",
        words: "Urgency",
        kind: Kind::Key,
        definition: "The highest urgency the flag has had.",
    },
    Column {
        name: "raised",
        words: "Raised",
        kind: Kind::Count,
        definition: "Flags first raised in the month. A flag is one rule on one pregnancy until it is closed; found again while it stands it is the same flag.",
    },
    Column {
        name: "confirmed",
        words: "Confirmed",
        kind: Kind::Count,
        definition: "Confirmed by the midwife in charge.",
    },
    Column {
        name: "dismissed",
        words: "Dismissed",
        kind: Kind::Count,
        definition: "Dismissed by the midwife in charge.",
    },
    Column {
        name: "reviewed",
        words: "Reviewed",
        kind: Kind::Count,
        definition: "Confirmed or dismissed.",
    },
    Column {
        name: "settled",
        words: "Settled",
        kind: Kind::Count,
        definition: "Closed by a later record that answered the question, without a review. What is to be referred now never settles by itself.",
    },
    Column {
        name: "ended",
        words: "Ended",
        kind: Kind::Count,
        definition: "Closed by the end of the pregnancy, neither reviewed nor settled.",
    },
    Column {
        name: "open",
        words: "Still open",
        kind: Kind::Count,
        definition: "The rest: the five outcomes add up to the flags raised.",
    },
    Column {
        name: "median_hours_to_review",
        words: "Median hours to review",
        kind: Kind::Hours { pairs: "pairs" },
        definition: "From raising to the midwife’s decision; half took less, half took longer.",
    },
    Column {
        name: "pairs",
        words: "Times behind the median",
        kind: Kind::Count,
        definition: "Flags with both times known.",
    },
];

/// The table, from the flags first raised in the month, as things stood at `as_of`.
pub(super) fn table(flags: DataFrame, as_of: Moment) -> Result<Table> {
    let flags = followed(flags, as_of)?;
    let lines = by_category_and_urgency(flags.clone())?;
    let all = counts(flags)
        .with_columns([lit("all").alias("category"), lit("all").alias("urgency")])
        .collect()?;
    let mut rows = frame::rows(&lines, &COLUMNS)?;
    rows.retain(|row| row.get(2) != Some(&Cell::Count(0)));
    rows.extend(frame::rows(&all, &COLUMNS)?);
    Ok(Table {
        id: "flags",
        title: "Flags",
        keys: 2,
        columns: COLUMNS.to_vec(),
        rows,
        foot: vec!["A flag stands in one row, that of the highest urgency it has had. “Check again” asks for no review; it usually ends as settled.".to_owned()],
        sources: "Our own definitions [O].",
    })
}

/// Each flag with the one outcome that counts: reviewed comes before settled, settled before ended.
fn with_outcome(flags: LazyFrame, as_of: i64) -> LazyFrame {
    let decided = col("decision")
        .is_not_null()
        .and(by(col("decided_at"), as_of));
    let closed = |closing: FlagClosing| {
        is("closing", closing.code())
            .and(by(col("closed_at"), as_of))
            .and(decided.clone().not())
    };
    let (settled, ended) = (closed(FlagClosing::Settled), closed(FlagClosing::Ended));
    flags
        .with_columns([
            decided
                .clone()
                .and(is("decision", FlagDecision::Confirmed.code()))
                .alias("was_confirmed"),
            decided
                .clone()
                .and(is("decision", FlagDecision::Dismissed.code()))
                .alias("was_dismissed"),
            settled.fill_null(lit(false)).alias("was_settled"),
            ended.fill_null(lit(false)).alias("was_ended"),
            decided.alias("was_reviewed"),
        ])
        .with_columns([col("was_reviewed")
            .or(col("was_settled"))
            .or(col("was_ended"))
            .not()
            .alias("is_open")])
}

/// Not told when is as good as told before.
fn by(at: Expr, as_of: i64) -> Expr {
    at.clone().is_null().or(at.lt_eq(lit(as_of)))
}

fn by_category_and_urgency(flags: LazyFrame) -> Result<DataFrame> {
    let keys = ["category", "urgency"];
    let pairs: Vec<[&str; 2]> = Category::ALL
        .iter()
        .flat_map(|category| {
            Urgency::ALL
                .iter()
                .map(|urgency| [category.code(), urgency.code()])
        })
        .collect();
    let counts = flags.group_by(keys.map(col)).agg(expressions());
    frame::onto(frame::every(keys, &pairs)?, counts, keys, &COUNTS)
}

fn counts(flags: LazyFrame) -> LazyFrame {
    flags.select(expressions())
}

fn expressions() -> [Expr; 9] {
    let reviewed = || col("was_reviewed");
    let to_review = || (col("decided_at") - col("raised_at")).filter(reviewed());
    [
        lines("raised"),
        counted(col("was_confirmed"), "confirmed"),
        counted(col("was_dismissed"), "dismissed"),
        counted(reviewed(), "reviewed"),
        counted(col("was_settled"), "settled"),
        counted(col("was_ended"), "ended"),
        counted(col("is_open"), "open"),
        twice_median(to_review(), "median_hours_to_review"),
        counted(to_review().is_not_null(), "pairs"),
    ]
}

/// The flags behind the loose ends of the month, with their outcome.
pub(super) fn followed(flags: DataFrame, as_of: Moment) -> Result<LazyFrame> {
    Ok(with_outcome(
        frame::relied_on(flags, RELIES_ON)?,
        frame::second(as_of),
    ))
}
