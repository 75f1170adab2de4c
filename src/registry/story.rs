//! Everything the register holds about one mother, in the order of time.

use diesel::prelude::*;

use super::connection::{Backend, Db};
use super::error::Result;
use super::flags::{self, Flag};
use super::ids::{
    BirthId, HospitalId, LabourId, MotherId, PostId, PregnancyId, ReferralId, VisitId,
};
use super::mothers::{self, Mother};
use super::pregnancies::{self, Pregnancy};
use super::schema::{births, hospitals, labours, newborns, referrals, staff, visits};
use super::visits as visit_room;
use super::visits::Findings;
use super::vocabulary::{
    BirthPlace, BirthPresentation, LabourEnding, Mode, NewbornState, ReferralState, Sex,
};
use crate::clinical::{Day, Moment, Urgency};

/// A mother's page.
#[derive(Debug, Clone)]
pub struct Story {
    /// Who.
    pub mother: Mother,
    /// Her pregnancies, the newest first.
    pub chapters: Vec<Chapter>,
}

/// One pregnancy with what happened in it.
#[derive(Debug, Clone)]
pub struct Chapter {
    /// Which.
    pub pregnancy: Pregnancy,
    /// The newest first.
    pub events: Vec<Event>,
}

/// Something that happened.
#[derive(Debug, Clone)]
pub struct Event {
    /// When; of a birth whose time is not known the beginning of its day in UTC.
    pub at: Moment,
    /// What.
    pub what: Happening,
}

/// What can happen in a pregnancy.
#[derive(Debug, Clone)]
pub enum Happening {
    /// A visit that stands.
    Visit(Box<Seen>),
    /// A flag, at the moment it was raised.
    Flag(Box<Flag>),
    /// A labour record, at its opening.
    Labour(LabourLine),
    /// A referral, at its decision.
    Referral(ReferralLine),
    /// A birth.
    Birth(BirthLine),
}

/// A visit on her page.
#[derive(Debug, Clone)]
pub struct Seen {
    /// Its id.
    pub id: VisitId,
    /// What was found.
    pub findings: Findings,
    /// Who entered it.
    pub by: String,
    /// It was amended.
    pub amended: bool,
}

/// A labour record on her page.
#[derive(Debug, Clone, Queryable, Selectable)]
#[diesel(table_name = labours, check_for_backend(Backend))]
pub struct LabourLine {
    /// Its id.
    pub id: LabourId,
    /// When it was opened.
    pub opened_at: Moment,
    /// When it was closed.
    pub closed_at: Option<Moment>,
    /// How.
    pub closed_as: Option<LabourEnding>,
}

/// A referral on her page.
#[derive(Debug, Clone, Queryable, Selectable)]
#[diesel(table_name = referrals, check_for_backend(Backend))]
pub struct ReferralLine {
    /// Its id.
    pub id: ReferralId,
    /// `QF-2026-088`.
    pub number: String,
    /// How soon.
    pub urgency: Urgency,
    /// Where it stands.
    pub state: ReferralState,
    /// When it was decided.
    pub decided_at: Moment,
    /// Where to.
    pub hospital_id: HospitalId,
    /// Where to, by name.
    #[diesel(select_expression = hospitals::name)]
    pub hospital: String,
    /// It is in the register by mistake.
    pub entered_in_error: bool,
}

/// A birth on her page.
#[derive(Debug, Clone)]
pub struct BirthLine {
    /// Its id.
    pub id: BirthId,
    /// The local day of the first baby.
    pub born_on: Day,
    /// The babies in order.
    pub babies: Vec<BabyLine>,
    /// It is in the register by mistake.
    pub entered_in_error: bool,
}

/// A baby on her page.
#[derive(Debug, Clone, PartialEq, Eq, Queryable, Selectable)]
#[diesel(table_name = newborns, check_for_backend(Backend))]
pub struct BabyLine {
    birth_id: BirthId,
    /// 1 for the first.
    pub position: i32,
    /// Where.
    pub place: BirthPlace,
    /// How.
    pub mode: Mode,
    /// What came first.
    pub presentation: BirthPresentation,
    /// As seen.
    pub sex: Option<Sex>,
    /// Grams.
    pub weight_g: Option<i32>,
    /// Alive or stillborn.
    pub state: NewbornState,
    /// The baby died afterwards.
    pub died: bool,
}

