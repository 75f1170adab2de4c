//! A baby that faces the front in labour.

use super::advice::FACING_FRONT;
use super::rule::{Raised, Rule, Settling, edge, memory, read};
use super::usual::{at, head_below, labour};
use crate::clinical::picture::Picture;
use crate::clinical::verdict::{Spoken, Verdict, Why, ask, ask_fact};
use crate::clinical::{Case, Category, Front, Occiput, PalpationFindings, Presentation, Urgency};

pub(super) static RULES: &[Rule] = &[Rule {
    code: "facing-front-in-labour",
    title: "Facing the front in labour",
    urgencies: &[Urgency::Review],
    when: "In labour, head below or not known: the back of the head felt behind, inside. Not felt inside: head below and by hand LOP, ROP or OP.",
    advice: FACING_FRONT,
    sources: &[read("MCPC S-11, S-73"), memory("LCG")],
    settles: Settling::Front,
    judged_by: judge,
    edges: &[
        edge(
            Urgency::Review,
            "back of the head felt behind, inside",
            || occiput(Occiput::Posterior),
            "back of the head felt at the side, inside",
            || occiput(Occiput::Transverse),
        ),
        edge(
            Urgency::Review,
            "in labour, limbs across the front (LOP)",
            || front(Front::SmallLumps),
            "in labour, nothing across the front",
            || front(Front::Nothing),
        ),
    ],
    ..Rule::of(Category::OcciputPosterior)
}];

fn occiput(occiput: Occiput) -> Case {
    labour().row(0, |row| row.occiput = Some(occiput)).case()
}

fn front(front: Front) -> Case {
    at(280)
        .in_labour()
        .hands(PalpationFindings {
            front: Some(front),
            ..head_below()
        })
        .case()
}

fn judge(seen: &Picture<'_>, _: &Raised) -> Verdict {
    seen.labouring()?;
    let presentation = seen.presenting.presentation;
    let inside = seen.last_in_labour(|record| {
        record
            .row()?
            .occiput
            .filter(|found| *found != Occiput::Unsure)
    });
    if let Some((at, found)) = inside {
        ask(
            found == Occiput::Posterior,
            Why::Word {
                what: "the back of the head inside",
                found: found.code(),
                wanted: "posterior",
            },
        )?;
        ask_fact(
            matches!(presentation, Presentation::Cephalic | Presentation::Unknown),
            "the head does not present",
        )?;
        return Ok(Spoken::review(format!(
            "The back of the head felt behind, inside at {}: the baby faces her front.",
            seen.time(at)
        )));
    }
    seen.presents(Presentation::Cephalic)?;
    let position = seen
        .palpation
        .as_ref()
        .map(|hands| hands.position)
        .ok_or(Why::Fact("nothing palpated"))?;
    ask(
        matches!(position, "LOP" | "ROP" | "OP"),
        Why::Word {
            what: "the position",
            found: position,
            wanted: "LOP, ROP or OP",
        },
    )?;
    Ok(Spoken::review(format!(
        "Position {position} by hand, provisional: the baby faces her front. {}",
        seen.felt_words()
    )))
}
