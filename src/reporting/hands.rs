//! `palpation-check` and `height-check`: how good were the hands and the tape.

use polars::prelude::{Expr, LazyFrame, col, lit};

use super::figures::Hundredths;
use super::frame::{self, Result, counted, is, lines};
use super::interval;
use super::table::{Cell, Column, Kind, Table};
use crate::clinical::agreement::kappa;
use crate::clinical::{Certainty, Lie, Presentation};
use crate::registry::BirthPresentation;

const COLUMNS: [Column; 7] = [
    Column {
        name: "measure",
        words: "Measure",
        kind: Kind::Key,
        definition: "Sensitivity: found before, of those that were so at birth. Specificity: not found, of those that were not. Predictive values: right, of those found and of those not found. Kappa: agreement beyond chance.",
    },
    Column {
        name: "numerator",
        words: "Counted",
        kind: Kind::Count,
        definition: "",
    },
    Column {
        name: "denominator",
        words: "Of",
        kind: Kind::Count,
        definition: "",
    },
    Column {
        name: "value",
        words: "Per cent",
        kind: Kind::Value,
        definition: "",
    },
    Column {
        name: "low",
        words: "Low",
        kind: Kind::Value,
        definition: "The 95 % interval, of shares after Wilson.",
    },
    Column {
        name: "high",
        words: "High",
        kind: Kind::Value,
        definition: "",
    },
    Column {
        name: "published",
        words: "Published",
        kind: Kind::Words,
        definition: "What others found, not an aim.",
    },
];

