//! The trail: one line for every write, each bound to the one before by a digest.
//!
//! A line that is changed or taken out from between others shows. The trail holds no mother's name.

use std::fmt::Write as _;

use diesel::prelude::*;
use sha2::{Digest, Sha256};

use super::connection::{Backend, Db};
use super::error::{RegistryError, Result};
use super::ids::{PostId, StaffId};
use super::schema::audit;
use crate::clinical::Moment;

/// One line of the trail.
#[derive(Debug, Clone, PartialEq, Eq, Queryable, Selectable, Insertable)]
#[diesel(table_name = audit, check_for_backend(Backend))]
pub struct Line {
    /// Its number, from 1 without a gap.
    pub seq: i32,
    /// When it was written.
    pub at: Moment,
    /// Who; absent for the program itself and for strangers.
    pub staff_id: Option<StaffId>,
    /// The name at that time.
    pub staff_name: String,
    /// The post of whoever acted.
    pub post_id: Option<PostId>,
    /// What happened, in words.
    pub verb: String,
    /// The kind of entry it happened to.
    pub about: String,
    /// The id of that entry.
    pub about_id: Option<String>,
    /// Register number, before and after.
    pub detail: String,
    /// Digest of the line before; empty in the first.
    pub previous: String,
    /// SHA-256 over `previous` and everything above, in hexadecimal.
    pub digest: String,
}

impl Line {
    /// Over a JSON list, whose quotes and commas leave no doubt where a field ends.
    fn digested(&self) -> Result<String> {
        let parts = (
            self.seq,
            self.at.and_utc().timestamp(),
            self.staff_id.as_ref().map(StaffId::code),
            &self.staff_name,
            self.post_id.as_ref().map(PostId::code),
            (&self.verb, &self.about, &self.about_id, &self.detail),
            &self.previous,
        );
        let text =
            serde_json::to_string(&parts).map_err(|error| RegistryError::Broken(error.into()))?;
        Ok(hexadecimal(&Sha256::digest(text)))
    }
}

/// Two letters a byte.
pub(in crate::registry) fn hexadecimal(bytes: &[u8]) -> String {
    bytes.iter().fold(String::new(), |mut text, byte| {
        let _ = write!(text, "{byte:02x}");
        text
    })
}

/// The end of the chain.
pub(in crate::registry) struct Head {
    seq: i32,
    digest: String,
}

impl Head {
    pub(in crate::registry) fn of(db: &mut Db) -> Result<Self> {
        let last: Option<(i32, String)> = audit::table
            .order(audit::seq.desc())
            .select((audit::seq, audit::digest))
            .first(db)
            .optional()?;
        let (seq, digest) = last.unwrap_or_default();
        Ok(Self { seq, digest })
    }

    /// Appends `line`, whose place in the chain is set here.
    pub(in crate::registry) fn append(&mut self, db: &mut Db, mut line: Line) -> Result<()> {
        line.seq = self.seq + 1;
        line.previous.clone_from(&self.digest);
        line.digest = line.digested()?;
        diesel::insert_into(audit::table)
            .values(&line)
            .execute(db)?;
        self.seq = line.seq;
        self.digest = line.digest;
        Ok(())
    }
}

/// What a check of the whole chain found.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ChainCheck {
    /// Lines that hold together, from the first.
    pub whole: i32,
    /// The first line that does not; absent when the chain is whole.
    pub broken_at: Option<i32>,
}

const AT_ONCE: i64 = 2_000;

/// Reads every line and computes every digest again.
///
/// # Errors
/// `Broken` when the database cannot be read.
pub fn check_chain(db: &mut Db) -> Result<ChainCheck> {
    let (mut whole, mut digest) = (0, String::new());
    loop {
        let lines: Vec<Line> = audit::table
            .filter(audit::seq.gt(whole))
            .order(audit::seq)
            .limit(AT_ONCE)
            .select(Line::as_select())
            .load(db)?;
        if lines.is_empty() {
            return Ok(ChainCheck {
                whole,
                broken_at: None,
            });
        }
        for line in lines {
            let holds = line.seq == whole + 1
                && line.previous == digest
                && line.digest == line.digested()?;
            if !holds {
                return Ok(ChainCheck {
                    whole,
                    broken_at: Some(whole + 1),
                });
            }
            whole = line.seq;
            digest = line.digest;
        }
    }
}

