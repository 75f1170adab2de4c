//! Findings that contradict each other, or say too little.

use super::advice::SECOND_HANDS;
use super::rule::{Raised, Rule, Settling, choice, edge, read};
use super::usual::{Usual, at, head_below, labour, undated};
use crate::clinical::picture::{FELT_TAPE, NEAR, Picture};
use crate::clinical::verdict::{Spoken, Unit, Verdict, Why, ask, ask_fact, reaches};
use crate::clinical::{
    Case, Category, Certainty, FeltInside, PalpationFindings, Presentation, Side, Urgency, Waters,
};
use chrono::Duration;

const BASE: Rule = Rule::of(Category::UnclearFindings);

pub(super) static RULES: &[Rule] = &[
    Rule {
        code: "findings-conflict",
        title: "Findings that conflict",
        urgencies: &[Urgency::Review],
        when: "Hands that contradict each other, from 28w+0d (gestation unknown: tape 24.0 cm or more, or none), or in labour or with waters broken; or hands against fingers within 60 min.",
        advice: SECOND_HANDS,
        sources: &[read("CG6"), choice("second hands before a decision")],
        settles: Settling::Findings,
        judged_by: conflict,
        edges: &[
            edge(
                Urgency::Review,
                "a back on both sides at 28w+0d",
                || two_backs(at(196)),
                "a back on both sides at 27w+6d",
                || two_backs(at(195)),
            ),
            edge(
                Urgency::Review,
                "breech felt inside 60 min after hands that found a head",
                || inside_after(60),
                "the same after 61 min",
                || inside_after(61),
            ),
            edge(
                Urgency::Review,
                "dates unknown, a back on both sides at 24.0 cm",
                || two_backs(undated().tape(240)),
                "dates unknown, a back on both sides at 23.9 cm",
                || two_backs(undated().tape(239)),
            ),
        ],
        ..BASE
    },
    Rule {
        code: "findings-incomplete",
        title: "Not enough felt",
        urgencies: &[Urgency::Recheck],
        when: "In labour: what presents is not known and nothing was felt inside. Not in labour: too little to say from 36w+0d (gestation unknown: tape 33.0 cm or more, or none) or with waters broken; or nothing palpated from 36w+0d, or with waters broken. Again today.",
        advice: SECOND_HANDS,
        sources: &[choice(
            "from 36 weeks what lies below decides where she gives birth",
        )],
        settles: Settling::Findings,
        judged_by: incomplete,
        edges: &[
            edge(
                Urgency::Recheck,
                "nothing palpated at 36w+0d",
                || at(252).case(),
                "nothing palpated at 35w+6d",
                || at(251).case(),
            ),
            edge(
                Urgency::Recheck,
                "dates unknown, waters broken, nothing palpated",
                || broken(Waters::Broken),
                "dates unknown, waters intact, nothing palpated",
                || broken(Waters::Intact),
            ),
            edge(
                Urgency::Recheck,
                "too little felt at 36w+0d",
                || little_felt(at(252)),
                "too little felt at 35w+6d",
                || little_felt(at(251)),
            ),
            edge(
                Urgency::Recheck,
                "dates unknown, too little felt at 33.0 cm",
                || little_felt(undated().tape(330)),
                "dates unknown, too little felt at 32.9 cm",
                || little_felt(undated().tape(329)),
            ),
        ],
        ..BASE
    },
    Rule {
        code: "dilatation-went-back",
        title: "Dilatation went back",
        urgencies: &[Urgency::Recheck],
        when: "The last dilatation is lower than the highest of this labour. Again within 2 h; the earlier clock runs on.",
        advice: SECOND_HANDS,
        sources: &[choice("the earlier clock is the safer"), read("BTC-3.18")],
        settles: Settling::Dilatation,
        judged_by: went_back,
        edges: &[edge(
            Urgency::Recheck,
            "7 cm, then 6 cm",
            || labour().opened(7, 60).opened(6, 0).case(),
            "7 cm, then 7 cm",
            || labour().opened(7, 60).opened(7, 0).case(),
        )],
        ..BASE
    },
];

fn two_backs(usual: Usual) -> Case {
    usual
        .hands(PalpationFindings {
            right: Some(Side::LongSmooth),
            ..head_below()
        })
        .case()
}

