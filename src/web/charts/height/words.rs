//! The height chart in words: the last reading, what changed since the one before, and a table of all.

use std::fmt::Write;

use super::{CHARTED, Course, Reading};
use crate::clinical::fundal_height::{Z3, Z10, Z97, height_at, weeks_in_force};
use crate::clinical::{Certainty, Day, HeightScore, gestation_text, height_score};

/// What a height chart says, also when there is none to draw.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Words {
    /// The last reading and where it stands; why nothing is charted.
    pub sentence: String,
    /// “31.0 to 31.5 cm in 21 days; the 10th centile grew 2.4 cm.”
    pub growth: Option<String>,
    /// Every reading, oldest first.
    pub rows: Vec<Row>,
}

/// One reading in the table.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Row {
    /// Day of the visit.
    pub day: Day,
    /// `36w+2d`, or “not known”.
    pub gestation: String,
    /// With one decimal, without unit.
    pub cm: String,
    /// With one decimal; empty where the standard does not hold.
    pub centile: String,
    /// How the baby lay, by the hands.
    pub lie: &'static str,
}

pub(super) fn cm(tenths: u16) -> String {
    format!("{}.{}", tenths / 10, tenths % 10)
}

/// `centile 37.6 (z −0.32)`, with a true minus.
pub(super) fn centile_and_z(score: HeightScore) -> String {
    let z = format!("{:+.2}", score.z).replace('-', "−");
    format!("centile {} (z {z})", centile(score))
}

fn centile(score: HeightScore) -> String {
    if score.centile < 0.1 {
        "under 0.1".to_owned()
    } else if score.centile > 99.9 {
        "over 99.9".to_owned()
    } else {
        format!("{:.1}", score.centile)
    }
}

impl Course {
    /// The chart in words.
    #[must_use]
    pub fn words(&self) -> Words {
        Words {
            sentence: self.sentence(),
            growth: self.growth(),
            rows: self.readings.iter().map(|it| self.row(it)).collect(),
        }
    }

    fn score(&self, reading: &Reading) -> Option<HeightScore> {
        let score = height_score(reading.height_tenths, reading.gestation_days)?;
        (!self.twins_known).then_some(score)
    }

    fn sentence(&self) -> String {
        let Some(last) = self.readings.last() else {
            return "No fundal height was measured yet.".to_owned();
        };
        let found = format!("{} cm", cm(last.height_tenths));
        let Some(days) = last.gestation_days else {
            return format!("{found}. Her dates are not known, so there is no centile.");
        };
        let found = format!("{found} at {}", gestation_text(days));
        if self.twins_known {
            return format!(
                "{found}. The lines are of one baby; with more than one none is drawn."
            );
        }
        let Some(score) = self.score(last) else {
            return format!("{found}. The lines run from 16 to 42 weeks.");
        };
        if weeks_in_force(self.method, Some(days)) {
            return format!(
                "{found}: {}. Its {}.",
                by_weeks(last.height_tenths, days),
                place(score)
            );
        }
        format!("{found}: {}.", place(score))
    }

    /// From the reading before, at least one day earlier; silent where an interval has no meaning.
    fn growth(&self) -> Option<String> {
        let last = self.readings.last()?;
        let before = self.readings.iter().rev().find(|it| it.day < last.day)?;
        let days = (last.day - before.day).num_days();
        let plural = if days == 1 { "day" } else { "days" };
        let from = cm(before.height_tenths);
        let said = format!("{from} to {} cm in {days} {plural}", cm(last.height_tenths));
        let line = |it: &Reading| {
            let days = it.gestation_days.filter(|days| CHARTED.contains(days))?;
            (!self.twins_known).then(|| height_at(Z10, days))
        };
        Some(match (line(before), line(last)) {
            (Some(from), Some(to)) => {
                format!("{said}; the 10th centile grew {:.1} cm.", to - from)
            }
            _ => format!("{said}."),
        })
    }

    fn row(&self, reading: &Reading) -> Row {
        Row {
            day: reading.day,
            gestation: reading
                .gestation_days
                .map_or_else(|| "not known".to_owned(), gestation_text),
            cm: cm(reading.height_tenths),
            centile: self.score(reading).map_or_else(String::new, centile),
            lie: lie(reading),
        }
    }
}

/// Against the weeks in hundredths, as the rule compares: `2.4 cm under the 33.0 of the weeks, more than 2`.
fn by_weeks(tenths: u16, days: u16) -> String {
    let expected = f64::from(days) / 7.0;
    let apart = f64::from(tenths) / 10.0 - expected;
    let side = if apart < 0.0 { "under" } else { "over" };
    let (off, week_tenths) = (7 * i32::from(tenths), 10 * i32::from(days));
    let beyond = if (off - week_tenths).abs() > 140 {
        "more than 2 cm"
    } else {
        "within 2 cm"
    };
    if off == week_tenths {
        return "as many cm as weeks".to_owned();
    }
    format!(
        "{:.2} cm {side} the {expected:.2} cm of her weeks, {beyond}",
        apart.abs()
    )
}

fn lie(reading: &Reading) -> &'static str {
    match &reading.palpation {
        None => "not examined",
        Some(found) if found.certainty == Certainty::Conflicting => "findings do not agree",
        Some(found) => found.lie.words(),
    }
}

fn place(score: HeightScore) -> String {
    let line = if score.z < Z3 {
        ", below the 3rd line"
    } else if score.z < Z10 {
        ", below the 10th line"
    } else if score.z > Z97 {
        ", above the 97th line"
    } else {
        ""
    };
    format!("centile {}{line}", centile(score))
}

impl Words {
    pub(super) fn description(&self) -> String {
        let mut text = self.sentence.clone();
        if let Some(growth) = &self.growth {
            text.push(' ');
            text.push_str(growth);
        }
        for row in &self.rows {
            let _ = write!(text, " {}: {} cm, lie {}.", row.gestation, row.cm, row.lie);
        }
        text
    }
}
