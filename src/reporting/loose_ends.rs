//! `loose-ends`: what of the month is not known yet.

use polars::prelude::{DataFrame, DataType, Expr, LazyFrame, col, lit};

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

/// One thing that may be missing: its words, where it is looked for, when it is missing, and the day that dates it.
type End = (&'static str, LazyFrame, Expr, &'static str);

/// The table, all thirteen rows, as things stood at `as_of`.
pub(super) fn table(sources: Sources, as_of: Moment) -> Result<Table> {
    let Sources {
        referrals,
        due,
        babies,
        flags,
    } = sources;
    let now = frame::second(as_of);
    let referrals = referrals::followed(referrals, as_of)?;
    let mut ends = of_referrals(&referrals, now);
    ends.push((
        "due date passed without birth",
        frame::lazy(due),
        col("days_past_due").gt(lit(PAST_DUE_DAYS)),
        "due_date",
    ));
    ends.extend(of_births(&frame::lazy(babies)));
    ends.push(("flags not reviewed", flags, unreviewed(now), "raised_on"));
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

fn of_referrals(referrals: &LazyFrame, now: i64) -> Vec<End> {
    let without_outcome = state(ReferralState::Answered).and(col("outcome_told").not());
    let end = |what, condition| (what, referrals.clone(), condition, "decided_on");
    vec![
        end("open referrals without arrival", on_her_way()),
        end("arrived without an answer", unanswered(now)),
        end("answered without outcome", without_outcome),
    ]
}

fn of_births(babies: &LazyFrame) -> Vec<End> {
    let end = |what, condition| (what, babies.clone(), condition, "born_on");
    let without = |column: &str| reported().and(col(column).is_null());
    vec![
        end("births without weight", without("weight_g")),
        end("births without gestation", without("gestation_days")),
        end(
            "births without place",
            reported().and(is("place", BirthPlace::Unknown.code())),
        ),
        end("births without sex", without("sex")),
        end(
            "stillbirths with neither gestation nor weight",
            col("neither"),
        ),
        end("criteria disagree", col("disagreeing")),
        end("deaths of babies without a date", undated_death()),
        end("live births without news after day 6", col("without_news")),
    ]
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
