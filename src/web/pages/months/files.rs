//! Files of a month: the same tables, without names.

use actix_web::HttpResponse;
use actix_web::http::header::{CONTENT_DISPOSITION, CONTENT_TYPE};

use super::chosen::Chosen;
use super::month::page_error;
use crate::registry::months::Month;
use crate::reporting::export;
use crate::reporting::{Report, month_report};
use crate::web::answer::Answer;
use crate::web::audience::Reporter;
use crate::web::error::PageError;
use crate::web::form::Query;
use crate::web::path::Keys;
use crate::web::state::House;

const CSV: &str = "text/csv; charset=utf-8; header=present";
const XLSX: &str = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet";
const JSON: &str = "application/json";

/// `GET /months/{month}/files/{name}`: `flags.csv`, `tables.xlsx`, `tables.json`.
pub(in crate::web) async fn download(
    reporter: Reporter,
    house: House,
    Keys(month, name): Keys<Month, String>,
    Query(query): Query,
) -> Answer {
    let chosen = Chosen::read(&reporter, &house, query.last("post")).await?;
    let (scope, month, now) = (chosen.scope(), chosen.begun(month)?, house.now());
    let wanted = name.clone();
    let made = house
        .read(
            move |db| Ok(month_report(db, scope, month, now).map(|report| file(&report, &wanted))),
        )
        .await?
        .map_err(page_error)?;
    let (kind, bytes) = made.ok_or(PageError::Missing)??;
    let saved_as = format!("attachment; filename=\"{}-{month}-{name}\"", chosen.code());
    Ok(HttpResponse::Ok()
        .insert_header((CONTENT_TYPE, kind))
        .insert_header((CONTENT_DISPOSITION, saved_as))
        .body(bytes))
}

/// Kind and bytes of a file of that name; absent when there is none.
fn file(report: &Report, name: &str) -> Option<Result<(&'static str, Vec<u8>), PageError>> {
    let made = match name {
        "tables.xlsx" => export::xlsx::write(report).map(|bytes| (XLSX, bytes)),
        "tables.json" => export::json::write(report).map(|text| (JSON, text.into_bytes())),
        name => {
            export::csv::write(report.table(name.strip_suffix(".csv")?)?).map(|bytes| (CSV, bytes))
        }
    };
    Some(made.map_err(PageError::failed))
}
