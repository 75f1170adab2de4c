//! What a nurse's Today is made of, read at one moment.

use chrono::TimeDelta;

use crate::clinical::{Assessment, Moment, assess};
use crate::registry::due::{self, Answered};
use crate::registry::flags::{self, Waiting as Flagged};
use crate::registry::judging;
use crate::registry::labours::{self, Labour};
use crate::registry::mothers::Line;
use crate::registry::referrals::{self, Waiting as Referred};
use crate::registry::{self, Db, today};
use crate::web::session::Seat;
use crate::web::spoken;

/// A visit missed for longer is asked after by her due date.
const MISSED_SHOWN_DAYS: i64 = 60;
/// Whose birth was not recorded; more stand among the loose ends of their months.
const UNRECORDED: i64 = 20;
/// An answer stays on the page for so long.
const ANSWERS_SHOWN: TimeDelta = TimeDelta::days(3);
/// Now flags that wait for a referral.
const NOW_FLAGS: i64 = 20;

/// Everything that waits at a post.
pub(super) struct Known {
    /// In labour, with what the record says now.
    pub(super) labours: Vec<(Labour, Assessment)>,
    /// To be looked at again today.
    pub(super) again: Vec<Flagged>,
    /// Due to come today or before.
    pub(super) due: Vec<Line>,
    /// Expected tomorrow.
    pub(super) tomorrow: Vec<Line>,
    /// Referrals that wait for leaving, arrival or answer.
    pub(super) referrals: Vec<Referred>,
    pub(super) answers: Vec<Answered>,
    /// Due date passed, no birth.
    pub(super) unrecorded: Vec<Line>,
    /// `now` flags that nobody decided about.
    pub(super) now_flags: Vec<Flagged>,
}

impl Known {
    pub(super) fn read(db: &mut Db, seat: &Seat, now: Moment) -> registry::Result<Self> {
        let today = spoken::local_day(now, seat.zone);
        let tomorrow = today + TimeDelta::days(1);
        let mut in_labour = Vec::new();
        for labour in labours::in_labour(db, seat.id)? {
            let assessment = assess(&judging::case_of(db, labour.pregnancy, now)?);
            in_labour.push((labour, assessment));
        }
        let waiting = flags::waiting(db, seat.id, None, NOW_FLAGS)?;
        Ok(Self {
            labours: in_labour,
            again: flags::check_again(db, seat.id, spoken::day_begins(tomorrow, seat.zone))?,
            due: today::due_to_come(db, seat.id, today, MISSED_SHOWN_DAYS)?,
            tomorrow: today::expected_on(db, seat.id, tomorrow)?,
            referrals: referrals::waiting(db, seat.id, now, None, 200)?.lines,
            answers: due::answered(db, seat.id, now - ANSWERS_SHOWN)?,
            unrecorded: today::births_not_recorded(db, seat.id, today, UNRECORDED)?,
            now_flags: waiting
                .into_iter()
                .filter(|line| line.flag.urgency == crate::clinical::Urgency::Now)
                .collect(),
        })
    }
}
