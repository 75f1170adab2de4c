//! The baby as a whole, only where `clinical` says clear or probable.

use super::super::geometry::{BodyFrame, Point, at};
use super::super::marks::Mark;
use super::alone::{Strokes, breech, head};
use super::hands::{Hands, Place, Touch};
use super::shapes;
use crate::clinical::Lie;

/// Which places carry the head end and the breech end.
#[derive(Debug, Clone, Copy)]
pub(super) struct Ends {
    pub(super) head: Place,
    pub(super) breech: Place,
}

/// `None` when nothing may be joined up. A pole that was not felt is put opposite the one that was.
pub(super) fn ends(hands: &Hands) -> Option<Ends> {
    if !hands.joined() {
        return None;
    }
    let find = |touch| {
        Place::POLES
            .into_iter()
            .find(|place| hands.is(*place, touch))
    };
    Some(match (find(Touch::Head), find(Touch::Breech)) {
        (Some(head), Some(breech)) => Ends { head, breech },
        (Some(head), None) => Ends {
            head,
            breech: head.opposite(),
        },
        (None, Some(breech)) => Ends {
            head: breech.opposite(),
            breech,
        },
        // both ends empty: it lies across, and no end is known
        (None, None) => Ends {
            head: Place::Left,
            breech: Place::Right,
        },
    })
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Facing {
    Back,
    Limbs,
}

/// The figure and the places whose findings it has taken up.
pub(super) fn figure(hands: &Hands) -> (Strokes, Vec<Place>) {
    match ends(hands) {
        None => (Strokes::default(), Vec::new()),
        Some(ends) => {
            let baby = Baby::new(hands, ends);
            (baby.strokes(), baby.taken)
        }
    }
}

#[expect(
    clippy::struct_excessive_bools,
    reason = "each part of a baby was felt or is only concluded"
)]
struct Baby<'a> {
    hands: &'a Hands<'a>,
    ends: Ends,
    head: Point,
    seat: Point,
    head_felt: bool,
    breech_felt: bool,
    back: Option<Place>,
    back_felt: bool,
    limbs_felt: bool,
    facing: Option<Facing>,
    side: Point,
    taken: Vec<Place>,
}

impl<'a> Baby<'a> {
    fn new(hands: &'a Hands<'a>, ends: Ends) -> Self {
        let head_felt = hands.is(ends.head, Touch::Head);
        let breech_felt = hands.is(ends.breech, Touch::Breech);
        let back = hands.back();
        let back_felt = back.is_some_and(|side| hands.is(side, Touch::Back));
        let limbs_felt = back.is_some_and(|side| hands.is(side.opposite(), Touch::Limbs));
        let across = hands.lie() == Lie::Transverse;
        let facing = match hands.touch(Place::Front) {
            _ if back.is_none() && !(across && (head_felt || breech_felt)) => None,
            Some(Touch::Back) => Some(Facing::Back),
            Some(Touch::Limbs) => Some(Facing::Limbs),
            _ => None,
        };
        let taken = [
            head_felt.then_some(ends.head),
            breech_felt.then_some(ends.breech),
            back.filter(|_| back_felt),
            back.filter(|_| limbs_felt).map(Place::opposite),
            facing.map(|_| Place::Front),
        ];
        Self {
            hands,
            ends,
            head: hands.spot(ends.head),
            seat: hands.spot(ends.breech),
            head_felt,
            breech_felt,
            back,
            back_felt,
            limbs_felt,
            facing,
            side: if across {
                at(0.0, -1.0)
            } else {
                at(back.map_or(1.0, Place::sign), 0.0)
            },
            taken: taken.into_iter().flatten().collect(),
        }
    }

    fn body(&self) -> BodyFrame {
        BodyFrame::stretched(self.head, self.seat, self.side)
    }

    fn at_seat(&self) -> BodyFrame {
        let beyond = at(
            2.0 * self.seat.x - self.head.x,
            2.0 * self.seat.y - self.head.y,
        );
        BodyFrame::rigid(self.seat, beyond, self.side)
    }

