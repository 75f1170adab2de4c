//! Heads and breeches at four sites, and the one row of the reference that they meet.

use crate::clinical::{Certainty, Front, Head, Lie, PalpationFindings, Pole, Presentation, Side};

/// What stands at one site as far as poles are concerned.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Part {
    Head,
    Breech,
    Other,
}

/// The four sites, the deep head read in.
#[derive(Debug, Clone, Copy)]
pub(super) struct Poles {
    pub(super) fundus: Part,
    pub(super) left: Part,
    pub(super) right: Part,
    pub(super) lower: Part,
}

/// One row of the reference, before contradictions are looked at.
#[derive(Debug, Clone, Copy)]
pub(super) struct Reading {
    pub(super) row: &'static str,
    pub(super) lie: Lie,
    pub(super) presentation: Presentation,
    pub(super) certainty: Certainty,
}

/// Poles as the hands felt them: a deep head is not felt.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(in crate::clinical) struct Felt {
    pub(in crate::clinical) heads: usize,
    pub(in crate::clinical) breeches: usize,
}

/// Counts felt heads and breeches over fundus, lower pole and both sides.
pub(in crate::clinical) fn felt(found: &PalpationFindings) -> Felt {
    let poles = Poles::felt(found);
    Felt {
        heads: poles.heads(),
        breeches: poles.breeches(),
    }
}

impl Poles {
    fn felt(found: &PalpationFindings) -> Self {
        let pole = |at| match at {
            Some(Pole::HardRound) => Part::Head,
            Some(Pole::SoftIrregular) => Part::Breech,
            _ => Part::Other,
        };
        let side = |at| match at {
            Some(Side::HardRound) => Part::Head,
            Some(Side::SoftIrregular) => Part::Breech,
            _ => Part::Other,
        };
        Self {
            fundus: pole(found.fundus),
            left: side(found.left),
            right: side(found.right),
            lower: pole(found.lower),
        }
    }

    pub(super) fn of(found: &PalpationFindings) -> Self {
        let felt = Self::felt(found);
        if super::deep_head(found) {
            Self {
                lower: Part::Head,
                ..felt
            }
        } else {
            felt
        }
    }

    fn count(self, part: Part) -> usize {
        [self.fundus, self.left, self.right, self.lower]
            .iter()
            .filter(|at| **at == part)
            .count()
    }

    pub(super) fn heads(self) -> usize {
        self.count(Part::Head)
    }

    pub(super) fn breeches(self) -> usize {
        self.count(Part::Breech)
    }

    fn at_a_side(self, part: Part) -> bool {
        self.left == part || self.right == part
    }

    /// Meets exactly one row; a test enumerates every combination.
    pub(super) fn read(self, found: &PalpationFindings) -> Reading {
        match (self.heads(), self.breeches()) {
            (2.., _) => self.leading("P1"),
            (1, 2..) => self.leading("P2"),
            (0, 2..) if self.fundus == Part::Breech && self.lower == Part::Breech => reading(
                "P3",
                Lie::Longitudinal,
                Presentation::Unknown,
                Certainty::Conflicting,
            ),
            (0, 2..) => unknown("P4", Certainty::Conflicting),
            (1, breeches) => self.one_head(breeches == 1, found),
            (0, 1) => self.one_breech(found),
            (0, _) => no_pole(found),
        }
    }

    /// More than one baby, perhaps: the one over the brim leads.
    fn leading(self, row: &'static str) -> Reading {
        let (lie, presentation) = match self.lower {
            Part::Head => (Lie::Longitudinal, Presentation::Cephalic),
            Part::Breech => (Lie::Longitudinal, Presentation::Breech),
            Part::Other => (Lie::Unknown, Presentation::Unknown),
        };
        reading(row, lie, presentation, Certainty::Conflicting)
    }

