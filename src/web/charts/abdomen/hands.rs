//! The findings as a picture reads them: five places, one touch each, the deep head included.

use super::super::geometry::{Point, at};
use crate::clinical::{
    Back, Certainty, Front, Head, Lie, Palpation, PalpationFindings, Pole, Side,
};

pub(super) const MIDDLE: f64 = 160.0;
/// Upper border of the pubic bone.
pub(super) const BRIM: f64 = 272.0;
pub(super) const HEAD_RADIUS: f64 = 36.0;
/// Five finger-widths are the height of a head.
pub(super) const FIFTH: f64 = 2.0 * HEAD_RADIUS / 5.0;

/// A head whose fifths were not recorded is drawn so, without the ladder.
pub(super) const FIFTHS_WHEN_UNKNOWN: u8 = 4;
/// A deep head takes the rest of the baby down a little: for each fifth below the brim.
pub(super) const SUNK_BY: f64 = 3.2;

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Place {
    Fundus,
    Left,
    Right,
    Front,
    Lower,
}

impl Place {
    /// Where a pole can lie, the place over the brim first.
    pub(super) const POLES: [Self; 4] = [Self::Lower, Self::Fundus, Self::Left, Self::Right];

    pub(super) const fn opposite(self) -> Self {
        match self {
            Self::Fundus => Self::Lower,
            Self::Lower => Self::Fundus,
            Self::Left => Self::Right,
            Self::Right => Self::Left,
            Self::Front => Self::Front,
        }
    }

    pub(super) const fn is_side(self) -> bool {
        matches!(self, Self::Left | Self::Right)
    }

    /// 1 on her left, which is the viewer's right.
    pub(super) const fn sign(self) -> f64 {
        match self {
            Self::Right => -1.0,
            _ => 1.0,
        }
    }
}

/// What one hand met at one place.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Touch {
    Head,
    Breech,
    Back,
    Limbs,
    Nothing,
    Unsure,
}

/// Findings with what they came to; asks `clinical` nothing and concludes nothing.
#[derive(Debug, Clone, Copy)]
pub(super) struct Hands<'a> {
    pub(super) felt: &'a PalpationFindings,
    pub(super) conclusion: Option<&'a Palpation>,
}

impl Hands<'_> {
    pub(super) fn touch(&self, place: Place) -> Option<Touch> {
        match place {
            Place::Fundus => self.felt.fundus.map(pole),
            Place::Lower if self.deep_head() => Some(Touch::Head),
            Place::Lower => self.felt.lower.map(pole),
            Place::Left => self.felt.left.map(side),
            Place::Right => self.felt.right.map(side),
            Place::Front => self.felt.front.map(front),
        }
    }

    pub(super) fn is(&self, place: Place, touch: Touch) -> bool {
        self.touch(place) == Some(touch)
    }

    /// Nothing above the brim at 0/5: the head is below it, where no hand reaches.
    pub(super) fn deep_head(&self) -> bool {
        self.felt.lower == Some(Pole::Empty) && self.felt.fifths == Some(0)
    }

    pub(super) fn head_over_brim(&self) -> bool {
        self.is(Place::Lower, Touch::Head)
    }

    pub(super) fn mobility(&self) -> Option<Head> {
        self.felt.head
    }

    pub(super) fn lie(&self) -> Lie {
        self.conclusion.map_or(Lie::Unknown, |it| it.lie)
    }

    pub(super) fn certainty(&self) -> Certainty {
        self.conclusion
            .map_or(Certainty::Insufficient, |it| it.certainty)
    }

    /// Whether the findings may be joined up to one baby.
    pub(super) fn joined(&self) -> bool {
        matches!(self.certainty(), Certainty::Clear | Certainty::Probable)
    }

    /// The side of the back; never for a baby that lies across.
    pub(super) fn back(&self) -> Option<Place> {
        match self.conclusion?.back {
            _ if self.lie() == Lie::Transverse => None,
            Back::Left => Some(Place::Left),
            Back::Right => Some(Place::Right),
            Back::Unknown => None,
        }
    }

    /// Where the thing at a place is drawn.
    pub(super) fn spot(&self, place: Place) -> Point {
        match place {
            Place::Front => at(160.0, 162.0),
            Place::Lower if self.head_over_brim() => {
                let fifths = f64::from(self.felt.fifths.unwrap_or(FIFTHS_WHEN_UNKNOWN));
                at(MIDDLE, BRIM + HEAD_RADIUS - fifths * FIFTH)
            }
            Place::Lower => at(MIDDLE, 240.0),
            Place::Fundus => {
                let sunk = self.felt.fifths.filter(|_| self.head_over_brim());
                at(
                    MIDDLE,
                    93.0 + sunk.map_or(0.0, |it| f64::from(5 - it.min(5)) * SUNK_BY),
                )
            }
            Place::Left | Place::Right => self.side_spot(place),
        }
    }

    fn side_spot(&self, place: Place) -> Point {
        let plain = at(MIDDLE + 56.0 * place.sign(), 170.0);
        if !self.joined() {
            return plain;
        }
        let low_pole = matches!(self.touch(Place::Lower), Some(Touch::Head | Touch::Breech));
        let carries_pole = matches!(self.touch(place), Some(Touch::Head | Touch::Breech));
        match self.lie() {
            Lie::Transverse => plain.moved(5.0 * place.sign(), 0.0),
            // a slanting baby keeps its length, and so does one whose breech swings to a side over a fixed head
            Lie::Oblique if low_pole => plain.moved(5.0 * place.sign(), -34.0),
            Lie::Longitudinal if low_pole && carries_pole => plain.moved(5.0 * place.sign(), -34.0),
            Lie::Oblique => plain.moved(0.0, 30.0),
            Lie::Longitudinal | Lie::Unknown => plain,
        }
    }
}

const fn pole(found: Pole) -> Touch {
    match found {
        Pole::HardRound => Touch::Head,
        Pole::SoftIrregular => Touch::Breech,
        Pole::Empty => Touch::Nothing,
        Pole::Unsure => Touch::Unsure,
    }
}

const fn side(found: Side) -> Touch {
    match found {
        Side::LongSmooth => Touch::Back,
        Side::SmallLumps => Touch::Limbs,
        Side::HardRound => Touch::Head,
        Side::SoftIrregular => Touch::Breech,
        Side::Nothing => Touch::Nothing,
        Side::Unsure => Touch::Unsure,
    }
}

const fn front(found: Front) -> Touch {
    match found {
        Front::LongSmooth => Touch::Back,
        Front::SmallLumps => Touch::Limbs,
        Front::Nothing => Touch::Nothing,
        Front::Unsure => Touch::Unsure,
    }
}
