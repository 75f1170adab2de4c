//! Women and babies, counted by row.

use polars::prelude::{DataFrame, Expr, LazyFrame, col};

use super::columns::COUNTS;
use crate::registry::{Mode, NewbornState};
use crate::reporting::frame::{self, Result, counted, is, lines};

/// Women by `woman`, babies by `baby`, each joined onto every code, in the order of the codes.
pub(super) fn tallied(
    babies: LazyFrame,
    baby: &'static str,
    woman: &'static str,
    codes: &[[&'static str; 1]],
) -> Result<DataFrame> {
    let reported = babies.clone().filter(col("is_reported"));
    let of_babies = reported.clone().group_by([col(baby)]).agg(baby_counts());
    let of_women = women(reported, woman)
        .group_by([col(KEY)])
        .agg([lines("women"), counted(col("by_caesarean"), "caesareans")]);
    let of_deaths = women(babies, woman)
        .group_by([col(KEY)])
        .agg([counted(col("she_died"), "maternal_deaths")]);
    let named = |frame: LazyFrame| frame.rename([KEY], [baby], true);
    let joined = frame::onto(
        frame::every([baby], codes)?,
        of_babies,
        [baby],
        &COUNTS[1..13],
    )?;
    let joined = frame::onto(joined, named(of_women), [baby], &["women", "caesareans"])?;
    frame::onto(joined, named(of_deaths), [baby], &["maternal_deaths"])
}

/// Names the row of a woman while she is counted.
const KEY: &str = "row";

/// One line a woman and row.
fn women(babies: LazyFrame, row: &'static str) -> LazyFrame {
    babies.group_by([col("birth"), col(row).alias(KEY)]).agg([
        is("mode", Mode::Caesarean.code())
            .any(true)
            .alias("by_caesarean"),
        col("maternal_death").any(true).alias("she_died"),
    ])
}

fn baby_counts() -> [Expr; 12] {
    let stillborn = |state: NewbornState| is("state", state.code());
    [
        lines("babies"),
        counted(col("is_live"), "live"),
        counted(stillborn(NewbornState::StillbornFresh), "fresh"),
        counted(stillborn(NewbornState::StillbornMacerated), "macerated"),
        counted(
            stillborn(NewbornState::StillbornUnstated),
            "skin_not_stated",
        ),
        counted(col("early_death"), "early_neonatal_deaths"),
        counted(col("is_low"), "low_weight"),
        counted(col("is_low").is_not_null(), "low_weight_base"),
        counted(col("is_preterm"), "preterm"),
        counted(col("is_preterm").is_not_null(), "preterm_base"),
        counted(col("is_small"), "small"),
        counted(col("is_small").is_not_null(), "small_base"),
    ]
}
