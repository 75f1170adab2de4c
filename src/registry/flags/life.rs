//! From one judgement to the flags that stand after it.

use diesel::prelude::*;

use super::raisings::{self, Raising};
use super::{Flag, RaisedBy, of_pregnancy};
use crate::clinical::{self, Assessment, Moment, RULES_VERSION, Urgency};
use crate::registry::change::Change;
use crate::registry::error::Result;
use crate::registry::ids::{FlagId, MotherId, PostId, PregnancyId};
use crate::registry::schema::flags;
use crate::registry::vocabulary::{FlagClosing, FlagDecision};

/// One judgement of one pregnancy.
pub(in crate::registry) struct Judged<'a> {
    pub(in crate::registry) pregnancy: PregnancyId,
    pub(in crate::registry) mother: MotherId,
    pub(in crate::registry) post: PostId,
    /// For the trail.
    pub(in crate::registry) register_number: &'a str,
    pub(in crate::registry) on: Moment,
    pub(in crate::registry) by: RaisedBy,
    pub(in crate::registry) assessment: &'a Assessment,
}

/// Raises what the judgement says, raises standing flags again, settles what `settles` says is answered.
pub(in crate::registry) fn update(
    change: &mut Change<'_>,
    judged: &Judged<'_>,
    settles: impl Fn(&[&Flag]) -> Vec<bool>,
) -> Result<()> {
    let known = of_pregnancy(change.db(), judged.pregnancy)?;
    let mut raised = Vec::new();
    for said in &judged.assessment.flags {
        let standing = known
            .iter()
            .find(|flag| flag.stands() && flag.rule == said.rule);
        let flag = match standing {
            Some(flag) => {
                raise_again(change, judged, flag, said)?;
                flag.id
            }
            None if stays_silent(&known, said, judged) => continue,
            None => raise(change, judged, said)?,
        };
        raised.extend(judged.by.visit.map(|visit| Raising::of(visit, flag, said)));
    }
    if let Some(visit) = judged.by.visit {
        raisings::keep(change.db(), visit, &known, &raised)?;
    }
    let silent: Vec<&Flag> = known
        .iter()
        .filter(|flag| {
            flag.stands()
                && !judged
                    .assessment
                    .flags
                    .iter()
                    .any(|said| said.rule == flag.rule)
        })
        .collect();
    for (flag, answered) in silent.iter().zip(settles(&silent)) {
        // Once in danger, not taken off the list by one better number, nor by an amendment.
        if flag.highest != Urgency::Now && (corrected(flag, judged) || answered) {
            settle(change, judged, flag)?;
        }
    }
    Ok(())
}

/// The very record that raised it was amended and raises it no more [O: what was never found needs no further examination].
fn corrected(flag: &Flag, judged: &Judged<'_>) -> bool {
    judged.by.is_some() && flag.visit_id == judged.by.visit && flag.labour_row_id == judged.by.row
}

/// Reviewed once is enough for some rules; a dismissed flag comes back only by a later record.
fn stays_silent(known: &[Flag], said: &clinical::Flag, judged: &Judged<'_>) -> bool {
    let mut reviewed = known
        .iter()
        .filter(|flag| flag.rule == said.rule && flag.decision.is_some());
    let once = clinical::rule(said.rule).is_some_and(|rule| rule.once);
    let dismissed = |flag: &Flag| {
        let later = judged.by.is_some()
            && !corrected(flag, judged)
            && flag.decided_at.is_none_or(|decided| judged.on > decided);
        flag.decision == Some(FlagDecision::Dismissed) && !later
    };
    if once {
        reviewed.next().is_some()
    } else {
        reviewed.any(dismissed)
    }
}

fn raise(change: &mut Change<'_>, judged: &Judged<'_>, said: &clinical::Flag) -> Result<FlagId> {
    let flag = Flag {
        id: FlagId::made(change.now()),
        pregnancy_id: judged.pregnancy,
        mother_id: judged.mother,
        post_id: judged.post,
        rule: said.rule.to_owned(),
        category: said.category,
        urgency: said.urgency,
        highest: said.urgency,
        evidence: said.evidence.clone(),
        advice: said.advice.clone(),
        source: said.source.clone(),
        rules_version: RULES_VERSION.to_owned(),
        raised_at: judged.on,
        visit_id: judged.by.visit,
        labour_row_id: judged.by.row,
        last_raised_at: judged.on,
        recheck_at: said.recheck_at,
        decision: None,
        decided_at: None,
        decided_by: None,
        reason: None,
        closing: None,
        closed_at: None,
        closed_by_visit: None,
        revision: 1,
    };
    diesel::insert_into(flags::table)
        .values(&flag)
        .execute(change.db())?;
    tell(
        change,
        judged,
        "flag raised",
        flag.id,
        said.rule,
        said.urgency,
    )?;
    Ok(flag.id)
}

