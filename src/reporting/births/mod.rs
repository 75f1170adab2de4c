//! `births`: women and babies of the month, by the place of birth.

mod definitions;

pub use definitions::{
    CountsAs, When, counts_as, criteria_disagree, died_early, died_in_24_h, is_maternal_death,
};

use polars::prelude::{DataFrame, Expr, IntoLazy, LazyFrame, NamedFrom, Series, col};

use self::definitions::{Judged, judge};
use super::frame::{self, Result, counted, is, lines};
use super::table::{Cell, Column, Kind, Table};
use crate::registry::extract::BabyLines;
use crate::registry::{BirthPlace, Mode, NewbornState};

const COUNTS: [&str; 15] = [
    "women",
    "babies",
    "live",
    "fresh",
    "macerated",
    "skin_not_stated",
    "early_neonatal_deaths",
    "low_weight",
    "low_weight_base",
    "preterm",
    "preterm_base",
    "small",
    "small_base",
    "caesareans",
    "maternal_deaths",
];

const COLUMNS: [Column; 16] = [
    Column {
        name: "place",
        words: "Place",
        kind: Kind::Key,
        definition: "A woman stands in the row of her first baby, a baby in the row of its own place.",
    },
    Column {
        name: "women",
        words: "Women",
        kind: Kind::Count,
        definition: "Women whose pregnancy ended in the month with at least one reported birth.",
    },
    Column {
        name: "babies",
        words: "Babies",
        kind: Kind::Count,
        definition: "Live births and reported stillbirths.",
    },
    Column {
        name: "live",
        words: "Live",
        kind: Kind::Count,
        definition: "Any sign of life, at any gestation.",
    },
    Column {
        name: "fresh",
        words: "Stillborn, fresh",
        kind: Kind::Count,
        definition: "No sign of life from 28w+0d, or from 1000 g when the gestation is not known; skin intact. Looks date a death badly.",
    },
    Column {
        name: "macerated",
        words: "Stillborn, macerated",
        kind: Kind::Count,
        definition: "The same, skin peeling.",
    },
    Column {
        name: "skin_not_stated",
        words: "Stillborn, skin not stated",
        kind: Kind::Count,
        definition: "The same, skin not looked at; never guessed.",
    },
    Column {
        name: "early_neonatal_deaths",
        words: "Died on day 0 to 6",
        kind: Kind::Count,
        definition: "Live births of this month that died before 168 hours, or by the sixth day when a time is missing.",
    },
    Column {
        name: "low_weight",
        words: "Under 2500 g",
        kind: Kind::Count,
        definition: "Live births up to and including 2499 g.",
    },
    Column {
        name: "low_weight_base",
        words: "Weighed",
        kind: Kind::Count,
        definition: "Live births with a weight.",
    },
    Column {
        name: "preterm",
        words: "Before 37 weeks",
        kind: Kind::Count,
        definition: "Live births before 37w+0d.",
    },
    Column {
        name: "preterm_base",
        words: "Gestation known",
        kind: Kind::Count,
        definition: "Live births with a gestation.",
    },
    Column {
        name: "small",
        words: "Small for gestation",
        kind: Kind::Count,
        definition: "Live births below the 10th centile for sex and exact day. Twins are judged by the same table, which is made from single babies.",
    },
    Column {
        name: "small_base",
        words: "Could be judged",
        kind: Kind::Count,
        definition: "Live births with weight, sex, and gestation within the table.",
    },
    Column {
        name: "caesareans",
        words: "Caesareans",
        kind: Kind::Count,
        definition: "Women with any baby of this birth by caesarean.",
    },
    Column {
        name: "maternal_deaths",
        words: "Mothers who died",
        kind: Kind::Count,
        definition: "Pregnant, or up to day 42 after the end of the pregnancy. A woman who died undelivered stands in the row “unknown”.",
    },
];

