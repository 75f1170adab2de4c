//! A calendar month, and the instants at which it begins and ends on a post's own clock.

use std::fmt;
use std::str::FromStr;

use chrono::{Datelike, Days, Months, NaiveTime, TimeZone};
use chrono_tz::Tz;

use crate::clinical::{Day, Moment};

/// A calendar month of the years 1900 to 2999.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Month {
    first: Day,
}

/// The text is no month.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("“{text}” is no month; write it as 2026-10")]
pub struct BadMonth {
    text: String,
}

impl FromStr for Month {
    type Err = BadMonth;

    fn from_str(text: &str) -> Result<Self, BadMonth> {
        let bad = || BadMonth {
            text: text.chars().take(20).collect(),
        };
        let digits = |part: &str| part.bytes().all(|byte| byte.is_ascii_digit());
        let (year, month) = text.split_once('-').ok_or_else(bad)?;
        if year.len() != 4 || month.len() != 2 || !digits(year) || !digits(month) {
            return Err(bad());
        }
        let year = year.parse().map_err(|_| bad())?;
        let month = month.parse().map_err(|_| bad())?;
        if !(1900..=2999).contains(&year) {
            return Err(bad());
        }
        Day::from_ymd_opt(year, month, 1)
            .map(|first| Self { first })
            .ok_or_else(bad)
    }
}

impl fmt::Display for Month {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", self.first.format("%Y-%m"))
    }
}

impl Month {
    /// The month that holds a day.
    #[must_use]
    pub fn of_day(day: Day) -> Self {
        Self {
            first: day.with_day(1).unwrap_or(day),
        }
    }

    /// The month of an instant on the clock of `zone`.
    #[must_use]
    pub fn of(at: Moment, zone: Tz) -> Self {
        Self::of_day(local_day(at, zone))
    }

    /// Its first day.
    #[must_use]
    pub fn first_day(self) -> Day {
        self.first
    }

    /// The first day of the next month.
    #[must_use]
    pub fn day_after(self) -> Day {
        self.next().first
    }

    /// Whether the day lies in it.
    #[must_use]
    pub fn holds(self, day: Day) -> bool {
        self.first <= day && day < self.day_after()
    }

    /// The month after.
    #[must_use]
    pub fn next(self) -> Self {
        Self {
            first: self
                .first
                .checked_add_months(Months::new(1))
                .unwrap_or(self.first),
        }
    }

    /// The month before.
    #[must_use]
    pub fn previous(self) -> Self {
        Self {
            first: self
                .first
                .checked_sub_months(Months::new(1))
                .unwrap_or(self.first),
        }
    }

    /// “October 2026”.
    #[must_use]
    pub fn words(self) -> String {
        self.first.format("%B %Y").to_string()
    }

    /// “Oct 2026”.
    #[must_use]
    pub fn short_words(self) -> String {
        self.first.format("%b %Y").to_string()
    }

    /// Its first instant in UTC, which belongs to it, and the first of the next month, which does not.
    #[must_use]
    pub fn instants(self, zone: Tz) -> (Moment, Moment) {
        (
            first_instant(self.first, zone),
            first_instant(self.day_after(), zone),
        )
    }

    /// The month is over on the clock of `zone`.
    #[must_use]
    pub fn is_over(self, now: Moment, zone: Tz) -> bool {
        now >= self.instants(zone).1
    }

    /// Early deaths can still come: until seven days after its end \[O\].
    #[must_use]
    pub fn is_provisional(self, now: Moment, zone: Tz) -> bool {
        let settled = self.day_after() + Days::new(7);
        now < first_instant(settled, zone)
    }

    /// The day by which it should be signed: the 10th of the next month [O: a week for late answers].
    #[must_use]
    pub fn sign_by(self) -> Day {
        self.day_after() + Days::new(9)
    }
}

/// The calendar day of an instant on the clock of `zone`.
#[must_use]
pub fn local_day(at: Moment, zone: Tz) -> Day {
    zone.from_utc_datetime(&at).date_naive()
}

