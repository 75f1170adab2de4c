//! A report as JSON, for another program and for the figures of a signed month.

use serde::ser::{Serialize, Serializer};

use super::Result;
use crate::reporting::figures::{self, Tenths};
use crate::reporting::report::Report;
use crate::reporting::table::{Cell, Table};

#[derive(serde::Serialize)]
struct Document<'a> {
    post: Option<&'a str>,
    month: String,
    made_at: String,
    rules_version: &'a str,
    tables: Vec<Entry<'a>>,
}

#[derive(serde::Serialize)]
struct Entry<'a> {
    id: &'a str,
    title: &'a str,
    columns: Vec<&'a str>,
    rows: &'a [Vec<Cell>],
    notes: &'a [String],
}

impl Serialize for Cell {
    fn serialize<S: Serializer>(&self, to: S) -> std::result::Result<S::Ok, S::Error> {
        match self {
            Self::Absent => to.serialize_none(),
            Self::Text(text) => to.serialize_str(text),
            Self::Count(count) => to.serialize_i64(*count),
            Self::Value(value) => to.serialize_f64(value.as_f64()),
            Self::Share { part, whole, per } => figures::share(*part, *whole, *per)
                .map(Tenths::as_f64)
                .serialize(to),
            Self::Agreement(value) => to.serialize_f64(value.as_f64()),
            Self::Date(day) => to.serialize_str(&day.to_string()),
        }
    }
}

impl<'a> From<&'a Table> for Entry<'a> {
    fn from(table: &'a Table) -> Self {
        Self {
            id: table.id,
            title: table.title,
            columns: table.columns.iter().map(|column| column.name).collect(),
            rows: &table.rows,
            notes: &table.foot,
        }
    }
}

/// The report as a document that ends with a new line.
///
/// # Errors
/// When the writer refuses, which no report makes it do.
pub fn write(report: &Report) -> Result<String> {
    let document = Document {
        post: report.post.as_deref(),
        month: report.month.to_string(),
        made_at: report
            .made_at
            .and_utc()
            .to_rfc3339_opts(chrono::SecondsFormat::Secs, true),
        rules_version: &report.rules_version,
        tables: report.tables.iter().map(Entry::from).collect(),
    };
    let mut text = serde_json::to_string_pretty(&document)?;
    text.push('\n');
    Ok(text)
}
