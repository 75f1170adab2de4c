//! How far two judgements agree beyond chance: kappa with its limits.
//!
//! Standard error: Fleiss, Cohen and Everitt 1969 \[M\]; equal to `statsmodels` 0.15.0.

/// The standard normal deviate that leaves 2.5 % above it.
const Z: f64 = 1.959_963_984_540_054;
/// A standard error below it is nought, and there are no limits.
const NOUGHT: f64 = 1e-9;

/// Kappa, −1 to 1.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Kappa {
    /// The estimate.
    pub value: f64,
    /// Its standard error.
    pub error: f64,
    /// The 95 % limits, cut to −1…1; absent when the standard error is nought.
    pub limits: Option<(f64, f64)>,
}

/// Kappa of the cells `[a, b, c, d]`: rows the judgement, columns the truth, yes before no.
///
/// Absent when it is not defined: nothing counted, or everything in one cell of the diagonal.
#[must_use]
#[expect(
    clippy::cast_precision_loss,
    reason = "counts of a register are far below 2^53"
)]
pub fn kappa(cells: [i64; 4]) -> Option<Kappa> {
    let [both, judged, missed, neither] = cells;
    let all = both + judged + missed + neither;
    let by_chance = (both + judged) * (both + missed) + (missed + neither) * (judged + neither);
    if all == 0 || by_chance == all * all {
        return None;
    }
    let share = |count: i64| count as f64 / all as f64;
    let rows = [share(both + judged), share(missed + neither)];
    let columns = [share(both + missed), share(judged + neither)];
    let chance = rows[0] * columns[0] + rows[1] * columns[1];
    let value = (share(both + neither) - chance) / (1.0 - chance);
    let left = 1.0 - value;
    let agreeing = share(both) * (1.0 - (rows[0] + columns[0]) * left).powi(2)
        + share(neither) * (1.0 - (rows[1] + columns[1]) * left).powi(2);
    let differing = left.powi(2)
        * (share(judged) * (columns[0] + rows[1]).powi(2)
            + share(missed) * (columns[1] + rows[0]).powi(2));
    let expected = (value - chance * left).powi(2);
    let error = ((agreeing + differing - expected).max(0.0) / all as f64).sqrt() / (1.0 - chance);
    if error < NOUGHT {
        return Some(Kappa {
            value,
            error: 0.0,
            limits: None,
        });
    }
    let limits = Some(((value - Z * error).max(-1.0), (value + Z * error).min(1.0)));
    Some(Kappa {
        value,
        error,
        limits,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    type Case = ([i64; 4], f64, f64, Option<(f64, f64)>);

    #[test]
    fn kappa_equals_that_of_another_program() {
        // Computed with statsmodels 0.15.0; the third holds the cells of Nassar, BMJ 2006;333:578.
        let cases: [Case; 7] = [
            (
                [20, 5, 10, 15],
                0.4,
                0.126_996,
                Some((0.151_092, 0.648_908)),
            ),
            (
                [45, 15, 25, 15],
                0.130_435,
                0.098_662,
                Some((-0.062_938, 0.323_808)),
            ),
            (
                [91, 74, 39, 1429],
                0.579_503,
                0.035_552,
                Some((0.509_821, 0.649_184)),
            ),
            ([3, 1, 2, 14], 0.571_429, 0.219_043, Some((0.142_111, 1.0))),
            ([5, 0, 0, 7], 1.0, 0.0, None),
            ([10, 5, 0, 0], 0.0, 0.0, None),
            ([0, 5, 5, 0], -1.0, 0.0, None),
        ];
        for (cells, value, error, limits) in cases {
            let Some(found) = kappa(cells) else {
                panic!("{cells:?} is defined")
            };
            let near = |one: f64, other: f64| (one - other).abs() < 1e-6;
            assert!(
                near(found.value, value) && near(found.error, error),
                "{cells:?}: {found:?}"
            );
            match (found.limits, limits) {
                (None, None) => {}
                (Some(one), Some(other)) => assert!(
                    near(one.0, other.0) && near(one.1, other.1),
                    "{cells:?}: {found:?}"
                ),
                _ => panic!("{cells:?}: {found:?}"),
            }
        }
    }

    #[test]
    fn kappa_is_not_defined_when_everything_is_alike() {
        for cells in [[10, 0, 0, 0], [0, 0, 0, 9], [0, 0, 0, 0]] {
            assert_eq!(kappa(cells), None, "{cells:?}");
        }
    }
}
