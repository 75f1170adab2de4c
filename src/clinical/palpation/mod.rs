//! From what the hands feel to lie, presentation and position (clinical reference, part 2).

mod poles;
mod position;

use super::{Back, Certainty, Front, Head, Palpation, PalpationFindings, Pole, Side};

pub(super) use poles::{Felt, felt};

/// Findings that describe a head over the brim where no head was felt there.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum PalpationFault {
    /// Fifths without a head.
    #[error(
        "fifths describe a head over the brim: the lower pole must be hard, round (or empty with 0 fifths)"
    )]
    FifthsWithoutHead,
    /// Mobility without a head.
    #[error("mobile or fixed describes a head over the brim: the lower pole must be hard, round")]
    MobilityWithoutHead,
}

/// Refuses fifths and mobility unless a head is over the brim.
///
/// One exception: 0/5 beside an empty lower pole is a deep head [R PEP-9-4], and mobility may stand beside it.
///
/// # Errors
/// Names the field that has no head to describe: fifths before mobility.
pub fn palpation_faults(found: &PalpationFindings) -> Result<(), PalpationFault> {
    if found.lower == Some(Pole::HardRound) || deep_head(found) {
        return Ok(());
    }
    match (found.fifths, found.head) {
        (Some(_), _) => Err(PalpationFault::FifthsWithoutHead),
        (None, Some(_)) => Err(PalpationFault::MobilityWithoutHead),
        (None, None) => Ok(()),
    }
}

/// Reads the findings; absent when none of the five sites was examined.
#[must_use]
pub fn read_palpation(found: &PalpationFindings) -> Option<Palpation> {
    let examined = found.fundus.is_some()
        || found.left.is_some()
        || found.right.is_some()
        || found.front.is_some()
        || found.lower.is_some();
    if !examined {
        return None;
    }
    let poles = poles::Poles::of(found);
    let reading = poles.read(found);
    let back = back(found);
    let certainty = if contradicts_itself(found) {
        Certainty::Conflicting
    } else {
        reading.certainty
    };
    Some(Palpation {
        row: reading.row,
        lie: reading.lie,
        presentation: reading.presentation,
        position: position::position(poles, &reading, back, found.front),
        back,
        certainty,
        engaged: engaged(found, poles.heads()),
    })
}

/// No part of the head is felt above the brim.
fn deep_head(found: &PalpationFindings) -> bool {
    found.lower == Some(Pole::Empty) && found.fifths == Some(0)
}

/// Fifths and mobility of one head cannot both be true.
fn head_contradicts(found: &PalpationFindings) -> bool {
    matches!(
        (found.fifths, found.head),
        (Some(0..=3), Some(Head::Mobile)) | (Some(5..), Some(Head::Fixed))
    )
}

fn contradicts_itself(found: &PalpationFindings) -> bool {
    let both_backs = found.left == Some(Side::LongSmooth) && found.right == Some(Side::LongSmooth);
    both_backs || head_contradicts(found)
}

fn engaged(found: &PalpationFindings, heads: usize) -> Option<bool> {
    let fifths = found.fifths?;
    (heads == 1 && !head_contradicts(found)).then_some(fifths <= 2)
}

/// The side that alone is long and smooth, else opposite the one that alone has small lumps.
fn back(found: &PalpationFindings) -> Back {
    let alone = |what| match (found.left == Some(what), found.right == Some(what)) {
        (true, false) => Back::Left,
        (false, true) => Back::Right,
        _ => Back::Unknown,
    };
    let smooth = [found.left, found.right].contains(&Some(Side::LongSmooth));
    match (smooth, alone(Side::LongSmooth), alone(Side::SmallLumps)) {
        (true, side, _) => side,
        (false, _, Back::Left) => Back::Right,
        (false, _, Back::Right) => Back::Left,
        (false, _, Back::Unknown) => Back::Unknown,
    }
}

/// The front as it counts: not examined says no more than unsure.
fn front_word(front: Option<Front>) -> Front {
    front.unwrap_or(Front::Unsure)
}
