//! The questions that many rules share; each answers, or says why not.

use super::{Picture, Told};
use crate::clinical::fundal_height::{JUDGED_FROM, weeks_in_force};
use crate::clinical::labour::Labour;
use crate::clinical::record::Record;
use crate::clinical::verdict::{Unit, Why, ask, ask_fact, reaches, under};
use crate::clinical::{DangerSign, FeltInside, HeightScore, Lie, Moment, Presentation, Stage};

/// 36w+0d: days to arrange what birth will need.
pub(crate) const NEAR: u16 = 252;
/// 33.0 cm stand for 34 weeks where no date is known [R PEP-5-24], tenths.
pub(crate) const NEAR_TAPE: u16 = 330;
/// 24.0 cm stand for 24 weeks where no date is known [R PEP-1-30], tenths.
pub(crate) const FELT_TAPE: u16 = 240;

impl Picture<'_> {
    pub(crate) fn labouring(&self) -> Result<&Labour, Why> {
        self.labour.as_ref().ok_or(Why::Fact("not in labour"))
    }

    pub(crate) fn not_labouring(&self) -> Result<(), Why> {
        ask_fact(self.labour.is_none(), "in labour")
    }

    /// In labour, or the waters are broken.
    pub(crate) fn birth_begun(&self) -> bool {
        self.labour.is_some() || self.waters.broken
    }

    pub(crate) fn begun(&self) -> Result<(), Why> {
        ask_fact(
            self.birth_begun(),
            "not in labour and the waters are not broken",
        )
    }

    pub(crate) fn not_begun(&self) -> Result<(), Why> {
        ask_fact(!self.birth_begun(), "in labour or the waters are broken")
    }

    pub(crate) fn waters_broken(&self) -> Result<(), Why> {
        ask_fact(self.waters.broken, "the waters are not known to be broken")
    }

    pub(crate) fn in_stage(&self, stage: Stage) -> Result<&Labour, Why> {
        let labour = self.labouring()?;
        let found = labour.stage.map_or("not known", Stage::words);
        ask(
            labour.stage == Some(stage),
            Why::Word {
                what: "the stage",
                found,
                wanted: stage.words(),
            },
        )?;
        Ok(labour)
    }

    pub(crate) fn is_near(&self) -> bool {
        self.near().is_ok()
    }

    /// From 36w+0d; gestation unknown: tape 33.0 cm or more, or none.
    pub(crate) fn near(&self) -> Result<(), Why> {
        match (self.g, self.tape) {
            (Some(days), _) => reaches("g", days, NEAR, Unit::Gestation),
            (None, Some(tape)) => reaches("gestation unknown, tape", tape, NEAR_TAPE, Unit::Tape),
            (None, None) => Ok(()),
        }
    }

    /// Gestation unknown, tape from 24.0 to under 33.0 cm.
    pub(crate) fn is_mid(&self) -> bool {
        self.g.is_none()
            && self
                .tape
                .is_some_and(|tape| (FELT_TAPE..NEAR_TAPE).contains(&tape))
    }

    /// Not near term, but from `least` days, or by the tape from 24.0 cm.
    pub(crate) fn early(&self, least: u16) -> Result<(), Why> {
        match (self.g, self.tape) {
            (Some(days), _) => {
                under("g", days, NEAR, Unit::Gestation)?;
                reaches("g", days, least, Unit::Gestation)
            }
            (None, Some(tape)) => {
                under("gestation unknown, tape", tape, NEAR_TAPE, Unit::Tape)?;
                reaches("gestation unknown, tape", tape, FELT_TAPE, Unit::Tape)
            }
            (None, None) => Err(Why::Fact(
                "gestation unknown and no tape, counted as at term",
            )),
        }
    }

    /// From 24w+0d; gestation unknown: tape 24.0 cm or more, or none.
    pub(crate) fn felt_age(&self) -> Result<(), Why> {
        match (self.g, self.tape) {
            (Some(days), _) => reaches("g", days, JUDGED_FROM, Unit::Gestation),
            (None, Some(tape)) => reaches("gestation unknown, tape", tape, FELT_TAPE, Unit::Tape),
            (None, None) => Ok(()),
        }
    }

    pub(crate) fn felt_age_or_begun(&self) -> Result<(), Why> {
        if self.birth_begun() {
            Ok(())
        } else {
            self.felt_age()
        }
    }

    /// From 36w+0d today; gestation unknown: tape 33.0 cm or more.
    pub(crate) fn late(&self) -> bool {
        match self.today {
            Some(days) => days >= NEAR,
            None => self.tape.is_some_and(|tape| tape >= NEAR_TAPE),
        }
    }

    pub(crate) fn across(&self) -> Result<Lie, Why> {
        let lie = self.presenting.lie;
        // Not "anything but lengthwise": an unknown lie is no transverse lie.
        ask(
            matches!(lie, Lie::Transverse | Lie::Oblique),
            Why::Word {
                what: "the lie",
                found: lie.code(),
                wanted: "transverse or oblique",
            },
        )?;
        Ok(lie)
    }

    pub(crate) fn breech(&self) -> Result<(), Why> {
        ask(
            self.presenting.lie == Lie::Longitudinal,
            Why::Word {
                what: "the lie",
                found: self.presenting.lie.code(),
                wanted: "longitudinal",
            },
        )?;
        self.presents(Presentation::Breech)
    }

    pub(crate) fn presents(&self, wanted: Presentation) -> Result<(), Why> {
        ask(
            self.presenting.presentation == wanted,
            Why::Word {
                what: "the presentation",
                found: self.presenting.presentation.code(),
                wanted: wanted.code(),
            },
        )
    }

    pub(crate) fn hands_lie(&self) -> Lie {
        self.palpation
            .as_ref()
            .map_or(Lie::Unknown, |hands| hands.lie)
    }

    pub(crate) fn hands_across(&self) -> bool {
        matches!(self.hands_lie(), Lie::Transverse | Lie::Oblique)
    }

    pub(crate) fn felt_inside_decides(&self) -> Option<(Moment, FeltInside)> {
        self.presenting
            .inside
            .filter(|_| self.presenting.told == Told::Inside)
    }

    pub(crate) fn twins_known(&self) -> bool {
        self.dated.babies.is_some_and(|babies| babies >= 2)
    }

    pub(crate) fn not_twins_known(&self) -> Result<(), Why> {
        ask(!self.twins_known(), Why::Said("twins-known"))
    }

    pub(crate) fn taped(&self) -> Result<u16, Why> {
        self.tape
            .ok_or(Why::Fact("no fundal height at the last visit"))
    }

    /// A height with a centile, from 24w+0d.
    pub(crate) fn judged(&self) -> Result<HeightScore, Why> {
        self.taped()?;
        let days = self.g.ok_or(Why::Fact("gestation unknown: no centile"))?;
        reaches("g", days, JUDGED_FROM, Unit::Gestation)?;
        self.height
            .ok_or(Why::Fact("beyond 42w+0d there is no centile"))
    }

    pub(crate) fn weeks_decide(&self) -> bool {
        weeks_in_force(self.case.post.fundal_height_method, self.g)
    }

    /// When a danger sign stands: recorded among the current records, or a cord felt inside.
    pub(crate) fn sign(&self, sign: DangerSign) -> Option<Moment> {
        let felt = |record: Record<'_>| {
            sign == DangerSign::Cord
                && record.row().and_then(|row| row.felt_inside) == Some(FeltInside::Cord)
        };
        self.current()
            .rev()
            .find(|record| record.signs().contains(&sign) || felt(*record))
            .map(Record::at)
    }

    /// The records of this labour at one moment, and the visit if it stands among the current ones.
    pub(crate) fn current_at(&self, at: Moment) -> impl Iterator<Item = Record<'_>> {
        self.current().filter(move |record| record.at() == at)
    }
}
