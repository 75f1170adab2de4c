//! `loose-ends`: what of the month is not known yet.

use polars::prelude::{DataFrame, DataType, Expr, IntoLazy, LazyFrame, col, lit};

use super::frame::{self, Result, is, lines};
use super::referrals;
use super::table::{Column, Kind, Table};
use crate::clinical::{Moment, Urgency};
use crate::registry::{BirthPlace, ReferralState};

/// An answer is looked for from this long after arrival.
const ANSWER_AFTER: i64 = 7 * 24 * 3600;
/// 42w+0d: more than so many days past the due date.
const PAST_DUE_DAYS: i64 = 14;
/// A flag should have been reviewed by then [O].
const REVIEW_AFTER: i64 = 72 * 3600;

const COLUMNS: [Column; 3] = [
    Column {
        name: "what",
        words: "What is missing",
        kind: Kind::Key,
        definition: "",
    },
    Column {
        name: "how_many",
        words: "How many",
        kind: Kind::Count,
        definition: "As things stood when the table was made; a late answer changes an old month.",
    },
    Column {
        name: "oldest",
        words: "Oldest",
        kind: Kind::Date,
        definition: "Day of the oldest one: decided, due, born or raised.",
    },
];

/// What the loose ends are looked for in.
pub(super) struct Sources {
    /// Decided in the month.
    pub(super) referrals: DataFrame,
    /// Due in the month and open.
    pub(super) due: DataFrame,
    /// Judged, born in the month.
    pub(super) babies: DataFrame,
    /// Raised in the month, with their outcome.
    pub(super) flags: LazyFrame,
}

/// The table, all thirteen rows, as things stood at `as_of`.
pub(super) fn table(sources: Sources, as_of: Moment) -> Result<Table> {
    let Sources {
        referrals,
        due,
        babies,
        flags,
    } = sources;
    let referrals = referrals::followed(referrals, as_of)?;
    let babies = babies.lazy();
    let now = frame::second(as_of);
    let ends: [(&str, LazyFrame, Expr, &str); 13] = [
        (
            "open referrals without arrival",
            referrals.clone(),
            on_her_way(),
            "decided_on",
        ),
        (
            "arrived without an answer",
            referrals.clone(),
            unanswered(now),
            "decided_on",
        ),
        (
            "answered without outcome",
            referrals,
            state(ReferralState::Answered).and(col("outcome_told").not()),
            "decided_on",
        ),
        (
            "due date passed without birth",
            due.lazy(),
            col("days_past_due").gt(lit(PAST_DUE_DAYS)),
            "due_date",
        ),
        (
            "births without weight",
            babies.clone(),
            reported().and(col("weight_g").is_null()),
            "born_on",
        ),
        (
            "births without gestation",
            babies.clone(),
            reported().and(col("gestation_days").is_null()),
            "born_on",
        ),
        (
            "births without place",
            babies.clone(),
            reported().and(is("place", BirthPlace::Unknown.code())),
            "born_on",
        ),
        (
            "births without sex",
            babies.clone(),
            reported().and(col("sex").is_null()),
            "born_on",
        ),
        (
            "stillbirths with neither gestation nor weight",
            babies.clone(),
            col("neither"),
            "born_on",
        ),
        (
            "criteria disagree",
            babies.clone(),
            col("disagreeing"),
            "born_on",
        ),
        (
            "deaths of babies without a date",
            babies.clone(),
            undated_death(),
            "born_on",
        ),
        (
            "live births without news after day 6",
            babies,
            col("without_news"),
            "born_on",
        ),
        ("flags not reviewed", flags, unreviewed(now), "raised_on"),
    ];
    let mut rows = Vec::new();
    for (what, among, condition, day) in ends {
        let found = among
            .filter(condition)
            .select([
                lines("how_many"),
                col(day).min().cast(DataType::Int64).alias("oldest"),
            ])
            .with_columns([lit(what).alias("what")])
            .collect()?;
        rows.extend(frame::rows(&found, &COLUMNS)?);
    }
    Ok(Table {
        id: "loose-ends",
        title: "Loose ends",
        keys: 1,
        columns: COLUMNS.to_vec(),
        rows,
        foot: vec!["“Criteria disagree”: gestation and weight say different things about whether a baby without a sign of life is reported.".to_owned()],
        sources: "Our own conditions [O].",
    })
}

fn state(state: ReferralState) -> Expr {
    is("state", state.code())
}

fn on_her_way() -> Expr {
    state(ReferralState::Decided).or(state(ReferralState::Left))
}

/// Arrived more than seven days ago; an arrival at an unknown time counts from when it was written down.
fn unanswered(now: i64) -> Expr {
    let here_since = col("arrived_at").fill_null(col("arrival_entered_at"));
    state(ReferralState::Arrived)
        .or(state(ReferralState::Seen))
        .and((lit(now) - here_since).gt(lit(ANSWER_AFTER)))
}

fn reported() -> Expr {
    col("is_reported")
}

fn undated_death() -> Expr {
    col("is_live")
        .and(col("died"))
        .and(col("died_on").is_null())
        .and(col("died_at").is_null())
}

/// Asked for a review three days ago and still open.
fn unreviewed(now: i64) -> Expr {
    let asks = is("urgency", Urgency::Recheck.code()).not();
    asks.and(col("is_open"))
        .and((lit(now) - col("raised_at")).gt(lit(REVIEW_AFTER)))
}
