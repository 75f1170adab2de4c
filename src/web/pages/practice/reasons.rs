//! Why the program answers as it does, in a sentence for each of the six questions.
//!
//! Lie and certainty follow from the row of the reference that the poles meet; this puts the row into words and decides nothing.

use super::exercises::Exercise;
use crate::clinical::{
    Assessment, Back, Certainty, Palpation, PalpationFindings, Presentation, Side, rule,
};
use crate::web::charts::abdomen::contradictions;

/// In the order of the questions.
pub(super) fn of(exercise: &Exercise, judged: &Assessment) -> [String; 6] {
    let felt = exercise.visit().and_then(|visit| visit.palpation.clone());
    let felt = felt.unwrap_or_default();
    let nothing = || "Nothing was palpated.".to_owned();
    let (lie, first, sure) = judged.palpation.as_ref().map_or_else(
        || (nothing(), nothing(), nothing()),
        |read| {
            (
                poles(read.row).to_owned(),
                presentation(read).to_owned(),
                certainty(read, &felt),
            )
        },
    );
    [
        lie,
        first,
        back(judged.palpation.as_ref(), &felt),
        engaged(judged.palpation.as_ref(), &felt),
        sure,
        urgency(judged),
    ]
}

/// Where heads and breeches were found, by the row that they meet.
pub(super) fn poles(row: &str) -> &'static str {
    match row {
        "P1" => "Two heads: only the lower end says how the first baby lies.",
        "P2" => "A head and two breeches: only the lower end says how the first baby lies.",
        "P3" => "A breech above and a breech below lie lengthwise; one of them is a head misread.",
        "P4" => "Two breeches and no head say nothing about the lie.",
        "P5" => "The head below and the breech above: lengthwise.",
        "P6" => "The head is below; no breech was found, and lengthwise is what remains.",
        "P7" => {
            "The head is in the brim and holds the baby lengthwise, though the breech leans to a side."
        }
        "P8" => "The head is near the brim and not in it, the breech at a side: slanting.",
        "P9" => "The head above and the breech below: lengthwise.",
        "P10" => "The head is above; no breech was found, and lengthwise is what remains.",
        "P11" => "The head is above, the breech at a side: slanting.",
        "P12" => "The head is at a side, the breech below: slanting.",
        "P13" => "The head is at a side, the breech above: slanting.",
        "P14" => "The head at a side, nothing above and nothing below: across.",
        "P15" => {
            "The head is at a side: across until the rest was felt, which is the safer reading."
        }
        "P16" => "The breech is below; no head was found, and lengthwise is what remains.",
        "P17" => "The breech is above; below nothing was made out, and a head is likeliest there.",
        "P18" => {
            "The breech is above and nothing was felt below: lengthwise, and no more can be said."
        }
        "P19" => {
            "The breech at a side and an end that is empty: across, which is the safer reading."
        }
        "P20" => "A breech at a side alone says nothing about the lie.",
        "P21" => "Both ends empty, yet a back along a side: that does not go together.",
        "P22" => "Both ends are empty, and back or limbs lie in between: across.",
        "P23" => "Both ends empty and nothing in between: nothing felt is no finding.",
        _ => "No head and no breech was made out.",
    }
}

fn presentation(read: &Palpation) -> &'static str {
    match (read.presentation, read.row) {
        (Presentation::Cephalic, "P17") => "A breech above lets a head be expected below.",
        (Presentation::Cephalic, _) => {
            "Hard, round and moving by itself: the head lies nearest the brim."
        }
        (Presentation::Breech, "P10") => "A head above lets a breech be expected below.",
        (Presentation::Breech, _) => {
            "Softer, irregular and moving with the trunk: the breech lies nearest the brim."
        }
        (Presentation::Shoulder, _) => "A baby that lies across comes with its shoulder.",
        (Presentation::None, _) => "Neither end lies over the brim.",
        (Presentation::Unknown, "P18") => {
            "Empty below: a head deep in the pelvis, or nothing over the brim. Only the fifths tell the two apart."
        }
        (Presentation::Unknown, _) => "What lies over the brim was not made out.",
    }
}

fn back(read: Option<&Palpation>, felt: &PalpationFindings) -> String {
    let side = match read.map(|it| it.back) {
        Some(Back::Left) => "left",
        Some(Back::Right) => "right",
        Some(Back::Unknown) | None => {
            let both = [felt.left, felt.right];
            let smooth = both.iter().filter(|it| **it == Some(Side::LongSmooth));
            let poles =
                |it: &&Option<Side>| matches!(it, Some(Side::HardRound | Side::SoftIrregular));
            return if smooth.count() == 2 {
                "One baby has one back; found on both sides it is known on neither.".to_owned()
            } else if both.iter().filter(poles).count() == 2 {
                "Both sides hold an end of the baby, so neither holds the back.".to_owned()
            } else {
                "Neither side alone is long and smooth, and limbs are not on one side alone."
                    .to_owned()
            };
        }
    };
    let here = if side == "left" {
        felt.left
    } else {
        felt.right
    };
    let viewer = if side == "left" { "right" } else { "left" };
    if here == Some(Side::LongSmooth) {
        format!(
            "The long, smooth side is her {side}. She faces you: her {side} is on your {viewer}."
        )
    } else {
        format!("Limbs are on the other side alone, so the back is to her {side}.")
    }
}

fn engaged(read: Option<&Palpation>, felt: &PalpationFindings) -> String {
    match (read.and_then(|it| it.engaged), felt.fifths) {
        (Some(true), Some(0)) => "0/5: nothing of the head is left above the brim.".to_owned(),
        (Some(true), Some(fifths)) => {
            format!("{fifths}/5 above the brim: two or fewer is engaged.")
        }
        (Some(false), Some(fifths)) => {
            format!("{fifths}/5 above the brim: three or more is not engaged.")
        }
        (_, None) => "No fifths were counted, and they are counted of a head only.".to_owned(),
        _ if read.is_some_and(|it| it.row == "P1") => {
            "Fifths speak for one head alone; here more than one was felt.".to_owned()
        }
        _ => "The fifths do not go together with what else was felt.".to_owned(),
    }
}

fn certainty(read: &Palpation, felt: &PalpationFindings) -> String {
    match read.certainty {
        Certainty::Clear => {
            "Both ends were found where they belong: nothing is left to guess.".to_owned()
        }
        Certainty::Probable => {
            "Not both ends were found where they decide by themselves; part of it is concluded."
                .to_owned()
        }
        Certainty::Conflicting => {
            let all = contradictions(felt, Some(read));
            format!("{}.", all.join("; "))
        }
        Certainty::Insufficient => {
            "What was felt fits more than one baby; no guess is made.".to_owned()
        }
    }
}

/// The flag that leads, in the rule's own words; its evidence stands on its card.
fn urgency(judged: &Assessment) -> String {
    let Some(first) = judged.flags.first() else {
        return "No rule speaks: nothing found asks for more.".to_owned();
    };
    let (title, when) = rule(first.rule).map_or((first.rule, ""), |it| (it.title, it.when));
    let others = match judged.flags.len() {
        1 => "",
        _ => " The most pressing of several decides.",
    };
    format!("“{title}”: {}.{others}", when.trim_end_matches('.'))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_row_of_the_reference_has_its_own_words() {
        let mut all: Vec<&str> = (1..=24).map(|row| poles(&format!("P{row}"))).collect();
        all.sort_unstable();
        all.dedup();
        assert_eq!(all.len(), 24);
    }
}
