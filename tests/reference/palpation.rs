//! Every combination of findings, enumerated: each valid one meets one row, and left mirrors right.

use brimline::clinical::{
    Back, Certainty, Front, Head, Palpation, PalpationFindings, Pole, Side, palpation_faults,
    read_palpation,
};
use std::collections::{BTreeMap, BTreeSet};

fn choices<T: Copy>(all: &[T]) -> Vec<Option<T>> {
    std::iter::once(None)
        .chain(all.iter().copied().map(Some))
        .collect()
}

/// All 128,625 combinations, absence included.
fn every_combination() -> impl Iterator<Item = PalpationFindings> {
    let fifths: Vec<Option<u8>> = std::iter::once(None).chain((0..=5).map(Some)).collect();
    choices(Pole::ALL).into_iter().flat_map(move |fundus| {
        let fifths = fifths.clone();
        choices(Side::ALL).into_iter().flat_map(move |left| {
            let fifths = fifths.clone();
            choices(Side::ALL).into_iter().flat_map(move |right| {
                let fifths = fifths.clone();
                choices(Front::ALL).into_iter().flat_map(move |front| {
                    let fifths = fifths.clone();
                    choices(Pole::ALL).into_iter().flat_map(move |lower| {
                        let heads = choices(Head::ALL);
                        fifths.clone().into_iter().flat_map(move |fifths| {
                            heads
                                .clone()
                                .into_iter()
                                .map(move |head| PalpationFindings {
                                    fundus,
                                    left,
                                    right,
                                    front,
                                    lower,
                                    fifths,
                                    head,
                                    ..PalpationFindings::default()
                                })
                        })
                    })
                })
            })
        })
    })
}

#[test]
fn every_valid_combination_meets_one_row_and_the_sums_are_those_of_the_reference() {
    let (mut refused, mut nothing) = (0, 0);
    let mut rows: BTreeMap<u8, u32> = BTreeMap::new();
    let mut certainties: BTreeMap<Certainty, u32> = BTreeMap::new();
    let mut positions = BTreeSet::new();
    for found in every_combination() {
        if palpation_faults(&found).is_err() {
            refused += 1;
            continue;
        }
        let Some(read) = read_palpation(&found) else {
            nothing += 1;
            continue;
        };
        *rows.entry(read.row[1..].parse().unwrap()).or_default() += 1;
        *certainties.entry(read.certainty).or_default() += 1;
        positions.insert(read.position);
    }
    assert_eq!((refused, nothing), (94_325, 1));
    assert_eq!(
        rows.into_values().collect::<Vec<_>>(),
        [
            12460, 1870, 180, 375, 3000, 9000, 2400, 1200, 125, 375, 150, 150, 150, 50, 490, 375,
            250, 125, 250, 200, 45, 53, 27, 999
        ]
    );
    assert_eq!(
        certainties,
        BTreeMap::from([
            (Certainty::Conflicting, 19280),
            (Certainty::Probable, 11383),
            (Certainty::Clear, 2330),
            (Certainty::Insufficient, 1306),
        ])
    );
    assert_eq!(positions.len(), 31, "{positions:?}");
}

#[test]
fn mirroring_left_and_right_mirrors_the_answer() {
    for found in every_combination().filter(|found| palpation_faults(found).is_ok()) {
        let mirrored = PalpationFindings {
            left: found.right,
            right: found.left,
            ..found.clone()
        };
        assert_eq!(
            read_palpation(&found).map(|read| mirror(&read)),
            read_palpation(&mirrored),
            "{found:?}"
        );
    }
}

#[test]
fn not_examined_and_not_sure_say_the_same() {
    for found in every_combination().filter(|found| palpation_faults(found).is_ok()) {
        let Some(read) = read_palpation(&found) else {
            continue;
        };
        let unsure = PalpationFindings {
            fundus: found.fundus.or(Some(Pole::Unsure)),
            left: found.left.or(Some(Side::Unsure)),
            right: found.right.or(Some(Side::Unsure)),
            front: found.front.or(Some(Front::Unsure)),
            lower: found.lower.or(Some(Pole::Unsure)),
            ..found.clone()
        };
        assert_eq!(Some(read), read_palpation(&unsure), "{found:?}");
    }
}

fn mirror(read: &Palpation) -> Palpation {
    Palpation {
        position: mirrored_position(read.position),
        back: match read.back {
            Back::Left => Back::Right,
            Back::Right => Back::Left,
            Back::Unknown => Back::Unknown,
        },
        ..read.clone()
    }
}

/// The left codes beside the right ones, written out so that a slip in one of them shows.
fn mirrored_position(code: &str) -> &'static str {
    const PAIRS: &[(&str, &str)] = &[
        ("LOA", "ROA"),
        ("LOT-or-LOA", "ROT-or-ROA"),
        ("LOP", "ROP"),
        ("LO", "RO"),
        ("LSA", "RSA"),
        ("LST-or-LSA", "RST-or-RSA"),
        ("LSP", "RSP"),
        ("LS", "RS"),
        ("dorso-anterior-head-left", "dorso-anterior-head-right"),
        ("dorso-posterior-head-left", "dorso-posterior-head-right"),
        ("head-left", "head-right"),
        ("breech-left", "breech-right"),
    ];
    const SAME: &[&str] = &[
        "OA",
        "OP",
        "SA",
        "SP",
        "dorso-anterior",
        "dorso-posterior",
        "unknown",
    ];
    PAIRS
        .iter()
        .find_map(|(left, right)| match code {
            it if it == *left => Some(*right),
            it if it == *right => Some(*left),
            _ => None,
        })
        .or_else(|| SAME.iter().copied().find(|same| *same == code))
        .unwrap()
}
