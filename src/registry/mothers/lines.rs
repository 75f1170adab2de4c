//! A mother on a line: what stands about her now.

use diesel::prelude::*;

use super::Mother;
use crate::clinical::{Category, Day, Moment, Urgency};
use crate::registry::connection::{Backend, Db};
use crate::registry::error::Result;
use crate::registry::ids::{MotherId, PregnancyId};
use crate::registry::schema::{flags, hospitals, labours, pregnancies, referrals, visits};
use crate::registry::vocabulary::{FlagDecision, PregnancyEnding, ReferralState};

/// Her last pregnancy, in short.
#[derive(Debug, Clone, PartialEq, Eq, Queryable, Selectable)]
#[diesel(table_name = pregnancies, check_for_backend(Backend))]
pub struct Course {
    /// Its id.
    pub id: PregnancyId,
    mother_id: MotherId,
    /// By the dating in force; absent when not known.
    pub due_date: Option<Day>,
    /// When it ended; absent while it lasts.
    pub ended_at: Option<Moment>,
    /// How it ended.
    pub ending: Option<PregnancyEnding>,
}

/// A standing flag, in short.
#[derive(Debug, Clone, PartialEq, Eq, Queryable, Selectable)]
#[diesel(table_name = flags, check_for_backend(Backend))]
pub struct Raised {
    mother_id: MotherId,
    /// Its kind.
    pub category: Category,
    /// As last judged.
    pub urgency: Urgency,
    /// Absent while it waits for the midwife.
    pub decision: Option<FlagDecision>,
    /// When to look again.
    pub recheck_at: Option<Moment>,
}

/// A mother with what stands about her now.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Line {
    /// Who.
    pub mother: Mother,
    /// Her last pregnancy.
    pub course: Option<Course>,
    /// When she was seen last in it.
    pub last_visit_at: Option<Moment>,
    /// The day agreed at her last visit.
    pub next_visit_on: Option<Day>,
    /// Flags that stand, by urgency.
    pub flags: Vec<Raised>,
    /// A labour record is open.
    pub in_labour: bool,
    /// The hospital of a referral that is on its way or waits for an answer.
    pub referred_to: Option<String>,
}

/// The lines of these mothers, in their order; six queries whatever their number.
pub(in crate::registry) fn of(db: &mut Db, mothers: Vec<Mother>) -> Result<Vec<Line>> {
    let ids: Vec<MotherId> = mothers.iter().map(|mother| mother.id).collect();
    let courses: Vec<Course> = pregnancies::table
        .filter(pregnancies::mother_id.eq_any(&ids))
        .filter(
            pregnancies::ending
                .is_null()
                .or(pregnancies::ending.ne(PregnancyEnding::EnteredInError)),
        )
        .order((pregnancies::opened_at, pregnancies::id))
        .select(Course::as_select())
        .load(db)?;
    let last_course = |id: MotherId| {
        courses
            .iter()
            .rfind(|course| course.mother_id == id)
            .cloned()
    };
    let current: Vec<PregnancyId> = ids
        .iter()
        .filter_map(|id| last_course(*id))
        .map(|course| course.id)
        .collect();
    let seen: Vec<(PregnancyId, Moment, Option<Day>)> = visits::table
        .filter(visits::pregnancy_id.eq_any(&current))
        .filter(visits::entered_in_error.eq(false))
        .order((visits::at, visits::id))
        .select((visits::pregnancy_id, visits::at, visits::next_visit_on))
        .load(db)?;
    // By pregnancy, which has an index in each of these; by mother they would be read whole.
    let all: Vec<PregnancyId> = courses.iter().map(|course| course.id).collect();
    let mut raised: Vec<Raised> = flags::table
        .filter(flags::pregnancy_id.eq_any(&all))
        .filter(flags::closed_at.is_null())
        .order(flags::id)
        .select(Raised::as_select())
        .load(db)?;
    raised.sort_by_key(|flag| (flag.urgency, flag.category));
    let in_labour: Vec<MotherId> = labours::table
        .filter(labours::pregnancy_id.eq_any(&all))
        .filter(labours::closed_at.is_null())
        .select(labours::mother_id)
        .load(db)?;
    let under_way = [
        ReferralState::Decided,
        ReferralState::Left,
        ReferralState::Arrived,
        ReferralState::Seen,
    ];
    let referred: Vec<(MotherId, String)> = referrals::table
        .inner_join(hospitals::table)
        .filter(referrals::pregnancy_id.eq_any(&all))
        .filter(referrals::state.eq_any(under_way))
        .filter(referrals::entered_in_error.eq(false))
        .order((referrals::decided_at, referrals::id))
        .select((referrals::mother_id, hospitals::name))
        .load(db)?;
    let line = |mother: Mother| {
        let course = last_course(mother.id);
        let last = course
            .as_ref()
            .and_then(|course| seen.iter().rfind(|(of, ..)| *of == course.id));
        Line {
            last_visit_at: last.map(|(_, at, _)| *at),
            next_visit_on: last.and_then(|(.., next)| *next),
            flags: raised
                .iter()
                .filter(|flag| flag.mother_id == mother.id)
                .cloned()
                .collect(),
            in_labour: in_labour.contains(&mother.id),
            referred_to: referred
                .iter()
                .rfind(|(of, _)| *of == mother.id)
                .map(|(_, name)| name.clone()),
            course,
            mother,
        }
    };
    Ok(mothers.into_iter().map(line).collect())
}
