//! A visit is written and judged, in one transaction.

use diesel::prelude::*;

use crate::clinical::{Assessment, Dating, Day, Moment};
use crate::registry::change::Change;
use crate::registry::error::{RegistryError, Result};
use crate::registry::findings::{self, Findings, Written};
use crate::registry::ids::{MotherId, PostId, PregnancyId, StaffId, VisitId};
use crate::registry::judging::{self, Added, RaisedBy};
use crate::registry::limits::trimmed;
use crate::registry::schema::{mothers, posts, pregnancies, visits};

/// A visit to record.
#[derive(Debug, Clone)]
pub struct NewVisit {
    /// In which pregnancy.
    pub pregnancy: PregnancyId,
    /// What was found.
    pub findings: Findings,
    /// Of the form; the same key again is the same visit.
    pub request_key: Option<String>,
}

/// The visit is in the register.
#[derive(Debug, Clone, PartialEq)]
pub struct Recorded {
    /// Its id.
    pub visit: VisitId,
    /// The judgement at its time; absent when the form came a second time, since nothing was written.
    pub assessment: Option<Assessment>,
}

#[derive(Insertable)]
#[diesel(table_name = visits)]
struct Row<'a> {
    id: VisitId,
    pregnancy_id: PregnancyId,
    mother_id: MotherId,
    post_id: PostId,
    at: Moment,
    entered_at: Moment,
    entered_by: StaffId,
    request_key: Option<&'a str>,
    revision: i32,
    entered_in_error: bool,
    next_visit_on: Option<Day>,
}

/// What a visit has to know of its pregnancy.
pub(super) struct Of {
    pub(super) mother: MotherId,
    pub(super) ended_at: Option<Moment>,
    pub(super) dating: Dating,
    pub(super) register_number: String,
}

impl Of {
    pub(super) fn refuse_after_end(&self, at: Moment) -> Result<()> {
        if self.ended_at.is_some_and(|ended| at > ended) {
            return Err(RegistryError::refused(
                "This pregnancy had ended by then. Open a new one on her page if she is pregnant again.",
            ));
        }
        Ok(())
    }
}

/// Records a visit: what was found, the flags that follow, the lines in the trail.
///
/// # Errors
/// `Missing` when this post has no such pregnancy; `RefusedField` for what cannot have been found;
/// `Refused` after the end of the pregnancy.
pub fn record(change: &mut Change<'_>, new: &NewVisit) -> Result<Recorded> {
    let post = change.post()?;
    if let Some(key) = &new.request_key {
        let known: Option<VisitId> = visits::table
            .filter(visits::request_key.eq(key).and(visits::post_id.eq(post)))
            .select(visits::id)
            .get_result(change.db())
            .optional()?;
        if let Some(visit) = known {
            change.nothing_new();
            return Ok(Recorded {
                visit,
                assessment: None,
            });
        }
    }
    let of = of(change, post, new.pregnancy)?;
    let now = change.now();
    let findings = Findings {
        note: trimmed(new.findings.note.as_ref()),
        ..new.findings.clone()
    };
    findings::refuse_impossible(&findings, &of.dating, now)?;
    of.refuse_after_end(findings.visit.at)?;
    let id = VisitId::made(now);
    let written = Written {
        revision: 1,
        at: now,
        by: change.author()?,
        reason: None,
    };
    let row = Row {
        id,
        pregnancy_id: new.pregnancy,
        mother_id: of.mother,
        post_id: post,
        at: findings.visit.at,
        entered_at: now,
        entered_by: written.by,
        request_key: new.request_key.as_deref(),
        revision: 1,
        entered_in_error: false,
        next_visit_on: findings.next_visit_on,
    };
    diesel::insert_into(visits::table)
        .values(&row)
        .execute(change.db())?;
    findings::store(change.db(), id, &findings, &written)?;
    change.tell("visit recorded", "visit", id.code(), of.register_number)?;
    let assessment = judging::assess_added(
        change,
        new.pregnancy,
        Added::Visit(id, &findings),
        (findings.visit.at, RaisedBy::visit(id)),
    )?;
    Ok(Recorded {
        visit: id,
        assessment: Some(assessment),
    })
}

/// Whose it is, when it ended, register number and letters of the post, last period and whether it is certain.
type Found = (
    MotherId,
    Option<Moment>,
    i32,
    String,
    Option<Day>,
    Option<bool>,
);

pub(super) fn of(change: &mut Change<'_>, post: PostId, pregnancy: PregnancyId) -> Result<Of> {
    let found: Option<Found> = pregnancies::table
        .inner_join(mothers::table.inner_join(posts::table))
        .filter(
            pregnancies::id
                .eq(pregnancy)
                .and(pregnancies::post_id.eq(post)),
        )
        .select((
            pregnancies::mother_id,
            pregnancies::ended_at,
            mothers::number,
            posts::code,
            pregnancies::lmp,
            pregnancies::lmp_certain,
        ))
        .get_result(change.db())
        .optional()?;
    let (mother, ended_at, number, code, lmp, lmp_certain) =
        found.ok_or(RegistryError::Missing("pregnancy"))?;
    Ok(Of {
        mother,
        ended_at,
        dating: Dating {
            lmp,
            lmp_certain,
            scans: judging::scans_of(change.db(), pregnancy)?,
        },
        register_number: format!("{code} {number:04}"),
    })
}
