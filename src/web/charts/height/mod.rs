//! Fundal height, 16 to 42 weeks: the lines of the standard, her readings, how the baby lay at each of them.

mod lines;
mod pins;
mod plane;
#[cfg(test)]
mod tests;
mod words;

use askama::Template;

use super::Drawing;
use super::geometry::{Unit, n, poly};
use super::marks::{Frame, Layer, Mark, PathData};
use crate::clinical::{Day, HeightMethod, Palpation};
use plane::Plane;
pub use words::{Row, Words};

/// The lines hold from 16w+0d to 42w+0d.
const CHARTED: std::ops::RangeInclusive<u16> = 112..=294;

/// One tape at one visit.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Reading {
    /// Day of the visit.
    pub day: Day,
    /// Gestation on that day; absent when not known.
    pub gestation_days: Option<u16>,
    /// Tenths of a centimetre, 100 to 600.
    pub height_tenths: u16,
    /// What the hands came to at the same visit.
    pub palpation: Option<Palpation>,
}

/// All her readings of one pregnancy, in order of time, and what they are held against.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Course {
    /// Oldest first.
    pub readings: Vec<Reading>,
    /// As the post judges.
    pub method: HeightMethod,
    /// More than one baby is known: the standard does not hold and nothing is charted.
    pub twins_known: bool,
}

/// How much room there is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Size {
    /// 320 units wide: a phone, a column.
    Narrow,
    /// 680 units wide: a broad page, A4.
    Wide,
}

#[derive(Template)]
#[template(path = "charts/height.svg")]
struct Chart<'a> {
    frame: Frame<'a>,
    width: Unit,
    height: Unit,
    grid: PathData,
    band: PathData,
    trail: PathData,
    lines: Layer,
    axis: Layer,
    points: Layer,
    pins: Layer,
    words: Layer,
}

impl Course {
    /// The chart; absent when no reading can stand on it (gestation unknown, outside 16 to 42 weeks, twins known).
    ///
    /// `id` is unique on the page. [`Course::words`] says the same, and also says why there is no chart.
    #[must_use]
    pub fn draw(&self, id: &str, size: Size) -> Option<Drawing> {
        let charted = self.charted();
        if charted.is_empty() {
            return None;
        }
        let plane = Plane::new(size);
        let spots: Vec<_> = charted.iter().map(|it| plane.spot(it.0, it.1)).collect();
        let mut beside = lines::names(&plane, self.method);
        beside.extend(pins::key(&plane));
        let (lead, note) = plane.note(&charted);
        beside.extend(note);
        let mut points = plane.points(&charted);
        points.extend(lead);
        Some(Drawing::of(&Chart {
            frame: Frame {
                id,
                title: match self.method {
                    HeightMethod::Intergrowth => {
                        "Fundal height against five centile lines, 16 to 42 weeks"
                    }
                    HeightMethod::Weeks => {
                        "Fundal height against the weeks within 2 cm, outside 24 to 36 weeks against five centile lines"
                    }
                },
                desc: self.words().description(),
            },
            width: n(plane.width),
            height: n(plane.height()),
            grid: plane.grid().into(),
            band: lines::band(&plane, self.method).into(),
            trail: poly(spots).into(),
            lines: Layer::new("p-hc-lines", lines::curves(&plane, self.method)),
            axis: Layer::new("p-hc-axis", plane.axis()),
            points: Layer::new("p-hc-points", points),
            pins: Layer::new("p-hc-pins", pins::row(&plane, &charted)),
            words: Layer::new("p-hc-words", beside),
        }))
    }

    /// Gestation in days, height in tenths and the reading itself, where the lines hold.
    fn charted(&self) -> Vec<(u16, u16, &Reading)> {
        let on_chart = |it: &Reading| {
            let days = it.gestation_days.filter(|days| CHARTED.contains(days))?;
            (!self.twins_known).then_some(days)
        };
        self.readings
            .iter()
            .filter_map(|it| Some((on_chart(it)?, it.height_tenths, it)))
            .collect()
    }
}
