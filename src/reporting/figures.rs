//! Shares, medians and their rounding, all in whole numbers: a float printed to one place gives 6.2 for 1/16.

use std::fmt;

/// A number with one decimal, kept as its tenths.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Tenths(pub i64);

impl fmt::Display for Tenths {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let sign = if self.0 < 0 { "-" } else { "" };
        let size = self.0.unsigned_abs();
        write!(f, "{sign}{}.{}", size / 10, size % 10)
    }
}

impl Tenths {
    /// The nearest float, for files that know no other number.
    #[must_use]
    #[expect(
        clippy::cast_precision_loss,
        reason = "tenths of a share or of hours are far below 2^53"
    )]
    pub fn as_f64(self) -> f64 {
        self.0 as f64 / 10.0
    }
}

/// A number with two decimals, kept as its hundredths.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Hundredths(pub i64);

impl fmt::Display for Hundredths {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let sign = if self.0 < 0 { "-" } else { "" };
        let size = self.0.unsigned_abs();
        write!(f, "{sign}{}.{:02}", size / 100, size % 100)
    }
}

impl Hundredths {
    /// The nearest float, for files that know no other number.
    #[must_use]
    #[expect(
        clippy::cast_precision_loss,
        reason = "an agreement lies between -1 and 1"
    )]
    pub fn as_f64(self) -> f64 {
        self.0 as f64 / 100.0
    }
}

/// `part` of `whole` per 100 or per 1000, rounded half up; absent over nothing.
#[must_use]
pub fn share(part: i64, whole: i64, per: i64) -> Option<Tenths> {
    (whole > 0).then(|| Tenths((2 * 10 * per * part + whole).div_euclid(2 * whole)))
}

/// Twice the median of whole seconds, in hours with one decimal, rounded half up.
///
/// Twice, because the median of an even count may end in half a second.
#[must_use]
pub fn hours(twice_the_median_seconds: i64) -> Tenths {
    const TWICE_A_TENTH_OF_AN_HOUR: i64 = 2 * 360;
    let (spans, unit) = (twice_the_median_seconds, TWICE_A_TENTH_OF_AN_HOUR);
    Tenths((2 * spans + unit).div_euclid(2 * unit))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_share_is_rounded_half_up() {
        // Part, whole, per, as printed in the reference's section on rounding.
        let cases = [
            (1, 16, 100, "6.3"),
            (3, 16, 100, "18.8"),
            (5, 16, 100, "31.3"),
            (1, 3, 100, "33.3"),
            (2, 3, 100, "66.7"),
            (1, 2000, 100, "0.1"),
            (0, 7, 100, "0.0"),
            (7, 7, 100, "100.0"),
            (1, 1, 1000, "1000.0"),
            (12, 380, 1000, "31.6"),
            (5, 41, 100, "12.2"),
            (1, 8, 100, "12.5"),
            (3, 8, 1000, "375.0"),
            (1, 1600, 1000, "0.6"),
        ];
        for (part, whole, per, text) in cases {
            assert_eq!(
                share(part, whole, per).map(|it| it.to_string()).as_deref(),
                Some(text),
                "{part}/{whole}"
            );
        }
        assert_eq!(share(0, 0, 100), None);
    }

    #[test]
    fn hours_are_rounded_half_up_from_half_seconds() {
        // Median seconds doubled, hours; from the reference's section on medians.
        let cases = [
            (6300, "0.9"),
            (5400, "0.8"),
            (360, "0.1"),
            (358, "0.0"),
            (4500, "0.6"),
            (9120, "1.3"),
            (14460, "2.0"),
            (3, "0.0"),
            (10800, "1.5"),
        ];
        for (twice, text) in cases {
            assert_eq!(hours(twice).to_string(), text, "{twice} half seconds");
        }
    }

    #[test]
    fn a_negative_number_keeps_its_sign_below_one() {
        assert_eq!(
            (Tenths(-6).to_string(), Hundredths(-6).to_string()),
            ("-0.6".into(), "-0.06".into())
        );
    }
}
