//! The monthly tables, held against months that were counted by hand.
#![allow(clippy::unwrap_used, reason = "a test stops at the first surprise")]

mod activity;
mod births;
mod files;
mod flags;
mod groups;
mod hands;
mod loose_ends;
mod rates;
mod referrals;
mod risk;

use brimline::clinical::{Day, Moment};
use brimline::registry::extract::Extract;
use brimline::reporting::table::Table;

/// `2026-10-01T08:00:00Z`.
fn at(text: &str) -> Moment {
    Moment::parse_from_str(text, "%Y-%m-%dT%H:%M:%SZ").unwrap()
}

fn day(text: &str) -> Day {
    text.parse().unwrap()
}

/// The table of that id, made of these lines on 20 November 2026.
fn table(id: &str, lines: &Extract) -> Table {
    table_as_of(id, lines, "2026-11-20T12:00:00Z")
}

fn table_as_of(id: &str, lines: &Extract, as_of: &str) -> Table {
    let tables = brimline::reporting::tables(lines.clone(), at(as_of)).unwrap();
    tables.into_iter().find(|table| table.id == id).unwrap()
}

/// The row of these keys as text, with its columns: `decided 8, left 5`.
#[track_caller]
fn row(table: &Table, keys: &[&str], columns: &[&str]) -> String {
    let row = table
        .row(keys)
        .unwrap_or_else(|| panic!("{}: no row {keys:?}", table.id));
    let cell = |name: &&str| {
        assert!(
            table.place_of(name).is_some(),
            "{}: no column {name}",
            table.id
        );
        let plain = table.cell(row, name).plain();
        let shown = if plain.is_empty() { "-" } else { &plain };
        format!("{name} {shown}")
    };
    columns.iter().map(cell).collect::<Vec<_>>().join(", ")
}
