//! A first birth whose head stays above the brim near the due date.

use super::advice::HIGH_HEAD_LOOK;
use super::rule::{Raised, Rule, Settling, edge, read};
use super::usual::{at, head_at};
use crate::clinical::picture::Picture;
use crate::clinical::verdict::{Spoken, Unit, Verdict, Why, ask, ask_fact, reaches};
use crate::clinical::{Case, Category, Lie, Presentation, Urgency};

pub(super) static RULES: &[Rule] = &[Rule {
    code: "head-high-at-term",
    title: "Head high at term",
    urgencies: &[Urgency::Review],
    when: "First birth, from 38w+0d, lengthwise, head below by the hands, 5/5, not in labour.",
    advice: HIGH_HEAD_LOOK,
    sources: &[
        read("half engage only from 38 to 42 weeks (Weekes & Flynn 1975, quoted)"),
        read("caesarean 16.9 against 5.3 % (J Ayub Med Coll): never more than review"),
    ],
    settles: Settling::Fifths,
    judged_by: judge,
    edges: &[
        edge(
            Urgency::Review,
            "38w+0d, 5/5",
            || high(266, 5),
            "37w+6d, 5/5",
            || high(265, 5),
        ),
        edge(
            Urgency::Review,
            "38w+0d, 5/5",
            || high(266, 5),
            "38w+0d, 4/5",
            || high(266, 4),
        ),
    ],
    ..Rule::of(Category::HighHead)
}];

fn high(days: i64, fifths: u8) -> Case {
    at(days).first_birth().hands(head_at(fifths)).case()
}

fn judge(seen: &Picture<'_>, _: &Raised) -> Verdict {
    seen.not_labouring()?;
    ask_fact(
        seen.case.mother.births_before == Some(0),
        "not known to be a first birth",
    )?;
    let days = seen.g.ok_or(Why::Fact("gestation unknown"))?;
    reaches("g", days, 266, Unit::Gestation)?;
    let hands = seen
        .palpation
        .as_ref()
        .ok_or(Why::Fact("nothing palpated"))?;
    ask(
        hands.lie == Lie::Longitudinal && hands.presentation == Presentation::Cephalic,
        Why::Word {
            what: "the presentation by the hands",
            found: hands.presentation.code(),
            wanted: "cephalic with a longitudinal lie",
        },
    )?;
    let fifths = seen
        .v
        .and_then(|visit| visit.palpation.as_ref()?.fifths)
        .ok_or(Why::Fact("fifths not counted"))?;
    reaches("fifths", fifths, 5, Unit::Fifths)?;
    Ok(Spoken::review(format!(
        "Head {fifths}/5 above the brim at {}, first birth, from 38w+0d.",
        seen.age()
    )))
}
