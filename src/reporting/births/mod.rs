//! `births` and `births-by-risk`: women and babies of the month, by the place of birth and by what was flagged before.

mod columns;
mod definitions;
mod risk;
mod tally;

pub use definitions::{
    CountsAs, When, counts_as, criteria_disagree, died_early, died_in_24_h, is_maternal_death,
};

pub(super) use definitions::{is_preterm, is_small};
pub(super) use risk::table as by_risk;

use polars::prelude::{DataFrame, LazyFrame, NamedFrom, Series, col};

use self::columns::{COLUMNS, SOURCES};
use self::definitions::{Judged, judge};
use self::tally::tallied;
use super::frame::{self, Result, counted};
use super::table::{Cell, Table};
use crate::registry::BirthPlace;
use crate::registry::extract::BabyLines;

/// The babies of the month, judged by the definitions.
pub(super) fn judged(babies: &BabyLines) -> Result<DataFrame> {
    let verdicts: Vec<Judged> = babies.iter().map(|baby| judge(&baby)).collect();
    let mut frame = frame::of(babies.clone().columns())?;
    let is_live = |verdict: &Judged| Some(verdict.counts_as == CountsAs::Live);
    let is_reported = |verdict: &Judged| Some(verdict.counts_as != CountsAs::NotReported);
    let columns: [(&str, Vec<Option<bool>>); 11] = [
        ("is_live", verdicts.iter().map(is_live).collect()),
        ("is_reported", verdicts.iter().map(is_reported).collect()),
        (
            "early_death",
            verdicts.iter().map(|it| it.early_death).collect(),
        ),
        (
            "first_day_death",
            verdicts.iter().map(|it| it.first_day_death).collect(),
        ),
        ("is_low", verdicts.iter().map(|it| it.low_weight).collect()),
        ("is_preterm", verdicts.iter().map(|it| it.preterm).collect()),
        ("is_small", verdicts.iter().map(|it| it.small).collect()),
        (
            "disagreeing",
            verdicts.iter().map(|it| Some(it.disagreeing)).collect(),
        ),
        (
            "neither",
            verdicts.iter().map(|it| Some(it.neither)).collect(),
        ),
        (
            "without_news",
            verdicts.iter().map(|it| Some(it.without_news)).collect(),
        ),
        (
            "maternal_death",
            verdicts.iter().map(|it| Some(it.maternal_death)).collect(),
        ),
    ];
    for (name, values) in columns {
        frame.with_column(Series::new(name.into(), values).into())?;
    }
    Ok(frame)
}

/// The table, from the judged babies, the women who died undelivered and those who lost the pregnancy without a birth record.
pub(super) fn table(
    babies: &DataFrame,
    died_undelivered: i64,
    losses_without_birth: i64,
) -> Result<Table> {
    let babies = frame::lazy(babies.clone());
    let places: Vec<[&str; 1]> = BirthPlace::ALL.iter().map(|it| [it.code()]).collect();
    let by_place = tallied(babies.clone(), "place", "first_place", &places)?;
    let mut rows = frame::rows(&by_place, &COLUMNS)?;
    if let Some(Cell::Count(deaths)) = rows.last_mut().and_then(|unknown| unknown.last_mut()) {
        *deaths += died_undelivered;
    }
    let all = sum(&rows);
    rows.push(all);
    Ok(Table {
        id: "births",
        title: "Births, by place",
        keys: 1,
        columns: COLUMNS.to_vec(),
        rows,
        foot: foot(babies, losses_without_birth)?,
        sources: SOURCES,
    })
}

/// Here every unit stands in one row, so that the rows add up.
fn sum(rows: &[Vec<Cell>]) -> Vec<Cell> {
    let total = |place: usize| rows.iter().filter_map(|row| row.get(place)?.count()).sum();
    let mut all = vec![Cell::Text("all".to_owned())];
    all.extend((1..COLUMNS.len()).map(|place| Cell::Count(total(place))));
    all
}

fn foot(babies: LazyFrame, losses_without_birth: i64) -> Result<Vec<String>> {
    let reported = || col("is_reported");
    let counts = frame::counts(babies.select([
        counted(reported().not(), "losses"),
        counted(reported().and(col("weight_g").is_null()), "weight"),
        counted(reported().and(col("gestation_days").is_null()), "gestation"),
        counted(col("without_news"), "news"),
    ]))?;
    let count = |name: &str| counts.get(name).copied().unwrap_or_default();
    Ok(vec![
        format!(
            "Losses before 28 weeks: {}.",
            count("losses") + losses_without_birth
        ),
        format!("Weight unknown: {}.", count("weight")),
        format!("Gestation unknown: {}.", count("gestation")),
        format!("Not followed to day 7: {}.", count("news")),
    ])
}
