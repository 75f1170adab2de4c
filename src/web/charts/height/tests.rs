//! The chart against the published lines, and the words that stand beside it.

use super::super::geometry::Point;
use super::lines;
use super::plane::Plane;
use super::{Course, Reading, Size};
use crate::clinical::fundal_height::height_at;
use crate::clinical::{Day, HeightMethod};

fn reading(day: i64, gestation_days: Option<u16>, height_tenths: u16) -> Reading {
    let first = Day::from_ymd_opt(2026, 1, 1).unwrap_or_default();
    Reading {
        day: first + chrono::Duration::days(day),
        gestation_days,
        height_tenths,
        palpation: None,
    }
}

fn course(readings: Vec<Reading>) -> Course {
    Course {
        readings,
        method: HeightMethod::Intergrowth,
        twins_known: false,
    }
}

/// Papageorghiou et al., BMJ 2016;355:i5662, table of centiles: week, 50th centile in cm.
const PUBLISHED_MEDIANS: [(u16, f64); 4] = [(20, 19.8), (28, 27.7), (36, 34.9), (40, 38.0)];

#[test]
fn the_middle_line_stands_where_the_published_table_has_it() {
    for (week, cm) in PUBLISHED_MEDIANS {
        assert!((height_at(0.0, week * 7) - cm).abs() < 0.06, "week {week}");
    }
}

#[test]
fn a_reading_on_the_median_lies_on_the_middle_line() {
    for size in [Size::Narrow, Size::Wide] {
        let plane = Plane::new(size);
        let middle = plane.at_cm(196, height_at(0.0, 196));
        let Point { x, y } = plane.spot(196, 277);
        assert!((x - middle.x).abs() < 0.01 && (y - middle.y).abs() < 0.5);
    }
}

#[test]
fn five_lines_stand_under_five_names() {
    let plane = Plane::new(Size::Narrow);
    assert_eq!(lines::curves(&plane, HeightMethod::Intergrowth).len(), 5);
    let names = format!("{:?}", lines::names(&plane, HeightMethod::Intergrowth));
    for name in ["97th", "90th", "50th", "10th", "3rd"] {
        assert!(names.contains(name), "{name}");
    }
}

#[test]
fn growth_is_said_with_what_the_tenth_centile_grew() {
    let words = course(vec![
        reading(0, Some(231), 310),
        reading(21, Some(252), 315),
    ])
    .words();
    assert_eq!(
        words.growth.as_deref(),
        Some("31.0 to 31.5 cm in 21 days; the 10th centile grew 2.5 cm.")
    );
    assert_eq!(
        words.sentence,
        "31.5 cm at 36w+0d: centile 3.9, below the 10th line."
    );
}

#[test]
fn without_dates_or_with_twins_there_are_words_and_no_chart() {
    let unknown = course(vec![reading(0, None, 310)]);
    assert!(unknown.draw("h", Size::Narrow).is_none());
    assert!(unknown.words().sentence.contains("dates are not known"));
    let twins = Course {
        twins_known: true,
        ..course(vec![reading(0, Some(210), 310)])
    };
    assert!(twins.draw("h", Size::Narrow).is_none());
    assert_eq!(twins.words().rows[0].centile, "");
    assert!(course(Vec::new()).draw("h", Size::Wide).is_none());
}

#[test]
fn the_weeks_band_replaces_the_lines_where_the_post_judges_by_weeks() {
    let weeks = Course {
        method: HeightMethod::Weeks,
        ..course(vec![reading(0, Some(231), 310)])
    };
    let drawn = weeks.draw("h", Size::Narrow).map(|it| it.to_string());
    assert!(drawn.is_some_and(|it| it.contains("weeks ± 2 cm")));
    let said = |tape| {
        let course = Course {
            readings: vec![reading(0, Some(231), tape)],
            ..weeks.clone()
        };
        course.words().sentence
    };
    for (tape, by_weeks) in [
        (
            309,
            "2.10 cm under the 33.00 cm of her weeks, more than 2 cm",
        ),
        (310, "2.00 cm under the 33.00 cm of her weeks, within 2 cm"),
        (330, "33.0 cm at 33w+0d: as many cm as weeks."),
        (350, "2.00 cm over the 33.00 cm of her weeks, within 2 cm"),
        (
            351,
            "2.10 cm over the 33.00 cm of her weeks, more than 2 cm",
        ),
    ] {
        let said = said(tape);
        assert!(said.contains(by_weeks), "{said}");
    }
}

#[test]
fn a_reading_off_the_chart_is_marked_on_its_edge_and_hides_no_other() {
    let drawn = course(vec![
        reading(0, Some(230), 200),
        reading(50, Some(280), 520),
    ])
    .draw("h", Size::Narrow)
    .map(|it| it.to_string());
    assert!(drawn.is_some_and(|it| it.contains("p-beyond") && it.contains("52.0 cm at 40w+0d")));
}
