//! A report as one workbook: definitions and provenance first, then one sheet a table, numbers as numbers.

use chrono::{Datelike, Timelike};
use rust_xlsxwriter::{DocProperties, ExcelDateTime, Format, Workbook, Worksheet, XlsxError};

use super::Result;
use crate::clinical::Day;
use crate::reporting::figures;
use crate::reporting::report::Report;
use crate::reporting::table::{Cell, Column, Kind, Table};

struct Styles {
    head: Format,
    one_decimal: Format,
    two_decimals: Format,
    day: Format,
    wrapped: Format,
}

/// The workbook as the bytes of a file.
///
/// # Errors
/// When the writer refuses, which no report makes it do.
pub fn write(report: &Report) -> Result<Vec<u8>> {
    let styles = Styles {
        head: Format::new().set_bold().set_text_wrap(),
        one_decimal: Format::new().set_num_format("0.0"),
        two_decimals: Format::new().set_num_format("0.00"),
        day: Format::new().set_num_format("yyyy-mm-dd"),
        wrapped: Format::new().set_text_wrap(),
    };
    let mut book = Workbook::new();
    // Without a fixed time of making, the same report would give another file each second.
    book.set_properties(
        &DocProperties::new()
            .set_title(report.heading())
            .set_creation_datetime(&made_at(report)?),
    );
    about(
        book.add_worksheet().set_name("definitions")?,
        report,
        &styles,
    )?;
    for table in &report.tables {
        sheet(book.add_worksheet().set_name(table.id)?, table, &styles)?;
    }
    Ok(book.save_to_buffer()?)
}

fn made_at(report: &Report) -> std::result::Result<ExcelDateTime, XlsxError> {
    let at = report.made_at;
    on(at.date())?.and_hms(narrow(at.hour()), narrow(at.minute()), at.second())
}

fn on(day: Day) -> std::result::Result<ExcelDateTime, XlsxError> {
    ExcelDateTime::from_ymd(
        u16::try_from(day.year()).unwrap_or(1900),
        narrow(day.month()),
        narrow(day.day()),
    )
}

fn narrow<T: TryFrom<u32> + Default>(part: u32) -> T {
    T::try_from(part).unwrap_or_default()
}

/// What the figures are, where they come from and how each column is defined.
fn about(
    sheet: &mut Worksheet,
    report: &Report,
    styles: &Styles,
) -> std::result::Result<(), XlsxError> {
    sheet
        .set_column_width(0, 26)?
        .set_column_width(1, 28)?
        .set_column_width(2, 100)?;
    let mut row = 0;
    for (name, value) in report.provenance() {
        sheet
            .write_string_with_format(row, 0, name, &styles.head)?
            .write_string(row, 1, value)?;
        row += 1;
    }
    for table in &report.tables {
        row += 1;
        sheet.write_string_with_format(row, 0, table.id, &styles.head)?;
        sheet.write_string_with_format(row, 1, table.title, &styles.head)?;
        sheet.write_string_with_format(row, 2, table.sources, &styles.wrapped)?;
        row += 1;
        for column in &table.columns {
            sheet
                .write_string(row, 0, column.name)?
                .write_string(row, 1, column.words)?;
            sheet.write_string_with_format(row, 2, column.definition, &styles.wrapped)?;
            row += 1;
        }
        for note in &table.foot {
            sheet.write_string_with_format(row, 2, note, &styles.wrapped)?;
            row += 1;
        }
    }
    Ok(())
}

fn sheet(
    sheet: &mut Worksheet,
    table: &Table,
    styles: &Styles,
) -> std::result::Result<(), XlsxError> {
    for (place, column) in (0..).zip(&table.columns) {
        sheet.write_string_with_format(0, place, column.name, &styles.head)?;
        sheet.set_column_width(place, width(column))?;
    }
    for (line, cells) in (1..).zip(&table.rows) {
        for (place, cell) in (0..).zip(cells) {
            put(sheet, line, place, cell, styles)?;
        }
    }
    sheet.set_freeze_panes(1, narrow(u32::try_from(table.keys).unwrap_or(0)))?;
    Ok(())
}

fn width(column: &Column) -> f64 {
    match column.kind {
        Kind::Key => 24.0,
        Kind::Words => 40.0,
        _ => 12.0,
    }
}

#[expect(
    clippy::cast_precision_loss,
    reason = "a workbook knows no other number, and counts are far below 2^53"
)]
fn put(
    sheet: &mut Worksheet,
    row: u32,
    place: u16,
    cell: &Cell,
    styles: &Styles,
) -> std::result::Result<(), XlsxError> {
    match cell {
        Cell::Absent => {}
        Cell::Text(text) => {
            sheet.write_string(row, place, text)?;
        }
        Cell::Count(count) => {
            sheet.write_number(row, place, *count as f64)?;
        }
        Cell::Value(value) => {
            sheet.write_number_with_format(row, place, value.as_f64(), &styles.one_decimal)?;
        }
        Cell::Share { part, whole, per } => {
            if let Some(share) = figures::share(*part, *whole, *per) {
                sheet.write_number_with_format(row, place, share.as_f64(), &styles.one_decimal)?;
            }
        }
        Cell::Agreement(value) => {
            sheet.write_number_with_format(row, place, value.as_f64(), &styles.two_decimals)?;
        }
        Cell::Date(day) => {
            sheet.write_datetime_with_format(row, place, on(*day)?, &styles.day)?;
        }
    }
    Ok(())
}
