//! A finding that no whole figure takes up, drawn at its own place.

use super::super::geometry::{BodyFrame, Point, arcs_at, at, hatch};
use super::super::marks::Mark;
use super::hands::{BRIM, HEAD_RADIUS, Hands, MIDDLE, Place, Touch};
use super::shapes;
use crate::clinical::Lie;

/// Strokes on the baby's own layer, and strokes that go over the bone.
#[derive(Debug, Default)]
pub(super) struct Strokes {
    pub(super) on: Vec<Mark>,
    pub(super) over: Vec<Mark>,
}

impl Strokes {
    pub(super) fn add(&mut self, more: Self) {
        self.on.extend(more.on);
        self.over.extend(more.over);
    }
}

impl From<Vec<Mark>> for Strokes {
    fn from(on: Vec<Mark>) -> Self {
        Self {
            on,
            over: Vec::new(),
        }
    }
}

pub(super) fn finding(hands: &Hands, place: Place) -> Strokes {
    let Some(touch) = hands.touch(place) else {
        return Strokes::default();
    };
    if place == Place::Front {
        return front(hands, touch).into();
    }
    let (spot, sign) = (hands.spot(place), place.sign());
    match touch {
        Touch::Head => head(spot, place == Place::Lower),
        Touch::Breech => lone_breech(spot, place).into(),
        Touch::Back => back(place).into(),
        Touch::Limbs => lumps(spot.moved(sign * 12.0, -4.0), sign).into(),
        Touch::Unsure if place.is_side() => unsure(spot.moved(sign * 10.0, 0.0), 19.0, 27.0).into(),
        Touch::Unsure => unsure(spot, 25.0, 25.0).into(),
        Touch::Nothing if place.is_side() => vec![Mark::path(
            "p-hatch",
            hatch(spot.moved(sign * 12.0, 0.0), 17.0, 42.0, 7.0, sign),
        )]
        .into(),
        Touch::Nothing => vec![Mark::path("p-hatch", hatch(spot, 42.0, 26.0, 7.0, 1.0))].into(),
    }
}

/// A firm round outline; below the brim, where no hand reaches, a broken line over the bone.
pub(super) fn head(centre: Point, cut_at_brim: bool) -> Strokes {
    let cut = cut_at_brim.then(|| arcs_at(centre, HEAD_RADIUS, BRIM));
    match cut {
        None | Some((_, None)) => vec![Mark::circle("p-felt-head", centre, HEAD_RADIUS)].into(),
        Some((above, Some(below))) => Strokes {
            on: above.map_or_else(Vec::new, |above| {
                vec![
                    Mark::path("p-felt-fill", format!("{above}Z")),
                    Mark::path("p-felt-head", above),
                ]
            }),
            over: vec![Mark::path("p-below-brim", below)],
        },
    }
}

/// The lobes of a breech; open where a trunk joins them.
pub(super) fn breech(frame: BodyFrame, closed: bool) -> Vec<Mark> {
    let outline = if closed {
        shapes::SEAT_CLOSED
    } else {
        shapes::SEAT
    };
    vec![
        Mark::path("p-felt-fill", frame.draw(shapes::SEAT_CLOSED)),
        Mark::path("p-felt-soft", frame.draw(outline)),
        Mark::path("p-felt-fold", frame.draw(shapes::SEAT_SOFT)),
    ]
}

fn lone_breech(spot: Point, place: Place) -> Vec<Mark> {
    let (outwards, side) = match place {
        Place::Fundus => (spot.moved(0.0, -10.0), at(1.0, 0.0)),
        Place::Left | Place::Right => (spot.moved(10.0 * place.sign(), 0.0), at(0.0, -1.0)),
        Place::Lower | Place::Front => (spot.moved(0.0, 10.0), at(1.0, 0.0)),
    };
    breech(BodyFrame::rigid(spot, outwards, side), true)
}

fn unsure(spot: Point, rx: f64, ry: f64) -> Vec<Mark> {
    vec![
        Mark::ellipse("p-unsure", spot, rx, ry),
        Mark::text("p-ask", spot.moved(0.0, 7.0), "middle", "?"),
    ]
}

fn lumps(spot: Point, sign: f64) -> Vec<Mark> {
    let knobs = [
        (-2.0, -25.0, 8.0),
        (5.0, -8.0, 6.0),
        (-5.0, 6.0, 7.5),
        (4.0, 22.0, 6.5),
    ];
    knobs
        .into_iter()
        .map(|(dx, dy, r)| Mark::circle("p-felt-lump", spot.moved(sign * dx, dy), r))
        .collect()
}

fn back(place: Place) -> Vec<Mark> {
    let s = place.sign();
    let x = |dx: f64| MIDDLE + s * dx;
    vec![
        Mark::path(
            "p-felt-back",
            curve([
                at(x(54.0), 88.0),
                at(x(86.0), 122.0),
                at(x(90.0), 196.0),
                at(x(56.0), 240.0),
            ]),
        ),
        Mark::path(
            "p-felt-fold",
            curve([
                at(x(44.0), 96.0),
                at(x(72.0), 128.0),
                at(x(76.0), 190.0),
                at(x(46.0), 231.0),
            ]),
        ),
    ]
}

fn curve([from, c1, c2, to]: [Point; 4]) -> String {
    format!("M{from}C{c1} {c2} {to}")
}

fn front(hands: &Hands, touch: Touch) -> Vec<Mark> {
    let spot = hands.spot(Place::Front);
    let bend = |points: [(f64, f64); 4]| curve(points.map(|(dx, dy)| spot.moved(dx, dy)));
    match touch {
        Touch::Back if hands.lie() == Lie::Transverse => vec![
            Mark::path(
                "p-felt-back",
                bend([(-50.0, 2.0), (-24.0, -10.0), (24.0, -10.0), (50.0, 2.0)]),
            ),
            Mark::path(
                "p-felt-fold",
                bend([(-50.0, 18.0), (-24.0, 8.0), (24.0, 8.0), (50.0, 18.0)]),
            ),
        ],
        Touch::Back => vec![
            Mark::path(
                "p-felt-back",
                bend([(-9.0, -30.0), (-14.0, -10.0), (-14.0, 22.0), (-9.0, 46.0)]),
            ),
            Mark::path(
                "p-felt-fold",
                bend([(11.0, -30.0), (7.0, -10.0), (7.0, 22.0), (11.0, 46.0)]),
            ),
        ],
        Touch::Limbs => [
            (-14.0, 16.0, 6.5),
            (-5.0, 1.0, 5.5),
            (2.0, 24.0, 7.0),
            (9.0, 8.0, 6.0),
            (17.0, 21.0, 5.0),
        ]
        .into_iter()
        .map(|(dx, dy, r)| Mark::circle("p-felt-lump", spot.moved(dx, dy), r))
        .collect(),
        Touch::Nothing => vec![Mark::path(
            "p-hatch",
            hatch(spot.moved(0.0, 15.0), 13.0, 7.0, 4.5, 1.0),
        )],
        Touch::Unsure => unsure(spot.moved(0.0, 18.0), 15.0, 15.0),
        Touch::Head | Touch::Breech => Vec::new(),
    }
}
