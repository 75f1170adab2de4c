//! The pad of the form: the outline of the picture, and for every choice the mark that the saved picture will draw.
//!
//! A mark is a group named after its radio; the sheet shows the groups whose radio is chosen, and lets the fundus sink with a
//! deep head. What joins several findings to a baby is a conclusion and stays with the picture of the saved visit.

use askama::Template;

use super::super::marks::{Layer, Mark};
use super::alone;
use super::hands::{Hands, Place};
use super::margin;
use crate::clinical::{Front, Head, PalpationFindings, Pole, Side};

#[derive(Template)]
#[template(path = "charts/pad.svg")]
pub(super) struct Pad {
    pub(super) felt: Vec<Layer>,
    /// What of a head lies below the brim, over the bone.
    pub(super) over: Vec<Layer>,
    pub(super) heads: Vec<Sunk>,
}

/// What stands beside a head over the brim, by its fifths.
pub(super) struct Sunk {
    pub(super) fifths: u8,
    pub(super) ladder: Layer,
    pub(super) moves: Layer,
    pub(super) holds: Layer,
}

/// One finding alone, and the name of its mark.
#[derive(Debug)]
pub(super) struct Single {
    pub(super) name: String,
    pub(super) place: Place,
    pub(super) found: PalpationFindings,
}

/// Every choice of the form in its order. A head over the brim is one for each of its fifths, and the head below it, where
/// nothing is above the brim at 0/5, is that of 0/5.
pub(super) fn every_single() -> Vec<Single> {
    let one = |name: String, place, change: &dyn Fn(&mut PalpationFindings)| {
        let mut found = PalpationFindings::default();
        change(&mut found);
        Single { name, place, found }
    };
    let mut all = Vec::new();
    for felt in Pole::ALL {
        let name = format!("fundus-{}", felt.code());
        all.push(one(name, Place::Fundus, &|it| it.fundus = Some(*felt)));
    }
    for felt in Side::ALL {
        let name = format!("right-{}", felt.code());
        all.push(one(name, Place::Right, &|it| it.right = Some(*felt)));
        let name = format!("left-{}", felt.code());
        all.push(one(name, Place::Left, &|it| it.left = Some(*felt)));
    }
    for felt in Front::ALL {
        let name = format!("front-{}", felt.code());
        all.push(one(name, Place::Front, &|it| it.front = Some(*felt)));
    }
    for fifths in 0..=5 {
        let sunk = &|it: &mut PalpationFindings| *it = head(fifths, None);
        all.push(one(format!("head-{fifths}"), Place::Lower, sunk));
    }
    for felt in Pole::ALL.iter().filter(|it| **it != Pole::HardRound) {
        let name = format!("lower-{}", felt.code());
        all.push(one(name, Place::Lower, &|it| it.lower = Some(*felt)));
    }
    all
}

/// A head over the brim.
fn head(fifths: u8, head: Option<Head>) -> PalpationFindings {
    PalpationFindings {
        lower: Some(Pole::HardRound),
        fifths: Some(fifths),
        head,
        ..PalpationFindings::default()
    }
}

/// Nothing is concluded from one finding.
fn alone_in(found: &PalpationFindings) -> Hands<'_> {
    Hands {
        felt: found,
        conclusion: None,
    }
}

impl Pad {
    pub(super) fn new() -> Self {
        let (mut felt, mut over) = (Vec::new(), Vec::new());
        for single in every_single() {
            let strokes = alone::finding(&alone_in(&single.found), single.place);
            let name = format!("felt {}", single.name);
            felt.push(Layer::new(name.clone(), strokes.on));
            over.push(Layer::new(name, strokes.over));
        }
        Self {
            felt,
            over,
            heads: (0..=5).map(Sunk::by).collect(),
        }
    }
}

impl Sunk {
    fn by(fifths: u8) -> Self {
        let moving = |it| margin::mobility(&alone_in(&head(fifths, Some(it))));
        Self {
            fifths,
            ladder: Layer::new("ladder", margin::ladder(&alone_in(&head(fifths, None)))),
            moves: Layer::new("moves", moving(Head::Mobile)),
            holds: Layer::new("holds", moving(Head::Fixed)),
        }
    }
}

#[derive(Template)]
#[template(path = "charts/glyphs.svg")]
pub(super) struct Glyphs {
    glyphs: Vec<Glyph>,
}

struct Glyph {
    code: &'static str,
    /// Takes the mark from its place to a box of 48 around 0.
    transform: &'static str,
    strokes: Layer,
}

/// Each kind of finding once, taken from the place that shows it best.
const GLYPHS: [(&str, &str, &str); 6] = [
    (
        "hard-round",
        "fundus-hard-round",
        "scale(.57) translate(-160 -93)",
    ),
    (
        "soft-irregular",
        "fundus-soft-irregular",
        "scale(.64) translate(-160 -90)",
    ),
    (
        "long-smooth",
        "left-long-smooth",
        "scale(.3) translate(-224 -164)",
    ),
    (
        "small-lumps",
        "left-small-lumps",
        "scale(.66) translate(-228 -165)",
    ),
    ("empty", "front-nothing", "scale(1.7) translate(-160 -177)"),
    ("unsure", "left-unsure", "scale(.76) translate(-226 -170)"),
];

impl Glyphs {
    pub(super) fn new() -> Self {
        let singles = every_single();
        let glyph = |(code, name, transform): (&'static str, &str, &'static str)| {
            let single = singles.iter().find(|it| it.name == name)?;
            let strokes = alone::finding(&alone_in(&single.found), single.place);
            Some(Glyph {
                code,
                transform,
                strokes: Layer::new("glyph", strokes.on),
            })
        };
        Self {
            glyphs: GLYPHS.into_iter().filter_map(glyph).collect(),
        }
    }
}
