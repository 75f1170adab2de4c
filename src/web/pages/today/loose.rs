//! The loose ends of the running month: the same table that is printed with it.

use crate::clinical::Moment;
use crate::registry::PostId;
use crate::registry::months::Month;
use crate::reporting::{ReportError, Scope, month_report};
use crate::web::error::PageError;
use crate::web::state::House;

/// One row that is not nought, and where its lines stand.
pub(super) struct End {
    pub(super) words: String,
    pub(super) href: String,
    pub(super) count: i64,
}

/// What the month lacks, row by row.
pub(super) async fn of(
    house: &House,
    post: PostId,
    month: Month,
    now: Moment,
) -> Result<Vec<End>, PageError> {
    let report = house
        .read(move |db| Ok(month_report(db, Scope::One(post), month, now)))
        .await?;
    let report = match report {
        Ok(report) => report,
        Err(ReportError::Registry(error)) => return Err(error.into()),
        Err(error @ ReportError::Table(_)) => return Err(PageError::failed(error)),
    };
    let table = report.table("loose-ends");
    let rows = table.iter().flat_map(|table| table.rows.iter());
    let end = |row: &Vec<crate::reporting::table::Cell>| {
        let what = row.first()?.plain();
        let count = row.get(1)?.count().filter(|count| *count > 0)?;
        Some(End {
            href: place(&what).map_or_else(|| format!("/months/{month}"), str::to_owned),
            words: beginning_large(&what),
            count,
        })
    };
    Ok(rows.filter_map(end).collect())
}

/// The page where lines of this row can be mended; the month itself where there is none.
fn place(what: &str) -> Option<&'static str> {
    Some(match what {
        "open referrals without arrival" | "arrived without an answer" => "/referrals",
        "answered without outcome" => "/referrals?show=answered",
        "flags not reviewed" => "/review",
        what if what.starts_with("births without") => "/births?show=missing",
        "due date passed without birth" => "/births?show=not-recorded",
        _ => return None,
    })
}

fn beginning_large(words: &str) -> String {
    let mut rest = words.chars();
    let first = rest.next().into_iter().flat_map(char::to_uppercase);
    first.chain(rest).collect()
}
