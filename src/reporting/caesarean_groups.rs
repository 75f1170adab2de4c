//! `caesarean-groups`: women of the births of the month by the ten groups.

use polars::prelude::{DataFrame, DataType, Expr, LazyFrame, NamedFrom, Series, col, lit};

use super::frame::{self, Result, counted, lines};
use super::table::{Column, Kind, Table};
use crate::clinical::robson::{self, Beginning, Birth, FirstPart};
use crate::registry::{BirthPresentation, Onset};

const UNKNOWN: &str = "unclassifiable";
const GROUPS: [[&str; 1]; 11] = [
    ["1"],
    ["2"],
    ["3"],
    ["4"],
    ["5"],
    ["6"],
    ["7"],
    ["8"],
    ["9"],
    ["10"],
    [UNKNOWN],
];

const COLUMNS: [Column; 7] = [
    Column {
        name: "group",
        words: "Group",
        kind: Kind::Key,
        definition: "1 and 2: first birth, one baby head first, from 37w+0d; 1 labour began by itself, 2 induced or caesarean before labour. 3 and 4: the same after births without a caesarean. 5: the same after a caesarean. 6: breech, first birth. 7: breech, later birth. 8: twins or more. 9: across. 10: one baby head first before 37w+0d.",
    },
    Column {
        name: "women",
        words: "Women",
        kind: Kind::Count,
        definition: "Women of the births of the month.",
    },
    Column {
        name: "caesareans",
        words: "Caesareans",
        kind: Kind::Count,
        definition: "Any baby of this birth by caesarean.",
    },
    Column {
        name: "size_percent",
        words: "Size",
        kind: Kind::Percent {
            part: "women",
            whole: "all_women",
        },
        definition: "Women of the group, of all women; unclassifiable ones are among them.",
    },
    Column {
        name: "rate_percent",
        words: "Rate",
        kind: Kind::Percent {
            part: "caesareans",
            whole: "women",
        },
        definition: "Caesareans, of the women of the group.",
    },
    Column {
        name: "absolute_percent",
        words: "Adds to the rate",
        kind: Kind::Percent {
            part: "caesareans",
            whole: "all_women",
        },
        definition: "Caesareans of the group, of all women.",
    },
    Column {
        name: "relative_percent",
        words: "Share of caesareans",
        kind: Kind::Percent {
            part: "caesareans",
            whole: "all_caesareans",
        },
        definition: "Caesareans of the group, of all caesareans.",
    },
];

/// The table.
pub(super) fn table(women: &LazyFrame) -> Result<Table> {
    let women = grouped(women.clone().collect()?)?;
    let totals = [
        lines("all_women"),
        counted(col("by_caesarean"), "all_caesareans"),
        counted(
            col("mode_unknown").and(col("by_caesarean").not()),
            "mode_unknown",
        ),
    ];
    let totals = frame::counts(women.clone().select(totals))?;
    let total = |name: &str| totals.get(name).copied().unwrap_or_default();
    let with_totals = |frame: LazyFrame| {
        frame.with_columns([
            whole(total("all_women")).alias("all_women"),
            whole(total("all_caesareans")).alias("all_caesareans"),
        ])
    };
    let counts = women.clone().group_by([col("group")]).agg(expressions());
    let counts = frame::onto(
        frame::every(["group"], &GROUPS)?,
        counts,
        ["group"],
        &["women", "caesareans"],
    )?;
    let all = women
        .select(expressions())
        .with_columns([lit("all").alias("group")]);
    let mut rows = frame::rows(&with_totals(frame::lazy(counts)).collect()?, &COLUMNS)?;
    rows.extend(frame::rows(&with_totals(all).collect()?, &COLUMNS)?);
    Ok(Table {
        id: "caesarean-groups",
        title: "Caesareans, by the ten groups",
        keys: 1,
        columns: COLUMNS.to_vec(),
        rows,
        foot: vec![format!(
            "How the baby was born is not known: {}; among the women, not among the caesareans.",
            total("mode_unknown")
        )],
        sources: "Groups: PMC7679201, table 1; WHO, Robson classification, implementation manual, 2017 [M]. Missing answers: our own choice [O].",
    })
}

/// A literal as wide as every count: polars would choose the narrowest that holds it.
fn whole(count: i64) -> Expr {
    lit(count).cast(DataType::Int64)
}

fn expressions() -> [Expr; 2] {
    [lines("women"), counted(col("by_caesarean"), "caesareans")]
}

/// The women with the group of each.
fn grouped(women: DataFrame) -> Result<LazyFrame> {
    let babies = frame::whole_numbers(&women, "babies")?;
    let days = frame::whole_numbers(&women, "gestation_days")?;
    let births = frame::whole_numbers(&women, "births_before")?;
    let scars = frame::whole_numbers(&women, "previous_caesareans")?;
    let presentations = frame::texts(&women, "presentation")?;
    let onsets = frame::texts(&women, "onset")?;
    let group = |place: usize| {
        robson::group(&Birth {
            babies: babies[place],
            first_part: presentations[place].as_deref().and_then(first_part),
            gestation_days: days[place],
            previous_caesareans: scars[place],
            births_before: births[place],
            beginning: onsets[place].as_deref().and_then(beginning),
        })
    };
    let names: Vec<&str> = (0..women.height())
        .map(|place| {
            group(place)
                .and_then(|group| GROUPS.get(usize::from(group) - 1))
                .map_or(UNKNOWN, |group| group[0])
        })
        .collect();
    let mut women = women;
    women.with_column(Series::new("group".into(), names).into())?;
    Ok(frame::lazy(women))
}

fn first_part(code: &str) -> Option<FirstPart> {
    match code.parse().ok()? {
        BirthPresentation::Cephalic => Some(FirstPart::Cephalic),
        BirthPresentation::Breech => Some(FirstPart::Breech),
        BirthPresentation::Shoulder => Some(FirstPart::Across),
        BirthPresentation::Unknown => None,
    }
}

fn beginning(code: &str) -> Option<Beginning> {
    match code.parse().ok()? {
        Onset::Spontaneous => Some(Beginning::Spontaneous),
        Onset::Induced => Some(Beginning::Induced),
        Onset::CaesareanBeforeLabour => Some(Beginning::CaesareanBeforeLabour),
        Onset::Unknown => None,
    }
}
