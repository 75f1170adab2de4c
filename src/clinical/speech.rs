//! Figures as they are read aloud in evidence: clock, span of time, heights, degrees.

use super::{Day, Moment};
use chrono::{Datelike, Duration, Timelike};
use std::fmt::Write;

const MONTHS: [&str; 12] = [
    "Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec",
];

/// The clock on the wall of the post, and the day that needs no name.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Clock {
    now: Moment,
    ahead: Duration,
}

impl Clock {
    pub(crate) fn new(now: Moment, minutes_ahead_of_utc: i16) -> Self {
        Self {
            now,
            ahead: Duration::minutes(minutes_ahead_of_utc.into()),
        }
    }

    fn on_the_wall(&self, at: Moment) -> Moment {
        at.checked_add_signed(self.ahead).unwrap_or(at)
    }

    /// `06:00`, on another day `06:00 on 9 Sep`.
    pub(crate) fn time(&self, at: Moment) -> String {
        let (now, at) = (self.on_the_wall(self.now), self.on_the_wall(at));
        let mut text = format!("{:02}:{:02}", at.hour(), at.minute());
        if at.date() != now.date() {
            text.push_str(" on ");
            push_day(&mut text, at.date(), at.year() != now.year());
        }
        text
    }

    /// `today`, else `on 9 Sep`.
    pub(crate) fn day_of(&self, at: Moment) -> String {
        let (now, at) = (self.on_the_wall(self.now), self.on_the_wall(at));
        if at.date() == now.date() {
            return "today".to_owned();
        }
        let mut text = "on ".to_owned();
        push_day(&mut text, at.date(), at.year() != now.year());
        text
    }
}

fn push_day(text: &mut String, day: Day, with_year: bool) {
    let month = MONTHS[day.month0() as usize % 12];
    // Writing into a text cannot fail.
    let _ = write!(text, "{} {month}", day.day());
    if with_year {
        let _ = write!(text, " {}", day.year());
    }
}

/// `9 Sep 2026`.
pub(crate) fn day(day: Day) -> String {
    let mut text = String::new();
    push_day(&mut text, day, true);
    text
}

/// `2 h 30 min`, `45 min`, `3 days 2 h`; seconds only where there is less than a minute.
pub(crate) fn span(seconds: i64) -> String {
    let (sign, seconds) = (if seconds < 0 { "-" } else { "" }, seconds.abs());
    let (days, hours, minutes) = (seconds / 86_400, seconds / 3600 % 24, seconds / 60 % 60);
    let text = match (days, hours, minutes) {
        (0, 0, 0) => format!("{seconds} s"),
        (0, 0, minutes) => format!("{minutes} min"),
        (0, hours, 0) => format!("{hours} h"),
        (0, hours, minutes) => format!("{hours} h {minutes} min"),
        (1, hours, 0) => format!("{} h", 24 + hours),
        (1, hours, minutes) => format!("{} h {minutes} min", 24 + hours),
        (days, 0, _) => format!("{days} days"),
        (days, hours, _) => format!("{days} days {hours} h"),
    };
    format!("{sign}{text}")
}

/// `−1.88`, with a true minus.
pub(crate) fn z(z: f64) -> String {
    format!("{z:.2}").replace('-', "−")
}

/// `33.5` for 335 tenths.
pub(crate) fn tenths(tenths: impl Into<i64>) -> String {
    let tenths = tenths.into();
    let sign = if tenths < 0 { "-" } else { "" };
    format!("{sign}{}.{}", tenths.abs() / 10, tenths.abs() % 10)
}

/// `33.5 cm`.
pub(crate) fn cm(height: impl Into<i64>) -> String {
    format!("{} cm", tenths(height))
}

/// `a, b and c`.
pub(crate) fn list<T: AsRef<str>>(items: &[T]) -> String {
    match items {
        [] => String::new(),
        [one] => one.as_ref().to_owned(),
        [most @ .., last] => {
            let most: Vec<&str> = most.iter().map(AsRef::as_ref).collect();
            format!("{} and {}", most.join(", "), last.as_ref())
        }
    }
}

/// `3 babies`, `1 birth`.
pub(crate) fn count(number: usize, one: &str, many: &str) -> String {
    format!("{number} {}", if number == 1 { one } else { many })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn spans_are_said_in_their_two_largest_parts() {
        for (seconds, said) in [
            (0, "0 s"),
            (59, "59 s"),
            (60, "1 min"),
            (2_700, "45 min"),
            (3_600, "1 h"),
            (9_000, "2 h 30 min"),
            (86_399, "23 h 59 min"),
            (86_400, "24 h"),
            (131_400, "36 h 30 min"),
            (172_800, "2 days"),
            (266_400, "3 days 2 h"),
            (-5_400, "-1 h 30 min"),
        ] {
            assert_eq!(span(seconds), said, "{seconds}");
        }
    }

    #[test]
    fn figures_and_lists_are_said_as_they_are_written() {
        assert_eq!(
            [tenths(335), tenths(0), tenths(-5), tenths(-105)],
            ["33.5", "0.0", "-0.5", "-10.5"]
        );
        assert_eq!(cm(300), "30.0 cm");
        assert_eq!(
            [count(0, "birth", "births"), count(1, "birth", "births")],
            ["0 births", "1 birth"]
        );
        assert_eq!(list(&["a", "b", "c"]), "a, b and c");
        assert_eq!(list(&["a", "b"]), "a and b");
        assert_eq!(list(&["a"]), "a");
        assert_eq!(list::<&str>(&[]), "");
    }
}
