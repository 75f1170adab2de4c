//! `referrals-by-reason` and `referrals-by-urgency`: what became of the referrals decided in the month.

use polars::prelude::{DataFrame, DataType, Expr, JoinArgs, JoinType, LazyFrame, col, lit, when};

use super::frame::{self, Result, Schema, counted, is, lines, twice_median};
use super::table::{Cell, Column, Kind, Table};
use crate::clinical::{Category, Moment, Urgency};
use crate::registry::ReferralState;

const RELIES_ON: Schema = &[
    ("urgency", DataType::String),
    ("state", DataType::String),
    ("decided_at", DataType::Int64),
    ("planned_at", DataType::Int64),
    ("left", DataType::Boolean),
    ("left_at", DataType::Int64),
    ("arrived", DataType::Boolean),
    ("arrived_at", DataType::Int64),
    ("answered", DataType::Boolean),
];

/// Nothing heard for so long after leaving or deciding: lost [O].
const LOST_AFTER: i64 = 7 * 24 * 3600;
/// The 120th minute is still within two hours.
const TWO_HOURS: i64 = 2 * 3600;

const COUNTS: [&str; 13] = [
    "decided",
    "left",
    "arrived",
    "answered",
    "declined",
    "stood_down",
    "not_arrived",
    "still_open",
    "lost",
    "pairs_decided_left",
    "pairs_left_arrived",
    "within_2h",
    "within_2h_base",
];

const COLUMNS: [Column; 17] = [
    Column {
        name: "category",
        words: "Reason",
        kind: Kind::Key,
        definition: "",
    },
    Column {
        name: "decided",
        words: "Decided",
        kind: Kind::Count,
        definition: "Referrals decided in the month, whenever the woman left.",
    },
    Column {
        name: "left",
        words: "Left",
        kind: Kind::Count,
        definition: "She left, at a known or an unknown time, or she arrived.",
    },
    Column {
        name: "arrived",
        words: "Arrived",
        kind: Kind::Count,
        definition: "She arrived, at a known or an unknown time, or an answer says that she did.",
    },
    Column {
        name: "answered",
        words: "Answered",
        kind: Kind::Count,
        definition: "An answer came for a woman who arrived.",
    },
    Column {
        name: "declined",
        words: "Declined by the mother",
        kind: Kind::Count,
        definition: "",
    },
    Column {
        name: "stood_down",
        words: "Stood down",
        kind: Kind::Count,
        definition: "No longer needed, with a reason.",
    },
    Column {
        name: "not_arrived",
        words: "Never arrived",
        kind: Kind::Count,
        definition: "An answer says that she never came.",
    },
    Column {
        name: "still_open",
        words: "Still open",
        kind: Kind::Count,
        definition: "The rest: answered, declined, stood down, never arrived and still open add up to decided.",
    },
    Column {
        name: "lost",
        words: "Lost",
        kind: Kind::Count,
        definition: "Of the still open: nothing heard of her for seven days since she left, or since the decision or the day it was booked for.",
    },
    Column {
        name: "hours_decided_left",
        words: "Median hours, decided to left",
        kind: Kind::Hours {
            pairs: "pairs_decided_left",
        },
        definition: "Half took less, half took longer.",
    },
    Column {
        name: "pairs_decided_left",
        words: "Times behind it",
        kind: Kind::Count,
        definition: "Referrals with both times known.",
    },
    Column {
        name: "hours_left_arrived",
        words: "Median hours, left to arrived",
        kind: Kind::Hours {
            pairs: "pairs_left_arrived",
        },
        definition: "Half took less, half took longer.",
    },
    Column {
        name: "pairs_left_arrived",
        words: "Times behind it",
        kind: Kind::Count,
        definition: "Referrals with both times known.",
    },
    Column {
        name: "within_2h",
        words: "Within 2 h",
        kind: Kind::Count,
        definition: "Arrived 120 minutes or less after the decision. No arrival, or one at an unknown time, is not within 2 h.",
    },
    Column {
        name: "within_2h_base",
        words: "Not stood down",
        kind: Kind::Count,
        definition: "Decided, without those stood down.",
    },
    Column {
        name: "within_2h_percent",
        words: "Within 2 h",
        kind: Kind::Percent {
            part: "within_2h",
            whole: "within_2h_base",
        },
        definition: "Within 2 h, of those not stood down.",
    },
];

const ANSWERED_PERCENT: Column = Column {
    name: "answered_percent",
    words: "Answered, of arrived",
    kind: Kind::Percent {
        part: "answered",
        whole: "arrived",
    },
    definition: "Answered, of the women who arrived.",
};

const SOURCES: &str = "Two hours: EPMM coverage target 4, 2021, which is about access; this is one post’s process [O]. \
    Second delay: Thaddeus and Maine, Soc Sci Med 1994;38:1091. The rest are our own definitions [O].";

/// By each category among the reasons.
pub(super) fn by_reason(referrals: DataFrame, reasons: DataFrame, as_of: Moment) -> Result<Table> {
    let referrals = followed(referrals, as_of)?;
    let each_reason = referrals.clone().join(
        frame::lazy(reasons),
        [col("id")],
        [col("referral")],
        JoinArgs::new(JoinType::Inner),
    );
    let codes: Vec<[&str; 1]> = Category::ALL.iter().map(|it| [it.code()]).collect();
    let mut table = table(referrals, each_reason, "category", &codes)?;
    table.id = "referrals-by-reason";
    table.title = "Referrals, by reason";
    table.foot.insert(0, "A referral with two reasons stands in both rows and once in “all”, which is therefore not the sum of the rows.".to_owned());
    Ok(table)
}

