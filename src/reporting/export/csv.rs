//! One table as CSV: RFC 4180, UTF-8, a header row.

use super::{ExportError, Result};
use crate::reporting::table::{Cell, Table};

/// The table as the bytes of a file.
///
/// # Errors
/// When the writer refuses, which a table of equal rows never makes it do.
pub fn write(table: &Table) -> Result<Vec<u8>> {
    let mut writer = csv::WriterBuilder::new()
        .terminator(csv::Terminator::CRLF)
        .from_writer(Vec::new());
    writer.write_record(table.columns.iter().map(|column| column.name))?;
    for row in &table.rows {
        writer.write_record(row.iter().map(safe))?;
    }
    writer
        .into_inner()
        .map_err(|error| ExportError::Csv(error.into_error().into()))
}

/// A text that a spreadsheet would run as a formula becomes text; a number is never touched, also when negative.
fn safe(cell: &Cell) -> String {
    match cell {
        Cell::Text(text) if text.starts_with(['=', '+', '-', '@', '\t', '\r', '\n']) => {
            format!("'{text}")
        }
        other => other.plain(),
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test stops at the first surprise")]
mod tests {
    use super::*;
    use crate::reporting::figures::{Hundredths, Tenths};
    use crate::reporting::table::{Column, Kind};

    #[test]
    fn what_a_spreadsheet_would_run_becomes_text_and_a_number_never_does() {
        let column = |name| Column {
            name,
            words: "",
            kind: Kind::Words,
            definition: "",
        };
        let text = |text: &str| Cell::Text(text.to_owned());
        let table = Table {
            id: "t",
            title: "",
            keys: 1,
            foot: Vec::new(),
            sources: "",
            columns: vec![column("what"), column("value"), column("low")],
            rows: vec![
                vec![
                    text("=1+1"),
                    Cell::Value(Tenths(-6)),
                    Cell::Agreement(Hundredths(-6)),
                ],
                vec![text("@SUM(A1)"), Cell::Count(3), Cell::Absent],
                vec![text("-x, \"y\""), Cell::Absent, text("+x")],
            ],
        };
        let made = String::from_utf8(write(&table).unwrap()).unwrap();
        let expected =
            "what,value,low\r\n'=1+1,-0.6,-0.06\r\n'@SUM(A1),3,\r\n\"'-x, \"\"y\"\"\",,'+x\r\n";
        assert_eq!(made, expected);
    }
}
