//! How good the hands and the tape were.

use brimline::registry::extract::{BabyLine, Extract, WomanLine};

use crate::births::baby;
use crate::{row, table};

fn felt(birth: &str, presentation: &'static str, certainty: &'static str) -> WomanLine {
    WomanLine {
        birth: Some(birth.to_owned()),
        felt_lie: Some("longitudinal"),
        felt_presentation: Some(presentation),
        felt_certainty: Some(certainty),
        taped: Some(false),
        ..WomanLine::default()
    }
}

#[test]
fn the_hands_are_held_against_what_was_born() {
    let mut lines = Extract::default();
    let mut woman = |born: BabyLine, felt: Option<WomanLine>| {
        let birth = born.birth.clone();
        lines.babies.push(born);
        lines.women.push(felt.unwrap_or(WomanLine {
            birth,
            ..WomanLine::default()
        }));
    };
    let breech = |birth: &str| BabyLine {
        presentation: Some("breech"),
        ..baby(birth)
    };
    woman(breech("a"), Some(felt("a", "breech", "clear")));
    woman(breech("b"), Some(felt("b", "cephalic", "probable")));
    woman(baby("c"), Some(felt("c", "cephalic", "clear")));
    woman(
        baby("d"),
        Some(WomanLine {
            felt_lie: Some("oblique"),
            ..felt("d", "unknown", "clear")
        }),
    );
    woman(baby("e"), Some(felt("e", "cephalic", "conflicting")));
    woman(baby("f"), None);
    woman(
        BabyLine {
            babies: Some(2),
            ..baby("g")
        },
        Some(felt("g", "cephalic", "clear")),
    );
    woman(
        BabyLine {
            presentation: Some("unknown"),
            ..baby("h")
        },
        Some(felt("h", "cephalic", "clear")),
    );
    let table = table("palpation-check", &lines);
    let counted = |measure: &str| row(&table, &[measure], &["numerator"]);
    assert_eq!(
        [
            "true positive",
            "false positive",
            "false negative",
            "true negative",
            "n"
        ]
        .map(counted),
        [
            "numerator 1",
            "numerator 1",
            "numerator 1",
            "numerator 1",
            "numerator 4"
        ]
    );
    assert_eq!(
        row(&table, &["sensitivity"], &["value", "low", "high"]),
        "value 50.0, low 9.5, high 90.5"
    );
    assert_eq!(row(&table, &["kappa"], &["value"]), "value 0.00");
    assert!(table.foot[0].contains("28 days: 1; findings conflicting or too little to say: 1; twins: 1; presentation at birth not known: 1"), "{:?}", table.foot);
}

#[test]
fn the_tape_is_held_against_the_weight() {
    let mut lines = Extract::default();
    let mut woman = |born: BabyLine, taped_small: Option<bool>, taped: bool| {
        lines.women.push(WomanLine {
            birth: born.birth.clone(),
            taped: Some(taped),
            taped_small,
            ..WomanLine::default()
        });
        lines.babies.push(born);
    };
    let small = |birth: &str| BabyLine {
        weight_g: Some(2000),
        ..baby(birth)
    };
    woman(small("a"), Some(true), true);
    woman(small("b"), Some(false), true);
    woman(baby("c"), Some(false), true);
    woman(baby("d"), None, true);
    woman(baby("e"), None, false);
    woman(
        BabyLine {
            sex: None,
            ..baby("f")
        },
        Some(true),
        true,
    );
    woman(
        BabyLine {
            state: Some("stillborn-fresh"),
            ..baby("g")
        },
        Some(true),
        true,
    );
    let table = table("height-check", &lines);
    assert_eq!(
        row(&table, &["sensitivity"], &["numerator", "denominator"]),
        "numerator 1, denominator 2"
    );
    assert_eq!(
        row(&table, &["specificity"], &["numerator", "denominator"]),
        "numerator 1, denominator 1"
    );
    assert!(
        table.foot[0].ends_with("28 days: 1; tape without gestation or outside the chart: 1; baby that could not be judged: 1; born dead: 1; twins: 0."),
        "{:?}",
        table.foot
    );
}
