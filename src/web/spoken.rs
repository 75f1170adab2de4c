//! Days, times, spans and figures in words. No-break spaces join what must not be torn apart.

use chrono::{NaiveTime, TimeDelta, TimeZone as _};
use chrono_tz::Tz;

use crate::clinical::{Day, Moment};

/// `10 Sep 2026`, day and month joined.
pub(crate) fn day(day: Day) -> String {
    day.format("%-d\u{a0}%b %Y").to_string()
}

/// `10 Sep`, for a day of this year.
pub(crate) fn short_day(day: Day) -> String {
    day.format("%-d\u{a0}%b").to_string()
}

/// `Thursday 10 Sep 2026`.
pub(crate) fn long_day(day: Day) -> String {
    day.format("%A %-d\u{a0}%b %Y").to_string()
}

/// `October 2026`, of any day in it.
pub(crate) fn month(day: Day) -> String {
    day.format("%B %Y").to_string()
}

/// `10 Sep 2026, 09:20` by the clock of a post.
pub(crate) fn moment(moment: Moment, zone: Tz) -> String {
    let local = zone.from_utc_datetime(&moment);
    local.format("%-d\u{a0}%b %Y, %H:%M").to_string()
}

/// `09:20` by the clock of a post.
pub(crate) fn time(moment: Moment, zone: Tz) -> String {
    zone.from_utc_datetime(&moment).format("%H:%M").to_string()
}

/// `09:20:05` by the clock of a post.
pub(crate) fn exact_time(moment: Moment, zone: Tz) -> String {
    zone.from_utc_datetime(&moment)
        .format("%H:%M:%S")
        .to_string()
}

/// The day by the clock of a post.
pub(crate) fn local_day(moment: Moment, zone: Tz) -> Day {
    zone.from_utc_datetime(&moment).date_naive()
}

/// The first moment of a day by the clock of a post; where midnight was left out, the first after it.
pub(crate) fn day_begins(day: Day, zone: Tz) -> Moment {
    let midnight = day.and_time(NaiveTime::MIN);
    (0..=4)
        .filter_map(|half| {
            let local = midnight + TimeDelta::minutes(30 * half);
            zone.from_local_datetime(&local).earliest()
        })
        .map(|moment| moment.naive_utc())
        .next()
        .unwrap_or(midnight)
}

/// For `<time datetime="…">`: `2026-09-10T07:20:00Z`.
pub(crate) fn machine(moment: Moment) -> String {
    moment.format("%Y-%m-%dT%H:%M:%SZ").to_string()
}

/// Gestation of so many days: `36w+0d`.
pub(crate) fn gestation(days: i64) -> String {
    format!("{}w+{}d", days.div_euclid(7), days.rem_euclid(7))
}

/// Tenths with their point: `33.5`.
pub(crate) fn tenths(number: i32) -> String {
    let sign = if number < 0 { "−" } else { "" };
    let size = number.unsigned_abs();
    format!("{sign}{}.{}", size / 10, size % 10)
}

/// A count with its noun: `1 visit`, `3 visits`, figure and noun joined.
pub(crate) fn count(number: i64, one: &str, many: &str) -> String {
    let noun = if number == 1 { one } else { many };
    format!("{}\u{a0}{noun}", figure(number))
}

/// Thousands parted: `48,213`.
pub(crate) fn figure(number: i64) -> String {
    let digits = number.unsigned_abs().to_string();
    let mut parted = String::new();
    for (place, digit) in digits.chars().enumerate() {
        if place > 0 && (digits.len() - place).is_multiple_of(3) {
            parted.push(',');
        }
        parted.push(digit);
    }
    if number < 0 {
        format!("−{parted}")
    } else {
        parted
    }
}

/// A span in the largest unit that says enough: `25 min`, `3 h 10 min`, `2 days`.
pub(crate) fn span(span: TimeDelta) -> String {
    let minutes = span.num_minutes().max(0);
    let (days, hours) = (minutes / 1440, minutes / 60);
    match (days, hours, minutes % 60) {
        (0, 0, minutes) => format!("{minutes}\u{a0}min"),
        (0, hours, 0) => format!("{hours}\u{a0}h"),
        (0, hours, minutes) => format!("{hours}\u{a0}h {minutes}\u{a0}min"),
        (days, ..) => count(days, "day", "days"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(text: &str) -> Moment {
        Moment::parse_from_str(text, "%Y-%m-%d %H:%M").unwrap()
    }

    #[test]
    fn days_and_times_are_told_by_the_clock_of_the_post() {
        let late = at("2026-09-09 22:20");
        assert_eq!(moment(late, Tz::Africa__Kampala), "10\u{a0}Sep 2026, 01:20");
        assert_eq!(time(late, Tz::UTC), "22:20");
        assert_eq!(
            long_day(local_day(late, Tz::Africa__Kampala)),
            "Thursday 10\u{a0}Sep 2026"
        );
        assert_eq!(machine(late), "2026-09-09T22:20:00Z");
    }

    #[test]
    fn a_day_begins_at_its_midnight_or_just_after() {
        let day = |y, m, d| Day::from_ymd_opt(y, m, d).unwrap();
        assert_eq!(
            day_begins(day(2026, 9, 10), Tz::Africa__Kampala),
            at("2026-09-09 21:00")
        );
        // In 2018 the clocks of São Paulo leapt over midnight into 4 November (IANA time zone database).
        assert_eq!(
            day_begins(day(2018, 11, 4), Tz::America__Sao_Paulo),
            at("2018-11-04 03:00")
        );
    }

    #[test]
    fn figures_and_spans_read_aloud() {
        assert_eq!(gestation(252), "36w+0d");
        assert_eq!((tenths(335), tenths(-5)), ("33.5".into(), "−0.5".into()));
        assert_eq!(
            (figure(7), figure(48_213), figure(1_000_000)),
            ("7".into(), "48,213".into(), "1,000,000".into())
        );
        assert_eq!(count(1, "visit", "visits"), "1\u{a0}visit");
        for (minutes, wanted) in [
            (0, "0\u{a0}min"),
            (59, "59\u{a0}min"),
            (60, "1\u{a0}h"),
            (190, "3\u{a0}h 10\u{a0}min"),
            (1440, "1\u{a0}day"),
            (4000, "2\u{a0}days"),
        ] {
            assert_eq!(span(TimeDelta::minutes(minutes)), wanted);
        }
    }
}
