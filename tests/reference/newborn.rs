//! Small for gestation against the published newborn size standards: Lancet 2014;384:857, below 33w+0d Lancet 2016;387:844.

use brimline::clinical::newborn::{WeightTable, is_small, tenth_centile_g};

/// As printed: sex, day of gestation, 10th centile in grams.
const PRINTED: &str = include_str!("newborn_10th_centiles.csv");

#[test]
fn every_day_of_both_tables_is_the_printed_one_and_turns_at_its_gram() {
    let mut compared = 0;
    for line in PRINTED.lines().skip(1) {
        let mut cells = line.split(',');
        let table = match cells.next().unwrap() {
            "female" => WeightTable::Girls,
            "male" => WeightTable::Boys,
            other => panic!("{other}"),
        };
        let days: u16 = cells.next().unwrap().parse().unwrap();
        let grams: u16 = cells.next().unwrap().parse().unwrap();
        assert_eq!(tenth_centile_g(table, days), Some(grams), "{line}");
        assert_eq!(
            is_small(Some(table), Some(days), Some(grams)),
            Some(false),
            "{line}"
        );
        assert_eq!(
            is_small(Some(table), Some(days), Some(grams - 1)),
            Some(true),
            "{line}"
        );
        compared += 1;
    }
    assert_eq!(compared, 266, "24w+0d to 42w+6d, girls and boys");
}
