//! The lie at each reading: a pin whose ball is the head and whose stroke is the body.

use super::super::geometry::{Point, at};
use super::super::marks::Mark;
use super::Reading;
use super::plane::Plane;
use crate::clinical::{Certainty, Lie, Palpation, Presentation};

const HALF: f64 = 6.2;

/// From the middle of the pin to the head, in lengths of half a pin.
type Way = (f64, f64);

/// Where the head is; `None` when the hands could not say how the baby lies.
fn way_to_head(found: &Palpation) -> Option<Way> {
    if !matches!(found.certainty, Certainty::Clear | Certainty::Probable) {
        return None;
    }
    // her left is the viewer's right
    let side = match found.position {
        it if it.ends_with("head-left") => 1.0,
        it if it.ends_with("head-right") => -1.0,
        it if it.ends_with("breech-left") => -1.0,
        _ => 1.0,
    };
    let head_at_side = found.position.contains("head-");
    match (found.lie, found.presentation) {
        (Lie::Longitudinal, Presentation::Breech) => Some((0.0, -1.0)),
        (Lie::Longitudinal, _) => Some((0.0, 1.0)),
        (Lie::Transverse, _) => Some((side, 0.0)),
        (Lie::Oblique, Presentation::Cephalic) => Some((side * 0.7, 0.7)),
        // nothing over the brim: the head is at a side below the breech, or on top of it
        (Lie::Oblique, Presentation::None) if head_at_side => Some((side * 0.7, 0.7)),
        (Lie::Oblique, _) => Some((side * 0.7, -0.7)),
        (Lie::Unknown, _) => None,
    }
}

fn pin(spot: Point, way: Option<Way>) -> Vec<Mark> {
    let Some((x, y)) = way else {
        return vec![Mark::circle("p-pin-unsure", spot, 4.0)];
    };
    let head = spot.moved(x * HALF * 0.75, y * HALF * 0.75);
    let tail = spot.moved(-x * HALF, -y * HALF);
    vec![
        Mark::line("p-pin", head, tail),
        Mark::circle("p-pin-head", head, 3.0),
    ]
}

/// One pin a reading; of two that would touch, the later stays.
pub(super) fn row(plane: &Plane, charted: &[(u16, u16, &Reading)]) -> Vec<Mark> {
    let mut kept: Vec<(Point, Option<Way>)> = Vec::new();
    for (days, tenths, reading) in charted {
        let spot = at(plane.spot(*days, *tenths).x, plane.pin_row());
        while kept.last().is_some_and(|last| spot.x - last.0.x < 14.0) {
            kept.pop();
        }
        kept.push((spot, reading.palpation.as_ref().and_then(way_to_head)));
    }
    kept.into_iter()
        .flat_map(|(spot, way)| pin(spot, way))
        .collect()
}

/// What the pins mean.
pub(super) fn key(plane: &Plane) -> Vec<Mark> {
    let places = if plane.wide {
        [60.0, 180.0, 310.0, 420.0]
    } else {
        [9.0, 86.0, 177.0, 251.0]
    };
    let meanings: [(Way, &str); 4] = [
        ((0.0, 1.0), "head low"),
        ((0.0, -1.0), "breech low"),
        ((-0.7, 0.7), "oblique"),
        ((1.0, 0.0), "across"),
    ];
    let row_name = at(3.0, plane.pin_row() + 4.0);
    let mut marks = vec![Mark::text("p-unit", row_name, "start", "lie")];
    for (x, (way, words)) in places.into_iter().zip(meanings) {
        let spot = at(x, plane.key_row());
        marks.extend(pin(spot, Some(way)));
        let word = spot.moved(11.0, 4.0);
        marks.push(Mark::text("p-tick", word, "start", words));
    }
    marks
}
