//! The pad of the form against the picture of the saved visit: the same outline, and for every finding the same mark.

use super::super::marks::{Layer, Mark};
use super::hands::{FIFTHS_WHEN_UNKNOWN, Hands, SUNK_BY};
use super::pad::{Pad, every_single};
use super::tests::{COMBINATIONS, class_of, drawn, every_valid_finding, points};
use super::{draw, draw_glyphs, draw_pad};
use crate::clinical::{Head, PalpationFindings, Pole, Side, read_palpation};

/// The markup inside every group of exactly this class.
fn inside(markup: &str, class: &str) -> String {
    let opening = format!(r#"<g class="{class}">"#);
    let groups = markup.split(&opening).skip(1);
    groups
        .filter_map(|rest| rest.split("</g>").next())
        .collect()
}

/// The picture before anything is concluded from it.
fn saved(found: &PalpationFindings) -> String {
    draw("v1", found, None).to_string()
}

#[test]
fn the_mother_her_pelvis_and_her_navel_are_the_same_on_both() {
    let pad = draw_pad();
    let lengthwise = PalpationFindings {
        fundus: Some(Pole::SoftIrregular),
        left: Some(Side::LongSmooth),
        lower: Some(Pole::HardRound),
        ..PalpationFindings::default()
    };
    for found in [PalpationFindings::default(), lengthwise] {
        let saved = draw("v1", &found, read_palpation(&found).as_ref()).to_string();
        for part in ["p-ab-mother", "p-ab-bone", "p-ab-navel"] {
            let drawn = inside(&saved, part);
            assert!(!drawn.is_empty(), "{part}");
            assert_eq!(inside(pad.as_str(), part), drawn, "{part} of {found:?}");
        }
    }
}

#[test]
fn every_choice_has_on_the_pad_the_mark_that_the_saved_picture_draws() {
    let pad = draw_pad();
    for single in every_single() {
        let saved = saved(&single.found);
        let mark = inside(&saved, "p-ab-felt") + &inside(&saved, "p-ab-over");
        let name = single.name;
        assert!(!mark.is_empty(), "{name}");
        let shown = inside(pad.as_str(), &format!("felt {name}"));
        assert_eq!(shown, mark, "{name}");
    }
}

#[test]
fn a_head_has_the_same_ladder_and_the_same_sign_at_every_fifth() {
    let pad = draw_pad();
    for fifths in [None, Some(0), Some(1), Some(2), Some(3), Some(4), Some(5)] {
        for head in [None, Some(Head::Mobile), Some(Head::Fixed)] {
            let found = PalpationFindings {
                lower: Some(Pole::HardRound),
                fifths,
                head,
                ..PalpationFindings::default()
            };
            let saved = saved(&found);
            let shown_as = fifths.unwrap_or(FIFTHS_WHEN_UNKNOWN);
            let opening = format!(r#"<g class="felt head-{shown_as} descent">"#);
            let beside = pad.as_str().split(&opening).nth(1).unwrap_or_default();
            let beside = beside.split("</g></g>").next().unwrap_or_default();
            let ladder = fifths.map_or_else(String::new, |_| inside(beside, "ladder"));
            let sign = head.map_or_else(String::new, |head| match head {
                Head::Mobile => inside(beside, "moves"),
                Head::Fixed => inside(beside, "holds"),
            });
            assert_eq!(fifths.is_none(), ladder.is_empty(), "{found:?}");
            assert_eq!(head.is_none(), sign.is_empty(), "{found:?}");
            assert_eq!(ladder + &sign, inside(&saved, "p-ab-descent"), "{found:?}");
            let mark = inside(&saved, "p-ab-felt") + &inside(&saved, "p-ab-over");
            let shown = inside(pad.as_str(), &format!("felt head-{shown_as}"));
            assert_eq!(shown, mark, "{found:?}");
        }
    }
}

/// The marks that the sheet shows for these choices, in the order of the questions; its rules say the same.
fn chosen(found: &PalpationFindings) -> Vec<String> {
    let lower = found.lower.map(|lower| match (lower, found.fifths) {
        (Pole::HardRound, fifths) => format!("head-{}", fifths.unwrap_or(FIFTHS_WHEN_UNKNOWN)),
        (Pole::Empty, Some(0)) => "head-0".to_owned(),
        (other, _) => format!("lower-{}", other.code()),
    });
    let all = [
        found.fundus.map(|it| format!("fundus-{}", it.code())),
        found.right.map(|it| format!("right-{}", it.code())),
        found.left.map(|it| format!("left-{}", it.code())),
        found.front.map(|it| format!("front-{}", it.code())),
        lower,
    ];
    all.into_iter().flatten().collect()
}

/// A mark without its place in the order: its class and its points in tenths.
type Stroke = (String, Vec<(i64, i64)>);

fn stroke(mark: &Mark, down: f64) -> Stroke {
    #[expect(
        clippy::cast_possible_truncation,
        reason = "a picture is 380 units high"
    )]
    let tenths = |it: f64| (it * 10.0).round() as i64;
    let at = points(mark).into_iter();
    (
        class_of(mark).to_owned(),
        at.map(|it| (tenths(it.x), tenths(it.y + down))).collect(),
    )
}

