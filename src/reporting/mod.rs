//! Tables, files and their figures.
//!
//! `registry::extract` gives the lines of a month, [`month_report`] makes tables of them, [`export`] makes files.
//! Knows no page, and the tables never know a name.

mod activity;
pub mod births;
mod caesarean_groups;
pub mod changes;
pub mod export;
pub mod figures;
mod flags;
mod frame;
mod hands;
pub mod interval;
pub mod letter;
mod loose_ends;
mod rates;
mod referrals;
pub mod replay;
mod report;
pub mod table;
mod women;

pub use report::Report;

use crate::clinical::{Moment, RULES_VERSION};
use crate::registry::extract::{self, Extract, ReportingPost};
use crate::registry::months::Month;
use crate::registry::{Db, PostId, RegistryError};

/// Whose months are summed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Scope {
    /// One post.
    One(PostId),
    /// All posts of the district.
    AllPosts,
}

/// A report could not be made.
#[derive(Debug, thiserror::Error)]
pub enum ReportError {
    /// The registry refused or failed.
    #[error(transparent)]
    Registry(#[from] RegistryError),
    /// A table could not be made of the lines.
    #[error("a table of the month could not be made")]
    Table(#[source] Box<dyn std::error::Error + Send + Sync>),
}

/// The tables of a month of one post or of all, as of `made_at`.
///
/// # Errors
/// `Registry` when there is no such post or the database fails, `Table` when we are at fault.
pub fn month_report(
    db: &mut Db,
    scope: Scope,
    month: Month,
    made_at: Moment,
) -> Result<Report, ReportError> {
    let posts = posts(db, scope)?;
    let lines = extract::month(db, &posts, month, made_at)?;
    let provisional = |post: &ReportingPost| month.is_provisional(made_at, post.zone);
    Ok(Report {
        post: match scope {
            Scope::One(_) => posts.first().map(|post| post.name.clone()),
            Scope::AllPosts => None,
        },
        month,
        made_at,
        rules_version: RULES_VERSION.to_owned(),
        provisional: posts.iter().any(provisional),
        tables: tables(lines, made_at)?,
    })
}

/// The tables of these lines, as of `made_at`.
///
/// # Errors
/// `Table` when we are at fault.
pub fn tables(lines: Extract, made_at: Moment) -> Result<Vec<table::Table>, ReportError> {
    report::tables(lines, made_at).map_err(|fault| ReportError::Table(fault.into()))
}

/// The lines behind the tables of a month: a name for each kind, and its columns.
///
/// # Errors
/// `Registry` when there is no such post or the database fails.
pub fn line_list(
    db: &mut Db,
    scope: Scope,
    month: Month,
    made_at: Moment,
) -> Result<Vec<export::folder::Lines>, ReportError> {
    let posts = posts(db, scope)?;
    let lines = extract::month(db, &posts, month, made_at)?;
    Ok(vec![
        ("pregnancies", lines.opened.columns()),
        ("visits", lines.visits.columns()),
        ("flags", lines.flags.columns()),
        ("referrals", lines.referrals.columns()),
        ("referral-reasons", lines.reasons.columns()),
        ("babies", lines.babies.columns()),
    ])
}

fn posts(db: &mut Db, scope: Scope) -> Result<Vec<ReportingPost>, RegistryError> {
    let mut posts = extract::posts(db)?;
    if let Scope::One(wanted) = scope {
        posts.retain(|post| post.id == wanted);
        if posts.is_empty() {
            return Err(RegistryError::Missing("post"));
        }
    }
    Ok(posts)
}
