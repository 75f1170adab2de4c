//! A table of a month as a page shows it: bases and pairs stand small beside their figure, nothing as a dash.

use crate::clinical::{Category, Urgency};
use crate::registry::BirthPlace;
use crate::reporting::table::{Cell, Column, Kind, Table};
use crate::reporting::{figures, interval};
use crate::web::spoken;

/// Below it a page shows the counts and never the rate alone [O: one event moves the rate by 5 points or more].
const SMALL: i64 = 20;

/// A table.
#[derive(Default)]
pub(super) struct Section {
    pub(super) id: &'static str,
    pub(super) title: &'static str,
    pub(super) corner: &'static str,
    pub(super) heads: Vec<&'static str>,
    pub(super) lines: Vec<Line>,
    /// The row that counts each unit once.
    pub(super) total: Option<Line>,
    pub(super) notes: Vec<String>,
    pub(super) meanings: Vec<(String, String)>,
    pub(super) sources: &'static str,
}

/// A row.
pub(super) struct Line {
    pub(super) words: String,
    pub(super) urgency: Option<Urgency>,
    pub(super) cells: Vec<Shown>,
}

/// A cell.
pub(super) struct Shown {
    pub(super) label: &'static str,
    pub(super) main: String,
    /// The figure is a rate, and stands out.
    pub(super) strong: bool,
    pub(super) small: String,
}

impl Shown {
    /// Nought or nothing: left out where room is scarce.
    pub(super) fn nil(&self) -> bool {
        self.main == "0" || self.main == "–"
    }
}

impl Section {
    /// The table of a place, a post or all posts together.
    pub(super) fn of(table: &Table, place: &str) -> Self {
        let shown = shown_columns(table);
        let heads = shown.iter().map(|column| column.words).collect();
        let mut lines: Vec<Line> = table
            .rows
            .iter()
            .map(|row| line(table, row, &shown, place))
            .collect();
        let has_total = table.keys > 0
            && table
                .rows
                .last()
                .is_some_and(|row| row[0] == Cell::Text("all".to_owned()));
        let total = if has_total { lines.pop() } else { None };
        Self {
            id: table.id,
            title: table.title,
            corner: corner(table),
            heads,
            lines,
            total,
            notes: table.foot.clone(),
            meanings: meanings(table),
            sources: table.sources,
        }
    }

    /// Below the address of the month.
    pub(super) fn file(&self) -> String {
        format!("/files/{}.csv", self.id)
    }

    /// No row but the one that counts all.
    pub(super) fn is_empty(&self) -> bool {
        self.lines.is_empty() && self.total.is_some()
    }

    /// What would fill a table that has no row.
    pub(super) fn would_fill(&self) -> &'static str {
        match self.id {
            "flags" => "A visit or a labour record raises flags.",
            _ => "A referral stands here in the month in which it is decided.",
        }
    }

    pub(super) fn rows_in_words(&self) -> String {
        format!("All {} rows", self.lines.len())
    }
}

/// What is counted: by column, and of the rates by row.
fn meanings(table: &Table) -> Vec<(String, String)> {
    let said = |column: &&Column| !column.definition.is_empty();
    let columns = table
        .columns
        .iter()
        .filter(said)
        .map(|column| (column.words.to_owned(), column.definition.to_owned()));
    let of_row = |row: &Vec<Cell>| {
        let text = |name: &str| table.cell(row, name).plain();
        (
            text("indicator"),
            format!("{} Source: {}.", text("definition"), text("source")),
        )
    };
    let rows = table
        .rows
        .iter()
        .filter(|_| table.id == "rates")
        .map(of_row);
    columns.chain(rows).collect()
}

fn corner(table: &Table) -> &'static str {
    match (table.keys, table.columns.first()) {
        (0, _) => "Post",
        (1, Some(column)) => column.words,
        _ => "Category and urgency",
    }
}

/// The columns with a place of their own: a base stands beside its count, a count that a share follows in the share.
fn shown_columns(table: &Table) -> Vec<&Column> {
    let named = |names: &[&str]| {
        let named = |column: &&Column| names.contains(&column.name);
        table.columns.iter().filter(named).collect()
    };
    match table.id {
        "rates" => return named(&["value", "unknown"]),
        "palpation-check" | "height-check" => return named(&["numerator", "value", "published"]),
        _ => {}
    }
    let columns = table.columns.iter().enumerate().skip(table.keys);
    let folded = |place: usize, column: &Column| {
        let follows = |ahead: usize| table.columns.get(place + ahead).map(|next| next.kind);
        let in_share = |kind: Option<Kind>| matches!(kind, Some(Kind::Percent { part, .. }) if part == column.name);
        let is_pairs = table
            .columns
            .iter()
            .any(|other| matches!(other.kind, Kind::Hours { pairs } if pairs == column.name));
        is_pairs || column.name.ends_with("_base") || in_share(follows(1)) || in_share(follows(2))
    };
    columns
        .filter(|(place, column)| !folded(*place, column))
        .map(|(_, column)| column)
        .collect()
}

