//! Meconium and blood: the judging of what drains in labour (reference 4.5).

use super::rule::Raised;
use crate::clinical::labour::Labour;
use crate::clinical::picture::Picture;
use crate::clinical::verdict::{Spoken, Verdict, Why, ask, ask_fact};
use crate::clinical::{DangerSign, Liquor, Moment, ObstructionSign, Stage};

/// Meconium of the second grade counts as early up to here [O].
const EARLY_ACTIVE: u8 = 6;

fn last<'a>(seen: &'a Picture<'_>) -> Result<(&'a Labour, Moment, Liquor), Why> {
    let labour = seen.labouring()?;
    let (at, liquor) = seen
        .last_in_labour(|record| record.row()?.liquor)
        .ok_or(Why::Fact("liquor not recorded"))?;
    Ok((labour, at, liquor))
}

fn is(found: Liquor, wanted: Liquor) -> Result<(), Why> {
    ask(
        found == wanted,
        Why::Word {
            what: "the last liquor",
            found: found.code(),
            wanted: wanted.code(),
        },
    )
}

fn stage_words(labour: &Labour) -> String {
    match (labour.stage, labour.highest) {
        (Some(stage), Some((cm, _))) => format!("{cm} cm, {} stage", stage_name(stage)),
        _ => "dilatation not recorded".to_owned(),
    }
}

fn stage_name(stage: Stage) -> &'static str {
    match stage {
        Stage::Second => "second",
        other => other.words(),
    }
}

pub(super) fn thick(seen: &Picture<'_>, _: &Raised) -> Verdict {
    let (labour, at, liquor) = last(seen)?;
    is(liquor, Liquor::Meconium3)?;
    Ok(Spoken::now(format!(
        "Meconium grade 3, thick as soup, at {}; {}.{}",
        seen.time(at),
        stage_words(labour),
        seen.waters_note()
    )))
}

pub(super) fn early(seen: &Picture<'_>, _: &Raised) -> Verdict {
    let (labour, at, liquor) = last(seen)?;
    let grade = match liquor {
        Liquor::Meconium1 => {
            ask_fact(
                matches!(labour.stage, None | Some(Stage::Latent)),
                "thin meconium, but the active stage is reached",
            )?;
            1
        }
        Liquor::Meconium2 => {
            ask_fact(
                labour.highest.is_none_or(|(cm, _)| cm <= EARLY_ACTIVE),
                "meconium grade 2, but more than 6 cm",
            )?;
            2
        }
        _ => return Err(Why::Fact("the last liquor is not meconium grade 1 or 2")),
    };
    let evidence = format!(
        "Meconium grade {grade} at {}; {}; {}.{}",
        seen.time(at),
        stage_words(labour),
        labour.protocol.words(),
        seen.waters_note()
    );
    Ok(if labour.is_partograph() {
        Spoken::now(evidence)
    } else {
        Spoken::review(evidence)
    })
}

pub(super) fn blood(seen: &Picture<'_>, raised: &Raised) -> Verdict {
    let (_, at, liquor) = last(seen)?;
    is(liquor, Liquor::Blood)?;
    let pain = seen.labour_records().iter().any(|record| {
        record.row().is_some_and(|row| {
            row.obstruction_signs
                .contains(&ObstructionSign::PainBetweenContractions)
        })
    });
    let beside = [DangerSign::Bleeding, DangerSign::SevereAbdominalPain]
        .iter()
        .find(|sign| seen.sign(**sign).is_some())
        .map(|sign| sign.words())
        .or(pain.then_some("pain between contractions"))
        .or_else(|| raised.has("heart-abnormal").then_some("an abnormal heart"));
    let words = format!("Blood in the waters at {}", seen.time(at));
    let note = seen.waters_note();
    Ok(match beside {
        Some(beside) => Spoken::now(format!("{words}, with {beside}.{note}")),
        None => Spoken::review(format!("{words}.{note}")),
    })
}
