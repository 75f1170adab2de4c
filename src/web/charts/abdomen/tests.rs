//! Draws every combination of findings: what was felt is there, what was not is not, left and right mirror.

use super::super::geometry::Point;
use super::super::marks::{Layer, Mark};
use super::hands::{Hands, Place, Touch};
use super::{Abdomen, contradictions, picture, words};
use crate::clinical::{
    Certainty, Front, Head, Lie, PalpationFindings, Pole, Side, palpation_faults, read_palpation,
};
use askama::Template;

/// 34,299 findings that come to something, and the one in which nothing was palpated.
pub(super) const COMBINATIONS: usize = 34_300;

fn with_absent<T: Copy>(all: &[T]) -> Vec<Option<T>> {
    std::iter::once(None)
        .chain(all.iter().copied().map(Some))
        .collect()
}

pub(super) fn every_valid_finding(mut visit: impl FnMut(&PalpationFindings)) -> usize {
    let mut count = 0;
    let (poles, sides) = (with_absent(Pole::ALL), with_absent(Side::ALL));
    let (fronts, heads) = (with_absent(Front::ALL), with_absent(Head::ALL));
    let fifths = with_absent(&[0, 1, 2, 3, 4, 5]);
    for lower in &poles {
        for fundus in &poles {
            for left in &sides {
                for right in &sides {
                    for front in &fronts {
                        for (fifths, head) in fifths
                            .iter()
                            .flat_map(|f| heads.iter().map(move |h| (f, h)))
                        {
                            let found = PalpationFindings {
                                fundus: *fundus,
                                left: *left,
                                right: *right,
                                front: *front,
                                lower: *lower,
                                fifths: *fifths,
                                head: *head,
                                ..PalpationFindings::default()
                            };
                            if palpation_faults(&found).is_ok() {
                                count += 1;
                                visit(&found);
                            }
                        }
                    }
                }
            }
        }
    }
    count
}

pub(super) fn drawn<'a>(found: &PalpationFindings) -> Abdomen<'a> {
    picture("v1", found, read_palpation(found).as_ref(), false)
}

fn layers<'a>(it: &'a Abdomen) -> [&'a Layer; 6] {
    [
        &it.baby,
        &it.felt,
        &it.over,
        &it.descent,
        &it.words,
        &it.tag,
    ]
}

pub(super) fn class_of(mark: &Mark) -> &'static str {
    match mark {
        Mark::Path { class, .. }
        | Mark::Circle { class, .. }
        | Mark::Ellipse { class, .. }
        | Mark::Rect { class, .. }
        | Mark::Text { class, .. } => class,
    }
}

#[test]
fn every_combination_shows_each_finding_once_inside_its_frame_and_nothing_else() {
    let count = every_valid_finding(|found| {
        let conclusion = read_palpation(found);
        let hands = Hands {
            felt: found,
            conclusion: conclusion.as_ref(),
        };
        let it = drawn(found);
        let figure: Vec<&Mark> = [&it.baby, &it.felt, &it.over]
            .into_iter()
            .flat_map(|layer| &layer.marks)
            .collect();
        let marks = |class| figure.iter().filter(|mark| class_of(mark) == class).count();
        let rings = figure
            .iter()
            .filter(|mark| {
                matches!(
                    mark,
                    Mark::Circle {
                        class: "p-felt-head",
                        ..
                    }
                )
            })
            .count();
        let all = [
            Place::Fundus,
            Place::Left,
            Place::Right,
            Place::Front,
            Place::Lower,
        ];
        let felt = |touch| all.iter().filter(|place| hands.is(**place, touch)).count();
        assert_eq!(
            rings + marks("p-below-brim"),
            felt(Touch::Head),
            "heads of {found:?}"
        );
        assert_eq!(
            marks("p-felt-soft"),
            felt(Touch::Breech),
            "breeches of {found:?}"
        );
        assert_eq!(
            marks("p-unsure"),
            felt(Touch::Unsure),
            "unsure parts of {found:?}"
        );
        assert_eq!(
            marks("p-hatch"),
            felt(Touch::Nothing),
            "empty parts of {found:?}"
        );
        let backs = marks("p-felt-back") + marks("p-felt-crescent") + marks("p-felt-spine");
        assert_eq!(backs, felt(Touch::Back), "backs of {found:?}");
        let certainty = hands.certainty();
        let joined = matches!(certainty, Certainty::Clear | Certainty::Probable);
        assert_eq!(
            !it.baby.marks.is_empty(),
            joined,
            "a whole only where the lie is said: {found:?}"
        );
        let said = contradictions(found, conclusion.as_ref());
        assert_eq!(
            !said.is_empty(),
            certainty == Certainty::Conflicting,
            "named in {found:?}"
        );
        assert_eq!(it.tag.marks.is_empty(), said.is_empty(), "tag of {found:?}");
        for mark in layers(&it).into_iter().flat_map(|layer| &layer.marks) {
            for point in points(mark) {
                let inside = (-1.0..=321.0).contains(&point.x) && (-1.0..=381.0).contains(&point.y);
                assert!(inside, "{point:?} of {mark:?} in {found:?}");
            }
        }
    });
    assert_eq!(count, COMBINATIONS);
}