/// Everything about a mother of a post.
///
/// # Errors
/// `Missing` when there is no such mother at this post.
pub fn tell(db: &mut Db, post: PostId, mother: MotherId) -> Result<Story> {
    let mother = mothers::find(db, post, mother)?;
    let mut chapters = Vec::new();
    for pregnancy in pregnancies::of_mother(db, mother.id)? {
        let mut events = events_of(db, pregnancy.id)?;
        // At one moment the visit comes before the flag that it raised; the page begins with the newest.
        events.sort_by_key(|event| event.at);
        events.reverse();
        chapters.push(Chapter { pregnancy, events });
    }
    Ok(Story { mother, chapters })
}

fn events_of(db: &mut Db, pregnancy: PregnancyId) -> Result<Vec<Event>> {
    let mut events = seen(db, pregnancy)?;
    let opened: Vec<LabourLine> = labours::table
        .filter(labours::pregnancy_id.eq(pregnancy))
        .order(labours::id)
        .select(LabourLine::as_select())
        .load(db)?;
    events.extend(opened.into_iter().map(|line| Event {
        at: line.opened_at,
        what: Happening::Labour(line),
    }));
    let raised = flags::of_pregnancy(db, pregnancy)?;
    events.extend(raised.into_iter().map(|flag| Event {
        at: flag.raised_at,
        what: Happening::Flag(Box::new(flag)),
    }));
    let decided: Vec<ReferralLine> = referrals::table
        .inner_join(hospitals::table)
        .filter(referrals::pregnancy_id.eq(pregnancy))
        .order(referrals::id)
        .select(ReferralLine::as_select())
        .load(db)?;
    events.extend(decided.into_iter().map(|line| Event {
        at: line.decided_at,
        what: Happening::Referral(line),
    }));
    events.extend(born(db, pregnancy)?);
    Ok(events)
}

fn seen(db: &mut Db, pregnancy: PregnancyId) -> Result<Vec<Event>> {
    let by: Vec<(VisitId, i32, String)> = visits::table
        .inner_join(staff::table)
        .filter(visits::pregnancy_id.eq(pregnancy))
        .select((visits::id, visits::revision, staff::name))
        .load(db)?;
    let found = visit_room::of_pregnancy(db, pregnancy)?;
    let event = |(id, findings): (VisitId, Findings)| {
        let entered = by.iter().find(|(visit, ..)| *visit == id);
        Event {
            at: findings.visit.at,
            what: Happening::Visit(Box::new(Seen {
                id,
                findings,
                by: entered.map(|(.., name)| name.clone()).unwrap_or_default(),
                amended: entered.is_some_and(|(_, revision, _)| *revision > 1),
            })),
        }
    };
    Ok(found.into_iter().map(event).collect())
}

fn born(db: &mut Db, pregnancy: PregnancyId) -> Result<Vec<Event>> {
    let entries: Vec<(BirthId, Day, Option<Moment>, bool)> = births::table
        .filter(births::pregnancy_id.eq(pregnancy))
        .select((
            births::id,
            births::born_on,
            births::born_at,
            births::entered_in_error,
        ))
        .load(db)?;
    let babies: Vec<BabyLine> = newborns::table
        .inner_join(births::table.on(births::id.eq(newborns::birth_id)))
        .filter(births::pregnancy_id.eq(pregnancy))
        .filter(births::revision.eq(newborns::revision))
        .order(newborns::position)
        .select(BabyLine::as_select())
        .load(db)?;
    let event =
        |(id, born_on, born_at, entered_in_error): (BirthId, Day, Option<Moment>, bool)| Event {
            at: born_at.unwrap_or(born_on.and_time(chrono::NaiveTime::MIN)),
            what: Happening::Birth(BirthLine {
                id,
                born_on,
                babies: babies
                    .iter()
                    .filter(|baby| baby.birth_id == id)
                    .cloned()
                    .collect(),
                entered_in_error,
            }),
        };
    Ok(entries.into_iter().map(event).collect())
}
