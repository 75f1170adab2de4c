//! The 95 % interval of a share: Wilson without continuity correction.
//!
//! Method 3 of Newcombe, Stat Med 1998;17:857, recommended there.

use super::figures::Tenths;

/// The standard normal deviate that leaves 2.5 % above it.
const Z: f64 = 1.959_963_984_540_054;

/// Lower and upper limit of `part` of `whole`, each 0 to 1; absent over nothing.
#[must_use]
#[expect(
    clippy::cast_precision_loss,
    reason = "counts of a register are far below 2^53"
)]
pub fn wilson(part: i64, whole: i64) -> Option<(f64, f64)> {
    if whole <= 0 || !(0..=whole).contains(&part) {
        return None;
    }
    let (a, n) = (part as f64, whole as f64);
    let below = 2.0 * (n + Z * Z);
    let centre = (2.0 * a + Z * Z) / below;
    let half = Z * (Z * Z + 4.0 * a * (n - a) / n).sqrt() / below;
    // Exactly 0 and 1 at the ends, where the sum would miss them by a rounding error.
    let low = if part == 0 { 0.0 } else { centre - half };
    let high = if part == whole { 1.0 } else { centre + half };
    Some((low, high))
}

/// The limits in the unit of the share, per 100 or per 1000, with one decimal.
#[must_use]
pub fn limits(part: i64, whole: i64, per: i64) -> Option<(Tenths, Tenths)> {
    let (low, high) = wilson(part, whole)?;
    Some((tenths(low, per), tenths(high, per)))
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_precision_loss,
    reason = "a limit is at most 1, times 10 000"
)]
fn tenths(limit: f64, per: i64) -> Tenths {
    Tenths((limit * per as f64 * 10.0 + 0.5).floor() as i64)
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test stops at the first surprise")]
mod tests {
    use super::*;

    #[test]
    fn the_limits_are_those_that_newcombe_prints() {
        // Newcombe 1998, table I, method 3: printed to four decimals.
        let printed = [
            (81, 263, 0.2553, 0.3662),
            (15, 148, 0.0624, 0.1605),
            (0, 20, 0.0, 0.1611),
            (1, 29, 0.0061, 0.1718),
        ];
        for (part, whole, low, high) in printed {
            let found = wilson(part, whole).unwrap();
            assert!(
                (found.0 - low).abs() < 5.1e-5 && (found.1 - high).abs() < 5.1e-5,
                "{part}/{whole}: {found:?}"
            );
        }
    }

    #[test]
    fn the_limits_equal_those_of_another_program() {
        // Computed with statsmodels 0.15.0, six decimals.
        let computed = [
            (0, 1, 0.0, 0.793_451),
            (1, 1, 0.206_549, 1.0),
            (4, 7, 0.250_458, 0.841_78),
            (7, 12, 0.319_511, 0.806_74),
            (19, 19, 0.831_821, 1.0),
            (20, 20, 0.838_875, 1.0),
            (12, 380, 0.018_155, 0.054_379),
            (5, 41, 0.053_233, 0.255_442),
            (91, 130, 0.616_412, 0.772_107),
            (1429, 1503, 0.938_632, 0.9606),
            (2, 7, 0.082_219, 0.641_066),
            (0, 2, 0.0, 0.657_62),
        ];
        for (part, whole, low, high) in computed {
            let found = wilson(part, whole).unwrap();
            assert!(
                (found.0 - low).abs() < 1e-6 && (found.1 - high).abs() < 1e-6,
                "{part}/{whole}: {found:?}"
            );
        }
        assert_eq!(wilson(0, 0), None);
    }

    #[test]
    fn limits_are_written_in_the_unit_of_the_share() {
        let words = |part, whole, per| {
            limits(part, whole, per).map(|(low, high)| format!("{low} to {high}"))
        };
        assert_eq!(words(4, 7, 100).unwrap(), "25.0 to 84.2");
        assert_eq!(words(12, 380, 1000).unwrap(), "18.2 to 54.4");
        assert_eq!(words(5, 41, 100).unwrap(), "5.3 to 25.5");
    }
}