#[test]
fn every_combination_is_well_formed_markup() {
    let mut text = String::new();
    every_valid_finding(|found| {
        let it = drawn(found);
        text.clear();
        assert!(it.render_into(&mut text).is_ok(), "{found:?}");
        if let Err(fault) = well_formed(&text) {
            panic!("{fault} in {found:?}");
        }
    });
}

#[test]
fn left_and_right_mirror_in_every_combination() {
    every_valid_finding(|found| {
        if found.left > found.right {
            return; // its twin was compared already
        }
        let swapped = PalpationFindings {
            left: found.right,
            right: found.left,
            ..found.clone()
        };
        let (one, other) = (drawn(found), drawn(&swapped));
        for (one, other) in layers(&one).into_iter().zip(layers(&other)).take(3) {
            assert_eq!(
                one.marks.len(),
                other.marks.len(),
                "{} of {found:?}",
                one.name
            );
            let mut rest: Vec<_> = other.marks.iter().map(outline).collect();
            for mark in &one.marks {
                let (class, (left, top), (right, foot)) = outline(mark);
                let slack = slack(class);
                let near = |a: f64, b: f64| (a - b).abs() <= slack;
                let twin = rest.iter().position(|(kind, (l, t), (r, f))| {
                    *kind == class
                        && near(*l, 320.0 - right)
                        && near(*r, 320.0 - left)
                        && near(*t, top)
                        && near(*f, foot)
                });
                match twin {
                    Some(twin) => drop(rest.swap_remove(twin)),
                    None => panic!("{mark:?} has no mirror in {found:?}"),
                }
            }
        }
    });
}

/// Marks without a side are not drawn the other way round: the lobes of a breech whose back is unknown, the front.
fn slack(class: &str) -> f64 {
    match class {
        "p-felt-soft" | "p-felt-fill" => 9.0,
        "p-felt-lump" | "p-hatch" => 7.0,
        "p-felt-spine" | "p-felt-back" | "p-felt-fold" => 24.0,
        _ => 0.25,
    }
}

fn outline(mark: &Mark) -> (&'static str, (f64, f64), (f64, f64)) {
    let all = points(mark);
    let span = |values: &dyn Fn(&Point) -> f64| {
        let low = all.iter().map(values).fold(f64::MAX, f64::min);
        let high = all.iter().map(values).fold(f64::MIN, f64::max);
        (low, high)
    };
    let ((left, right), (top, foot)) = (span(&|it| it.x), span(&|it| it.y));
    (class_of(mark), (left, top), (right, foot))
}

