//! Whom a line is about, and when something is due, in few words.

use chrono::TimeDelta;
use chrono_tz::Tz;

use crate::clinical::dating::gestation_on;
use crate::clinical::{Category, Day, Moment};
use crate::web::spoken;

/// `QF 0149 · 36w+1d`, number and letters joined; without a due date the number alone.
pub(super) fn number(register: &str, due: Option<Day>, today: Day) -> String {
    let register = register.replace(' ', "\u{a0}");
    match due.and_then(|due| gestation_on(due, today)) {
        Some(days) => format!("{register} · {}", spoken::gestation(i64::from(days))),
        None => register,
    }
}

/// `QF 0149`, from the letters of the post.
pub(super) fn register(code: &str, number: i32) -> String {
    format!("{code} {number:04}")
}

/// `today 09:02`, `yesterday 21:10` or `3 Nov`.
pub(crate) fn when(moment: Moment, now: Moment, zone: Tz) -> String {
    let (day, today) = (
        spoken::local_day(moment, zone),
        spoken::local_day(now, zone),
    );
    match (today - day).num_days() {
        0 => format!("today {}", spoken::time(moment, zone)),
        1 => format!("yesterday {}", spoken::time(moment, zone)),
        2..=300 => spoken::short_day(day),
        _ => spoken::day(day),
    }
}

/// Until when: `by 10:05` today, `today` for a whole day, else the day.
pub(super) fn by(moment: Moment, now: Moment, zone: Tz) -> String {
    let (day, today) = (
        spoken::local_day(moment, zone),
        spoken::local_day(now, zone),
    );
    if moment <= now {
        let late = now - moment;
        return if late < TimeDelta::hours(24) {
            format!("since {}", when(moment, now, zone))
        } else {
            days_past(today, day)
        };
    }
    if day == today {
        format!("by {}", spoken::time(moment, zone))
    } else {
        spoken::short_day(day)
    }
}

/// `14 days past`.
pub(super) fn days_past(today: Day, due: Day) -> String {
    let days = (today - due).num_days();
    format!("{} past", spoken::count(days, "day", "days"))
}

/// The kind of a flag before its evidence, unless the evidence begins with it.
pub(crate) fn lead(category: Category, evidence: &str) -> String {
    let words = category.words();
    if evidence.to_lowercase().starts_with(&words.to_lowercase()) {
        String::new()
    } else {
        format!("{words}.")
    }
}
