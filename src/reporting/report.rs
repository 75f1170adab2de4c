//! A month of one post or of all posts: its tables, and where they come from.

use polars_core::runtime::RAYON;

use super::frame::{self, Result};
use super::table::Table;
use super::{
    activity, births, caesarean_groups, flags, hands, loose_ends, rates, referrals, women,
};
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
///
/// Made on a thread of polars' own: from outside, each of some hundred small steps would wake one and wait for it.
pub(super) fn tables(lines: Extract, made_at: Moment) -> Result<Vec<Table>> {
    RAYON.install(|| made(lines, made_at))
}

fn made(lines: Extract, made_at: Moment) -> Result<Vec<Table>> {
    let died_undelivered = ending(&lines.ended, PregnancyEnding::MaternalDeath);
    let losses = ending(&lines.ended, PregnancyEnding::Loss);
    let new = (lines.mothers.len(), lines.opened.len());
    let flag_frame = frame::of(lines.flags.columns())?;
    let referral_frame = frame::of(lines.referrals.columns())?;
    let babies = births::judged(&lines.babies)?;
    let dangers = frame::of(lines.dangers.columns())?;
    let women = women::frame(&babies, frame::of(lines.women.columns())?, dangers.clone())?;
    let activity = activity::table(frame::of(lines.visits.columns())?, new.0, new.1)?;
    let by_urgency = referrals::by_urgency(referral_frame.clone(), made_at)?;
    let rates = rates::table(rates::Sources {
        opened: frame::of(lines.opened.columns())?,
        babies: &babies,
        women: &women,
        activity: &activity,
        referrals: &by_urgency,
        unknown_arrivals: referrals::arrived_at_an_unknown_time(referral_frame.clone(), made_at)?,
    })?;
    let loose = loose_ends::Sources {
        referrals: referral_frame.clone(),
        due: frame::of(lines.due.columns())?,
        babies: babies.clone(),
        flags: flags::followed(flag_frame.clone(), made_at)?,
    };
    Ok(vec![
        activity,
        flags::table(flag_frame, made_at)?,
        referrals::by_reason(referral_frame, frame::of(lines.reasons.columns())?, made_at)?,
        by_urgency,
        births::table(&babies, died_undelivered, losses)?,
        births::by_risk(&babies, dangers)?,
        rates,
        hands::palpation(&women)?,
        hands::height(&women)?,
        caesarean_groups::table(&women)?,
        loose_ends::table(loose, made_at)?,
    ])
}

fn ending(ended: &PregnancyLines, ending: PregnancyEnding) -> i64 {
    let of_that_kind = ended
        .iter()
        .filter(|line| line.ending == Some(ending.code()));
    i64::try_from(of_that_kind.count()).unwrap_or(i64::MAX)
}
