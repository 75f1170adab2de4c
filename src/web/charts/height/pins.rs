//! The lie at each reading: a pin whose ball is the head and whose stroke is the body.

use super::super::geometry::{Point, at};
use super::super::marks::Mark;
use super::Reading;
use super::plane::Plane;
use crate::clinical::{Certainty, Lie, Palpation, Presentation};

const HALF: f64 = 6.2;
/// The widest two neighbours, both across, need this from middle to middle.
const ROOM: f64 = 15.5;

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

/// One pin a reading. Where they would touch, one that repeats the next is left out and the others move apart.
pub(super) fn row(plane: &Plane, charted: &[(u16, u16, &Reading)]) -> Vec<Mark> {
    let pins = charted.iter().map(|(days, tenths, reading)| Pin {
        x: plane.spot(*days, *tenths).x,
        way: reading.palpation.as_ref().and_then(way_to_head),
    });
    let kept = thinned(pins.collect());
    let mut marks = Vec::new();
    for (kept, spot) in kept.iter().zip(apart(plane, &kept)) {
        if (spot.x - kept.x).abs() > 1.0 {
            // led back to its reading, whose own line ends here
            let foot = at(kept.x, plane.pin_row() - 11.0);
            marks.push(Mark::line("p-drop", foot, spot));
        }
        marks.extend(pin(spot, kept.way));
    }
    marks
}

/// How the baby lay at one reading, under that reading.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Pin {
    x: f64,
    way: Option<Way>,
}

/// A change of lie is what the row is there to show: of neighbours that would touch the earlier is left out only when the
/// later says the same.
fn thinned(pins: Vec<Pin>) -> Vec<Pin> {
    let mut kept: Vec<Pin> = Vec::new();
    for pin in pins.into_iter().rev() {
        let repeats = |later: &Pin| later.x - pin.x < ROOM && later.way == pin.way;
        if !kept.last().is_some_and(repeats) {
            kept.push(pin);
        }
    }
    kept.reverse();
    kept
}

/// Where the pins stand: moved as little as keeps them apart, in order, inside the plane; in two rows when one is too short.
fn apart(plane: &Plane, pins: &[Pin]) -> Vec<Point> {
    let gaps = u16::try_from(pins.len().saturating_sub(1)).map_or(f64::MAX, f64::from);
    let width = plane.right - plane.left;
    let crowded = gaps * ROOM > width;
    let room = if crowded { width / gaps } else { ROOM };
    let mut pushed: Vec<f64> = Vec::new();
    for pin in pins {
        let least = pushed.last().map_or(pin.x, |before| before + room);
        pushed.push(pin.x.max(least));
    }
    let mut pulled: Vec<f64> = Vec::new();
    for pin in pins.iter().rev() {
        let most = pulled.last().map_or(pin.x, |after| after - room);
        pulled.push(pin.x.min(most));
    }
    pulled.reverse();
    let mut spots = Vec::new();
    let (mut least, mut most) = (plane.left, plane.right - gaps * room);
    for (index, (pushed, pulled)) in pushed.iter().zip(&pulled).enumerate() {
        let down = match (crowded, index % 2) {
            (false, _) => 0.0,
            (true, 0) => -ROOM / 2.0,
            (true, _) => ROOM / 2.0,
        };
        // both keep their distance, so what lies halfway does too
        let x = f64::midpoint(*pushed, *pulled).max(least).min(most);
        spots.push(at(x, plane.pin_row() + down));
        least += room;
        most += room;
    }
    spots
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

#[cfg(test)]
mod tests {
    use super::super::Size;
    use super::*;
    use crate::clinical::{Day, PalpationFindings, Pole, Side, read_palpation};

    fn felt(fundus: Pole, side: Option<Side>, lower: Pole) -> Option<Palpation> {
        read_palpation(&PalpationFindings {
            fundus: Some(fundus),
            left: side,
            lower: Some(lower),
            ..PalpationFindings::default()
        })
    }

    /// Lengthwise with the head low, lengthwise with the breech low, across.
    fn lies() -> [Option<Palpation>; 3] {
        [
            felt(Pole::SoftIrregular, None, Pole::HardRound),
            felt(Pole::HardRound, None, Pole::SoftIrregular),
            felt(Pole::Empty, Some(Side::HardRound), Pole::Empty),
        ]
    }

    fn every(step: u16, lies: &[Option<Palpation>]) -> Vec<Reading> {
        let days = (112..=294).step_by(usize::from(step));
        days.zip(lies.iter().cycle())
            .map(|(days, palpation)| Reading {
                day: Day::default(),
                gestation_days: Some(days),
                height_tenths: 300,
                palpation: palpation.clone(),
            })
            .collect()
    }

    fn pins(plane: &Plane, readings: &[Reading]) -> Vec<Pin> {
        let pin = |it: &Reading| Pin {
            x: plane.spot(it.gestation_days.unwrap_or(0), 300).x,
            way: it.palpation.as_ref().and_then(way_to_head),
        };
        readings.iter().map(pin).collect()
    }

    fn stand_apart(plane: &Plane, spots: &[Point]) {
        for (index, spot) in spots.iter().enumerate() {
            assert!(spot.x >= plane.left - 0.01 && spot.x <= plane.right + 0.01);
            for other in &spots[index + 1..] {
                let (dx, dy) = ((other.x - spot.x).abs(), (other.y - spot.y).abs());
                assert!(dx.max(dy) >= ROOM - 0.01, "{spot:?} touches {other:?}");
            }
        }
    }

    #[test]
    fn weekly_visits_with_one_lie_keep_a_pin_wherever_there_is_room() {
        let plane = Plane::new(Size::Narrow);
        let all = pins(&plane, &every(7, &lies()[..1]));
        let kept = thinned(all.clone());
        assert_eq!(kept.last(), all.last(), "the last one stays");
        assert!(kept.len() * 2 >= all.len(), "{} pins", kept.len());
        assert!(kept.windows(2).all(|two| two[1].x - two[0].x >= ROOM));
        let spots = apart(&plane, &kept);
        let still = |(spot, pin): (&Point, &Pin)| (spot.x - pin.x).abs() < 0.01;
        assert!(spots.iter().zip(&kept).all(still));
    }

    #[test]
    fn no_lie_that_differs_from_its_neighbour_is_left_out_or_covered() {
        for size in [Size::Narrow, Size::Wide] {
            let plane = Plane::new(size);
            for step in [7, 14, 28] {
                let all = pins(&plane, &every(step, &lies()));
                let kept = thinned(all.clone());
                assert_eq!(kept, all, "every {step} days");
                stand_apart(&plane, &apart(&plane, &kept));
            }
        }
    }

    #[test]
    fn a_lie_that_was_found_once_between_many_visits_stays() {
        let plane = Plane::new(Size::Narrow);
        let [low, _, across] = lies();
        let lies = [low.clone(), low.clone(), across, low.clone(), low];
        let readings = every(7, &lies);
        let turned = readings.iter().filter(|it| {
            it.palpation
                .as_ref()
                .is_some_and(|it| it.lie == Lie::Transverse)
        });
        let kept = thinned(pins(&plane, &readings));
        let shown = kept.iter().filter(|it| it.way == Some((1.0, 0.0)));
        assert_eq!(shown.count(), turned.count());
        stand_apart(&plane, &apart(&plane, &kept));
    }
}
