//! A month of one post or of all posts: its tables, and where they come from.

use super::frame::{self, Result};
use super::table::Table;
use super::{activity, births, flags, loose_ends, referrals};
use crate::clinical::Moment;
use crate::registry::PregnancyEnding;
use crate::registry::extract::{Extract, PregnancyLines};
use crate::registry::months::Month;

/// The tables of a month.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Report {
    /// Name of the post; absent when it sums all posts.
    pub post: Option<String>,
    /// The month, by each post's own clock.
    pub month: Month,
    /// As of when.
    pub made_at: Moment,
    /// The rules in force.
    pub rules_version: String,
    /// Early deaths can still come.
    pub provisional: bool,
    /// In the order of the reference.
    pub tables: Vec<Table>,
}

impl Report {
    /// “Quern Ford, October 2026”.
    #[must_use]
    pub fn heading(&self) -> String {
        format!(
            "{}, {}",
            self.post.as_deref().unwrap_or("All posts"),
            self.month.words()
        )
    }

    /// The table of that id.
    #[must_use]
    pub fn table(&self, id: &str) -> Option<&Table> {
        self.tables.iter().find(|table| table.id == id)
    }

    /// What a reader of the files must know of them, name and value.
    #[must_use]
    pub fn provenance(&self) -> Vec<(&'static str, String)> {
        let state = if self.provisional {
            "provisional: deaths in the first week can still come"
        } else {
            "final by the calendar; a late entry still changes it"
        };
        vec![
            ("post", self.post.clone().unwrap_or_else(|| "all posts".to_owned())),
            ("month", self.month.to_string()),
            ("made at (UTC)", self.made_at.and_utc().to_rfc3339_opts(chrono::SecondsFormat::Secs, true)),
            ("rules", self.rules_version.clone()),
            ("state", state.to_owned()),
            ("month of", "a visit: when it took place · a birth: when the first baby was born · a referral: when it was decided · a flag: when it was first raised; all by the post’s own clock".to_owned()),
            ("missing", "never means no: an answer that is missing is in neither count, and an empty cell is not nought".to_owned()),
            ("per cent", "one decimal, rounded half up in whole numbers; parts need not add to 100".to_owned()),
            ("people", "no name, telephone number or village is in any file".to_owned()),
            ("caution", "Support for trained staff. Follow your local protocol; the person at the bedside decides.".to_owned()),
        ]
    }
}

/// The tables, from the lines of the month.
pub(super) fn tables(extract: Extract, made_at: Moment) -> Result<Vec<Table>> {
    let Extract {
        mothers,
        opened,
        due,
        ended,
        visits,
        flags,
        referrals,
        reasons,
        babies,
    } = extract;
    let died_undelivered = ending(&ended, PregnancyEnding::MaternalDeath);
    let losses = ending(&ended, PregnancyEnding::Loss);
    let flag_frame = frame::of(flags.columns())?;
    let referral_frame = frame::of(referrals.columns())?;
    let baby_frame = births::judged(&babies)?;
    let loose = loose_ends::Sources {
        referrals: referral_frame.clone(),
        due: frame::of(due.columns())?,
        babies: baby_frame.clone(),
        flags: flags::followed(flag_frame.clone(), made_at)?,
    };
    Ok(vec![
        activity::table(frame::of(visits.columns())?, mothers.len(), opened.len())?,
        flags::table(flag_frame, made_at)?,
        referrals::by_reason(
            referral_frame.clone(),
            frame::of(reasons.columns())?,
            made_at,
        )?,
        referrals::by_urgency(referral_frame, made_at)?,
        births::table(&baby_frame, died_undelivered, losses)?,
        loose_ends::table(loose, made_at)?,
    ])
}

fn ending(ended: &PregnancyLines, ending: PregnancyEnding) -> i64 {
    let of_that_kind = ended
        .iter()
        .filter(|line| line.ending == Some(ending.code()));
    i64::try_from(of_that_kind.count()).unwrap_or(i64::MAX)
}
