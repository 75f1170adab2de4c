//! The abdomen as the examiner sees it: her left is on the viewer's right.
//!
//! One rule carries the picture: what the hands felt is firm, what is only concluded is faint, what was unsure is dotted,
//! what was not examined is not drawn. The conclusion is `clinical`'s; the picture decides nothing.
//!
//! The form's pad is this picture before anything is concluded: the same outline, and each finding at its place by the same
//! function. What the conclusion joins is then drawn as one baby in the places of its marks.

mod alone;
mod hands;
mod margin;
mod pad;
#[cfg(test)]
mod pad_tests;
mod shapes;
#[cfg(test)]
mod tests;
mod whole;
mod words;
#[cfg(test)]
mod words_tests;

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

/// The pad of the form: the mother with every mark that a choice may call for. The sheet shows those that were chosen.
#[must_use]
pub fn draw_pad() -> Drawing {
    Drawing::of(&pad::Pad::new())
}

/// The marks once more, small, for the choices themselves: `<use href="#g-hard-round"/>` in a box of 48 around 0.
#[must_use]
pub fn draw_glyphs() -> Drawing {
    Drawing::of(&pad::Glyphs::new())
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
        descent: Layer::new("p-ab-descent", beside(margin::descent(&hands))),
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