/// By the highest urgency when decided.
pub(super) fn by_urgency(referrals: DataFrame, as_of: Moment) -> Result<Table> {
    let referrals = followed(referrals, as_of)?;
    let codes: Vec<[&str; 1]> = Urgency::ALL.iter().map(|it| [it.code()]).collect();
    let mut table = table(referrals.clone(), referrals, "urgency", &codes)?;
    table.id = "referrals-by-urgency";
    table.title = "Referrals, by urgency";
    table.columns[0] = Column {
        name: "urgency",
        words: "Urgency",
        definition: "The highest of its flags when decided.",
        ..table.columns[0]
    };
    Ok(table)
}

fn table(
    referrals: LazyFrame,
    lines: LazyFrame,
    key: &'static str,
    codes: &[[&'static str; 1]],
) -> Result<Table> {
    let mut columns = COLUMNS.to_vec();
    columns[0].name = key;
    columns.push(ANSWERED_PERCENT);
    let counts = lines.group_by([col(key)]).agg(expressions());
    let counts = frame::onto(frame::every([key], codes)?, counts, [key], &COUNTS)?;
    let mut rows = frame::rows(&counts, &columns)?;
    rows.retain(|row| row.get(1) != Some(&Cell::Count(0)));
    let all = referrals
        .select(expressions())
        .with_columns([lit("all").alias(key)])
        .collect()?;
    rows.extend(frame::rows(&all, &columns)?);
    let unknown = frame::whole_numbers(&all, "arrival_time_unknown")?
        .into_iter()
        .flatten()
        .sum::<i64>();
    let foot = vec![format!(
        "Arrived at an unknown time, and so not counted within 2 h: {unknown}."
    )];
    Ok(Table {
        id: "",
        title: "",
        keys: 1,
        columns,
        rows,
        foot,
        sources: SOURCES,
    })
}

/// Each referral with what its steps come to.
fn with_facts(referrals: LazyFrame, as_of: i64) -> LazyFrame {
    let state = |state: ReferralState| is("state", state.code());
    let came = || col("arrived").or(col("answered"));
    let closed = state(ReferralState::Answered)
        .or(state(ReferralState::Declined))
        .or(state(ReferralState::StoodDown))
        .or(state(ReferralState::NotArrived));
    // Booked for a later day, she is not expected before it.
    let expected = when(col("planned_at").gt(col("decided_at")))
        .then(col("planned_at"))
        .otherwise(col("decided_at"));
    let last_heard = when(col("left_at").is_not_null())
        .then(col("left_at"))
        .otherwise(expected);
    let on_her_way = state(ReferralState::Decided).or(state(ReferralState::Left));
    referrals.with_columns([
        col("left").or(came()).alias("has_left"),
        came().alias("has_arrived"),
        state(ReferralState::Answered).alias("is_answered"),
        state(ReferralState::Declined).alias("is_declined"),
        state(ReferralState::StoodDown).alias("is_stood_down"),
        state(ReferralState::NotArrived).alias("is_not_arrived"),
        closed.not().alias("is_open"),
        on_her_way
            .and((lit(as_of) - last_heard).gt_eq(lit(LOST_AFTER)))
            .alias("is_lost"),
    ])
}

fn expressions() -> [Expr; 16] {
    let waiting = || col("left_at") - col("decided_at");
    let travel = || col("arrived_at") - col("left_at");
    let reaching = || col("arrived_at") - col("decided_at");
    [
        lines("decided"),
        counted(col("has_left"), "left"),
        counted(col("has_arrived"), "arrived"),
        counted(col("is_answered"), "answered"),
        counted(col("is_declined"), "declined"),
        counted(col("is_stood_down"), "stood_down"),
        counted(col("is_not_arrived"), "not_arrived"),
        counted(col("is_open"), "still_open"),
        counted(col("is_lost"), "lost"),
        twice_median(waiting(), "hours_decided_left"),
        counted(waiting().is_not_null(), "pairs_decided_left"),
        twice_median(travel(), "hours_left_arrived"),
        counted(travel().is_not_null(), "pairs_left_arrived"),
        counted(
            reaching()
                .lt_eq(lit(TWO_HOURS))
                .and(col("is_stood_down").not()),
            "within_2h",
        ),
        counted(col("is_stood_down").not(), "within_2h_base"),
        counted(
            col("has_arrived").and(col("arrived_at").is_null()),
            "arrival_time_unknown",
        ),
    ]
}

/// The referrals behind the loose ends of the month, with what their steps come to.
pub(super) fn followed(referrals: DataFrame, as_of: Moment) -> Result<LazyFrame> {
    Ok(with_facts(
        frame::relied_on(referrals, RELIES_ON)?,
        frame::second(as_of),
    ))
}

/// “Now” referrals that arrived, nobody knows when: they count as not within two hours, and are told.
pub(super) fn arrived_at_an_unknown_time(referrals: DataFrame, as_of: Moment) -> Result<i64> {
    let now = is("urgency", Urgency::Now.code());
    let unknown = col("has_arrived")
        .and(col("arrived_at").is_null())
        .and(col("is_stood_down").not());
    let counts = followed(referrals, as_of)?.select([counted(now.and(unknown), "unknown")]);
    Ok(frame::counts(counts)?.into_values().sum())
}
