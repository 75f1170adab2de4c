//! One tape against the standard for one baby (clinical reference, part 3).
//!
//! Papageorghiou et al., BMJ 2016;355:i5662: median and spread as functions of exact weeks.

use super::{HeightMethod, HeightScore};

/// The 3rd centile as z.
pub const Z3: f64 = -1.880_793_608_151_251;
/// The 10th centile as z.
pub const Z10: f64 = -1.281_551_565_544_600_4;
/// The 97th centile as z.
pub const Z97: f64 = 1.880_793_608_151_251;

/// The standard covers 16w+0d to 42w+0d.
const STANDARD: std::ops::RangeInclusive<u16> = 112..=294;
/// Heights are judged from 24w+0d.
pub(crate) const JUDGED_FROM: u16 = 168;
/// Two centimetres of the weeks method hold up to 36w+0d [R ANC16].
pub(crate) const WEEKS_UNTIL: u16 = 252;

/// Median height in cm at `days` of gestation.
#[must_use]
pub fn median(days: u16) -> f64 {
    let weeks = f64::from(days) / 7.0;
    5.133_374 + 0.105_835_311_9 * weeks * weeks - 0.023_129_5 * weeks * weeks * weeks.ln()
}

/// Standard deviation in cm at `days` of gestation.
#[must_use]
pub fn spread(days: u16) -> f64 {
    0.992_266_7 + 0.025_808_7 * f64::from(days) / 7.0
}

/// Height in cm that stands at `z` on a day of gestation, for the lines of a chart.
#[must_use]
pub fn height_at(z: f64, days: u16) -> f64 {
    median(days) + z * spread(days)
}

/// z and centile of a height in tenths of a centimetre; absent outside 112 to 294 days.
#[must_use]
pub fn height_score(tenths: u16, gestation_days: Option<u16>) -> Option<HeightScore> {
    let days = gestation_days.filter(|days| STANDARD.contains(days))?;
    let z = (f64::from(tenths) / 10.0 - median(days)) / spread(days);
    Some(HeightScore {
        z,
        centile: 100.0 * below(z),
    })
}

/// What the weeks method expects, and how far outside its two centimetres the tape is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum WeeksVerdict {
    /// More than 2 cm below the weeks.
    Under,
    /// Within 2 cm.
    Within,
    /// More than 2 cm above the weeks.
    Over,
}

/// Judges by weeks, in whole numbers so that an edge is an edge; absent where the method is not in force (168 to 252 days).
#[must_use]
pub fn by_weeks(
    method: HeightMethod,
    tenths: u16,
    gestation_days: Option<u16>,
) -> Option<WeeksVerdict> {
    let days = gestation_days.filter(|days| weeks_in_force(method, Some(*days)))?;
    let (found, expected) = (7 * i32::from(tenths), 10 * i32::from(days));
    Some(if found < expected - 140 {
        WeeksVerdict::Under
    } else if found > expected + 140 {
        WeeksVerdict::Over
    } else {
        WeeksVerdict::Within
    })
}

/// Whether the weeks method decides on this day of gestation.
#[must_use]
pub fn weeks_in_force(method: HeightMethod, gestation_days: Option<u16>) -> bool {
    method == HeightMethod::Weeks
        && gestation_days.is_some_and(|days| (JUDGED_FROM..=WEEKS_UNTIL).contains(&days))
}

/// The normal density is this at nought, as a logarithm.
const LOG_PEAK: f64 = -0.918_938_533_204_672_8;

/// Share of the normal distribution below `z`: a power series near the middle (Marsaglia, J Stat Softw 2004;11(4)) [M],
/// in the tails the continued fraction of Laplace, so that a lower height never has a higher centile.
fn below(z: f64) -> f64 {
    let density = (LOG_PEAK - z * z / 2.0).exp();
    if z.abs() > 4.0 {
        let tail = density
            / (1..=40)
                .rev()
                .fold(z.abs(), |under, step| z.abs() + f64::from(step) / under);
        return if z > 0.0 { 1.0 - tail } else { tail };
    }
    let (mut sum, mut term, mut odd) = (z, z, 1.0);
    while term.abs() > 1e-17 {
        odd += 2.0;
        term *= z * z / odd;
        sum += term;
    }
    0.5 + sum * density
}
