//! One woman and her pregnancy as pages of labour, referral and birth show her on top.

use crate::clinical::{Assessment, Case, Moment, UnknownReason, assess};
use crate::registry::mothers::{self, Mother};
use crate::registry::posts::{self, Post};
use crate::registry::pregnancies::{self, Pregnancy};
use crate::registry::{self, Db, MotherId, PostId, PregnancyId, RegistryError, judging};
use crate::web::error::PageError;
use crate::web::form::Typed;
use crate::web::spoken;
use crate::web::state::House;

/// Everything known of her at one moment.
pub(super) struct Hers {
    pub(super) mother: Mother,
    pub(super) pregnancy: Pregnancy,
    pub(super) post: Post,
    pub(super) case: Case,
    pub(super) assessment: Assessment,
}

/// A mother's pregnancy that lasts.
pub(super) fn lasting(
    db: &mut Db,
    post: PostId,
    mother: MotherId,
) -> registry::Result<PregnancyId> {
    let mother = mothers::find(db, post, mother)?;
    let lasting = pregnancies::lasting(db, mother.id)?;
    Ok(lasting.ok_or(RegistryError::Missing("open pregnancy"))?.id)
}

/// Whose pregnancy an address asks for, by `pregnancy` or by `mother`; absent when it names nobody.
pub(super) async fn asked_for(
    query: &Typed,
    house: &House,
    post: PostId,
) -> Result<Option<PregnancyId>, PageError> {
    if let Ok(pregnancy) = query.last("pregnancy").parse() {
        return Ok(Some(pregnancy));
    }
    if let Ok(mother) = query.last("mother").parse() {
        let found = house.read(move |db| lasting(db, post, mother)).await?;
        return Ok(Some(found));
    }
    if query.has("mother") || query.has("pregnancy") {
        return Err(PageError::Missing);
    }
    Ok(None)
}

impl Hers {
    pub(super) fn read(
        db: &mut Db,
        post: PostId,
        pregnancy: PregnancyId,
        now: Moment,
    ) -> registry::Result<Self> {
        let pregnancy = pregnancies::find(db, post, pregnancy)?;
        let case = judging::case_of(db, pregnancy.id, now)?;
        Ok(Self {
            mother: mothers::find(db, post, pregnancy.mother_id)?,
            post: posts::find(db, post)?,
            assessment: assess(&case),
            pregnancy,
            case,
        })
    }

    /// `QF 0131`, its parts joined.
    pub(super) fn register(&self) -> String {
        joined(&self.post.register_number(self.mother.number))
    }

    /// `39w+2d`, or why it is not known.
    pub(super) fn gestation(&self) -> String {
        match (&self.assessment.gestation, self.assessment.gestation_reason) {
            (Some(known), _) => known.text(),
            (None, Some(why)) => format!("not known: {}", UnknownReason::words(why)),
            (None, None) => "not known".to_owned(),
        }
    }

    pub(super) fn due(&self) -> String {
        let due = self
            .assessment
            .gestation
            .as_ref()
            .map(|known| spoken::day(known.edd));
        due.unwrap_or_else(|| "not known".to_owned())
    }

    pub(super) fn births_before(&self) -> String {
        match self.pregnancy.facts.births_before {
            None => "not known".to_owned(),
            Some(0) => "none".to_owned(),
            Some(births) => births.to_string(),
        }
    }

    pub(super) fn age(&self) -> String {
        let age = self.mother.age_on(self.post.day(self.case.on));
        age.map_or_else(|| "not known".to_owned(), |years| years.to_string())
    }

    pub(super) fn village(&self) -> String {
        self.mother
            .village
            .clone()
            .unwrap_or_else(|| "not told".to_owned())
    }

    pub(super) fn companion(&self) -> String {
        let companion = self.pregnancy.facts.companion.clone();
        companion.unwrap_or_else(|| "not told".to_owned())
    }

    pub(super) fn scar(&self) -> String {
        match self.pregnancy.facts.previous_caesareans {
            None => "not told".to_owned(),
            Some(0) => "none".to_owned(),
            Some(1) => "one caesarean".to_owned(),
            Some(more) => format!("{more} caesareans"),
        }
    }

    /// What the hands said last, and when: `lie lengthwise, head first, clear (25 Nov 2026, 08:40)`.
    pub(super) fn hands(&self) -> String {
        let seen = self
            .case
            .visits
            .iter()
            .filter(|visit| visit.at <= self.case.on);
        let last = seen.max_by_key(|visit| visit.at);
        match (last, &self.assessment.palpation) {
            (Some(visit), Some(read)) => format!(
                "{}, {}, {} ({})",
                read.lie.words(),
                read.presentation.words(),
                read.certainty.words(),
                moment(&self.post, visit.at)
            ),
            _ => "not examined".to_owned(),
        }
    }

    pub(super) fn in_labour(&self) -> String {
        match &self.assessment.labour {
            None => "not in labour".to_owned(),
            Some(labour) => match labour.highest_cm {
                Some(cm) => format!("in labour, {cm}\u{a0}cm"),
                None => "in labour".to_owned(),
            },
        }
    }
}

/// Parts of a register number that must not be torn apart.
pub(super) fn joined(register: &str) -> String {
    register.replace(' ', "\u{a0}")
}

/// `24 Nov 2026, 20:41` by the clock of the post.
pub(super) fn moment(post: &Post, moment: Moment) -> String {
    post.local(moment)
        .format("%-d\u{a0}%b %Y, %H:%M")
        .to_string()
}

/// `20:41` today, else `24 Nov, 20:41`, by the clock of the post.
pub(super) fn short(post: &Post, moment: Moment, now: Moment) -> String {
    let local = post.local(moment);
    if local.date() == post.day(now) {
        local.format("%H:%M").to_string()
    } else {
        local.format("%-d\u{a0}%b, %H:%M").to_string()
    }
}
