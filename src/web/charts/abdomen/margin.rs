//! What stands beside the figure: the ladder of fifths, the word of each finding, the contradiction.

use super::super::geometry::{Point, at, chord, n};
use super::super::marks::Mark;
use super::hands::{BRIM, FIFTH, HEAD_RADIUS, Hands, MIDDLE, Place, Touch};
use crate::clinical::Head;

pub(super) const WIDTH: f64 = 320.0;

/// How deep the head is, and whether it moves.
pub(super) fn descent(hands: &Hands) -> Vec<Mark> {
    let mut marks = ladder(hands);
    marks.extend(mobility(hands));
    marks
}

/// The five finger-widths against the brim.
pub(super) fn ladder(hands: &Hands) -> Vec<Mark> {
    match hands.felt.fifths {
        Some(fifths) if hands.head_over_brim() => rungs(hands.spot(Place::Lower), fifths),
        _ => Vec::new(),
    }
}

/// Mobile or fixed: in a word, and at the head.
pub(super) fn mobility(hands: &Hands) -> Vec<Mark> {
    let Some(head) = hands.mobility().filter(|_| hands.head_over_brim()) else {
        return Vec::new();
    };
    let centre = hands.spot(Place::Lower);
    let word = at(WIDTH - 3.0, BRIM + 37.0);
    vec![
        Mark::text("p-label", word, "end", head.words()),
        match head {
            Head::Mobile => arrows(centre),
            Head::Fixed => wedges(centre),
        },
    ]
}

fn rungs(centre: Point, fifths: u8) -> Vec<Mark> {
    let top = BRIM - f64::from(fifths) * FIFTH;
    let mut marks: Vec<Mark> = (0..5_u8)
        .map(|k| {
            let class = if k < fifths {
                "p-rung-full"
            } else {
                "p-rung-open"
            };
            let corner = at(292.0, BRIM - f64::from(k + 1) * FIFTH + 1.3);
            Mark::rect(class, corner, 13.0, FIFTH - 2.6, 2.0)
        })
        .collect();
    marks.push(Mark::line("p-lead", at(211.0, BRIM), at(309.0, BRIM)));
    if fifths > 0 {
        let reach = chord(HEAD_RADIUS, (centre.y - BRIM).max(0.0));
        let from = at(centre.x + reach * 0.35, top);
        marks.push(Mark::line("p-lead", from, at(289.0, top)));
    }
    for k in 1..fifths {
        let y = BRIM - f64::from(k) * FIFTH;
        let half = chord(HEAD_RADIUS, y - centre.y);
        if half > 8.0 {
            for s in [1.0, -1.0] {
                let edge = at(centre.x + s * half, y);
                marks.push(Mark::line("p-fifth", edge.moved(-7.0 * s, 0.0), edge));
            }
        }
    }
    let word = at(WIDTH - 3.0, BRIM + 21.0);
    marks.push(Mark::text("p-big", word, "end", format!("{fifths}/5")));
    marks
}

fn arrows(centre: Point) -> Mark {
    let y = centre.y.min(BRIM - 9.0);
    let reach = chord(HEAD_RADIUS, y - centre.y).max(20.0) + 4.0;
    let one = |s: f64| {
        let p = |dx: f64, dy: f64| at(centre.x + s * (reach + dx), y + dy);
        format!(
            "M{}L{}M{}L{}L{}",
            p(5.0, 0.0),
            p(16.0, 0.0),
            p(11.0, -5.0),
            p(16.0, 0.0),
            p(11.0, 5.0)
        )
    };
    Mark::path("p-sign", one(-1.0) + &one(1.0))
}

fn wedges(centre: Point) -> Mark {
    let half = |y: f64| chord(HEAD_RADIUS, y - centre.y);
    let foot = half(BRIM).max(half(BRIM - 17.0)).max(20.0) - 2.0;
    let one = |s: f64| {
        let p = |dx: f64, dy: f64| at(centre.x + s * (foot + dx), BRIM + dy);
        format!("M{}L{}L{}Z", p(5.0, -3.0), p(19.0, -3.0), p(5.0, -17.0))
    };
    Mark::path("p-wedge", one(-1.0) + &one(1.0))
}

/// The word of each finding in the margin beside it, the place's name small above it.
pub(super) fn labels(hands: &Hands) -> Vec<Mark> {
    let mut marks = vec![
        Mark::text("p-label", at(0.0, 14.0), "start", "her right"),
        Mark::text("p-label", at(WIDTH, 14.0), "end", "her left"),
    ];
    let rows = [
        (Place::Fundus, "top", at(MIDDLE, 25.0), "middle"),
        (Place::Left, "side", at(WIDTH, 146.0), "end"),
        (Place::Right, "side", at(0.0, 146.0), "start"),
        (Place::Front, "front", at(0.0, 190.0), "start"),
        (Place::Lower, "low", at(0.0, 234.0), "start"),
    ];
    for (place, name, spot, anchor) in rows {
        let Some(touch) = hands.touch(place) else {
            continue;
        };
        let below = spot.moved(0.0, if place == Place::Fundus { 14.0 } else { 13.0 });
        marks.push(Mark::text("p-place", spot, anchor, name));
        if place == Place::Lower && hands.deep_head() {
            marks.push(Mark::text("p-label", below, anchor, "nothing"));
            marks.push(Mark::text(
                "p-label",
                below.moved(0.0, 13.0),
                anchor,
                "above",
            ));
        } else {
            marks.push(Mark::text("p-label", below, anchor, word(touch, place)));
        }
    }
    marks.push(Mark::text("p-place", at(0.0, BRIM + 4.0), "start", "brim"));
    marks.push(Mark::line("p-lead", at(33.0, BRIM), at(109.0, BRIM)));
    marks
}

fn word(touch: Touch, place: Place) -> &'static str {
    match touch {
        Touch::Head => "head",
        Touch::Breech => "breech",
        Touch::Back => "back",
        Touch::Limbs => "limbs",
        Touch::Nothing if matches!(place, Place::Fundus | Place::Lower) => "empty",
        Touch::Nothing => "nothing",
        Touch::Unsure => "unsure",
    }
}

/// The first contradiction in words at the foot, and how many more there are.
pub(super) fn tag(contradictions: &[String]) -> Vec<Mark> {
    let Some((first, more)) = contradictions.split_first() else {
        return Vec::new();
    };
    let words = if more.is_empty() {
        format!("≠ {first}")
    } else {
        format!("≠ {first} (+{})", more.len())
    };
    let letters = u16::try_from(words.chars().count()).unwrap_or(40);
    let width = 10.2 + 7.9 * f64::from(letters);
    vec![
        Mark::rect("p-tag", at((WIDTH - width) / 2.0, 356.0), width, 21.0, 3.0),
        Mark::text("p-tag-words", at(MIDDLE, 371.0), "middle", words),
    ]
}

/// Under a small picture, where no word fits: that the findings do not agree.
pub(super) fn small_tag(contradictions: &[String]) -> Vec<Mark> {
    if contradictions.is_empty() {
        return Vec::new();
    }
    let bar = |dy: f64| format!("M{} {}h26", n(MIDDLE - 13.0), n(348.0 + dy));
    let slash = format!("M{} {}l-12 30", n(MIDDLE + 6.0), n(338.0));
    vec![Mark::path(
        "p-differs",
        format!("{}{}{slash}", bar(0.0), bar(9.0)),
    )]
}