    fn limb_class(&self) -> &'static str {
        if self.limbs_felt {
            "p-felt-limb"
        } else {
            "p-guess-limb"
        }
    }

    fn strokes(&self) -> Strokes {
        let mut on = self.trunk();
        on.extend(self.back_line());
        on.extend(self.arms());
        on.extend(self.seat());
        on.extend(self.legs());
        let mut strokes = Strokes::from(on);
        if self.head_felt {
            strokes.add(head(self.head, self.ends.head == Place::Lower));
            strokes.on.extend(self.face());
        }
        strokes
    }

    /// Closed between two felt poles; left open towards a pole that was not felt.
    fn trunk(&self) -> Vec<Mark> {
        let body = self.body();
        if self.head_felt && self.breech_felt {
            let (fill, lines) = match (self.facing, self.back) {
                (Some(_), _) => (shapes::TRUNK_BROAD, shapes::FLANKS),
                (None, Some(_)) => (shapes::TRUNK, shapes::CHEST),
                (None, None) => (shapes::TRUNK_PLAIN, shapes::PLAIN_SIDES),
            };
            return vec![
                Mark::path("p-baby", body.draw(fill)),
                Mark::path("p-guess", body.draw(lines)),
            ];
        }
        let (fill, sides, end) = match (self.head_felt, self.breech_felt, self.back) {
            (true, _, Some(_)) => shapes::SIDE_FROM_HEAD,
            (true, _, None) => shapes::OPEN_FROM_HEAD,
            (false, true, Some(_)) => shapes::SIDE_FROM_SEAT,
            (false, true, None) => shapes::OPEN_FROM_SEAT,
            (false, false, _) => shapes::BAND,
        };
        vec![
            Mark::path("p-baby", body.draw(fill)),
            Mark::path("p-guess", body.draw(sides)),
            Mark::path("p-open-end", body.draw(end)),
        ]
    }

    fn back_line(&self) -> Option<Mark> {
        self.back?;
        let (class, shape) = match (self.back_felt, self.head_felt, self.breech_felt) {
            (true, ..) => ("p-felt-crescent", shapes::BACK_FELT),
            (false, true, true) => ("p-guess", shapes::BACK_FULL),
            (false, true, false) => ("p-guess", shapes::BACK_HEAD),
            (false, false, _) => ("p-guess", shapes::BACK_SEAT),
        };
        Some(Mark::path(class, self.body().draw(shape)))
    }

    fn arms(&self) -> Vec<Mark> {
        let body = self.body();
        match self.facing {
            Some(Facing::Back) => {
                let mut marks = vec![
                    Mark::path("p-felt-spine", body.draw(shapes::SPINE)),
                    Mark::path("p-felt-fold", body.draw(shapes::SPINE_FOLD)),
                ];
                if self.back.is_some() {
                    let narrow = if self.hands.lie() == Lie::Oblique {
                        0.78
                    } else {
                        1.0
                    };
                    marks.push(Mark::path(
                        self.limb_class(),
                        body.draw_wide(shapes::PEEPS, narrow),
                    ));
                }
                marks
            }
            Some(Facing::Limbs) => both(body, shapes::ARM_FRONT),
            // a limb is only suggested beside a pole that was felt
            None if self.back.is_some() && (self.head_felt || self.limbs_felt) => {
                vec![Mark::path(self.limb_class(), body.draw(shapes::ARM))]
            }
            None => Vec::new(),
        }
    }

    fn legs(&self) -> Vec<Mark> {
        let body = self.body();
        match self.facing {
            Some(Facing::Limbs) => both(body, shapes::LEG_FRONT),
            None if self.back.is_some() && (self.breech_felt || self.limbs_felt) => {
                let narrow = if self.ends.head.is_side() || self.ends.breech.is_side() {
                    0.6
                } else {
                    0.94
                };
                vec![Mark::path(
                    self.limb_class(),
                    body.draw_wide(shapes::LEG, narrow),
                )]
            }
            None | Some(Facing::Back) => Vec::new(),
        }
    }

    fn seat(&self) -> Vec<Mark> {
        let frame = self.at_seat();
        if !self.breech_felt {
            return Vec::new();
        }
        if self.back.is_none() || self.facing.is_some() {
            return breech(frame, false);
        }
        vec![
            Mark::path("p-baby", frame.draw(shapes::SEAT_SIDE_FILL)),
            Mark::path("p-felt-soft", frame.draw(shapes::SEAT_SIDE)),
            Mark::path("p-felt-fold", frame.draw(shapes::SEAT_SIDE_SOFT)),
        ]
    }

    /// No face once the head is in the brim: too little of it shows.
    fn face(&self) -> Option<Mark> {
        let in_brim = self.ends.head == Place::Lower
            && self.hands.felt.fifths.is_some_and(|fifths| fifths <= 3);
        let shape = match (self.facing, self.back) {
            _ if in_brim => return None,
            (Some(Facing::Limbs), _) => shapes::FACE_FRONT,
            (Some(Facing::Back), _) => shapes::NAPE,
            (None, Some(_)) => shapes::FACE,
            (None, None) => return None,
        };
        let frame = BodyFrame::rigid(self.head, self.seat, self.side);
        Some(Mark::path("p-face", frame.draw(shape)))
    }
}

fn both(body: BodyFrame, shape: &str) -> Vec<Mark> {
    [1.0, -1.0]
        .map(|sx| Mark::path("p-felt-limb", body.draw_wide(shape, sx)))
        .into()
}
