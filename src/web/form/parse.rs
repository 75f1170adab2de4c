//! From an answer's text to its value. Each error is the sentence that the person reads.
//!
//! Refuse, do not round or clamp: what stands in the register is what was typed.

use std::ops::RangeInclusive;

use chrono::NaiveTime;

use crate::clinical::Day;

/// What a parser gives: the value, or the sentence beside the field.
pub(crate) type Parsed<T> = Result<T, String>;

/// A whole number in a range, both ends included: `412 is outside 20 to 250`.
pub(crate) fn whole(range: RangeInclusive<i32>) -> impl Fn(&str) -> Parsed<i32> {
    move |text| {
        let number: i32 = text
            .parse()
            .map_err(|_| format!("“{}” is not a whole number", short(text)))?;
        if range.contains(&number) {
            Ok(number)
        } else {
            Err(format!(
                "{number} is outside {} to {}",
                range.start(),
                range.end()
            ))
        }
    }
}

/// A number with at most one decimal, comma or point, in tenths; the range is in tenths too.
pub(crate) fn tenths(range: RangeInclusive<i32>) -> impl Fn(&str) -> Parsed<i32> {
    move |text| {
        let (whole, part) = text.split_once(['.', ',']).unwrap_or((text, "0"));
        let digits = |it: &str| !it.is_empty() && it.bytes().all(|byte| byte.is_ascii_digit());
        if !digits(whole) || !digits(part) || whole.len() > 4 {
            return Err(format!("“{}” is not a number", short(text)));
        }
        let part = part.trim_end_matches('0');
        if part.len() > 1 {
            return Err("write one figure behind the point at most".to_owned());
        }
        let figure = |it: &str| it.parse::<i32>().unwrap_or_default();
        let number = figure(whole) * 10 + figure(part);
        if range.contains(&number) {
            Ok(number)
        } else {
            let (least, most) = (in_tenths(*range.start()), in_tenths(*range.end()));
            Err(format!(
                "{} is outside {least} to {most}",
                in_tenths(number)
            ))
        }
    }
}

/// Tenths as they are read: `33.5`; `33` where `plain` needs no decimal is left to the page.
pub(crate) fn in_tenths(number: i32) -> String {
    format!("{}.{}", number / 10, number % 10)
}

/// A calendar day of the years 1900 to 2199, as the date box sends it or as `10 Sep 2026`.
pub(crate) fn day(text: &str) -> Parsed<Day> {
    let read =
        Day::parse_from_str(text, "%Y-%m-%d").or_else(|_| Day::parse_from_str(text, "%d %b %Y"));
    let day =
        read.map_err(|_| format!("“{}” is not a date; write it as 2026-09-10", short(text)))?;
    let year = chrono::Datelike::year(&day);
    if (1900..2200).contains(&year) {
        Ok(day)
    } else {
        Err(format!("the year {year} cannot be right"))
    }
}

/// A time of day: `9:05`, `09:05`, `0905` or, as some boxes send it, with seconds.
pub(crate) fn time(text: &str) -> Parsed<NaiveTime> {
    let plain = match text.len() {
        3 | 4 if text.bytes().all(|byte| byte.is_ascii_digit()) => {
            let (hour, minute) = text.split_at(text.len() - 2);
            format!("{hour}:{minute}")
        }
        _ => text.replace('.', ":"),
    };
    NaiveTime::parse_from_str(&plain, "%H:%M")
        .or_else(|_| NaiveTime::parse_from_str(&plain, "%H:%M:%S"))
        .map_err(|_| format!("“{}” is not a time of day; write it as 14:05", short(text)))
}

/// One line of text, at most `most` letters.
pub(crate) fn line(most: usize) -> impl Fn(&str) -> Parsed<String> {
    move |text| {
        if text.contains(['\n', '\r']) {
            return Err("has more than one line".to_owned());
        }
        within(text.split_whitespace().collect::<Vec<_>>().join(" "), most)
    }
}

/// Text of several lines, at most `most` letters.
pub(crate) fn lines(most: usize) -> impl Fn(&str) -> Parsed<String> {
    move |text| within(text.replace("\r\n", "\n").replace('\r', "\n"), most)
}

/// `true` or `false`, as the radios send it.
pub(crate) fn yes_no(text: &str) -> Parsed<bool> {
    match text {
        "true" => Ok(true),
        "false" => Ok(false),
        _ => Err("choose yes or no".to_owned()),
    }
}

/// Anything that `FromStr` reads, with one sentence for all its errors.
pub(crate) fn as_said<T: std::str::FromStr>(why: &'static str) -> impl Fn(&str) -> Parsed<T> {
    move |text| text.parse().map_err(|_| why.to_owned())
}

fn within(text: String, most: usize) -> Parsed<String> {
    let letters = text.chars().count();
    if letters > most {
        Err(format!("has {letters} letters; there is room for {most}"))
    } else {
        Ok(text)
    }
}

/// What was typed, for a message: never more of it than a line holds.
fn short(text: &str) -> String {
    let mut shown: String = text.chars().take(20).collect();
    if text.chars().nth(20).is_some() {
        shown.push('…');
    }
    shown
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_whole_number_is_in_its_range_or_refused() {
        let pulse = whole(20..=250);
        assert_eq!(pulse("84"), Ok(84));
        assert_eq!(pulse("412").unwrap_err(), "412 is outside 20 to 250");
        for text in ["abc", "8.5", "1e3", "99999999999999999999", "٣٤", "8 4"] {
            assert!(
                pulse(text).unwrap_err().contains("not a whole number"),
                "{text}"
            );
        }
    }

    #[test]
    fn a_decimal_comma_is_a_point_and_a_second_decimal_is_refused() {
        let height = tenths(100..=600);
        for (text, wanted) in [
            ("33", 330),
            ("33.5", 335),
            ("33,5", 335),
            ("33.50", 335),
            ("60", 600),
            ("10.0", 100),
        ] {
            assert_eq!(height(text), Ok(wanted), "{text}");
        }
        for text in [
            "33.55",
            "9.9",
            "60.1",
            "-33",
            "33.",
            ".5",
            "33 cm",
            "33.5.1",
            "99999999999",
        ] {
            assert!(height(text).is_err(), "{text}");
        }
    }

    #[test]
    fn days_and_times_are_read_as_boxes_and_hands_write_them() {
        assert_eq!(
            day("2026-09-10"),
            Ok(Day::from_ymd_opt(2026, 9, 10).unwrap())
        );
        assert_eq!(day("10 Sep 2026"), day("2026-09-10"));
        for text in [
            "2026-02-30",
            "10.9.2026",
            "0026-09-10",
            "3026-09-10",
            "soon",
        ] {
            assert!(day(text).is_err(), "{text}");
        }
        let five_past_two = NaiveTime::from_hms_opt(14, 5, 0).unwrap();
        for text in ["14:05", "14.05", "1405", "14:05:00"] {
            assert_eq!(time(text), Ok(five_past_two), "{text}");
        }
        assert_eq!(time("905"), time("9:05"));
        for text in ["24:00", "14:60", "2 pm", "14", ""] {
            assert!(time(text).is_err(), "{text}");
        }
    }

    #[test]
    fn text_is_counted_in_letters_and_kept_in_lines() {
        assert_eq!(line(5)("  żó  łć ").unwrap(), "żó łć");
        assert!(line(5)("a\nb").is_err());
        assert_eq!(
            line(3)("four").unwrap_err(),
            "has 4 letters; there is room for 3"
        );
        assert_eq!(lines(20)("one\r\ntwo").unwrap(), "one\ntwo");
    }
}
