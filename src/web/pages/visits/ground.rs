//! What the register holds around one visit.

use crate::clinical::Moment;
use crate::registry::flags::{self, Flag};
use crate::registry::mothers::{self, Mother};
use crate::registry::posts::{self, Post};
use crate::registry::pregnancies::{self, Pregnancy};
use crate::registry::visits::{self, Findings, Visit};
use crate::registry::{self, Db, MotherId, PostId, PregnancyId, VisitId};
use crate::web::form::Sense;

use super::subject::Subject;

/// A mother, one of her pregnancies, and the visits in it that stand.
pub(super) struct Ground {
    pub(super) post: Post,
    pub(super) mother: Mother,
    pub(super) pregnancy: Pregnancy,
    pub(super) visits: Vec<(VisitId, Findings)>,
}

impl Ground {
    /// Of the pregnancy that lasts, or of the one that a form names; `None` when she has no open pregnancy.
    pub(super) fn of_mother(
        db: &mut Db,
        post: PostId,
        mother: MotherId,
        named: Option<PregnancyId>,
    ) -> registry::Result<Option<Self>> {
        let mother = mothers::find(db, post, mother)?;
        let pregnancy = match named {
            Some(id) => {
                Some(pregnancies::find(db, post, id)?).filter(|it| it.mother_id == mother.id)
            }
            None => pregnancies::lasting(db, mother.id)?,
        };
        let Some(pregnancy) = pregnancy else {
            return Ok(None);
        };
        Ok(Some(Self {
            post: posts::find(db, post)?,
            visits: visits::of_pregnancy(db, pregnancy.id)?,
            mother,
            pregnancy,
        }))
    }

    /// Around a visit that is written already.
    pub(super) fn of_visit(
        db: &mut Db,
        post: PostId,
        id: VisitId,
    ) -> registry::Result<(Self, Visit)> {
        let visit = visits::find(db, post, id)?;
        let ground = Self {
            post: posts::find(db, post)?,
            mother: mothers::find(db, post, visit.place.mother_id)?,
            pregnancy: pregnancies::find(db, post, visit.place.pregnancy_id)?,
            visits: visits::of_pregnancy(db, visit.place.pregnancy_id)?,
        };
        Ok((ground, visit))
    }

    /// Her flags, by urgency.
    pub(super) fn flags(&self, db: &mut Db) -> registry::Result<Vec<Flag>> {
        let mut flags = flags::of_pregnancy(db, self.pregnancy.id)?;
        flags.sort_by_key(|flag| (flag.urgency, flag.category));
        Ok(flags)
    }

    /// `QF 0142`, its parts joined.
    pub(super) fn register(&self) -> String {
        self.post
            .register_number(self.mother.number)
            .replace(' ', "\u{a0}")
    }

    /// Visits before a moment; the visit itself is not its own past.
    pub(super) fn earlier(&self, than: Moment, but: Option<VisitId>) -> Vec<Findings> {
        self.visits
            .iter()
            .filter(|(id, found)| found.visit.at < than && Some(*id) != but)
            .map(|(_, found)| found.clone())
            .collect()
    }

    pub(super) fn subject(
        &self,
        on: Moment,
        but: Option<VisitId>,
        sense: &Sense,
        eyebrow: String,
    ) -> Subject {
        let earlier = self.earlier(on, but);
        Subject::at(&self.mother, &self.pregnancy, &earlier, on, sense, eyebrow)
    }
}