/// The first instant of a day on the clock of `zone`, in UTC; where the clock jumps over midnight, the jump.
#[must_use]
pub fn first_instant(day: Day, zone: Tz) -> Moment {
    let midnight = day.and_time(NaiveTime::MIN);
    if let Some(found) = zone.from_local_datetime(&midnight).earliest() {
        return found.naive_utc();
    }
    // Midnight does not exist there on that day; the day begins when the clock is put forward.
    let minutes = (1..=24 * 60).map(|minute| midnight + chrono::Duration::minutes(minute));
    minutes
        .filter_map(|local| zone.from_local_datetime(&local).earliest())
        .map(|found| found.naive_utc())
        .next()
        .unwrap_or(midnight)
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test stops at the first surprise")]
mod tests {
    use super::*;
    use chrono_tz::{Africa, America, Asia, UTC};

    fn at(text: &str) -> Moment {
        Moment::parse_from_str(text, "%Y-%m-%dT%H:%M:%SZ").unwrap()
    }

    #[test]
    fn the_post_s_own_clock_decides_the_month() {
        let cases = [
            ("2026-10-31T20:59:59Z", Africa::Nairobi, "2026-10"),
            ("2026-10-31T21:00:00Z", Africa::Nairobi, "2026-11"),
            ("2026-09-30T20:59:59Z", Africa::Nairobi, "2026-09"),
            ("2026-09-30T21:00:00Z", Africa::Nairobi, "2026-10"),
            ("2026-10-31T23:59:59Z", UTC, "2026-10"),
            ("2026-11-01T00:00:00Z", UTC, "2026-11"),
            ("2026-11-01T02:30:00Z", America::Sao_Paulo, "2026-10"),
            ("2026-12-31T18:30:00Z", Asia::Kolkata, "2027-01"),
        ];
        for (instant, zone, month) in cases {
            let month: Month = month.parse().unwrap();
            assert_eq!(Month::of(at(instant), zone), month, "{instant} in {zone}");
            let (from, until) = month.instants(zone);
            assert!(from <= at(instant) && at(instant) < until, "{instant}");
        }
    }

    #[test]
    fn a_day_that_has_no_midnight_begins_when_the_clock_is_put_forward() {
        // Cairo put its clock forward at midnight between 25 and 26 April 2024.
        let day = Day::from_ymd_opt(2024, 4, 26).unwrap();
        assert_eq!(
            first_instant(day, Africa::Cairo),
            at("2024-04-25T22:00:00Z")
        );
    }

    #[test]
    fn what_is_no_month_is_refused_with_its_text() {
        for text in [
            "2026-13",
            "2026-00",
            "2026-1",
            "26-10",
            "2026/10",
            "",
            "0000-01",
            "२०२६-10",
            "+026-10",
        ] {
            let refused = text.parse::<Month>();
            assert!(refused.is_err(), "{text}");
        }
        let message = "2026-13".parse::<Month>().unwrap_err().to_string();
        assert_eq!(message, "“2026-13” is no month; write it as 2026-10");
    }

    #[test]
    fn a_month_is_provisional_for_seven_days_and_to_be_signed_by_the_tenth() {
        let october: Month = "2026-10".parse().unwrap();
        assert!(!october.is_over(at("2026-10-31T20:59:59Z"), Africa::Nairobi));
        assert!(october.is_over(at("2026-10-31T21:00:00Z"), Africa::Nairobi));
        assert!(october.is_provisional(at("2026-11-07T20:59:59Z"), Africa::Nairobi));
        assert!(!october.is_provisional(at("2026-11-07T21:00:00Z"), Africa::Nairobi));
        assert_eq!(october.sign_by().to_string(), "2026-11-10");
        assert_eq!(
            (october.next().to_string(), october.previous().to_string()),
            ("2026-11".into(), "2026-09".into())
        );
    }
}
