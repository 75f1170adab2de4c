//! Position by hand: always provisional, one of 31 codes.

use super::poles::{Part, Poles, Reading};
use crate::clinical::{Back, Front, Lie, Presentation};

/// Rows in which more than one baby, or no baby's ends, were felt.
const NO_POSITION: [&str; 4] = ["P1", "P2", "P3", "P4"];

pub(super) fn position(
    poles: Poles,
    reading: &Reading,
    back: Back,
    front: Option<Front>,
) -> &'static str {
    if NO_POSITION.contains(&reading.row) {
        return "unknown";
    }
    let front = super::front_word(front);
    match (reading.lie, reading.presentation) {
        (Lie::Longitudinal, Presentation::Cephalic) => cephalic(back, front),
        (Lie::Longitudinal, Presentation::Breech) => breech(back, front),
        (Lie::Transverse, _) => transverse(head_side(poles), front),
        (Lie::Oblique, _) => oblique(poles),
        _ => "unknown",
    }
}

fn cephalic(back: Back, front: Front) -> &'static str {
    match (back, front) {
        (Back::Left, Front::LongSmooth) => "LOA",
        (Back::Left, Front::Nothing) => "LOT-or-LOA",
        (Back::Left, Front::SmallLumps) => "LOP",
        // An unexamined front does not exclude a posterior back.
        (Back::Left, Front::Unsure) => "LO",
        (Back::Right, Front::LongSmooth) => "ROA",
        (Back::Right, Front::Nothing) => "ROT-or-ROA",
        (Back::Right, Front::SmallLumps) => "ROP",
        (Back::Right, Front::Unsure) => "RO",
        (Back::Unknown, Front::LongSmooth) => "OA",
        (Back::Unknown, Front::SmallLumps) => "OP",
        (Back::Unknown, Front::Nothing | Front::Unsure) => "unknown",
    }
}

fn breech(back: Back, front: Front) -> &'static str {
    match (back, front) {
        (Back::Left, Front::LongSmooth) => "LSA",
        (Back::Left, Front::Nothing) => "LST-or-LSA",
        (Back::Left, Front::SmallLumps) => "LSP",
        (Back::Left, Front::Unsure) => "LS",
        (Back::Right, Front::LongSmooth) => "RSA",
        (Back::Right, Front::Nothing) => "RST-or-RSA",
        (Back::Right, Front::SmallLumps) => "RSP",
        (Back::Right, Front::Unsure) => "RS",
        (Back::Unknown, Front::LongSmooth) => "SA",
        (Back::Unknown, Front::SmallLumps) => "SP",
        (Back::Unknown, Front::Nothing | Front::Unsure) => "unknown",
    }
}

fn transverse(head: Back, front: Front) -> &'static str {
    match (front, head) {
        (Front::LongSmooth, Back::Left) => "dorso-anterior-head-left",
        (Front::LongSmooth, Back::Right) => "dorso-anterior-head-right",
        (Front::LongSmooth, Back::Unknown) => "dorso-anterior",
        (Front::SmallLumps, Back::Left) => "dorso-posterior-head-left",
        (Front::SmallLumps, Back::Right) => "dorso-posterior-head-right",
        (Front::SmallLumps, Back::Unknown) => "dorso-posterior",
        (_, Back::Left) => "head-left",
        (_, Back::Right) => "head-right",
        (_, Back::Unknown) => "unknown",
    }
}

/// The side of the head: felt, or opposite a breech felt alone.
fn head_side(poles: Poles) -> Back {
    match (poles.left, poles.right) {
        (Part::Head, _) => Back::Left,
        (_, Part::Head) | (Part::Breech, _) => Back::Right,
        (_, Part::Breech) => Back::Left,
        _ => Back::Unknown,
    }
}

fn oblique(poles: Poles) -> &'static str {
    match (poles.left, poles.right) {
        (Part::Head, _) => "head-left",
        (_, Part::Head) => "head-right",
        (Part::Breech, _) => "breech-left",
        (_, Part::Breech) => "breech-right",
        _ => "unknown",
    }
}
