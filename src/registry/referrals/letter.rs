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
use super::super::vocabulary::{FlagDecision, ReferralEvent};
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
    /// Everything found, as of the moment of printing; once she has left or stayed, as of then.
    pub case: Case,
    /// What it comes to.
    pub assessment: Assessment,
    /// Every flag that stood then and was not dismissed.
    pub flags: Vec<Flag>,
    /// The record of this labour, when there is one that is no error.
    pub labour: Option<Labour>,
}

/// Reads what the letter of a referral says at the moment `on`; a letter printed again says what went with her.
///
/// # Errors
/// `Missing` when this post has no such referral.
pub fn letter(db: &mut Db, post: PostId, id: ReferralId, on: Moment) -> Result<LetterFacts> {
    let about = facts(db, post, id)?;
    let went = [ReferralEvent::Left, ReferralEvent::StoodDown]
        .into_iter()
        .find_map(|event| about.step(event))
        .map(|step| step.at.unwrap_or(step.entered_at));
    let on = went.map_or(on, |went| went.min(on));
    let pregnancy = pregnancies::find(db, post, about.referral.pregnancy_id)?;
    let (village, phone) = mothers::table
        .find(about.referral.mother_id)
        .select((mothers::village, mothers::phone))
        .get_result(db)?;
    let case = judging::case_of(db, pregnancy.id, on)?;
    let assessment = assess(&case);
    let mut flags = flags::of_pregnancy(db, pregnancy.id)?;
    flags.retain(|flag| stood(flag, on));
    for flag in flags.iter_mut().filter(|flag| flag.last_raised_at > on) {
        // The flag follows later records by now; the letter keeps to what was known.
        let then = assessment.flags.iter().find(|said| said.rule == flag.rule);
        if let Some(said) = then {
            (flag.urgency, flag.evidence) = (said.urgency, said.evidence.clone());
        }
    }
    flags.sort_by_key(|flag| (flag.urgency, flag.category));
    let mut labours = labours::of_pregnancy(db, post, pregnancy.id)?;
    labours.retain(|record| record.opened_at <= on && !record.was_none());
    Ok(LetterFacts {
        assessment,
        post: posts::find(db, post)?,
        labour: labours.into_iter().next(),
        about,
        village,
        phone,
        pregnancy,
        case,
        flags,
    })
}

/// Raised by then, not closed by then, and not dismissed by then.
fn stood(flag: &Flag, on: Moment) -> bool {
    let dismissed = flag.decision == Some(FlagDecision::Dismissed);
    flag.raised_at <= on
        && flag.closed_at.is_none_or(|closed| closed > on)
        && !(dismissed && flag.decided_at.is_none_or(|decided| decided <= on))
}