const SOURCES: &str = "Live birth, stillbirth: ICD-10, as quoted in BMC Pregnancy Childbirth 2009;9 Suppl 1:S2; 28 weeks before weight [O]. \
    Early death, low weight: ICD-10. Preterm, small: newborn size standards, Lancet 2014;384:857 and 2016;387:844. \
    Skin: Int J Gynecol Obstet 2014;125:223. Maternal death: ICD-10.";

/// The babies of the month, judged by the definitions.
pub(super) fn judged(babies: &BabyLines) -> Result<DataFrame> {
    let verdicts: Vec<Judged> = babies.iter().map(|baby| judge(&baby)).collect();
    let mut frame = frame::of(babies.clone().columns())?;
    let is_live = |verdict: &Judged| Some(verdict.counts_as == CountsAs::Live);
    let is_reported = |verdict: &Judged| Some(verdict.counts_as != CountsAs::NotReported);
    let columns: [(&str, Vec<Option<bool>>); 10] = [
        ("is_live", verdicts.iter().map(is_live).collect()),
        ("is_reported", verdicts.iter().map(is_reported).collect()),
        (
            "early_death",
            verdicts.iter().map(|it| it.early_death).collect(),
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
    let babies = babies.clone().lazy();
    let places: Vec<[&str; 1]> = BirthPlace::ALL.iter().map(|it| [it.code()]).collect();
    let by_place = tallied(babies.clone(), "place", "first_place", &places)?.collect()?;
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

/// Women by `woman`, babies by `baby`, each joined onto every code, in the order of the codes.
fn tallied(
    babies: LazyFrame,
    baby: &'static str,
    woman: &'static str,
    codes: &[[&'static str; 1]],
) -> Result<LazyFrame> {
    let reported = babies.clone().filter(col("is_reported"));
    let of_babies = reported.clone().group_by([col(baby)]).agg(baby_counts());
    let of_women = women(reported)
        .group_by([col(woman)])
        .agg([lines("women"), counted(col("by_caesarean"), "caesareans")]);
    let of_deaths = women(babies)
        .group_by([col(woman)])
        .agg([counted(col("she_died"), "maternal_deaths")]);
    let renamed = |frame: LazyFrame| frame.rename([woman], [baby], true);
    let joined = frame::onto(
        frame::every([baby], codes)?,
        of_babies,
        [baby],
        &COUNTS[1..13],
    );
    let joined = frame::onto(joined, renamed(of_women), [baby], &["women", "caesareans"]);
    Ok(frame::onto(
        joined,
        renamed(of_deaths),
        [baby],
        &["maternal_deaths"],
    ))
}

/// One line a woman.
fn women(babies: LazyFrame) -> LazyFrame {
    babies.group_by([col("birth")]).agg([
        col("first_place").first(),
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

/// Here every unit stands in one row, so that the rows add up.
fn sum(rows: &[Vec<Cell>]) -> Vec<Cell> {
    let total = |place: usize| rows.iter().filter_map(|row| row.get(place)?.count()).sum();
    let mut all = vec![Cell::Text("all".to_owned())];
    all.extend((1..COLUMNS.len()).map(|place| Cell::Count(total(place))));
    all
}

fn foot(babies: LazyFrame, losses_without_birth: i64) -> Result<Vec<String>> {
    let reported = || col("is_reported");
    let counts = babies
        .select([
            counted(reported().not(), "losses"),
            counted(reported().and(col("weight_g").is_null()), "weight"),
            counted(reported().and(col("gestation_days").is_null()), "gestation"),
            counted(col("without_news"), "news"),
        ])
        .collect()?;
    let count = |name: &str| -> Result<i64> {
        Ok(frame::whole_numbers(&counts, name)?
            .into_iter()
            .flatten()
            .sum())
    };
    Ok(vec![
        format!(
            "Losses before 28 weeks: {}.",
            count("losses")? + losses_without_birth
        ),
        format!("Weight unknown: {}.", count("weight")?),
        format!("Gestation unknown: {}.", count("gestation")?),
        format!("Not followed to day 7: {}.", count("news")?),
    ])
}