    fn one_head(self, with_breech: bool, found: &PalpationFindings) -> Reading {
        use Certainty::{Clear, Probable};
        use Lie::{Longitudinal, Oblique, Transverse};
        use Presentation::{Breech, Cephalic, None, Shoulder};
        if self.lower == Part::Head {
            return match (with_breech, self.fundus == Part::Breech) {
                (true, true) => reading("P5", Longitudinal, Cephalic, Clear),
                (false, _) => reading("P6", Longitudinal, Cephalic, Probable),
                (true, false) if in_the_brim(found) => {
                    reading("P7", Longitudinal, Cephalic, Probable)
                }
                (true, false) => reading("P8", Oblique, Cephalic, Probable),
            };
        }
        if self.fundus == Part::Head {
            return match (with_breech, self.lower == Part::Breech) {
                (true, true) => reading("P9", Longitudinal, Breech, Clear),
                (false, _) => reading("P10", Longitudinal, Breech, Probable),
                (true, false) => reading("P11", Oblique, None, Probable),
            };
        }
        if self.lower == Part::Breech {
            return reading("P12", Oblique, Breech, Probable);
        }
        if self.fundus == Part::Breech {
            return reading("P13", Oblique, None, Probable);
        }
        let opposite = if self.left == Part::Head {
            found.right
        } else {
            found.left
        };
        if both_ends_empty(found) && opposite != Some(Side::LongSmooth) {
            reading("P14", Transverse, Shoulder, Clear)
        } else {
            // The safer side [O].
            reading("P15", Transverse, Shoulder, Probable)
        }
    }

    fn one_breech(self, found: &PalpationFindings) -> Reading {
        use Certainty::{Insufficient, Probable};
        use Lie::{Longitudinal, Transverse};
        use Presentation::{Breech, Cephalic, Shoulder};
        if self.lower == Part::Breech {
            return reading("P16", Longitudinal, Breech, Probable);
        }
        if self.fundus == Part::Breech {
            return if found.lower == Some(Pole::Empty) {
                // A deep head, or nothing over the brim? To be asked [O].
                reading("P18", Longitudinal, Presentation::Unknown, Insufficient)
            } else {
                reading("P17", Longitudinal, Cephalic, Probable)
            };
        }
        debug_assert!(self.at_a_side(Part::Breech));
        if found.fundus == Some(Pole::Empty) || found.lower == Some(Pole::Empty) {
            reading("P19", Transverse, Shoulder, Probable)
        } else {
            unknown("P20", Insufficient)
        }
    }
}

fn no_pole(found: &PalpationFindings) -> Reading {
    if !both_ends_empty(found) {
        return unknown("P24", Certainty::Insufficient);
    }
    let sides = [found.left, found.right];
    if sides.contains(&Some(Side::LongSmooth)) {
        // A back along a side is no transverse lie [O].
        return unknown("P21", Certainty::Conflicting);
    }
    let something = sides.contains(&Some(Side::SmallLumps))
        || matches!(found.front, Some(Front::LongSmooth | Front::SmallLumps));
    if something {
        reading(
            "P22",
            Lie::Transverse,
            Presentation::Shoulder,
            Certainty::Probable,
        )
    } else {
        unknown("P23", Certainty::Insufficient)
    }
}

fn both_ends_empty(found: &PalpationFindings) -> bool {
    found.fundus == Some(Pole::Empty) && found.lower == Some(Pole::Empty)
}

/// The head has entered the brim [R PEP-8A-I].
fn in_the_brim(found: &PalpationFindings) -> bool {
    match found.fifths {
        Some(fifths) => fifths <= 3,
        None => found.head == Some(Head::Fixed),
    }
}

fn unknown(row: &'static str, certainty: Certainty) -> Reading {
    reading(row, Lie::Unknown, Presentation::Unknown, certainty)
}

fn reading(
    row: &'static str,
    lie: Lie,
    presentation: Presentation,
    certainty: Certainty,
) -> Reading {
    Reading {
        row,
        lie,
        presentation,
        certainty,
    }
}