fn little_felt(usual: Usual) -> Case {
    usual
        .hands(PalpationFindings {
            left: Some(Side::LongSmooth),
            ..PalpationFindings::default()
        })
        .case()
}

fn inside_after(minutes: i64) -> Case {
    at(280)
        .visit_before(minutes, |visit| visit.palpation = Some(head_below()))
        .told(|case| {
            case.visits.pop();
        })
        .row(0, |row| row.felt_inside = Some(FeltInside::Breech))
        .case()
}

fn broken(waters: Waters) -> Case {
    undated().visit(|visit| visit.waters = Some(waters)).case()
}

fn conflict(seen: &Picture<'_>, _: &Raised) -> Verdict {
    if seen.presenting.clash {
        let at = seen.presenting.inside.map_or(seen.on, |(at, _)| at);
        return Ok(Spoken::review(format!(
            "Hands and fingers contradict each other: by the hands {}, inside at {} {}.",
            seen.palpation
                .as_ref()
                .map_or("not known", |hands| hands.presentation.words()),
            seen.time(at),
            seen.presenting
                .inside
                .map_or("not known", |(_, part)| part.words()),
        )));
    }
    let hands = seen
        .palpation
        .as_ref()
        .ok_or(Why::Fact("nothing palpated"))?;
    ask(
        hands.certainty == Certainty::Conflicting,
        Why::Word {
            what: "the certainty",
            found: hands.certainty.code(),
            wanted: "conflicting",
        },
    )?;
    if !seen.birth_begun() {
        match (seen.g, seen.tape) {
            (Some(days), _) => reaches("g", days, 196, Unit::Gestation)?,
            (None, Some(tape)) => {
                reaches("gestation unknown, tape", tape, FELT_TAPE, Unit::Tape)?;
            }
            (None, None) => {}
        }
    }
    Ok(Spoken::review(format!(
        "The findings contradict each other{}. {}",
        seen.at_age(),
        seen.felt_words()
    )))
}

fn incomplete(seen: &Picture<'_>, _: &Raised) -> Verdict {
    if seen.labour.is_some() {
        seen.presents(Presentation::Unknown)?;
        ask_fact(seen.presenting.inside.is_none(), "a part was felt inside")?;
        return Ok(Spoken::recheck(
            seen.on,
            "In labour, and what presents is not known: neither by the hands nor inside.",
        ));
    }
    ask_fact(seen.v.is_some(), "no visit")?;
    let waters = seen.waters.broken;
    let reason = if waters {
        "waters broken".to_owned()
    } else {
        seen.age()
    };
    let Some(hands) = &seen.palpation else {
        if !waters {
            let days = seen.g.ok_or(Why::Fact(
                "gestation unknown: an early visit may be without palpation",
            ))?;
            reaches("g", days, NEAR, Unit::Gestation)?;
        }
        return Ok(Spoken::recheck(
            seen.on,
            format!("Nothing palpated; {reason}."),
        ));
    };
    ask(
        hands.certainty == Certainty::Insufficient,
        Why::Word {
            what: "the certainty",
            found: hands.certainty.code(),
            wanted: "insufficient",
        },
    )?;
    if !waters {
        seen.near()?;
    }
    Ok(Spoken::recheck(
        seen.on,
        format!(
            "Too little was felt to say how the baby lies; {reason}. {}",
            seen.felt_words()
        ),
    ))
}

fn went_back(seen: &Picture<'_>, _: &Raised) -> Verdict {
    let labour = seen.labouring()?;
    let ((at, last), (highest, since)) = labour
        .last_dilatation
        .zip(labour.highest)
        .ok_or(Why::Fact("no dilatation recorded"))?;
    ask(
        last < highest,
        Why::Figure {
            what: "the last dilatation",
            found: last.into(),
            is: "is not below the highest,",
            limit: highest.into(),
            unit: Unit::Centimetres,
        },
    )?;
    let again = at + Duration::hours(2);
    Ok(Spoken::recheck(
        again,
        format!(
            "{last} cm at {}, but {highest} cm at {}. Again by {}; the earlier clock runs on.",
            seen.time(at),
            seen.time(since),
            seen.time(again)
        ),
    ))
}
