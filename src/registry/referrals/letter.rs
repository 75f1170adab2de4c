//! Everything that the letter to the hospital says, read at one moment.

use diesel::prelude::*;

use super::super::connection::Db;
use super::super::error::Result;
use super::super::flags::{self, Flag};
use super::super::ids::{PostId, ReferralId};
use super::super::judging;
use super::super::labours::{self, Labour};
use super::super::posts::{self, Post};
use super::super::pregnancies::{self, Pregnancy};
use super::super::schema::mothers;
use super::super::vocabulary::FlagDecision;
use super::read::{Facts, facts};
use crate::clinical::{Assessment, Case, Moment, assess};

/// What a letter is made of.
#[derive(Debug, Clone)]
pub struct LetterFacts {
    /// The referral with its steps.
    pub about: Facts,
    /// From which post.
    pub post: Post,
    /// Her village, when told.
    pub village: Option<String>,
    /// Her phone, when told.
    pub phone: Option<String>,
    /// The pregnancy.
    pub pregnancy: Pregnancy,
    /// Everything found, as of the moment of printing.
    pub case: Case,
    /// What it comes to.
    pub assessment: Assessment,
    /// Every standing flag that was not dismissed.
    pub flags: Vec<Flag>,
    /// The record of this labour, when there is one that is no error.
    pub labour: Option<Labour>,
}

/// Reads what the letter of a referral says at the moment `on`.
///
/// # Errors
/// `Missing` when this post has no such referral.
pub fn letter(db: &mut Db, post: PostId, id: ReferralId, on: Moment) -> Result<LetterFacts> {
    let about = facts(db, post, id)?;
    let pregnancy = pregnancies::find(db, post, about.referral.pregnancy_id)?;
    let (village, phone) = mothers::table
        .find(about.referral.mother_id)
        .select((mothers::village, mothers::phone))
        .get_result(db)?;
    let case = judging::case_of(db, pregnancy.id, on)?;
    let mut flags = flags::standing(db, pregnancy.id)?;
    flags.retain(|flag| flag.decision != Some(FlagDecision::Dismissed));
    let labours = labours::of_pregnancy(db, post, pregnancy.id)?;
    Ok(LetterFacts {
        assessment: assess(&case),
        post: posts::find(db, post)?,
        labour: labours.into_iter().find(|record| !record.was_none()),
        about,
        village,
        phone,
        pregnancy,
        case,
        flags,
    })
}
