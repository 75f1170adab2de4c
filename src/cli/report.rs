//! `report`: the tables of a month as files.

use std::path::PathBuf;

use anyhow::{Context, Result, bail};

use super::data::Data;
use super::{Outcome, clock, post, terminal};
use crate::registry::extract::{self, ReportingPost};
use crate::registry::months::Month;
use crate::reporting::export::{Format, folder};
use crate::reporting::{Scope, line_list, month_report};

/// What `report` is told.
#[derive(clap::Args)]
pub(super) struct Args {
    #[command(flatten)]
    data: Data,
    /// The month, as 2026-10
    #[arg(long, value_name = "MONTH")]
    month: Month,
    /// Name or code of one post; all posts together when left out
    #[arg(long, value_name = "NAME")]
    post: Option<String>,
    /// Folder for the files, made when absent
    #[arg(long, value_name = "DIR")]
    out: PathBuf,
    /// csv, xlsx, json, parquet
    #[arg(long, value_name = "LIST", value_delimiter = ',', default_value = "csv", value_parser = format)]
    format: Vec<Format>,
}

fn format(typed: &str) -> std::result::Result<Format, String> {
    typed
        .trim()
        .parse()
        .map_err(|_| "choose among csv, xlsx, json and parquet, joined by commas".to_owned())
}

/// Writes the files and says where each stands.
pub(super) fn run(args: &Args) -> Result<Outcome> {
    let registry = args.data.open_existing()?;
    let now = clock::now();
    let posts = registry
        .read(extract::posts)
        .context("cannot read the posts")?;
    let chosen = post::chosen(&posts, args.post.as_deref(), &args.data)?;
    let begun = |post: &&ReportingPost| args.month <= Month::of(now, post.zone);
    if !chosen.map_or_else(
        || posts.iter().any(|post| begun(&post)),
        |post| begun(&post),
    ) {
        bail!(
            "{} has not begun yet; choose an earlier month",
            args.month.words()
        );
    }
    let scope = chosen.map_or(Scope::AllPosts, |post| Scope::One(post.id));
    let with_lines = args.format.contains(&Format::Parquet);
    // One reading for both, so that the lines are those behind the tables.
    let (report, lines) = registry.read(|db| {
        let report = month_report(db, scope, args.month, now);
        let lines = if with_lines {
            line_list(db, scope, args.month, now)
        } else {
            Ok(Vec::new())
        };
        Ok((report, lines))
    })?;
    let report = report.context("cannot make the tables")?;
    let lines = lines.context("cannot read the lines")?;
    let mut formats = args.format.clone();
    formats.sort_unstable();
    formats.dedup();
    let files = folder::files(&report, &lines, &formats)?;
    let written = folder::write(&args.out, &report, &files).with_context(|| {
        format!(
            "cannot write into {}; choose another folder with --out",
            args.out.display()
        )
    })?;
    for path in written {
        terminal::say(&path.display().to_string())?;
    }
    Ok(Outcome::Done)
}
