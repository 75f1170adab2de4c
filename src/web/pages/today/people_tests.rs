//! Times as a nurse reads them at a glance.

use chrono_tz::Tz;

use super::people;
use crate::clinical::{Category, Day, Moment};

fn at(text: &str) -> Moment {
    Moment::parse_from_str(text, "%Y-%m-%d %H:%M").unwrap()
}

fn day(text: &str) -> Day {
    text.parse().unwrap()
}

fn plain(words: &str) -> String {
    words.replace('\u{a0}', " ")
}

const NOW: &str = "2026-11-25 07:40";

#[test]
fn the_past_is_told_by_the_clock_of_the_post() {
    let zone = Tz::Africa__Kampala; // three hours ahead all year
    for (moment, wanted) in [
        ("2026-11-25 06:02", "today 09:02"),
        ("2026-11-24 21:30", "today 00:30"),
        ("2026-11-24 18:10", "yesterday 21:10"),
        ("2026-11-03 09:00", "3 Nov"),
        ("2025-11-03 09:00", "3 Nov 2025"),
    ] {
        assert_eq!(
            plain(&people::when(at(moment), at(NOW), zone)),
            wanted,
            "{moment}"
        );
    }
}

#[test]
fn what_is_due_is_told_by_its_time_today_and_by_its_day_later() {
    let zone = Tz::UTC;
    for (moment, wanted) in [
        ("2026-11-25 10:05", "by 10:05"),
        ("2026-11-25 07:05", "since today 07:05"),
        ("2026-11-27 10:00", "27 Nov"),
        ("2026-11-20 10:00", "5 days past"),
    ] {
        assert_eq!(
            plain(&people::by(at(moment), at(NOW), zone)),
            wanted,
            "{moment}"
        );
    }
}

#[test]
fn a_number_carries_the_gestation_only_while_it_can_be_believed() {
    let today = day("2026-11-25");
    assert_eq!(
        plain(&people::number("QF 0149", Some(day("2026-12-22")), today)),
        "QF 0149 · 36w+1d"
    );
    assert_eq!(
        plain(&people::number("QF 0149", Some(day("2026-10-01")), today)),
        "QF 0149"
    );
    assert_eq!(plain(&people::number("QF 0149", None, today)), "QF 0149");
}

#[test]
fn a_kind_is_not_said_twice() {
    assert_eq!(
        people::lead(Category::Breech, "Breech first at 36w+2d."),
        ""
    );
    assert_eq!(
        people::lead(Category::BirthPlace, "Heavy bleeding before."),
        "Place of birth."
    );
}