fn raise_again(
    change: &mut Change<'_>,
    judged: &Judged<'_>,
    flag: &Flag,
    said: &clinical::Flag,
) -> Result<()> {
    let highest = flag.highest.min(said.urgency);
    if judged.on < flag.last_raised_at {
        // An entry that came late: what was judged after it stays, but no urgency is lost.
        diesel::update(flags::table.find(flag.id))
            .set(flags::highest.eq(highest))
            .execute(change.db())?;
        return Ok(());
    }
    let differs = flag.urgency != said.urgency
        || flag.evidence != said.evidence
        || flag.recheck_at != said.recheck_at;
    diesel::update(flags::table.find(flag.id))
        .set((
            flags::urgency.eq(said.urgency),
            flags::highest.eq(highest),
            flags::evidence.eq(&said.evidence),
            flags::advice.eq(&said.advice),
            flags::source.eq(&said.source),
            flags::rules_version.eq(RULES_VERSION),
            flags::last_raised_at.eq(judged.on),
            flags::recheck_at.eq(said.recheck_at),
            flags::revision.eq(flag.revision + i32::from(differs)),
        ))
        .execute(change.db())?;
    if said.urgency >= flag.highest {
        return Ok(());
    }
    // What she confirmed was less urgent than this: it waits for her again.
    if flag.decision.is_some() {
        diesel::update(flags::table.find(flag.id))
            .set((
                flags::decision.eq(None::<FlagDecision>),
                flags::decided_at.eq(None::<Moment>),
                flags::decided_by.eq(None::<String>),
                flags::reason.eq(None::<String>),
            ))
            .execute(change.db())?;
    }
    tell(
        change,
        judged,
        "flag more urgent",
        flag.id,
        said.rule,
        said.urgency,
    )
}

fn settle(change: &mut Change<'_>, judged: &Judged<'_>, flag: &Flag) -> Result<()> {
    diesel::update(flags::table.find(flag.id))
        .set((
            flags::closing.eq(FlagClosing::Settled),
            flags::closed_at.eq(judged.on),
            flags::closed_by_visit.eq(judged.by.visit),
            flags::revision.eq(flag.revision + 1),
        ))
        .execute(change.db())?;
    tell(
        change,
        judged,
        "flag settled",
        flag.id,
        &flag.rule,
        flag.urgency,
    )
}

fn tell(
    change: &mut Change<'_>,
    judged: &Judged<'_>,
    verb: &'static str,
    id: FlagId,
    rule: &str,
    urgency: Urgency,
) -> Result<()> {
    let detail = format!("{}: {rule}, {}", judged.register_number, urgency.code());
    change.tell(verb, "flag", id.code(), detail)
}

/// Closes every standing flag because the pregnancy ended.
pub(in crate::registry) fn end_all(
    change: &mut Change<'_>,
    pregnancy: PregnancyId,
    at: Moment,
) -> Result<()> {
    let standing = flags::table
        .filter(flags::pregnancy_id.eq(pregnancy))
        .filter(flags::closed_at.is_null());
    diesel::update(standing)
        .set((
            flags::closing.eq(FlagClosing::Ended),
            flags::closed_at.eq(at),
            flags::revision.eq(flags::revision + 1),
        ))
        .execute(change.db())?;
    Ok(())
}

/// Opens again what only the end of the pregnancy had closed.
pub(in crate::registry) fn reopen_ended(
    change: &mut Change<'_>,
    pregnancy: PregnancyId,
) -> Result<()> {
    let ended = flags::table
        .filter(flags::pregnancy_id.eq(pregnancy))
        .filter(flags::closing.eq(FlagClosing::Ended));
    diesel::update(ended)
        .set((
            flags::closing.eq(None::<FlagClosing>),
            flags::closed_at.eq(None::<Moment>),
            flags::revision.eq(flags::revision + 1),
        ))
        .execute(change.db())?;
    Ok(())
}
