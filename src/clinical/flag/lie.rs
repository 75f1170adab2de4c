//! The baby lies across, or does not keep its lie.

use super::advice::{BOOK_BEFORE_LABOUR, FEEL_AGAIN, SEND_DO_NOT_TURN};
use super::rule::{Raised, Rule, Settling, choice, edge, memory, read};
use super::usual::{across, at, breech, head_below, undated};
use crate::clinical::palpation::read_palpation;
use crate::clinical::picture::{NEAR, NEAR_TAPE, Picture, sites};
use crate::clinical::verdict::{Spoken, Verdict, Why, ask, ask_fact};
use crate::clinical::{
    Case, Category, Certainty, Lie, Moment, Palpation, Presentation, Urgency, Visit,
};
use chrono::Duration;

const BASE: Rule = Rule::of(Category::TransverseLie);

pub(super) static RULES: &[Rule] = &[
    Rule {
        code: "lie-in-labour",
        title: "Lie across or oblique, in labour",
        urgencies: &[Urgency::Now],
        when: "Lie transverse or oblique, by hand or by a shoulder felt inside; in labour or waters broken. Never softened.",
        advice: SEND_DO_NOT_TURN,
        sources: &[read("OU-L8.6, GTG50, PEP-8-43, BTC-3.27"), memory("PCPNC")],
        judged_by: in_labour,
        edges: &[edge(
            Urgency::Now,
            "across at 28w+0d, in labour",
            || at(196).hands(across()).in_labour().case(),
            "the same, not in labour",
            || at(196).hands(across()).case(),
        )],
        ..BASE
    },
    Rule {
        code: "lie-near-term",
        title: "Lie across or oblique, near term",
        urgencies: &[Urgency::Soon],
        when: "Lie transverse or oblique, not in labour, waters not broken; from 36w+0d (gestation unknown: tape 33.0 cm or more, or none).",
        advice: BOOK_BEFORE_LABOUR,
        sources: &[read("GTG50, AKU"), memory("PCPNC C2")],
        settles: Settling::Lie,
        judged_by: near_term,
        edges: &[
            edge(
                Urgency::Soon,
                "across at 36w+0d",
                || at(252).hands(across()).case(),
                "across at 35w+6d",
                || at(251).hands(across()).case(),
            ),
            edge(
                Urgency::Soon,
                "dates unknown, tape 33.0 cm",
                || undated().hands(across()).tape(330).case(),
                "dates unknown, tape 32.9 cm",
                || undated().hands(across()).tape(329).case(),
            ),
            edge(
                Urgency::Soon,
                "dates unknown, no tape",
                || undated().hands(across()).case(),
                "dates unknown, tape 32.9 cm",
                || undated().hands(across()).tape(329).case(),
            ),
        ],
        ..BASE
    },
    Rule {
        code: "lie-early",
        title: "Lie across or oblique, early",
        urgencies: &[Urgency::Recheck],
        when: "Lie transverse or oblique, not in labour, waters not broken; from 28w+0d to 35w+6d (gestation unknown: tape 24.0 to 32.9 cm). Felt again at 36w+0d, or after 14 days where no date is known.",
        advice: FEEL_AGAIN,
        sources: &[read("CG6, AKU")],
        settles: Settling::Lie,
        judged_by: early,
        edges: &[
            edge(
                Urgency::Recheck,
                "across at 28w+0d",
                || at(196).hands(across()).case(),
                "across at 27w+6d",
                || at(195).hands(across()).case(),
            ),
            edge(
                Urgency::Recheck,
                "dates unknown, tape 24.0 cm",
                || undated().hands(across()).tape(240).case(),
                "dates unknown, tape 23.9 cm",
                || undated().hands(across()).tape(239).case(),
            ),
            edge(
                Urgency::Recheck,
                "across at 35w+6d",
                || at(251).hands(across()).case(),
                "across at 36w+0d",
                || at(252).hands(across()).case(),
            ),
            edge(
                Urgency::Recheck,
                "dates unknown, tape 32.9 cm",
                || undated().hands(across()).tape(329).case(),
                "dates unknown, tape 33.0 cm",
                || undated().hands(across()).tape(330).case(),
            ),
        ],
        ..BASE
    },
    Rule {
        code: "lie-unstable",
        title: "A lie that changes",
        urgencies: &[Urgency::Review],
        when: "Near term, not in labour, waters not broken: the hands find her lengthwise; the latest clear or probable visit from 36w+0d before (gestation unknown: its tape 33.0 cm or more) found another lie, or a head where a breech lies now. A breech that became a head is no alarm.",
        advice: BOOK_BEFORE_LABOUR,
        sources: &[
            read("GTG50, Irish cord guideline 2015"),
            choice("a breech that became a head is no alarm"),
        ],
        settles: Settling::Lie,
        judged_by: unstable,
        edges: &[
            edge(
                Urgency::Review,
                "across at 36w+0d, lengthwise at 37w+0d",
                || before_and_now(252, 259),
                "across at 35w+6d, lengthwise at 37w+0d",
                || before_and_now(251, 259),
            ),
            edge(
                Urgency::Review,
                "head below at 36w+0d, breech at 37w+0d",
                || {
                    at(259)
                        .hands(breech())
                        .days_before(7, |visit| visit.palpation = Some(head_below()))
                        .case()
                },
                "breech at 36w+0d, head below at 37w+0d",
                || {
                    at(259)
                        .hands(head_below())
                        .days_before(7, |visit| visit.palpation = Some(breech()))
                        .case()
                },
            ),
            edge(
                Urgency::Review,
                "dates unknown, across at tape 33.0 cm, lengthwise 7 days later",
                || undated_before(330),
                "dates unknown, across at tape 32.9 cm, lengthwise 7 days later",
                || undated_before(329),
            ),
        ],
        ..BASE
    },
];

