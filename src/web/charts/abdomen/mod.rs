//! The abdomen as the examiner sees it: her left is on the viewer's right.
//!
//! One rule carries the picture: what the hands felt is firm, what is only concluded is faint, what was unsure is dotted,
//! what was not examined is not drawn. The conclusion is `clinical`'s; the picture decides nothing.

mod alone;
mod hands;
mod margin;
mod shapes;
#[cfg(test)]
mod tests;
mod whole;
mod words;

use askama::Template;

use super::Drawing;
use super::marks::{Frame, Layer, Mark};
use crate::clinical::{Lie, Palpation, PalpationFindings};
use alone::Strokes;
use hands::{Hands, Place};
pub use words::{Words, contradictions, words};

#[derive(Template)]
#[template(path = "charts/abdomen.svg")]
struct Abdomen<'a> {
    frame: Frame<'a>,
    /// For a row over time: no words in the margins.
    small: bool,
    across: bool,
    baby: Layer,
    felt: Layer,
    over: Layer,
    descent: Layer,
    words: Layer,
    tag: Layer,
}

/// The whole picture with its words in the margins; at least 280 px wide, at most 26rem.
///
/// `id` is unique on the page. Without a conclusion nothing was palpated, and the mother is drawn alone.
#[must_use]
pub fn draw(id: &str, felt: &PalpationFindings, conclusion: Option<&Palpation>) -> Drawing {
    Drawing::of(&picture(id, felt, conclusion, false))
}

/// The figure alone, for a row of several visits; its words must stand beside it.
#[must_use]
pub fn draw_small(id: &str, felt: &PalpationFindings, conclusion: Option<&Palpation>) -> Drawing {
    Drawing::of(&picture(id, felt, conclusion, true))
}

fn picture<'a>(
    id: &'a str,
    felt: &PalpationFindings,
    conclusion: Option<&Palpation>,
    small: bool,
) -> Abdomen<'a> {
    let hands = Hands { felt, conclusion };
    let (baby, taken) = whole::figure(&hands);
    let mut alone = Strokes::default();
    for place in [
        Place::Front,
        Place::Left,
        Place::Right,
        Place::Fundus,
        Place::Lower,
    ] {
        if !taken.contains(&place) {
            alone.add(alone::finding(&hands, place));
        }
    }
    let mut over = baby.over;
    over.extend(alone.over);
    let why = contradictions(felt, conclusion);
    let beside = |marks: Vec<Mark>| if small { Vec::new() } else { marks };
    Abdomen {
        frame: Frame {
            id,
            title: "What was felt, seen from the front",
            desc: words(felt, conclusion).description(),
        },
        small,
        across: hands.joined() && hands.lie() == Lie::Transverse,
        baby: Layer::new("p-ab-baby", baby.on),
        felt: Layer::new("p-ab-felt", alone.on),
        over: Layer::new("p-ab-over", over),
        descent: Layer::new("p-ab-descent", beside(margin::ladder(&hands))),
        words: Layer::new("p-ab-words", beside(margin::labels(&hands))),
        tag: Layer::new(
            "p-ab-tag",
            if small {
                margin::small_tag(&why)
            } else {
                margin::tag(&why)
            },
        ),
    }
}
