//! Why the program answers as it does, in a sentence for each of the six questions.
//!
//! It puts into words what was concluded and decides nothing; each sentence is true of the hands that the learner reads.

use super::exercises::Exercise;
use super::rows;
use crate::clinical::{
    Assessment, Back, Head, Palpation, PalpationFindings, Pole, Presentation, Side, rule,
};

/// In the order of the questions.
pub(super) fn of(exercise: &Exercise, judged: &Assessment) -> [String; 6] {
    let felt = exercise.visit().and_then(|visit| visit.palpation.clone());
    let felt = felt.unwrap_or_default();
    let hands = judged.palpation.as_ref();
    let nothing = || "Nothing was palpated.".to_owned();
    let (lie, first, sure) = hands.map_or_else(
        || (nothing(), nothing(), nothing()),
        |read| {
            (
                rows::lie(read.row, rows::deep_head(&felt)).to_owned(),
                presentation(read, &felt).to_owned(),
                rows::certainty(read, &felt),
            )
        },
    );
    [
        lie,
        first,
        back(hands, &felt),
        engaged(hands, &felt),
        sure,
        urgency(judged),
    ]
}

fn presentation(read: &Palpation, felt: &PalpationFindings) -> &'static str {
    match (read.presentation, read.row) {
        (Presentation::Cephalic, "P17") => "A breech above lets a head be expected below.",
        (Presentation::Cephalic, _) if rows::deep_head(felt) => {
            "Empty below, with 0/5: the head has gone down into the pelvis and comes first."
        }
        // “A head”: there may be another above. One that the brim holds no longer moves by itself.
        (Presentation::Cephalic, _) => match felt.head {
            Some(Head::Mobile) => "Hard, round and mobile: a head lies nearest the brim.",
            Some(Head::Fixed) => "Hard, round and fixed: a head lies nearest the brim.",
            None => "Hard and round: a head lies nearest the brim.",
        },
        (Presentation::Breech, "P10") => "A head above lets a breech be expected below.",
        (Presentation::Breech, _) => "Soft and irregular: a breech lies nearest the brim.",
        (Presentation::Shoulder, _) => "A baby that lies across comes with its shoulder.",
        (Presentation::None, _) => "Neither end lies over the brim.",
        (Presentation::Unknown, "P18") => {
            "Empty below: a head deep in the pelvis, or nothing over the brim. The fifths would tell the two apart."
        }
        (Presentation::Unknown, _) => "What lies over the brim was not made out.",
    }
}

fn back(read: Option<&Palpation>, felt: &PalpationFindings) -> String {
    let (side, other, here) = match read.map(|it| it.back) {
        Some(Back::Left) => ("left", "right", felt.left),
        Some(Back::Right) => ("right", "left", felt.right),
        Some(Back::Unknown) | None => return no_back(felt).to_owned(),
    };
    if here == Some(Side::LongSmooth) {
        format!(
            "The long, smooth side is her {side}. She faces you: her {side} is on your {other}."
        )
    } else {
        // Of the other side nothing is claimed: it may not have been made out.
        format!(
            "Limbs were felt on one side alone, her {other}, so the back is taken to be on her {side}."
        )
    }
}

/// Why the back is on neither side.
fn no_back(felt: &PalpationFindings) -> &'static str {
    let both = |one_of: &[Side]| {
        let mut sides = [felt.left, felt.right].into_iter();
        sides.all(|side| side.is_some_and(|it| one_of.contains(&it)))
    };
    if both(&[Side::LongSmooth]) {
        "One baby has one back; felt on both sides it is known on neither."
    } else if both(&[Side::HardRound, Side::SoftIrregular]) {
        "Both sides hold an end of the baby, so neither says where the back is."
    } else if both(&[Side::SmallLumps]) {
        "Limbs were felt on both sides, so neither says where the back is."
    } else {
        "Neither back nor limbs were felt along a side."
    }
}

fn engaged(read: Option<&Palpation>, felt: &PalpationFindings) -> String {
    let row = read.map_or("", |it| it.row);
    match (read.and_then(|it| it.engaged), felt.fifths) {
        (Some(true), Some(0)) => "0/5: nothing of the head is left above the brim.".to_owned(),
        (Some(true), Some(fifths)) => {
            format!("{fifths}/5 above the brim: two or fewer is engaged.")
        }
        (Some(false), Some(fifths)) => {
            format!("{fifths}/5 above the brim: three or more is not engaged.")
        }
        (_, None) if row == "P18" => {
            "No fifths were counted; 0/5 would say that the head is deep in the pelvis.".to_owned()
        }
        (_, None) if felt.lower == Some(Pole::HardRound) => {
            "The fifths of the head were not counted.".to_owned()
        }
        (_, None) => "No head was felt over the brim, and only a head has fifths.".to_owned(),
        _ if row == "P1" => {
            "Fifths speak for one head alone; here there seems to be more than one.".to_owned()
        }
        _ => "Fifths and mobility of the head do not go together.".to_owned(),
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
