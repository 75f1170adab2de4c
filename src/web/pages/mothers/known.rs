//! Everything the register knows of one mother, read at one moment, sorted for the page.

use crate::clinical::Moment;
use crate::registry::flags::{self, Flag};
use crate::registry::mothers::Mother;
use crate::registry::posts::{self, Post};
use crate::registry::pregnancies::Pregnancy;
use crate::registry::story::{
    self, BirthLine, Chapter, Event, Happening, LabourLine, ReferralLine, Seen,
};
use crate::registry::{self, Db, FlagId, MotherId, PostId, ReferralState};

/// A mother, her post and her pregnancies, the newest first.
pub(super) struct Known {
    pub(super) post: Post,
    pub(super) mother: Mother,
    pub(super) courses: Vec<Course>,
}

/// One pregnancy with all that happened in it; each kind in the order of time.
pub(super) struct Course {
    pub(super) pregnancy: Pregnancy,
    pub(super) visits: Vec<Seen>,
    pub(super) flags: Vec<Flag>,
    /// In which words her visits raised them first.
    pub(super) first_words: Vec<(FlagId, String)>,
    pub(super) labours: Vec<LabourLine>,
    pub(super) referrals: Vec<ReferralLine>,
    pub(super) births: Vec<(Moment, BirthLine)>,
}

impl Known {
    pub(super) fn read(db: &mut Db, post: PostId, id: MotherId) -> registry::Result<Self> {
        let told = story::tell(db, post, id)?;
        let mut courses: Vec<Course> = told.chapters.into_iter().map(Course::of).collect();
        for course in &mut courses {
            course.first_words = flags::first_words(db, course.pregnancy.id)?;
        }
        Ok(Self {
            post: posts::find(db, post)?,
            mother: told.mother,
            courses,
        })
    }

    /// The pregnancy that lasts.
    pub(super) fn lasting(&self) -> Option<&Course> {
        self.courses
            .iter()
            .find(|course| course.pregnancy.ended_at.is_none())
    }
}

impl Course {
    fn of(chapter: Chapter) -> Self {
        let mut course = Self {
            pregnancy: chapter.pregnancy,
            visits: Vec::new(),
            flags: Vec::new(),
            first_words: Vec::new(),
            labours: Vec::new(),
            referrals: Vec::new(),
            births: Vec::new(),
        };
        // The chapter tells the newest first.
        for Event { at, what } in chapter.events.into_iter().rev() {
            match what {
                Happening::Visit(seen) => course.visits.push(*seen),
                Happening::Flag(flag) => course.flags.push(*flag),
                Happening::Labour(line) => course.labours.push(line),
                Happening::Referral(line) => course.referrals.push(line),
                Happening::Birth(line) => course.births.push((at, line)),
            }
        }
        course
    }

    /// What was said of a flag when it was raised; of one raised in labour what was said of it last.
    pub(super) fn first_said<'a>(&'a self, flag: &'a Flag) -> &'a str {
        let first = self.first_words.iter().find(|(id, _)| *id == flag.id);
        first.map_or(&flag.evidence, |(_, words)| words)
    }

    /// Flags that stand, by urgency.
    pub(super) fn standing(&self) -> Vec<&Flag> {
        let mut standing: Vec<_> = self.flags.iter().filter(|flag| flag.stands()).collect();
        standing.sort_by_key(|flag| (flag.urgency, flag.category));
        standing
    }

    /// The labour record that is open.
    pub(super) fn labour(&self) -> Option<&LabourLine> {
        self.labours.iter().rfind(|line| line.closed_at.is_none())
    }

    /// A referral that waits for her leaving, her arrival or the answer.
    pub(super) fn under_way(&self) -> Option<&ReferralLine> {
        let waits = |state| {
            matches!(
                state,
                ReferralState::Decided
                    | ReferralState::Left
                    | ReferralState::Arrived
                    | ReferralState::Seen
            )
        };
        self.referrals
            .iter()
            .rfind(|line| !line.entered_in_error && waits(line.state))
    }

    /// A scan has shown more than one baby.
    pub(super) fn twins_known(&self, now: Moment) -> bool {
        self.pregnancy
            .dated(now.date())
            .babies
            .is_some_and(|babies| babies > 1)
    }
}
