//! The files of a month: the same figures in each, the same bytes each time.

use brimline::clinical::RULES_VERSION;
use brimline::registry::extract::{Extract, FlagLine, VisitLine};
use brimline::reporting::changes::since_signing;
use brimline::reporting::export::{csv, json, xlsx};
use brimline::reporting::{Report, tables};

use crate::at;

fn report(post: Option<&str>, made_at: &str) -> Report {
    let mut lines = Extract::default();
    for height in [Some(300), None, Some(310)] {
        lines.visits.push(VisitLine {
            in_labour: Some(false),
            twins_known: Some(false),
            gestation_days: Some(230),
            fundal_height_tenths: height,
            ..VisitLine::default()
        });
    }
    Report {
        post: post.map(str::to_owned),
        month: "2026-10".parse().unwrap(),
        made_at: at(made_at),
        rules_version: RULES_VERSION.to_owned(),
        provisional: false,
        tables: tables(lines, at(made_at)).unwrap(),
    }
}

#[test]
fn the_tables_come_in_the_order_of_the_reference() {
    let ids: Vec<&str> = report(None, "2026-11-20T12:00:00Z")
        .tables
        .iter()
        .map(|table| table.id)
        .collect();
    let expected = [
        "activity",
        "flags",
        "referrals-by-reason",
        "referrals-by-urgency",
        "births",
        "births-by-risk",
        "rates",
        "palpation-check",
        "height-check",
        "caesarean-groups",
        "loose-ends",
    ];
    assert_eq!(ids, expected);
}

#[test]
fn every_row_is_as_long_as_its_heading() {
    for table in report(None, "2026-11-20T12:00:00Z").tables {
        assert!(!table.rows.is_empty(), "{}", table.id);
        assert!(
            table
                .rows
                .iter()
                .all(|row| row.len() == table.columns.len()),
            "{}",
            table.id
        );
    }
}

#[test]
fn csv_has_a_header_and_no_table_a_formula() {
    let report = report(None, "2026-11-20T12:00:00Z");
    let activity =
        String::from_utf8(csv::write(report.table("activity").unwrap()).unwrap()).unwrap();
    assert_eq!(
        activity,
        "mothers_registered,pregnancies_opened,visits,labour_visits,gestation_known,gestation_known_percent,height_taken,height_base,\
         height_taken_percent\r\n0,0,3,0,3,100.0,2,3,66.7\r\n"
    );
}

#[test]
fn json_holds_numbers_as_numbers_and_nothing_as_null() {
    let text = json::write(&report(Some("Quern Ford"), "2026-11-20T12:00:00Z")).unwrap();
    let read: serde_json::Value = serde_json::from_str(&text).unwrap();
    assert_eq!(
        (read["post"].as_str(), read["month"].as_str()),
        (Some("Quern Ford"), Some("2026-10"))
    );
    assert_eq!(read["made_at"].as_str(), Some("2026-11-20T12:00:00Z"));
    assert_eq!(read["rules_version"].as_str(), Some(RULES_VERSION));
    let activity = &read["tables"][0];
    assert_eq!(activity["columns"][8], "height_taken_percent");
    assert_eq!(
        activity["rows"][0].to_string(),
        "[0,0,3,0,3,100.0,2,3,66.7]"
    );
    assert_eq!(read["tables"][3]["rows"][0][16], serde_json::Value::Null);
    let all: serde_json::Value =
        serde_json::from_str(&json::write(&report(None, "2026-11-20T12:00:00Z")).unwrap()).unwrap();
    assert_eq!(all["post"], serde_json::Value::Null);
}

#[test]
fn the_same_lines_give_the_same_bytes_but_for_the_time_of_making() {
    let (one, other) = (
        report(None, "2026-11-20T12:00:00Z"),
        report(None, "2026-11-21T12:00:00Z"),
    );
    for (one, other) in one.tables.iter().zip(&other.tables) {
        assert_eq!(
            csv::write(one).unwrap(),
            csv::write(other).unwrap(),
            "{}",
            one.id
        );
    }
    let without_time = |report| {
        let lines = json::write(report).unwrap();
        lines
            .lines()
            .filter(|line| !line.contains("made_at"))
            .collect::<Vec<_>>()
            .join("\n")
    };
    assert_eq!(without_time(&one), without_time(&other));
    assert_eq!(xlsx::write(&one).unwrap(), xlsx::write(&one).unwrap());
}

#[test]
fn what_changed_since_signing_is_found_cell_by_cell() {
    let signed = report(Some("Quern Ford"), "2026-11-20T12:00:00Z");
    let figures = json::write(&signed).unwrap();
    let mut now = report(Some("Quern Ford"), "2026-11-25T12:00:00Z");
    assert_eq!(
        since_signing(&figures, &now),
        Some(Vec::new()),
        "another time of making is no change"
    );
    let mut lines = Extract::default();
    lines.flags.push(FlagLine {
        category: Some("breech"),
        urgency: Some("soon"),
        raised_at: Some(at("2026-10-05T08:00:00Z")),
        ..FlagLine::default()
    });
    now.tables[1] = tables(lines, now.made_at).unwrap().swap_remove(1);
    let changed = since_signing(&figures, &now).unwrap();
    let told: Vec<String> = changed
        .iter()
        .map(|it| {
            format!(
                "{} {} {}: {} -> {}",
                it.table,
                it.row.join("."),
                it.column,
                it.then,
                it.now
            )
        })
        .collect();
    assert_eq!(
        told,
        [
            "flags breech.soon Raised:  -> 1",
            "flags breech.soon Still open:  -> 1",
            "flags all.all Raised: 0 -> 1",
            "flags all.all Still open: 0 -> 1",
        ]
    );
    let back = since_signing(&json::write(&now).unwrap(), &signed).unwrap();
    assert_eq!(back.len(), 4, "a row that went is told too: {back:?}");
    assert_eq!(since_signing("not figures", &signed), None);
}
