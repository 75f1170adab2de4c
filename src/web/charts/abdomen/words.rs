//! The same picture in words: one sentence, and a row for each place.

use std::fmt::Write;

use super::super::WordRow;
use super::hands::{Hands, Place, Touch};
use super::whole::ends;
use crate::clinical::{Certainty, Head, Lie, Palpation, PalpationFindings, Presentation};

/// What a picture of the abdomen says.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Words {
    /// The conclusion, or why there is none.
    pub sentence: String,
    /// Top, left, right, front, low, and the descent of a head.
    pub rows: Vec<WordRow>,
}

/// Says what [`draw`](super::draw) draws; without a conclusion nothing was palpated.
#[must_use]
pub fn words(felt: &PalpationFindings, conclusion: Option<&Palpation>) -> Words {
    let hands = Hands { felt, conclusion };
    Words {
        sentence: sentence(&hands),
        rows: rows(&hands),
    }
}

impl Words {
    pub(super) fn description(&self) -> String {
        let mut text = self.sentence.clone();
        for row in &self.rows {
            let _ = write!(text, " {}: {}.", row.label, row.said);
        }
        text
    }
}

const PLACES: [(Place, &str); 5] = [
    (Place::Fundus, "Top (fundus)"),
    (Place::Left, "Her left side"),
    (Place::Right, "Her right side"),
    (Place::Front, "Front"),
    (Place::Lower, "Above the pubic bone"),
];

fn rows(hands: &Hands) -> Vec<WordRow> {
    let mut rows: Vec<WordRow> = PLACES
        .into_iter()
        .map(|(place, label)| WordRow {
            label,
            said: said(hands, place).to_owned(),
        })
        .collect();
    if hands.head_over_brim() {
        rows.push(WordRow {
            label: "Descent",
            said: descent(hands),
        });
    }
    rows
}

fn said(hands: &Hands, place: Place) -> &'static str {
    match hands.touch(place) {
        None => "not examined",
        Some(Touch::Head) if place == Place::Lower && hands.deep_head() => {
            "nothing above the brim: the head is deep in the pelvis"
        }
        Some(Touch::Head) => "hard, round: a head",
        Some(Touch::Breech) => "softer, irregular: a breech",
        Some(Touch::Back) => "long and smooth: the back",
        Some(Touch::Limbs) => "small lumps: limbs",
        Some(Touch::Nothing) if matches!(place, Place::Fundus | Place::Lower) => "empty",
        Some(Touch::Nothing) => "nothing there",
        Some(Touch::Unsure) => "felt, not sure what",
    }
}

fn descent(hands: &Hands) -> String {
    let mut text = hands.felt.fifths.map_or_else(
        || "fifths not recorded".to_owned(),
        |fifths| format!("{fifths} of 5 fifths above the brim"),
    );
    if let Some(head) = hands.mobility() {
        text.push_str(", ");
        text.push_str(head.words());
    }
    text
}

fn sentence(hands: &Hands) -> String {
    let Some(conclusion) = hands.conclusion else {
        return "Nothing was palpated.".to_owned();
    };
    let sure = match conclusion.certainty {
        Certainty::Conflicting => {
            let why = contradictions(hands.felt, hands.conclusion).join("; ");
            return format!(
                "The findings do not fit together: {}. Drawn as felt, not joined up.",
                why.to_lowercase()
            );
        }
        Certainty::Insufficient => {
            return "Not enough was felt to say how the baby lies.".to_owned();
        }
        Certainty::Clear => "clear",
        Certainty::Probable => "likely",
    };
    if conclusion.lie == Lie::Transverse {
        return format!(
            "Transverse lie, {}: {sure}.{}",
            end_found(hands),
            facing(hands)
        );
    }
    let lie = match conclusion.lie {
        Lie::Oblique => "Oblique",
        _ => "Longitudinal",
    };
    let back = hands.back().map_or_else(
        || " Side of the back not known.".to_owned(),
        |side| format!(" Back to her {} (provisional).", side_word(side)),
    );
    format!(
        "{lie} lie, {}: {sure}.{back}{}",
        presents(conclusion.presentation),
        facing(hands),
    )
}

fn presents(presentation: Presentation) -> &'static str {
    match presentation {
        Presentation::Cephalic => "head first",
        Presentation::Breech => "breech first",
        Presentation::Shoulder => "shoulder first",
        Presentation::None => "nothing over the brim",
        Presentation::Unknown => "what lies over the brim is not known",
    }
}

fn end_found(hands: &Hands) -> String {
    match ends(hands) {
        Some(ends) if hands.is(ends.head, Touch::Head) => {
            format!("head to her {}", side_word(ends.head))
        }
        Some(ends) if hands.is(ends.breech, Touch::Breech) => {
            format!("breech to her {}", side_word(ends.breech))
        }
        _ => "neither end found".to_owned(),
    }
}

fn side_word(side: Place) -> &'static str {
    if side == Place::Left { "left" } else { "right" }
}

/// What the front adds. Only of a head that comes first is it said that labour may be longer.
fn facing(hands: &Hands) -> &'static str {
    let lengthwise = hands.lie() == Lie::Longitudinal && hands.back().is_some();
    let presents = hands.conclusion.map(|it| it.presentation);
    match hands.touch(Place::Front) {
        Some(Touch::Limbs) if lengthwise && presents == Some(Presentation::Cephalic) => {
            " It faces her front: labour may be longer."
        }
        Some(Touch::Limbs) if lengthwise => " It faces her front.",
        Some(Touch::Limbs) => " Limbs towards the front.",
        Some(Touch::Back) if hands.back().is_some() => " Its back is towards the front.",
        Some(Touch::Back) => " Back towards the front.",
        _ => "",
    }
}

/// Why the findings do not fit together, most telling first; empty unless the conclusion says so.
///
/// The conclusion is `clinical`'s; this only puts its row and the contradictions of the reference into words.
#[must_use]
pub fn contradictions(felt: &PalpationFindings, conclusion: Option<&Palpation>) -> Vec<String> {
    let hands = Hands { felt, conclusion };
    let Some(conclusion) = conclusion.filter(|it| it.certainty == Certainty::Conflicting) else {
        return Vec::new();
    };
    let count = |touch| {
        let found = Place::POLES.iter().filter(|place| hands.is(**place, touch));
        found.count()
    };
    let poles = match conclusion.row {
        "P1" if count(Touch::Head) > 2 => Some("More than two heads felt"),
        "P1" => Some("Two heads felt"),
        "P2" if count(Touch::Breech) > 2 => Some("More than three poles felt"),
        "P2" => Some("Three poles felt"),
        "P3" | "P4" if count(Touch::Breech) > 2 => Some("More than two breeches"),
        "P3" | "P4" => Some("Two breeches, no head"),
        "P21" => Some("A back, yet no pole"),
        _ => None,
    };
    let mut all: Vec<String> = poles.map(str::to_owned).into_iter().collect();
    if hands.is(Place::Left, Touch::Back) && hands.is(Place::Right, Touch::Back) {
        all.push("A back felt on both sides".to_owned());
    }
    match (felt.fifths, felt.head) {
        (Some(fifths @ 0..=3), Some(Head::Mobile)) => {
            all.push(format!("{fifths}/5, yet it moves"));
        }
        (Some(5), Some(Head::Fixed)) => all.push("5/5, yet it is fixed".to_owned()),
        _ => {}
    }
    all
}
