//! What changed in a month since it was signed: the kept figures against those of now, cell by cell.

use serde_json::Value;

use super::report::Report;
use super::table::{Cell, Table};

/// What is not known yet changes by itself as time goes on, and is no figure of the month.
const NOT_COMPARED: &str = "loose-ends";

/// One figure that is no longer what was signed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Changed {
    /// Id of the table.
    pub table: &'static str,
    /// Codes that name the row; empty in a table of one row.
    pub row: Vec<String>,
    /// Heading of the column.
    pub column: &'static str,
    /// As signed; empty for nothing.
    pub then: String,
    /// Now; empty for nothing.
    pub now: String,
}

/// The figures of `report` that differ from those kept as JSON when the month was signed; absent when those cannot be read.
///
/// A table that was not made then is not compared.
#[must_use]
pub fn since_signing(figures: &str, report: &Report) -> Option<Vec<Changed>> {
    let signed: Value = serde_json::from_str(figures).ok()?;
    let tables = signed.get("tables")?.as_array()?;
    let mut changed = Vec::new();
    for table in report
        .tables
        .iter()
        .filter(|table| table.id != NOT_COMPARED)
    {
        let kept = tables
            .iter()
            .find(|kept| kept.get("id").and_then(Value::as_str) == Some(table.id));
        if let Some(kept) = kept {
            compare(&Kept::read(kept)?, table, &mut changed);
        }
    }
    Some(changed)
}

/// A table as it was signed.
struct Kept<'a> {
    columns: Vec<&'a str>,
    rows: Vec<&'a [Value]>,
}

impl<'a> Kept<'a> {
    fn read(table: &'a Value) -> Option<Self> {
        let columns = table
            .get("columns")?
            .as_array()?
            .iter()
            .filter_map(Value::as_str)
            .collect();
        let rows = table
            .get("rows")?
            .as_array()?
            .iter()
            .filter_map(|row| row.as_array().map(Vec::as_slice))
            .collect();
        Some(Self { columns, rows })
    }

    fn row(&self, keys: &[String]) -> Option<&'a [Value]> {
        let named = |row: &&&[Value]| {
            keys.iter()
                .zip(row.iter())
                .all(|(key, cell)| cell.as_str() == Some(key.as_str()))
        };
        self.rows.iter().find(named).copied()
    }

    fn cell(&self, row: Option<&'a [Value]>, column: &str) -> Option<&'a Value> {
        row?.get(self.columns.iter().position(|name| *name == column)?)
    }
}

fn compare(kept: &Kept<'_>, table: &Table, changed: &mut Vec<Changed>) {
    let keys_of = |row: &[Cell]| {
        row.iter()
            .take(table.keys)
            .map(Cell::plain)
            .collect::<Vec<_>>()
    };
    for row in &table.rows {
        let keys = keys_of(row);
        let then = kept.row(&keys);
        for (column, cell) in table.columns.iter().zip(row).skip(table.keys) {
            let then = as_text(kept.cell(then, column.name));
            push(changed, table.id, &keys, column.words, then, cell.plain());
        }
    }
    // A row with nothing is left out of a table, so that a row may have gone altogether.
    for row in &kept.rows {
        let keys: Vec<String> = row
            .iter()
            .take(table.keys)
            .filter_map(|key| key.as_str().map(str::to_owned))
            .collect();
        if table.rows.iter().all(|now| keys_of(now) != keys) {
            for column in table.columns.iter().skip(table.keys) {
                let then = as_text(kept.cell(Some(row), column.name));
                push(changed, table.id, &keys, column.words, then, String::new());
            }
        }
    }
}

fn push(
    changed: &mut Vec<Changed>,
    table: &'static str,
    row: &[String],
    column: &'static str,
    then: String,
    now: String,
) {
    // A row that came or went counted nought before or after.
    let is_nothing = |text: &str| text.is_empty() || text == "0";
    if then != now && !(is_nothing(&then) && is_nothing(&now)) {
        changed.push(Changed {
            table,
            row: row.to_vec(),
            column,
            then,
            now,
        });
    }
}

fn as_text(value: Option<&Value>) -> String {
    match value {
        None | Some(Value::Null) => String::new(),
        Some(Value::String(text)) => text.clone(),
        Some(other) => other.to_string(),
    }
}