fn strokes<'a>(marks: impl Iterator<Item = &'a Mark>) -> Vec<Stroke> {
    let mut strokes: Vec<Stroke> = marks.map(|mark| stroke(mark, 0.0)).collect();
    strokes.sort();
    strokes
}

/// The marks of these groups; those of the fundus where the sheet moves them.
fn shown(names: &[String], layers: &[Layer], sunk: f64) -> Vec<Stroke> {
    let mut strokes = Vec::new();
    for name in names {
        let down = if name.starts_with("fundus-") {
            sunk
        } else {
            0.0
        };
        let group = format!("felt {name}");
        for layer in layers.iter().filter(|it| it.name == group) {
            strokes.extend(layer.marks.iter().map(|mark| stroke(mark, down)));
        }
    }
    strokes.sort();
    strokes
}

/// Where nothing is concluded the saved picture is what the pad showed; a baby that is concluded takes up whole marks.
#[test]
fn every_saved_picture_is_what_the_pad_showed_or_joins_it_to_a_baby() {
    let pad = Pad::new();
    let mut as_felt = 0;
    let count = every_valid_finding(|found| {
        let it = drawn(found);
        let conclusion = read_palpation(found);
        let hands = Hands {
            felt: found,
            conclusion: conclusion.as_ref(),
        };
        let names = chosen(found);
        if !hands.joined() {
            as_felt += 1;
            let sunk = sunk(found);
            let felt = strokes(it.felt.marks.iter());
            assert_eq!(felt, shown(&names, &pad.felt, sunk), "{found:?}");
            let over = strokes(it.over.marks.iter());
            assert_eq!(over, shown(&names, &pad.over, sunk), "{found:?}");
        }
        let mut beside: Vec<&Mark> = Vec::new();
        let head = names.iter().find_map(|name| name.strip_prefix("head-"));
        let depth = head.and_then(|head| pad.heads.iter().find(|it| it.fifths.to_string() == head));
        if let Some(depth) = depth {
            beside.extend(found.fifths.iter().flat_map(|_| &depth.ladder.marks));
            let sign = found.head.map(|head| match head {
                Head::Mobile => &depth.moves,
                Head::Fixed => &depth.holds,
            });
            beside.extend(sign.into_iter().flat_map(|it| &it.marks));
        }
        let descent: Vec<&Mark> = it.descent.marks.iter().collect();
        assert_eq!(descent, beside, "{found:?}");
    });
    assert_eq!(count, COMBINATIONS);
    assert!(as_felt > 5_000, "{as_felt}");
}

/// How far the sheet lets the fundus sink, user units.
fn sunk(found: &PalpationFindings) -> f64 {
    let below = match (found.lower, found.fifths) {
        (Some(Pole::HardRound), Some(fifths)) => 5 - fifths,
        (Some(Pole::Empty), Some(0)) => 5,
        _ => 0,
    };
    f64::from(below) * SUNK_BY
}

#[test]
fn the_pad_concludes_nothing() {
    let pad = draw_pad().to_string();
    for concluded in ["p-baby", "p-guess", "p-face", "p-open-end", "p-tag"] {
        assert!(!pad.contains(concluded), "{concluded}");
    }
}

#[test]
fn a_choice_carries_the_mark_that_it_draws() {
    let glyphs = draw_glyphs().to_string();
    assert_eq!(glyphs.matches(" id=\"g-").count(), 6);
    for part in ["p-felt-head", "p-felt-soft", "p-felt-back", "p-felt-lump"] {
        assert!(glyphs.contains(part), "{part}");
    }
    assert!(glyphs.contains("p-hatch") && glyphs.contains("p-unsure"));
}
