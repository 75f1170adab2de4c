//! Instants and dates as they are written: `2026-09-10T09:00:00Z`, `2026-09-10`.

use crate::clinical::{Day, Moment};
use chrono::{Datelike, Timelike};

/// Exactly so: capital T and Z, seconds, no fraction, no offset, a real day of 1900 to 2199.
pub(super) fn instant(text: &str) -> Option<Moment> {
    let bytes: &[u8; 20] = text.as_bytes().try_into().ok()?;
    let fixed = bytes[10] == b'T' && bytes[13] == b':' && bytes[16] == b':' && bytes[19] == b'Z';
    if !fixed {
        return None;
    }
    let (hour, minute, second) = (two(bytes, 11)?, two(bytes, 14)?, two(bytes, 17)?);
    if second > 59 {
        return None;
    }
    day_of(&bytes[..10])?.and_hms_opt(hour, minute, second)
}

/// A real day of 1900 to 2199.
pub(super) fn date(text: &str) -> Option<Day> {
    day_of(text.as_bytes())
}

fn day_of(bytes: &[u8]) -> Option<Day> {
    if bytes.len() != 10 || bytes[4] != b'-' || bytes[7] != b'-' {
        return None;
    }
    let year = two(bytes, 0)? * 100 + two(bytes, 2)?;
    if !(1900..=2199).contains(&year) {
        return None;
    }
    Day::from_ymd_opt(i32::try_from(year).ok()?, two(bytes, 5)?, two(bytes, 8)?)
}

fn two(bytes: &[u8], at: usize) -> Option<u32> {
    let digit = |byte: u8| byte.is_ascii_digit().then(|| u32::from(byte - b'0'));
    Some(digit(bytes[at])? * 10 + digit(bytes[at + 1])?)
}

/// Appends an instant as those that are read.
pub(super) fn write_instant(out: &mut Vec<u8>, at: Moment) {
    write_date(out, at.date());
    out.push(b'T');
    for (part, mark) in [(at.hour(), b':'), (at.minute(), b':'), (at.second(), b'Z')] {
        write_two(out, part);
        out.push(mark);
    }
}

/// Appends a day as those that are read.
pub(super) fn write_date(out: &mut Vec<u8>, day: Day) {
    let year = day.year().unsigned_abs();
    write_two(out, year / 100);
    write_two(out, year % 100);
    out.push(b'-');
    write_two(out, day.month());
    out.push(b'-');
    write_two(out, day.day());
}

fn write_two(out: &mut Vec<u8>, number: u32) {
    for digit in [number / 10 % 10, number % 10] {
        out.push(b'0' + u8::try_from(digit).unwrap_or_default());
    }
}
