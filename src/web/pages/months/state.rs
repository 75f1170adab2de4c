//! Where a month stands: still running, waiting for its signature, signed, changed since.

use chrono_tz::Tz;

use super::chosen::Chosen;
use crate::clinical::Moment;
use crate::registry::months::{self, Signature};
use crate::reporting::Report;
use crate::reporting::changes::{Changed, since_signing};
use crate::web::spoken;

/// So many changed figures stand on the page; a longer list helps nobody.
const MOST_CHANGES: usize = 60;

/// Where the month stands, and what there is to do.
pub(super) enum State {
    /// Several posts: who has not signed.
    Several { unsigned: Vec<String> },
    /// It goes on.
    Running,
    /// Over and not signed; `late` is empty as long as it is not late.
    Unsigned { due: String, late: String },
    /// Signed.
    Signed {
        by: String,
        at: String,
        changes: Changes,
    },
    /// The kept figures cannot be compared.
    SignedLongAgo { by: String, at: String },
}

/// Figures that are no longer those signed.
pub(super) struct Changes {
    pub(super) lines: Vec<ChangedLine>,
    /// All of them: “18 figures”.
    pub(super) all: String,
    /// Those that do not stand there: “3 figures”, or empty.
    pub(super) more: String,
}

/// One of them.
pub(super) struct ChangedLine {
    pub(super) place: String,
    pub(super) column: &'static str,
    pub(super) then: String,
    pub(super) now: String,
}

impl State {
    /// The state of the month of a report, for one post or for several.
    pub(super) fn of(
        report: &Report,
        signature: Option<&Signature>,
        unsigned: &[String],
        chosen: &Chosen,
        now: Moment,
    ) -> Self {
        if chosen.post.is_none() {
            return Self::Several {
                unsigned: unsigned.to_vec(),
            };
        }
        if let Some(signature) = signature {
            return signed(signature, report, chosen.zone);
        }
        if !report.month.is_over(now, chosen.zone) {
            return Self::Running;
        }
        let due = report.month.sign_by();
        let days = months::local_day(now, chosen.zone)
            .signed_duration_since(due)
            .num_days();
        let late = if days > 0 {
            spoken::count(days, "day", "days")
        } else {
            String::new()
        };
        Self::Unsigned {
            due: spoken::day(due),
            late,
        }
    }
}

fn signed(signature: &Signature, report: &Report, zone: Tz) -> State {
    let by = signature.signed_by.clone();
    let at = spoken::moment(signature.signed_at, zone);
    match since_signing(&signature.figures, report) {
        None => State::SignedLongAgo { by, at },
        Some(changed) => State::Signed {
            by,
            at,
            changes: Changes::of(&changed, report),
        },
    }
}

impl Changes {
    fn of(changed: &[Changed], report: &Report) -> Self {
        let more = changed.len().saturating_sub(MOST_CHANGES);
        Self {
            lines: changed
                .iter()
                .take(MOST_CHANGES)
                .map(|one| ChangedLine::of(one, report))
                .collect(),
            all: figures(changed.len()),
            more: if more > 0 {
                figures(more)
            } else {
                String::new()
            },
        }
    }
}

impl ChangedLine {
    fn of(changed: &Changed, report: &Report) -> Self {
        let title = report
            .table(changed.table)
            .map_or(changed.table, |table| table.title);
        let mut row = changed.row.clone();
        row.dedup(); // “all, all” is said once
        let place = if row.is_empty() {
            title.to_owned()
        } else {
            format!("{title}: {}", row.join(", "))
        };
        Self {
            place,
            column: changed.column,
            then: or_dash(&changed.then),
            now: or_dash(&changed.now),
        }
    }
}

fn or_dash(text: &str) -> String {
    if text.is_empty() {
        "–".to_owned()
    } else {
        text.to_owned()
    }
}

fn figures(number: usize) -> String {
    spoken::count(
        i64::try_from(number).unwrap_or(i64::MAX),
        "figure",
        "figures",
    )
}