/// In the order of the measures; an empty text is “nothing published beside it”.
type Published = [&'static str; 5];

/// Nassar, BMJ 2006;333:578, 1633 women at 35 to 37 weeks; limits after Wilson.
const OF_THE_HANDS: Published = [
    "70.0 (61.6 to 77.2)",
    "95.1 (93.9 to 96.1)",
    "55.2 (47.5 to 62.5)",
    "97.3 (96.4 to 98.1)",
    "0.58 (0.51 to 0.65)",
];
/// Pay 2015, eight studies of the fundal height for small babies.
const OF_THE_TAPE: Published = ["27 to 76", "79 to 92", "", "", ""];

/// Readings against what was found at birth: true positive, false positive, false negative, true negative.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Cells([i64; 4]);

/// How good were the hands.
pub(super) fn palpation(women: &LazyFrame) -> Result<Table> {
    let certainty = |certainty: Certainty| is("felt_certainty", certainty.code());
    let twins = || col("babies").gt(lit(1_i64));
    let one = || twins().not();
    let unknown = || is("presentation", BirthPresentation::Unknown.code());
    let asked = || one().and(unknown().not());
    let told = || {
        certainty(Certainty::Clear)
            .or(certainty(Certainty::Probable))
            .fill_null(lit(false))
    };
    let lie = |lie: Lie| is("felt_lie", lie.code());
    let over_the_brim = |presentation: Presentation| is("felt_presentation", presentation.code());
    let found = over_the_brim(Presentation::Breech)
        .or(over_the_brim(Presentation::Shoulder))
        .or(over_the_brim(Presentation::None))
        .or(lie(Lie::Transverse))
        .or(lie(Lie::Oblique));
    let born = is("presentation", BirthPresentation::Breech.code())
        .or(is("presentation", BirthPresentation::Shoulder.code()));
    let counts = frame::counts(
        women.clone().select(
            [
                vec![
                    counted(twins(), "twins"),
                    counted(one().and(unknown()), "unknown"),
                    counted(asked().and(col("felt_certainty").is_null()), "without"),
                    counted(
                        asked()
                            .and(col("felt_certainty").is_not_null())
                            .and(told().not()),
                        "unclear",
                    ),
                ],
                cross(&asked().and(told()), &found, &born),
            ]
            .concat(),
        ),
    )?;
    let count = |name: &str| counts.get(name).copied().unwrap_or_default();
    let foot = vec![
        format!(
            "Left out: no palpation in the last 28 days: {}; findings conflicting or too little to say: {}; twins: {}; presentation at birth not known: {}. \
             Whether a doctor turned the baby in between is not asked.",
            count("without"), count("unclear"), count("twins"), count("unknown")
        ),
        "Counted: the hands found a breech, a shoulder, nothing over the brim or a slanting or transverse lie, against breech or shoulder at birth.".to_owned(),
    ];
    Ok(Table {
        id: "palpation-check",
        title: "How good were our hands",
        keys: 1,
        columns: COLUMNS.to_vec(),
        rows: rows(cells(count), OF_THE_HANDS),
        foot,
        sources: "Published: Nassar, BMJ 2006;333:578, 1633 women at 35 to 37 weeks. Kappa: Fleiss, Cohen and Everitt 1969 [M].",
    })
}

/// How good was the tape.
pub(super) fn height(women: &LazyFrame) -> Result<Table> {
    let twins = || col("babies").gt(lit(1_i64));
    let dead = || twins().not().and(col("is_live").not());
    let live = || twins().not().and(col("is_live"));
    let classed = || live().and(col("is_small").is_not_null());
    let taped = || col("taped").fill_null(lit(false));
    let judged = classed().and(col("taped_small").is_not_null());
    let counts = frame::counts(
        women.clone().select(
            [
                vec![
                    counted(twins(), "twins"),
                    counted(dead(), "dead"),
                    counted(live().and(col("is_small").is_null()), "unclassed"),
                    counted(classed().and(taped().not()), "without"),
                    counted(
                        classed().and(taped()).and(col("taped_small").is_null()),
                        "outside",
                    ),
                ],
                cross(&judged, &col("taped_small"), &col("is_small")),
            ]
            .concat(),
        ),
    )?;
    let count = |name: &str| counts.get(name).copied().unwrap_or_default();
    let foot = vec![
        format!(
            "Left out: no tape in the last 28 days: {}; tape without gestation or outside the chart: {}; baby that could not be judged: {}; born dead: {}; twins: {}.",
            count("without"), count("outside"), count("unclassed"), count("dead"), count("twins")
        ),
        "Counted: the tape was below the 10th centile, or at a post that judges by weeks more than 2 cm under them, against a weight below the 10th centile. The reading is judged, not the flag.".to_owned(),
    ];
    Ok(Table {
        id: "height-check",
        title: "How good was our tape",
        keys: 1,
        columns: COLUMNS.to_vec(),
        rows: rows(cells(count), OF_THE_TAPE),
        foot,
        sources: "Published: Pay 2015, eight studies. Kappa: Fleiss, Cohen and Everitt 1969 [M].",
    })
}

/// The four cells among those who are asked.
fn cross(among: &Expr, found: &Expr, born: &Expr) -> Vec<Expr> {
    let both = |found: Expr, born: Expr| among.clone().and(found).and(born);
    let found = found.clone().fill_null(lit(false));
    vec![
        lines("women"),
        counted(both(found.clone(), born.clone()), "tp"),
        counted(both(found.clone(), born.clone().not()), "fp"),
        counted(both(found.clone().not(), born.clone()), "fn"),
        counted(both(found.not(), born.clone().not()), "tn"),
    ]
}

fn cells(count: impl Fn(&str) -> i64) -> Cells {
    Cells(["tp", "fp", "fn", "tn"].map(count))
}

fn rows(cells: Cells, published: Published) -> Vec<Vec<Cell>> {
    let Cells([tp, fp, missed, tn]) = cells;
    let n = tp + fp + missed + tn;
    let mut rows: Vec<Vec<Cell>> = [
        ("true positive", tp),
        ("false positive", fp),
        ("false negative", missed),
        ("true negative", tn),
        ("n", n),
    ]
    .into_iter()
    .map(|(measure, count)| counted_row(measure, count))
    .collect();
    let shares = [
        ("sensitivity", tp, tp + missed, published[0]),
        ("specificity", tn, tn + fp, published[1]),
        ("positive predictive value", tp, tp + fp, published[2]),
        ("negative predictive value", tn, tn + missed, published[3]),
    ];
    rows.extend(
        shares
            .into_iter()
            .map(|(measure, part, whole, published)| share_row(measure, part, whole, published)),
    );
    rows.push(kappa_row(cells, published[4]));
    rows
}

fn counted_row(measure: &str, count: i64) -> Vec<Cell> {
    let mut row = vec![Cell::Text(measure.to_owned()), Cell::Count(count)];
    row.resize(COLUMNS.len(), Cell::Absent);
    row
}

fn share_row(measure: &str, part: i64, whole: i64, published: &str) -> Vec<Cell> {
    let limits = interval::limits(part, whole, 100);
    vec![
        Cell::Text(measure.to_owned()),
        Cell::Count(part),
        Cell::Count(whole),
        Cell::Share {
            part,
            whole,
            per: 100,
        },
        Cell::from(limits.map(|(low, _)| low)),
        Cell::from(limits.map(|(_, high)| high)),
        words(published),
    ]
}

fn kappa_row(Cells(cells): Cells, published: &str) -> Vec<Cell> {
    let found = kappa(cells);
    let limits = found.and_then(|found| found.limits);
    let shown =
        |value: Option<f64>| value.map_or(Cell::Absent, |value| Cell::Agreement(hundredths(value)));
    vec![
        Cell::Text("kappa".to_owned()),
        Cell::Absent,
        Cell::Absent,
        shown(found.map(|found| found.value)),
        shown(limits.map(|limits| limits.0)),
        shown(limits.map(|limits| limits.1)),
        words(published),
    ]
}

fn words(published: &str) -> Cell {
    if published.is_empty() {
        Cell::Absent
    } else {
        Cell::Text(published.to_owned())
    }
}

#[expect(
    clippy::cast_possible_truncation,
    reason = "an agreement lies between -1 and 1"
)]
fn hundredths(value: f64) -> Hundredths {
    Hundredths((value * 100.0 + 0.5).floor() as i64)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_measures_are_those_that_nassar_prints() {
        // BMJ 2006;333:578: 91, 74, 39, 1429; 74 is reconstructed from the printed rates.
        let rows = rows(Cells([91, 74, 39, 1429]), OF_THE_HANDS);
        let told: Vec<String> = rows[5..]
            .iter()
            .map(|row| {
                format!(
                    "{} ({} to {})",
                    row[3].plain(),
                    row[4].plain(),
                    row[5].plain()
                )
            })
            .collect();
        assert_eq!(told, OF_THE_HANDS);
        assert_eq!(rows[4][1], Cell::Count(1633));
    }

    #[test]
    fn nothing_counted_has_no_value() {
        let rows = rows(Cells([0, 0, 0, 0]), OF_THE_TAPE);
        assert!(
            rows[5..]
                .iter()
                .all(|row| row[3].plain().is_empty() && row[4].plain().is_empty())
        );
    }
}
