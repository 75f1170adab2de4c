//! Birth weight by sex and exact day: who is small for gestation.
//!
//! The 10th centile in grams of the newborn size standards: Lancet 2014;384:857 from 33w+0d on, Lancet 2016;387:844
//! below. Made from single babies; a twin is judged by the same table.

/// The table by which a baby is judged. There is none for a sex that is unknown or cannot be told.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum WeightTable {
    /// For a girl.
    Girls,
    /// For a boy.
    Boys,
}

/// The first day of the table, 24w+0d.
const FIRST_DAY: u16 = 168;

/// A week a line, from 24w+0d to 42w+6d.
#[rustfmt::skip]
const GIRLS_10TH: [u16; 133] = [
    470, 480, 490, 500, 510, 520, 530,
    540, 550, 560, 570, 580, 590, 600,
    610, 620, 640, 650, 660, 670, 680,
    700, 710, 720, 740, 750, 760, 780,
    790, 810, 820, 830, 850, 860, 880,
    900, 910, 930, 940, 960, 980, 990,
    1010, 1030, 1050, 1070, 1080, 1100, 1120,
    1140, 1160, 1180, 1200, 1220, 1240, 1260,
    1280, 1310, 1330, 1350, 1370, 1400, 1420,
    1410, 1450, 1490, 1530, 1570, 1610, 1650,
    1680, 1720, 1750, 1790, 1820, 1860, 1890,
    1920, 1960, 1990, 2020, 2050, 2080, 2110,
    2140, 2170, 2200, 2230, 2250, 2280, 2310,
    2330, 2360, 2380, 2410, 2430, 2460, 2480,
    2500, 2530, 2550, 2570, 2590, 2610, 2630,
    2650, 2670, 2690, 2710, 2730, 2740, 2760,
    2780, 2800, 2810, 2830, 2840, 2860, 2870,
    2890, 2900, 2910, 2930, 2940, 2950, 2960,
    2980, 2990, 3000, 3010, 3020, 3030, 3040,
];

/// A week a line, from 24w+0d to 42w+6d.
#[rustfmt::skip]
const BOYS_10TH: [u16; 133] = [
    500, 510, 520, 530, 540, 550, 560,
    570, 580, 590, 600, 610, 630, 640,
    650, 660, 670, 690, 700, 710, 720,
    740, 750, 770, 780, 790, 810, 820,
    840, 850, 870, 880, 900, 920, 930,
    950, 970, 980, 1000, 1020, 1030, 1050,
    1070, 1090, 1110, 1130, 1150, 1170, 1190,
    1210, 1230, 1250, 1270, 1290, 1310, 1340,
    1360, 1380, 1410, 1430, 1450, 1480, 1500,
    1430, 1470, 1510, 1550, 1590, 1630, 1670,
    1710, 1740, 1780, 1820, 1850, 1890, 1920,
    1950, 1990, 2020, 2050, 2090, 2120, 2150,
    2180, 2210, 2240, 2270, 2300, 2330, 2360,
    2380, 2410, 2440, 2470, 2490, 2520, 2540,
    2570, 2590, 2620, 2640, 2670, 2690, 2710,
    2730, 2760, 2780, 2800, 2820, 2840, 2860,
    2880, 2900, 2920, 2940, 2960, 2980, 2990,
    3010, 3030, 3050, 3060, 3080, 3090, 3110,
    3120, 3140, 3150, 3170, 3180, 3200, 3210,
];

/// The 10th centile of birth weight in grams at 168 to 300 days; absent outside that span.
#[must_use]
pub fn tenth_centile_g(table: WeightTable, gestation_days: u16) -> Option<u16> {
    let row = usize::from(gestation_days.checked_sub(FIRST_DAY)?);
    match table {
        WeightTable::Girls => GIRLS_10TH.get(row).copied(),
        WeightTable::Boys => BOYS_10TH.get(row).copied(),
    }
}

/// Whether a baby is small for gestation: **below** the 10th centile, equal is not small.
///
/// Absent when it cannot be judged: no table for its sex, no weight, no gestation, or a day outside the table.
#[must_use]
pub fn is_small(
    table: Option<WeightTable>,
    gestation_days: Option<u16>,
    weight_g: Option<u16>,
) -> Option<bool> {
    Some(weight_g? < tenth_centile_g(table?, gestation_days?)?)
}

#[cfg(test)]
mod tests {
    use super::*;

    const GIRL: Option<WeightTable> = Some(WeightTable::Girls);
    const BOY: Option<WeightTable> = Some(WeightTable::Boys);

    #[test]
    fn a_baby_is_small_below_the_tenth_centile_of_its_day() {
        // Sex, days, grams, small: edges read off the published table.
        let cases = [
            (BOY, 259, 2379, true),
            (BOY, 259, 2380, false),
            (GIRL, 280, 2779, true),
            (GIRL, 280, 2780, false),
            (BOY, 230, 1499, true),
            (BOY, 230, 1500, false),
            (BOY, 231, 1429, true),
            (BOY, 231, 1430, false),
            (GIRL, 230, 1419, true),
            (GIRL, 230, 1420, false),
            (GIRL, 231, 1409, true),
            (GIRL, 231, 1410, false),
            (BOY, 168, 300, true),
            (BOY, 300, 3209, true),
            (BOY, 300, 3210, false),
            (GIRL, 168, 469, true),
            (GIRL, 168, 470, false),
            (GIRL, 300, 3039, true),
            (GIRL, 300, 3040, false),
        ];
        for (sex, days, grams, small) in cases {
            assert_eq!(
                is_small(sex, Some(days), Some(grams)),
                Some(small),
                "{sex:?}, {days} days, {grams} g"
            );
        }
    }

    #[test]
    fn what_the_table_does_not_hold_is_not_judged() {
        let cases = [
            (GIRL, Some(167), Some(300)),
            (BOY, Some(301), Some(2500)),
            (None, Some(280), Some(2000)),
            (GIRL, None, Some(2000)),
            (GIRL, Some(280), None),
        ];
        for (sex, days, grams) in cases {
            assert_eq!(
                is_small(sex, days, grams),
                None,
                "{sex:?}, {days:?} days, {grams:?} g"
            );
        }
    }

    #[test]
    fn the_centile_rises_from_day_to_day_but_where_the_two_references_meet() {
        for table in [GIRLS_10TH, BOYS_10TH] {
            for (row, pair) in table.windows(2).enumerate() {
                let day = usize::from(FIRST_DAY) + row + 1;
                assert!(pair[0] <= pair[1] || day == 231, "day {day}: {pair:?}");
            }
        }
    }
}
