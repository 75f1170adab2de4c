//! Whether the tape grows from visit to visit (clinical reference, part 3, growth).

use super::Picture;
use crate::clinical::Day;
use crate::clinical::fundal_height::{JUDGED_FROM, WEEKS_UNTIL, Z10};

/// Readings without a date count between 24.0 and 33.0 cm, tenths.
const WITHOUT_DATE: std::ops::Range<u16> = 240..330;
/// Beyond 42w+0d no height is judged.
const LAST_JUDGED: u16 = 294;

/// One tape of one day.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Reading {
    pub(crate) day: Day,
    pub(crate) tenths: u16,
    fifths: Option<u8>,
}

/// An earlier reading beside the one of the last visit.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Pair {
    pub(crate) earlier: Reading,
    pub(crate) later: Reading,
    /// Calendar days between.
    pub(crate) days: i64,
    /// After 36 weeks the top sinks with the head: such a pair is not asked.
    pub(crate) asked: bool,
}

impl Pair {
    pub(crate) fn grew(&self) -> i32 {
        i32::from(self.later.tenths) - i32::from(self.earlier.tenths)
    }
}

/// By how many days a standstill was seen.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Way {
    Days28,
    Days14,
}

/// The last tape beside those of two, three and four weeks before.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Growth {
    /// The latest 14 days or more before.
    pub(crate) p: Option<Pair>,
    /// 21 days or more.
    pub(crate) s: Option<Pair>,
    /// 28 days or more.
    pub(crate) q: Option<Pair>,
    /// No growth, and by which pair.
    pub(crate) standstill: Option<(Way, Pair)>,
    /// Little growth below the median, and by which pair.
    pub(crate) slow: Option<Pair>,
}

/// Absent where the last visit has no tape that can be judged.
pub(super) fn growth(seen: &Picture<'_>) -> Option<Growth> {
    let visit = seen.v?;
    let later = reading(seen, visit)?;
    let dated = seen.g.is_some();
    let sinks = seen.g.is_some_and(|days| days > WEEKS_UNTIL);
    let mut readings: Vec<Reading> = Vec::new();
    let mut newest_day = None;
    for earlier in seen.line.visits().rev() {
        if earlier.fundal_height_tenths.is_none() || newest_day == Some(earlier.at.date()) {
            continue; // of each day the last tape counts
        }
        newest_day = Some(earlier.at.date());
        readings.extend(reading(seen, earlier));
    }
    let before = |least: i64| {
        readings
            .iter()
            .map(|earlier| Pair {
                earlier: *earlier,
                later,
                days: (later.day - earlier.day).num_days(),
                asked: !(sinks && sank(*earlier, later)),
            })
            .find(|pair| pair.days >= least)
    };
    let (p, s, q) = (before(14), before(21), before(28));
    let asked = |pair: Option<Pair>| pair.filter(|pair| pair.asked);
    let no_growth = |pair: Option<Pair>| asked(pair).filter(|pair| pair.grew() <= 0);
    let small = seen.height.is_some_and(|score| score.z < Z10);
    let standstill = no_growth(q).map(|pair| (Way::Days28, pair)).or_else(|| {
        no_growth(p)
            .filter(|_| small)
            .map(|pair| (Way::Days14, pair))
    });
    let below_median = !dated || seen.height.is_some_and(|score| score.z < 0.0);
    let slow = no_growth(s)
        .or_else(|| asked(q).filter(|pair| pair.grew() <= 10))
        .filter(|_| below_median && standstill.is_none());
    Some(Growth {
        p,
        s,
        q,
        standstill,
        slow,
    })
}

/// Kept from 168 to 294 days; without a date from 24.0 to under 33.0 cm.
fn reading(seen: &Picture<'_>, visit: &crate::clinical::Visit) -> Option<Reading> {
    let tenths = visit.fundal_height_tenths?;
    let kept = match seen.dated.gestation_on(visit.at.date()) {
        Some(days) => (JUDGED_FROM..=LAST_JUDGED).contains(&days),
        None => WITHOUT_DATE.contains(&tenths),
    };
    kept.then(|| Reading {
        day: visit.at.date(),
        tenths,
        fifths: visit.palpation.as_ref().and_then(|found| found.fifths),
    })
}

fn sank(earlier: Reading, later: Reading) -> bool {
    matches!((earlier.fifths, later.fifths), (Some(before), Some(now)) if now < before)
}