fn before_and_now(across_at: i64, now: i64) -> Case {
    at(now)
        .hands(head_below())
        .days_before(now - across_at, |visit| visit.palpation = Some(across()))
        .case()
}

fn undated_before(across_at: u16) -> Case {
    undated()
        .hands(head_below())
        .days_before(7, |visit| {
            visit.palpation = Some(across());
            visit.fundal_height_tenths = Some(across_at);
        })
        .case()
}

fn in_labour(seen: &Picture<'_>, _: &Raised) -> Verdict {
    let lie = seen.across()?;
    seen.begun()?;
    let state = if seen.labour.is_some() {
        "in labour"
    } else {
        "waters broken"
    };
    Ok(Spoken::now(format!(
        "{} lie, {state}, {}. {}{}",
        name(lie),
        seen.age_in_labour(),
        seen.felt_words(),
        seen.waters_note()
    )))
}

fn near_term(seen: &Picture<'_>, _: &Raised) -> Verdict {
    let lie = seen.across()?;
    seen.not_begun()?;
    seen.near()?;
    Ok(Spoken::soon(format!(
        "{} lie{}; from 36w+0d it is no longer waited for. {}{}",
        name(lie),
        seen.at_age(),
        seen.felt_words(),
        seen.waters_note()
    )))
}

fn early(seen: &Picture<'_>, _: &Raised) -> Verdict {
    let lie = seen.across()?;
    seen.not_begun()?;
    seen.early(196)?;
    Ok(Spoken::recheck(
        felt_again_at(seen),
        format!(
            "{} lie{}; to be felt again at 36w+0d{}. {}{}",
            name(lie),
            seen.at_age(),
            if seen.g.is_some() {
                ""
            } else {
                " or, without a date, after 14 days"
            },
            seen.felt_words(),
            seen.waters_note()
        ),
    ))
}

/// The first moment of 36w+0d; without a date 14 days after the visit.
pub(super) fn felt_again_at(seen: &Picture<'_>) -> Moment {
    match (seen.g, seen.dated.edd()) {
        (Some(_), Some(edd)) => (edd - Duration::days(28)).and_time(chrono::NaiveTime::MIN),
        _ => seen.v.map_or(seen.on, |visit| visit.at) + Duration::days(14),
    }
}

fn unstable(seen: &Picture<'_>, _: &Raised) -> Verdict {
    seen.not_begun()?;
    let hands = seen
        .palpation
        .as_ref()
        .ok_or(Why::Fact("nothing palpated"))?;
    ask(
        hands.lie == Lie::Longitudinal,
        Why::Word {
            what: "the hands' lie",
            found: hands.lie.code(),
            wanted: "longitudinal",
        },
    )?;
    ask_fact(is_sure(hands), "the hands are neither clear nor probable")?;
    seen.near()?;
    let (visit, before) = seen
        .line
        .earlier_visits()
        .rev()
        .find_map(|visit| counted(seen, visit))
        .ok_or(Why::Fact(
            "no earlier visit from 36w+0d with clear or probable hands",
        ))?;
    let turned_to_breech =
        before.presentation == Presentation::Cephalic && hands.presentation == Presentation::Breech;
    ask_fact(
        before.lie != Lie::Longitudinal || turned_to_breech,
        "the earlier visit found no other lie, and no head where a breech lies now",
    )?;
    Ok(Spoken::review(format!(
        "{} lie, {} {} ({}); now lengthwise, {}{}. {}{}",
        name(before.lie),
        before.presentation.words(),
        seen.clock.day_of(visit.at),
        sites(visit),
        hands.presentation.words(),
        seen.at_age(),
        seen.felt_words(),
        seen.waters_note()
    )))
}

pub(super) fn is_sure(hands: &Palpation) -> bool {
    matches!(hands.certainty, Certainty::Clear | Certainty::Probable)
}

/// An earlier visit near term whose hands knew the lie.
fn counted<'v>(seen: &Picture<'_>, visit: &'v Visit) -> Option<(&'v Visit, Palpation)> {
    let near = match seen.dated.gestation_on(visit.at.date()) {
        Some(days) => days >= NEAR,
        None => visit
            .fundal_height_tenths
            .is_some_and(|tenths| tenths >= NEAR_TAPE),
    };
    let hands = read_palpation(visit.palpation.as_ref().filter(|_| near)?)?;
    (is_sure(&hands) && hands.lie != Lie::Unknown).then_some((visit, hands))
}

fn name(lie: Lie) -> &'static str {
    match lie {
        Lie::Transverse => "Transverse",
        Lie::Oblique => "Oblique",
        Lie::Longitudinal => "Lengthwise",
        Lie::Unknown => "Unknown",
    }
}
