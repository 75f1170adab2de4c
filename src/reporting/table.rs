//! A finished table of a month: pages and files are made from the same one.

use super::figures::{self, Hundredths, Tenths};
use crate::clinical::Day;

/// What a column holds, and so how a page shows it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// A code that names the row.
    Key,
    /// Text.
    Words,
    /// A whole number.
    Count,
    /// Hours with one decimal; `pairs` names the column with the number of spans behind it.
    Hours {
        /// Name of the column of pairs.
        pairs: &'static str,
    },
    /// Per cent with one decimal of two counts of the same row.
    Percent {
        /// Name of the numerator's column.
        part: &'static str,
        /// Name of the denominator's column.
        whole: &'static str,
    },
    /// A number with one or two decimals.
    Value,
    /// A calendar day.
    Date,
}

/// One column.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Column {
    /// In files; never changes.
    pub name: &'static str,
    /// As headed on a page.
    pub words: &'static str,
    /// What it holds.
    pub kind: Kind,
    /// What is counted, in a sentence; empty where the heading says it all.
    pub definition: &'static str,
}

/// One cell.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Cell {
    /// Not known, or nothing to divide by; never nought.
    Absent,
    /// A code or text.
    Text(String),
    /// A whole number.
    Count(i64),
    /// A number with one decimal.
    Value(Tenths),
    /// A share of two counts, per 100 or per 1000; nothing over nothing.
    Share {
        /// The numerator.
        part: i64,
        /// The denominator.
        whole: i64,
        /// 100 or 1000.
        per: i64,
    },
    /// A number with two decimals.
    Agreement(Hundredths),
    /// A calendar day.
    Date(Day),
}

impl Cell {
    /// The count in it.
    #[must_use]
    pub fn count(&self) -> Option<i64> {
        match self {
            Self::Count(count) => Some(*count),
            _ => None,
        }
    }

    /// As plain text, absent as nothing: numbers with a point, days as ISO 8601.
    #[must_use]
    pub fn plain(&self) -> String {
        match self {
            Self::Absent => String::new(),
            Self::Text(text) => text.clone(),
            Self::Count(count) => count.to_string(),
            Self::Value(value) => value.to_string(),
            Self::Share { part, whole, per } => figures::share(*part, *whole, *per)
                .map(|share| share.to_string())
                .unwrap_or_default(),
            Self::Agreement(value) => value.to_string(),
            Self::Date(day) => day.to_string(),
        }
    }
}

impl From<Option<Tenths>> for Cell {
    fn from(value: Option<Tenths>) -> Self {
        value.map_or(Self::Absent, Self::Value)
    }
}

impl From<Option<Day>> for Cell {
    fn from(day: Option<Day>) -> Self {
        day.map_or(Self::Absent, Self::Date)
    }
}

/// One table of a month.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Table {
    /// As in file names and addresses.
    pub id: &'static str,
    /// As headed on a page.
    pub title: &'static str,
    /// How many columns at the left name the row.
    pub keys: usize,
    /// From left to right.
    pub columns: Vec<Column>,
    /// Each as long as `columns`.
    pub rows: Vec<Vec<Cell>>,
    /// What the columns cannot say: numbers of unknown answers, and why rows need not add up.
    pub foot: Vec<String>,
    /// Where the definitions come from.
    pub sources: &'static str,
}

impl Table {
    /// Place of a column.
    #[must_use]
    pub fn place_of(&self, name: &str) -> Option<usize> {
        self.columns.iter().position(|column| column.name == name)
    }

    /// The cell of a row under a column's name; absent where there is no such column.
    #[must_use]
    pub fn cell<'a>(&self, row: &'a [Cell], name: &str) -> &'a Cell {
        self.place_of(name)
            .and_then(|place| row.get(place))
            .unwrap_or(&Cell::Absent)
    }

    /// The row that is named by these codes.
    #[must_use]
    pub fn row(&self, keys: &[&str]) -> Option<&[Cell]> {
        let named = |row: &&Vec<Cell>| {
            keys.iter()
                .zip(row.iter())
                .all(|(key, cell)| matches!(cell, Cell::Text(text) if text == key))
        };
        self.rows.iter().find(named).map(Vec::as_slice)
    }
}
