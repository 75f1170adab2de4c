//! Face, brow, or a limb beside the head.

use super::advice::DO_NOT_PULL;
use super::rule::{Raised, Rule, Settling, edge, memory, read};
use super::usual::{Usual, labour};
use crate::clinical::picture::Picture;
use crate::clinical::verdict::{Spoken, Verdict, Why, ask_fact};
use crate::clinical::{Category, FeltInside, Urgency};

const BASE: Rule = Rule::of(Category::Malpresentation);

pub(super) static RULES: &[Rule] = &[
    Rule {
        code: "limb-with-head",
        title: "Limb beside the head",
        urgencies: &[Urgency::Now],
        when: "Felt inside: a limb beside the head.",
        advice: DO_NOT_PULL,
        sources: &[memory("MCPC S-73")],
        judged_by: limb,
        edges: &[edge(
            Urgency::Now,
            "a limb beside the head felt inside",
            || {
                labour()
                    .row(0, |row| row.felt_inside = Some(FeltInside::LimbWithHead))
                    .case()
            },
            "the crown of the head felt inside",
            || {
                labour()
                    .row(0, |row| row.felt_inside = Some(FeltInside::Vertex))
                    .case()
            },
        )],
        ..BASE
    },
    Rule {
        code: "face-or-brow",
        title: "Face or brow",
        urgencies: &[Urgency::Now, Urgency::Review],
        when: "Felt inside: face or brow. Dilatation recorded and below the active start (labour care guide 5 cm, partograph 4 cm): review; else now.",
        advice: DO_NOT_PULL,
        sources: &[read("BTC-3.27, 3.33"), memory("MCPC S-73")],
        settles: Settling::Vertex,
        judged_by: face,
        edges: &[
            edge(
                Urgency::Now,
                "face at 5 cm, labour care guide",
                || face_at(5).case(),
                "face at 4 cm, labour care guide",
                || face_at(4).case(),
            ),
            edge(
                Urgency::Review,
                "face at 4 cm, labour care guide",
                || face_at(4).case(),
                "face at 5 cm, labour care guide",
                || face_at(5).case(),
            ),
            edge(
                Urgency::Now,
                "face at 4 cm, partograph",
                || face_at(4).partograph().case(),
                "face at 3 cm, partograph",
                || face_at(3).partograph().case(),
            ),
        ],
        ..BASE
    },
];

fn face_at(cm: u8) -> Usual {
    labour().row(0, |row| {
        row.felt_inside = Some(FeltInside::Face);
        row.dilatation_cm = Some(cm);
    })
}

fn limb(seen: &Picture<'_>, _: &Raised) -> Verdict {
    seen.labouring()?;
    let (at, part) = seen
        .presenting
        .inside
        .ok_or(Why::Fact("nothing felt inside"))?;
    ask_fact(
        part == FeltInside::LimbWithHead,
        "no limb beside the head felt inside",
    )?;
    Ok(Spoken::now(format!(
        "A limb beside the head felt inside at {}.",
        seen.time(at)
    )))
}

fn face(seen: &Picture<'_>, _: &Raised) -> Verdict {
    let labour = seen.labouring()?;
    let (at, part) = seen
        .presenting
        .inside
        .ok_or(Why::Fact("nothing felt inside"))?;
    ask_fact(
        matches!(part, FeltInside::Face | FeltInside::Brow),
        "neither face nor brow felt inside",
    )?;
    let felt = format!(
        "{} felt inside at {}",
        if part == FeltInside::Face {
            "Face"
        } else {
            "Brow"
        },
        seen.time(at)
    );
    Ok(match labour.highest {
        Some((cm, _)) if cm < labour.active_start() => Spoken::review(format!(
            "{felt}; at most {cm} cm, below the active start of {} cm: it may still turn.",
            labour.active_start()
        )),
        Some((cm, _)) => Spoken::now(format!("{felt}; {cm} cm, in the active stage or later.")),
        None => Spoken::now(format!("{felt}; dilatation not recorded.")),
    })
}
