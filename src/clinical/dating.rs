//! The due date, and how far a pregnancy is on a day (clinical reference, part 1).

use super::{Basis, Dating, Day, Gestation, Scan, UnknownReason};

/// Days from the last period to the due date (CO700, read).
pub const TERM_DAYS: i64 = 280;
/// 44w+0d; beyond it a missed birth is likelier than a pregnancy (our own choice).
pub const LONGEST_DAYS: i64 = 308;
/// Before 7 weeks a scan measures only a sac (our own choice).
const FIRST_GOOD_SCAN: i64 = 49;
/// Without a scan before 22w+0d the dates are suboptimal [R CO700].
const SUBOPTIMAL_FROM: i64 = 154;
/// From 28w+0d on a late, smaller scan may hide a baby that grows badly [R CO700].
const LATE_SCAN_FROM: i64 = 196;

/// What the facts of dating come to on one day.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Dated {
    /// Absent when not known; then `reason` says why.
    pub gestation: Option<Gestation>,
    /// Why it is not known.
    pub reason: Option<UnknownReason>,
    /// By the last scan that counted, 1 to 6.
    pub babies: Option<u8>,
    /// A late scan that made the baby younger than a certain period does.
    pub late_scan: Option<LateScan>,
    /// Days by the chosen due date, also where nobody believes them (over 44 weeks).
    pub days_told: Option<i64>,
}

impl Dated {
    /// The due date; absent when the gestation is not known.
    #[must_use]
    pub fn edd(&self) -> Option<Day> {
        self.gestation.as_ref().map(|known| known.edd)
    }

    /// Gestation on another day by the same due date; absent when not known or outside 0 to 308 days.
    #[must_use]
    pub fn gestation_on(&self, day: Day) -> Option<u16> {
        gestation_on(self.edd()?, day)
    }
}

/// A scan from 28w+0d on that changed the dates although a certain period was told.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct LateScan {
    /// Its day.
    pub on: Day,
    /// Gestation by the period on that day.
    pub by_period: i64,
    /// Gestation that the scan measured.
    pub by_scan: i64,
}

/// Gestation in days by a due date; absent below 0 and above 308.
#[must_use]
pub fn gestation_on(edd: Day, day: Day) -> Option<u16> {
    let days = TERM_DAYS - (edd - day).num_days();
    (0..=LONGEST_DAYS)
        .contains(&days)
        .then(|| u16::try_from(days).ok())
        .flatten()
}

/// `36w+4d` for 256 days.
#[must_use]
pub fn gestation_text(days: impl Into<i64>) -> String {
    let days = days.into();
    format!("{}w+{}d", days.div_euclid(7), days.rem_euclid(7))
}

/// The due date by a certain last period: 280 days later [R CO700].
#[must_use]
pub fn due_by_period(lmp: Day) -> Day {
    lmp + chrono::Duration::days(TERM_DAYS)
}

/// Due date, its basis and the gestation on the day `on`; scans after that day are not known yet.
#[must_use]
pub fn date_pregnancy(dating: &Dating, on: Day) -> Dated {
    let mut known = Dated {
        gestation: None,
        reason: None,
        babies: babies(dating, on),
        late_scan: None,
        days_told: None,
    };
    let lmp = dating.lmp.filter(|_| dating.lmp_certain != Some(false));
    let scan = dating_scan(dating, on);
    let (edd, basis) = match (lmp, scan) {
        (Some(lmp), None) => (due_by_period(lmp), Basis::Lmp),
        (None, Some((scan_on, days))) => (due_by_scan(scan_on, days), Basis::Scan),
        (Some(lmp), Some((scan_on, days))) => {
            let by_period = (scan_on - lmp).num_days();
            if by_period >= 0 && (by_period - days).abs() <= redating_limit(by_period) {
                (due_by_period(lmp), Basis::Lmp)
            } else {
                known.late_scan =
                    (by_period >= LATE_SCAN_FROM && days < by_period).then_some(LateScan {
                        on: scan_on,
                        by_period,
                        by_scan: days,
                    });
                (due_by_scan(scan_on, days), Basis::Scan)
            }
        }
        (None, None) => {
            known.reason = Some(match dating.lmp {
                Some(_) => UnknownReason::UncertainLmp,
                None => UnknownReason::NoDate,
            });
            return known;
        }
    };
    let told = TERM_DAYS - (edd - on).num_days();
    known.days_told = Some(told);
    match gestation_on(edd, on) {
        Some(days) => {
            known.gestation = Some(Gestation {
                days,
                edd,
                basis,
                suboptimal: scan.is_none_or(|(scan_on, _)| {
                    TERM_DAYS - (edd - scan_on).num_days() >= SUBOPTIMAL_FROM
                }),
            });
        }
        // A period after the day of judgement is refused by every reader; here it tells nothing.
        None if told < 0 => known.reason = Some(UnknownReason::NoDate),
        None => known.reason = Some(UnknownReason::Over44Weeks),
    }
    known
}

/// How far a scan may differ from the period before it decides, in days [R CO700].
#[must_use]
pub const fn redating_limit(days_by_period: i64) -> i64 {
    match days_by_period {
        ..=62 => 5,
        63..=111 => 7,
        112..=153 => 10,
        154..=195 => 14,
        _ => 21,
    }
}

/// Gestation that a scan measured, in days; from its due date where it gave that.
#[must_use]
pub fn scan_days(scan: &Scan) -> Option<i64> {
    scan.gestation_days
        .map(i64::from)
        .or_else(|| Some(TERM_DAYS - (scan.edd? - scan.on).num_days()))
}

fn due_by_scan(on: Day, days: i64) -> Day {
    on + chrono::Duration::days(TERM_DAYS - days)
}

/// The first scan with 7 weeks or more, else the first; at equal days the earlier in the list.
fn dating_scan(dating: &Dating, on: Day) -> Option<(Day, i64)> {
    let known = || {
        dating
            .scans
            .iter()
            .filter(|scan| scan.on <= on)
            .filter_map(|scan| Some((scan.on, scan_days(scan)?)))
    };
    known()
        .filter(|(_, days)| *days >= FIRST_GOOD_SCAN)
        .min_by_key(|(day, _)| *day)
        .or_else(|| known().min_by_key(|(day, _)| *day))
}

/// By the last scan that counted; at equal days the later in the list [O].
fn babies(dating: &Dating, on: Day) -> Option<u8> {
    dating
        .scans
        .iter()
        .filter(|scan| scan.on <= on)
        .filter_map(|scan| Some((scan.on, scan.babies?)))
        .max_by_key(|(day, _)| *day)
        .map(|(_, babies)| babies)
}