/// Computes the digests of the newest lines again, and follows them back from one to the next: quick at any age of the registry.
/// `whole` counts the lines that were looked at and hold.
///
/// # Errors
/// `Broken` when the database cannot be read.
pub fn check_newest(db: &mut Db, lines: i64) -> Result<ChainCheck> {
    let newest = page(db, &Filter::default(), None, lines)?;
    let mut expected: Option<(i32, &str)> = None;
    let mut whole = 0;
    for line in &newest {
        let follows = expected.is_none_or(|(seq, digest)| line.seq == seq && line.digest == digest);
        if !follows || line.digest != line.digested()? {
            return Ok(ChainCheck {
                whole,
                broken_at: Some(line.seq),
            });
        }
        expected = Some((line.seq - 1, &line.previous));
        whole += 1;
    }
    Ok(ChainCheck {
        whole,
        broken_at: None,
    })
}

/// Which lines of the trail to show; everything absent shows all.
#[derive(Debug, Clone, Default)]
pub struct Filter {
    /// Not before.
    pub from: Option<Moment>,
    /// Before.
    pub until: Option<Moment>,
    /// Of one person.
    pub staff: Option<StaffId>,
    /// By people of one post.
    pub post: Option<PostId>,
    /// With this verb.
    pub verb: Option<String>,
    /// Whose detail names this number of the register, or of a referral, in front.
    pub number: Option<String>,
    /// About entries of this kind.
    pub about: Option<String>,
    /// About this entry.
    pub about_id: Option<String>,
}

/// The next lines, newest first, with a number below `after`.
///
/// # Errors
/// `Broken` when the database cannot be read.
pub fn page(db: &mut Db, filter: &Filter, after: Option<i32>, lines: i64) -> Result<Vec<Line>> {
    let mut query = audit::table
        .order(audit::seq.desc())
        .limit(lines)
        .select(Line::as_select())
        .into_boxed();
    if let Some(after) = after {
        query = query.filter(audit::seq.lt(after));
    }
    if let Some(from) = filter.from {
        query = query.filter(audit::at.ge(from));
    }
    if let Some(until) = filter.until {
        query = query.filter(audit::at.lt(until));
    }
    if let Some(staff) = filter.staff {
        query = query.filter(audit::staff_id.eq(staff));
    }
    if let Some(post) = filter.post {
        query = query.filter(audit::post_id.eq(post));
    }
    if let Some(verb) = &filter.verb {
        query = query.filter(audit::verb.eq(verb));
    }
    if let Some(number) = &filter.number {
        let number = number
            .replace('\\', "\\\\")
            .replace('%', "\\%")
            .replace('_', "\\_");
        let followed_by = |mark: &str| audit::detail.like(format!("{number}{mark}%")).escape('\\');
        let alone = audit::detail.like(number.clone()).escape('\\');
        let of_a_referral = audit::detail.like(format!("%: {number},%")).escape('\\');
        query = query.filter(
            alone
                .or(followed_by(":"))
                .or(followed_by(","))
                .or(of_a_referral),
        );
    }
    if let Some(about) = &filter.about {
        query = query.filter(audit::about.eq(about));
    }
    if let Some(id) = &filter.about_id {
        query = query.filter(audit::about_id.eq(id));
    }
    Ok(query.load(db)?)
}

/// The verbs that occur, for the filter's choices.
///
/// # Errors
/// `Broken` when the database cannot be read.
pub fn verbs(db: &mut Db) -> Result<Vec<String>> {
    Ok(audit::table
        .select(audit::verb)
        .distinct()
        .order(audit::verb)
        .load(db)?)
}
