//! One line a woman who gave birth in the month: what rates, groups and the checks of the hands ask of her.

use polars::prelude::{DataFrame, DataType, Expr, JoinArgs, JoinType, LazyFrame, col, lit};

use super::frame::{self, Result, Schema, is};
use crate::clinical::Category;
use crate::registry::Mode;

const RELIES_ON: Schema = &[
    ("birth", DataType::String),
    ("twins_known", DataType::Boolean),
    ("referral_arrived", DataType::Boolean),
    ("seen_before_labour", DataType::Boolean),
    ("seen_from_32_weeks", DataType::Boolean),
    ("seen_near_term", DataType::Boolean),
    ("near_term_certainty", DataType::String),
    ("felt_lie", DataType::String),
    ("felt_presentation", DataType::String),
    ("felt_certainty", DataType::String),
    ("taped", DataType::Boolean),
    ("taped_small", DataType::Boolean),
];

/// The women with at least one reported birth, from the judged babies, what was known before, and their flags.
pub(super) fn frame(babies: &DataFrame, women: DataFrame, dangers: DataFrame) -> Result<LazyFrame> {
    let known = frame::relied_on(women, RELIES_ON)?;
    let by_birth = || [col("birth")];
    let women = of_babies(frame::lazy(babies.clone()))
        .filter(col("has_reported"))
        .join(known, by_birth(), by_birth(), JoinArgs::new(JoinType::Left))
        .join(
            found_before(dangers),
            by_birth(),
            by_birth(),
            JoinArgs::new(JoinType::Left),
        )
        .with_columns([
            col("lie_stood").fill_null(lit(false)),
            col("twins_suspected").fill_null(lit(false)),
        ])
        .collect()?;
    Ok(frame::lazy(women))
}

/// The lines of a birth stand in the order of the babies, so that the first is the first-born.
fn of_babies(babies: LazyFrame) -> LazyFrame {
    let firsts = [
        "first_place",
        "babies",
        "presentation",
        "gestation_days",
        "births_before",
        "previous_caesareans",
        "onset",
        "is_live",
        "is_small",
    ];
    let mut facts: Vec<Expr> = firsts.iter().map(|name| col(*name).first()).collect();
    facts.push(col("is_reported").any(true).alias("has_reported"));
    facts.push(
        is("mode", Mode::Caesarean.code())
            .any(true)
            .alias("by_caesarean"),
    );
    facts.push(
        is("mode", Mode::Unknown.code())
            .any(true)
            .alias("mode_unknown"),
    );
    babies.group_by_stable([col("birth")]).agg(facts)
}

/// Whether a lie or breech flag stood when labour began, and whether twins were suspected before it.
fn found_before(dangers: DataFrame) -> LazyFrame {
    let category = |category: Category| is("category", category.code());
    let lie = category(Category::TransverseLie).or(category(Category::Breech));
    let twins = category(Category::SuspectedTwins);
    frame::lazy(dangers).group_by([col("birth")]).agg([
        lie.and(col("stood_in_labour")).any(true).alias("lie_stood"),
        twins
            .and(col("before_labour"))
            .and(col("dismissed").not())
            .any(true)
            .alias("twins_suspected"),
    ])
}