fn line(table: &Table, row: &[Cell], shown: &[&Column], place: &str) -> Line {
    let urgency = (0..table.keys).find_map(|key| row.get(key)?.plain().parse::<Urgency>().ok());
    let words = match row.first().filter(|_| table.keys > 0).map(Cell::plain) {
        None => place.to_owned(),
        Some(code) if code == "all" => format!("All {}", total_of(table.id)),
        Some(_) if table.id == "referrals-by-urgency" => String::new(),
        Some(_) if table.id == "rates" => table.cell(row, "indicator").plain(),
        Some(code) if table.id == "caesarean-groups" && code.len() < 3 => format!("Group {code}"),
        Some(code) if code == "none" => "No flag".to_owned(),
        Some(code) => words_of(&code),
    };
    Line {
        words,
        urgency,
        cells: shown
            .iter()
            .map(|column| cell(table, row, column))
            .collect(),
    }
}

fn total_of(table: &str) -> &'static str {
    match table {
        "flags" => "flags",
        "births" | "births-by-risk" => "births",
        "caesarean-groups" => "women",
        _ => "referrals",
    }
}

fn words_of(code: &str) -> String {
    if let Ok(category) = code.parse::<Category>() {
        return category.words().to_owned();
    }
    if let Ok(place) = code.parse::<BirthPlace>() {
        return with_capital(place.words());
    }
    with_capital(code)
}

fn with_capital(text: &str) -> String {
    let mut letters = text.chars();
    letters
        .next()
        .map(|first| first.to_uppercase().chain(letters).collect())
        .unwrap_or_default()
}

fn cell(table: &Table, row: &[Cell], column: &Column) -> Shown {
    let count = |name: &str| table.cell(row, name).count();
    let value = table.cell(row, column.name);
    let plain = |main: String, small: String| Shown {
        label: column.words,
        main,
        strong: false,
        small,
    };
    match (value, column.kind) {
        (Cell::Absent, _) => plain(dash(), String::new()),
        (Cell::Share { part, whole, per }, _) => share(column.words, *part, *whole, *per),
        (Cell::Date(day), _) => plain(spoken::day(*day), String::new()),
        (_, Kind::Hours { pairs }) => {
            let of = count(pairs).map(|pairs| format!("of {pairs}"));
            plain(value.plain() + "\u{a0}h", of.unwrap_or_default())
        }
        (Cell::Count(number), _) => {
            let base = count(&format!("{}_base", column.name)).filter(|_| *number != 0);
            plain(
                spoken::figure(*number),
                base.map(|base| format!("of {base}")).unwrap_or_default(),
            )
        }
        _ => plain(value.plain(), String::new()),
    }
}

/// Counts and interval; the rate itself only from twenty on.
fn share(label: &'static str, part: i64, whole: i64, per: i64) -> Shown {
    let unit = if per == 100 {
        "%".to_owned()
    } else {
        format!("per\u{a0}{per}")
    };
    let counts = format!("{part} of {whole}");
    let rate = figures::share(part, whole, per).zip(interval::limits(part, whole, per));
    let (main, strong, small) = match rate {
        None => (dash(), false, String::new()),
        Some((_, (low, high))) if whole < SMALL => {
            (counts, false, format!("{low} to {high}\u{a0}{unit}"))
        }
        Some((rate, (low, high))) => (
            format!("{rate}\u{a0}{unit}"),
            true,
            format!("{counts} · {low} to {high}\u{a0}{unit}"),
        ),
    };
    Shown {
        label,
        main,
        strong,
        small,
    }
}

fn dash() -> String {
    "–".to_owned()
}

#[cfg(test)]
mod tests {
    use super::share;

    #[test]
    fn under_twenty_the_counts_stand_there_and_never_the_rate_alone() {
        let shown = |part, whole, per| {
            let shown = share("", part, whole, per);
            (
                shown.main.replace('\u{a0}', " "),
                shown.small.replace('\u{a0}', " "),
            )
        };
        assert_eq!(shown(4, 7, 100), ("4 of 7".into(), "25.0 to 84.2 %".into()));
        assert_eq!(shown(19, 19, 100).0, "19 of 19");
        assert_eq!(
            shown(20, 20, 100),
            ("100.0 %".into(), "20 of 20 · 83.9 to 100.0 %".into())
        );
        assert_eq!(
            shown(12, 380, 1000),
            (
                "31.6 per 1000".into(),
                "12 of 380 · 18.2 to 54.4 per 1000".into()
            )
        );
        assert_eq!(shown(0, 0, 100), ("–".into(), String::new()));
    }
}
