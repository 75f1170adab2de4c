//! What a rule answers: it speaks, or it says why it keeps silent.

use super::{Moment, Urgency, gestation_text, speech};
use std::fmt;

/// The answer of one rule to one case.
pub(crate) type Verdict = Result<Spoken, Why>;

/// A rule that speaks.
#[derive(Debug, Clone)]
pub(crate) struct Spoken {
    pub(crate) urgency: Urgency,
    /// In words, with the numbers in it.
    pub(crate) evidence: String,
    /// Only for a recheck.
    pub(crate) recheck_at: Option<Moment>,
    /// Where this urgency asks for something else than the rule's first advice.
    pub(crate) advice: Option<&'static str>,
}

impl Spoken {
    pub(crate) fn at(urgency: Urgency, evidence: impl Into<String>) -> Self {
        Self {
            urgency,
            evidence: evidence.into(),
            recheck_at: None,
            advice: None,
        }
    }

    pub(crate) fn now(evidence: impl Into<String>) -> Self {
        Self::at(Urgency::Now, evidence)
    }

    pub(crate) fn soon(evidence: impl Into<String>) -> Self {
        Self::at(Urgency::Soon, evidence)
    }

    pub(crate) fn review(evidence: impl Into<String>) -> Self {
        Self::at(Urgency::Review, evidence)
    }

    pub(crate) fn recheck(at: Moment, evidence: impl Into<String>) -> Self {
        Self {
            recheck_at: Some(at),
            ..Self::at(Urgency::Recheck, evidence)
        }
    }

    pub(crate) fn advising(self, advice: &'static str) -> Self {
        Self {
            advice: Some(advice),
            ..self
        }
    }
}

/// In what a figure is measured.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Unit {
    /// No unit.
    Plain,
    /// Days of gestation.
    Gestation,
    /// Tenths of a centimetre.
    Tape,
    /// Tenths of a degree Celsius.
    Celsius,
    /// Seconds.
    Time,
    /// mmHg.
    Pressure,
    /// Beats a minute.
    Beats,
    /// Whole centimetres.
    Centimetres,
    /// Fifths of the head above the brim.
    Fifths,
}

/// The first condition that kept a rule silent; made into words only when somebody asks.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Why {
    /// A plain fact.
    Fact(&'static str),
    /// A figure on the wrong side of its limit.
    Figure {
        what: &'static str,
        found: i64,
        is: &'static str,
        limit: i64,
        unit: Unit,
    },
    /// z on the wrong side of a centile.
    Centile {
        z: f64,
        is: &'static str,
        centile: &'static str,
        limit: f64,
    },
    /// Two figures together, such as a pressure.
    Pair {
        what: &'static str,
        first: Option<u16>,
        between: &'static str,
        second: Option<u16>,
        is: &'static str,
    },
    /// The lowest and the highest of some counts.
    Range {
        what: &'static str,
        least: u8,
        most: u8,
        is: &'static str,
    },
    /// A word that is not the one asked for.
    Word {
        what: &'static str,
        found: &'static str,
        wanted: &'static str,
    },
    /// Another rule says it.
    Said(&'static str),
}

/// Keeps the rule silent unless `holds`.
pub(crate) fn ask(holds: bool, why: Why) -> Result<(), Why> {
    if holds { Ok(()) } else { Err(why) }
}

/// Keeps the rule silent, with a fact, unless `holds`.
pub(crate) fn ask_fact(holds: bool, fact: &'static str) -> Result<(), Why> {
    ask(holds, Why::Fact(fact))
}

/// Keeps the rule silent unless the figure reaches `least`.
pub(crate) fn reaches(
    what: &'static str,
    found: impl Into<i64>,
    least: impl Into<i64>,
    unit: Unit,
) -> Result<(), Why> {
    let (found, limit) = (found.into(), least.into());
    ask(
        found >= limit,
        Why::Figure {
            what,
            found,
            is: "is below",
            limit,
            unit,
        },
    )
}

/// Keeps the rule silent unless the figure is more than `limit`.
pub(crate) fn exceeds(
    what: &'static str,
    found: impl Into<i64>,
    limit: impl Into<i64>,
    unit: Unit,
) -> Result<(), Why> {
    let (found, limit) = (found.into(), limit.into());
    ask(
        found > limit,
        Why::Figure {
            what,
            found,
            is: "is not more than",
            limit,
            unit,
        },
    )
}

/// Keeps the rule silent unless the figure is less than `limit`.
pub(crate) fn under(
    what: &'static str,
    found: impl Into<i64>,
    limit: impl Into<i64>,
    unit: Unit,
) -> Result<(), Why> {
    let (found, limit) = (found.into(), limit.into());
    ask(
        found < limit,
        Why::Figure {
            what,
            found,
            is: "is not below",
            limit,
            unit,
        },
    )
}

impl fmt::Display for Why {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Fact(fact) => f.write_str(fact),
            Self::Figure {
                what,
                found,
                is,
                limit,
                unit,
            } => write!(
                f,
                "{what} {} {is} {}",
                unit.words(*found),
                unit.words(*limit)
            ),
            Self::Centile {
                z,
                is,
                centile,
                limit,
            } => write!(f, "z {z:.3} {is} {limit:.3}, the {centile} centile"),
            Self::Pair {
                what,
                first,
                between,
                second,
                is,
            } => {
                let figure =
                    |it: &Option<u16>| it.map_or_else(|| "–".to_owned(), |it| it.to_string());
                write!(
                    f,
                    "{what} {}{between}{} {is}",
                    figure(first),
                    figure(second)
                )
            }
            Self::Range {
                what,
                least,
                most,
                is,
            } if least == most => write!(f, "{what} {most} {is}"),
            Self::Range {
                what,
                least,
                most,
                is,
            } => write!(f, "{what} {least} to {most} {is}"),
            Self::Word {
                what,
                found,
                wanted,
            } => write!(f, "{what} is {found}, not {wanted}"),
            Self::Said(rule) => write!(f, "`{rule}` says it"),
        }
    }
}

impl Unit {
    fn words(self, value: i64) -> String {
        match self {
            Self::Plain => value.to_string(),
            Self::Gestation => format!("{value} ({})", gestation_text(value)),
            Self::Tape => speech::cm(value),
            Self::Celsius => format!("{} °C", speech::tenths(value)),
            Self::Time => speech::span(value),
            Self::Pressure => format!("{value} mmHg"),
            Self::Beats => format!("{value} a minute"),
            Self::Centimetres => format!("{value} cm"),
            Self::Fifths => format!("{value}/5"),
        }
    }
}