/// The points that a mark names; an arc counts by its ends, and relative strokes by their start.
pub(super) fn points(mark: &Mark) -> Vec<Point> {
    let Mark::Path { d, .. } = mark else {
        return match mark {
            Mark::Circle { at, .. }
            | Mark::Ellipse { at, .. }
            | Mark::Text { at, .. }
            | Mark::Rect { at, .. } => vec![*at],
            Mark::Path { .. } => Vec::new(),
        };
    };
    let mut found = Vec::new();
    for command in d
        .as_str()
        .split_inclusive(char::is_alphabetic)
        .collect::<Vec<_>>()
        .windows(2)
    {
        let [before, body] = command else { continue };
        let numbers: Vec<f64> = body
            .trim_end_matches(char::is_alphabetic)
            .split_ascii_whitespace()
            .filter_map(|number| number.parse().ok())
            .collect();
        match before.chars().last() {
            Some('M' | 'L' | 'C') => found.extend(
                numbers
                    .chunks_exact(2)
                    .map(|xy| Point { x: xy[0], y: xy[1] }),
            ),
            Some('A') if numbers.len() == 7 => found.push(Point {
                x: numbers[5],
                y: numbers[6],
            }),
            _ => {}
        }
    }
    found
}

/// A small reader of markup: tags close in order, attributes are quoted.
fn well_formed(text: &str) -> Result<(), String> {
    let mut open: Vec<&str> = Vec::new();
    for piece in text.trim().split('<').skip(1) {
        let Some((tag, _)) = piece.split_once('>') else {
            return Err(format!("a tag does not end: {piece}"));
        };
        if let Some(name) = tag.strip_prefix('/') {
            if open.pop() != Some(name) {
                return Err(format!("</{name}> closes nothing"));
            }
            continue;
        }
        if tag.matches('"').count() % 2 == 1 {
            return Err(format!("an attribute is not closed: {tag}"));
        }
        if !tag.ends_with('/') {
            open.push(tag.split(' ').next().unwrap_or(tag));
        }
    }
    if open.is_empty() {
        Ok(())
    } else {
        Err(format!("{open:?} stay open"))
    }
}

pub(super) fn usual() -> PalpationFindings {
    PalpationFindings {
        fundus: Some(Pole::SoftIrregular),
        left: Some(Side::LongSmooth),
        right: Some(Side::SmallLumps),
        front: Some(Front::Nothing),
        lower: Some(Pole::HardRound),
        fifths: Some(4),
        head: Some(Head::Mobile),
        ..PalpationFindings::default()
    }
}

pub(super) fn sentence(found: &PalpationFindings) -> String {
    words(found, read_palpation(found).as_ref()).sentence
}

#[test]
fn the_words_say_what_the_picture_shows() {
    assert_eq!(
        sentence(&usual()),
        "Longitudinal lie, head first: clear. Back to her left (provisional)."
    );
    let deep = PalpationFindings {
        lower: Some(Pole::Empty),
        fifths: Some(0),
        head: None,
        ..usual()
    };
    let said = words(&deep, read_palpation(&deep).as_ref());
    assert!(
        said.rows
            .iter()
            .any(|row| row.said.starts_with("nothing above the brim"))
    );
    let moving = PalpationFindings {
        fifths: Some(2),
        ..usual()
    };
    assert_eq!(
        sentence(&moving),
        "The findings do not fit together: 2/5, yet it moves. Drawn as felt, not joined up."
    );
    assert_eq!(
        sentence(&PalpationFindings::default()),
        "Nothing was palpated."
    );
}

#[test]
fn a_slanting_lie_keeps_the_upright_uterus_and_a_lie_across_widens_it() {
    let across = PalpationFindings {
        fundus: Some(Pole::Empty),
        left: Some(Side::HardRound),
        right: Some(Side::SoftIrregular),
        lower: Some(Pole::Empty),
        ..PalpationFindings::default()
    };
    assert_eq!(
        read_palpation(&across).map(|it| it.lie),
        Some(Lie::Transverse)
    );
    assert!(drawn(&across).across);
    assert!(!drawn(&usual()).across);
}

#[test]
fn two_pictures_on_one_page_share_no_id() {
    let found = usual();
    let conclusion = read_palpation(&found);
    let text = super::draw("visit-7", &found, conclusion.as_ref()).to_string();
    assert!(text.contains(r#"aria-labelledby="visit-7-t visit-7-d""#));
    assert_eq!(text.matches(" id=\"").count(), 2);
    for never in [" style=", "<script", "<style", "<defs"] {
        assert!(!text.contains(never), "{never}");
    }
}
