//! The rows of the reference in words: why the lie, and how sure it is.
//!
//! A head deep in the pelvis counts as the head below, yet no hand felt it; what is said of it says so.

use crate::clinical::{Certainty, Palpation, PalpationFindings, Pole, Side};
use crate::web::charts::abdomen::contradictions;

/// Nothing of the head is left above the brim: known by 0/5 alone.
pub(super) fn deep_head(felt: &PalpationFindings) -> bool {
    felt.lower == Some(Pole::Empty) && felt.fifths == Some(0)
}

/// Where heads and breeches were found, by the row that they meet.
pub(super) fn lie(row: &str, deep: bool) -> &'static str {
    match row {
        "P1" => "Two heads: only the lower end says how the first baby lies.",
        "P2" => "A head and two breeches: only the lower end says how the first baby lies.",
        "P3" => "A breech above and a breech below lie lengthwise; one of them is a head misread.",
        "P4" => "Two breeches and no head say nothing about the lie.",
        "P5" if deep => "The breech above and the head deep in the pelvis: lengthwise.",
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

/// How much of the conclusion was felt and how much is concluded.
pub(super) fn certainty(read: &Palpation, felt: &PalpationFindings) -> String {
    match read.certainty {
        Certainty::Clear => clear(read.row, felt).to_owned(),
        Certainty::Probable => probable(read.row, deep_head(felt)).to_owned(),
        Certainty::Conflicting => format!("{}.", contradictions(felt, Some(read)).join("; ")),
        Certainty::Insufficient => {
            "What was felt can be read in more than one way; no guess is made.".to_owned()
        }
    }
}

fn clear(row: &str, felt: &PalpationFindings) -> &'static str {
    let breech_at_a_side = [felt.left, felt.right].contains(&Some(Side::SoftIrregular));
    match row {
        _ if deep_head(felt) => {
            "The breech was felt above, and 0/5 says where the head is: lie and first part need no guess."
        }
        "P14" if breech_at_a_side => {
            "Head and breech were both felt, one at each side, with nothing above and nothing below."
        }
        "P14" => "The head was felt at a side, with nothing above and nothing below.",
        _ => {
            "Head and breech were both felt, one above and one below: lie and first part need no guess."
        }
    }
}

fn probable(row: &str, deep: bool) -> &'static str {
    match row {
        _ if deep => "No head was felt: 0/5 alone says where it is, and the rest is concluded.",
        "P6" | "P10" | "P16" | "P17" => "Only one end was felt; the other is concluded from it.",
        "P7" | "P8" | "P11" | "P12" | "P13" => "Both ends were felt, yet not opposite each other.",
        "P22" => "Neither head nor breech was felt; the lie is concluded from what lies between.",
        _ => "An end was felt at a side; what would prove that the baby lies across was not.",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_row_of_the_reference_has_its_own_words() {
        let row = |number: u8| lie(&format!("P{number}"), false);
        let mut all: Vec<&str> = (1..=24).map(row).collect();
        all.sort_unstable();
        all.dedup();
        assert_eq!(all.len(), 24);
    }
}
