//! The plane of the height chart: scales, grid, points, and the note at the last reading.

use std::fmt::Write;

use super::super::geometry::{Point, Scale, at, n};
use super::super::marks::Mark;
use super::words::{centile_and_z, cm};
use super::{Reading, Size};
use crate::clinical::{gestation_text, height_score};

pub(super) struct Plane {
    pub(super) width: f64,
    pub(super) wide: bool,
    pub(super) left: f64,
    pub(super) right: f64,
    pub(super) floor: f64,
    top: f64,
    x: Scale,
    y: Scale,
}

/// Taller or smaller readings are drawn on the edge and said in words.
const LOWEST_CM: f64 = 10.0;
const HIGHEST_CM: f64 = 46.0;
const NOTE_HEIGHT: f64 = 40.0;

impl Plane {
    pub(super) fn new(size: Size) -> Self {
        let (wide, width, left, right, floor, top) = match size {
            Size::Narrow => (false, 320.0, 26.0, 282.0, 262.0, 14.0),
            Size::Wide => (true, 680.0, 34.0, 618.0, 378.0, 16.0),
        };
        Self {
            width,
            wide,
            left,
            right,
            floor,
            top,
            x: Scale {
                from: (112.0, 294.0),
                to: (left, right),
            },
            y: Scale {
                from: (LOWEST_CM, HIGHEST_CM),
                to: (floor, top),
            },
        }
    }

    pub(super) fn height(&self) -> f64 {
        self.key_row() + 14.0
    }

    /// Where the lie stands under the axis.
    pub(super) fn pin_row(&self) -> f64 {
        self.floor + 40.0
    }

    pub(super) fn key_row(&self) -> f64 {
        self.pin_row() + 27.0
    }

    pub(super) fn at_cm(&self, days: u16, cm: f64) -> Point {
        at(self.x.place(f64::from(days)), self.y.place(cm))
    }

    pub(super) fn spot(&self, days: u16, tenths: u16) -> Point {
        let cm = f64::from(tenths) / 10.0;
        self.at_cm(days, cm.clamp(LOWEST_CM, HIGHEST_CM))
    }

    pub(super) fn grid(&self) -> String {
        let mut d = String::new();
        for cm in (10..46).step_by(5) {
            let y = n(self.y.place(f64::from(cm)));
            let _ = write!(d, "M{} {y}L{} {y}", n(self.left), n(self.right));
        }
        for week in self.weeks() {
            let x = n(self.x.place(f64::from(week * 7)));
            let (from, to) = (n(self.floor), n(self.floor + 4.0));
            let _ = write!(d, "M{x} {from}L{x} {to}");
        }
        d
    }

    fn weeks(&self) -> impl Iterator<Item = u16> + use<> {
        (16_u16..=42).step_by(if self.wide { 2 } else { 4 })
    }

    pub(super) fn axis(&self) -> Vec<Mark> {
        let mut marks = Vec::new();
        for cm in (10..46).step_by(5) {
            let spot = at(self.left - 5.0, self.y.place(f64::from(cm)) + 4.0);
            marks.push(Mark::text("p-tick", spot, "end", cm.to_string()));
        }
        for week in self.weeks() {
            let spot = at(self.x.place(f64::from(week * 7)), self.floor + 16.0);
            marks.push(Mark::text("p-tick", spot, "middle", week.to_string()));
        }
        let (up, beyond) = if self.wide { (12.0, 60.0) } else { (9.0, 34.0) };
        let unit = at(self.left - 5.0, self.y.place(45.0) - up);
        marks.push(Mark::text("p-unit", unit, "end", "cm"));
        let unit = at(self.right + beyond, self.floor + 16.0);
        marks.push(Mark::text("p-unit", unit, "end", "weeks"));
        marks
    }

    pub(super) fn points(&self, charted: &[(u16, u16, &Reading)]) -> Vec<Mark> {
        let mut marks = Vec::new();
        for (index, (days, tenths, _)) in charted.iter().enumerate() {
            let spot = self.spot(*days, *tenths);
            let foot = at(spot.x, self.pin_row() - 11.0);
            marks.push(Mark::line("p-drop", spot.moved(0.0, 6.0), foot));
            let last = index + 1 == charted.len();
            if f64::from(*tenths) / 10.0 > HIGHEST_CM {
                marks.push(Mark::path("p-beyond", triangle(spot)));
            } else if last {
                marks.push(Mark::circle("p-last", spot, 5.2));
            } else {
                marks.push(Mark::circle("p-point", spot, 3.8));
            }
        }
        marks
    }

    /// The last reading in figures, and the line that leads to it; never over another reading.
    pub(super) fn note(&self, charted: &[(u16, u16, &Reading)]) -> (Option<Mark>, Vec<Mark>) {
        let Some((days, tenths, _)) = charted.last() else {
            return (None, Vec::new());
        };
        let score = height_score(*tenths, Some(*days)).map_or_else(String::new, centile_and_z);
        let width = if score.chars().count() > 24 {
            178.0
        } else {
            158.0
        };
        let level = if self.wide { 20.0 } else { 19.5 };
        let low = at(self.right - width, self.y.place(level) - 15.0);
        let under_it = |spot: &Point| {
            spot.x > low.x - 8.0 && spot.y > low.y - 8.0 && spot.y < low.y + NOTE_HEIGHT + 8.0
        };
        let hides = charted
            .iter()
            .any(|(days, tenths, _)| under_it(&self.spot(*days, *tenths)));
        let corner = if hides {
            at(self.left + 6.0, self.top + 2.0)
        } else {
            low
        };
        let spot = self.spot(*days, *tenths);
        let foot = at(
            spot.x.clamp(corner.x + 8.0, corner.x + width - 14.0),
            corner.y - 1.0,
        );
        let lead =
            (spot.y < foot.y - 8.0).then(|| Mark::line("p-lead", spot.moved(0.0, 7.0), foot));
        let edge = at(corner.x + width - 6.0, corner.y + 15.0);
        let reading = format!("{} cm at {}", cm(*tenths), gestation_text(*days));
        let note = vec![
            Mark::rect("p-note", corner, width, NOTE_HEIGHT, 2.0),
            Mark::text("p-strong", edge, "end", reading),
            Mark::text("p-small", edge.moved(0.0, 17.0), "end", score),
        ];
        (lead, note)
    }

    pub(super) fn ceiling(&self) -> f64 {
        self.top
    }
}

/// Points up: the reading is off the chart.
fn triangle(spot: Point) -> String {
    let (tip, left, right) = (
        spot.moved(0.0, -2.0),
        spot.moved(-5.5, 8.0),
        spot.moved(5.5, 8.0),
    );
    format!("M{tip}L{right}L{left}Z")
}
