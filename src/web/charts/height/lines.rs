//! The lines a height is held against: five centiles, or the weeks within two centimetres where the post judges so.

use super::super::geometry::{Point, at, poly, spread_labels};
use super::super::marks::Mark;
use super::plane::Plane;
use crate::clinical::HeightMethod;
use crate::clinical::fundal_height::{Z3, Z10, Z97, height_at};

/// Name, z and class; the highest first, as the names stand.
const CENTILES: [(&str, f64, &str); 5] = [
    ("97th", Z97, "p-third"),
    ("90th", -Z10, "p-tenth"),
    ("50th", 0.0, "p-mid"),
    ("10th", Z10, "p-tenth"),
    ("3rd", Z3, "p-third"),
];

/// Weeks in which two centimetres around the weeks decide, where the post has chosen that method.
const BY_WEEKS: std::ops::RangeInclusive<u16> = 24..=36;

/// The spans in which the centile lines decide.
fn spans(method: HeightMethod) -> Vec<std::ops::RangeInclusive<u16>> {
    match method {
        HeightMethod::Intergrowth => vec![16..=42],
        HeightMethod::Weeks => vec![16..=*BY_WEEKS.start(), *BY_WEEKS.end()..=42],
    }
}

fn along(plane: &Plane, weeks: std::ops::RangeInclusive<u16>, z: f64) -> Vec<Point> {
    weeks
        .map(|week| plane.at_cm(week * 7, height_at(z, week * 7)))
        .collect()
}

fn by_weeks(plane: &Plane, off: f64) -> Vec<Point> {
    BY_WEEKS
        .map(|week| plane.at_cm(week * 7, f64::from(week) + off))
        .collect()
}

fn closed(low: Vec<Point>, high: Vec<Point>) -> String {
    poly(low.into_iter().chain(high.into_iter().rev())) + "Z"
}

/// 10th to 90th centile, or the weeks within two centimetres, filled.
pub(super) fn band(plane: &Plane, method: HeightMethod) -> String {
    let mut d: String = spans(method)
        .into_iter()
        .map(|span| closed(along(plane, span.clone(), Z10), along(plane, span, -Z10)))
        .collect();
    if method == HeightMethod::Weeks {
        d.push_str(&closed(by_weeks(plane, -2.0), by_weeks(plane, 2.0)));
    }
    d
}

pub(super) fn curves(plane: &Plane, method: HeightMethod) -> Vec<Mark> {
    let mut marks = Vec::new();
    for (_, z, class) in CENTILES {
        for span in spans(method) {
            marks.push(Mark::path(class, poly(along(plane, span, z))));
        }
    }
    if method == HeightMethod::Weeks {
        for (off, class) in [(2.0, "p-tenth"), (0.0, "p-mid"), (-2.0, "p-tenth")] {
            marks.push(Mark::path(class, poly(by_weeks(plane, off))));
        }
    }
    marks
}

/// The names at the right end, pushed apart, each with a leader.
pub(super) fn names(plane: &Plane, method: HeightMethod) -> Vec<Mark> {
    let ends: Vec<f64> = CENTILES
        .iter()
        .map(|(_, z, _)| plane.at_cm(294, height_at(*z, 294)).y)
        .collect();
    let spread = spread_labels(&ends, 12.5);
    let mut marks = Vec::new();
    for ((name, ..), (end, level)) in CENTILES.iter().zip(ends.iter().zip(&spread)) {
        let level = level.max(plane.ceiling());
        marks.push(Mark::line(
            "p-lead",
            at(plane.right + 1.0, *end),
            at(plane.right + 7.0, level),
        ));
        let word = at(plane.right + 9.0, level + 4.0);
        marks.push(Mark::text("p-tick", word, "start", *name));
    }
    if method == HeightMethod::Weeks {
        let word = plane.at_cm(27 * 7, 31.0);
        marks.push(Mark::text("p-tick", word, "end", "weeks ± 2 cm"));
    }
    marks
}
