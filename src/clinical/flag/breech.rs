//! Lengthwise, breech first.

use super::advice::{BREECH_BOOK, BREECH_SKILLED, FEEL_AGAIN};
use super::lie::felt_again_at;
use super::rule::{Raised, Rule, Settling, Softening, edge, memory, read};
use super::usual::{at, breech, undated};
use crate::clinical::picture::Picture;
use crate::clinical::verdict::{Spoken, Verdict};
use crate::clinical::{Case, Category, Urgency, Waters};

const BASE: Rule = Rule::of(Category::Breech);

pub(super) static RULES: &[Rule] = &[
    Rule {
        code: "breech-in-labour",
        title: "Breech in labour",
        urgencies: &[Urgency::Now, Urgency::Review],
        when: "Lengthwise, breech first, by hand or felt inside; in labour or waters broken. With staff skilled in breech birth: review.",
        advice: BREECH_SKILLED,
        sources: &[read("NG235 T7, PEP-8-27"), memory("PCPNC")],
        softens: Some(Softening::Breech),
        judged_by: in_labour,
        edges: &[
            edge(
                Urgency::Now,
                "breech at 36w+0d, waters broken",
                || waters(Waters::Broken),
                "breech at 36w+0d, waters intact",
                || waters(Waters::Intact),
            ),
            edge(
                Urgency::Review,
                "in labour, skilled staff",
                || skilled(at(252).hands(breech()).in_labour().case(), true),
                "in labour, no skilled staff",
                || skilled(at(252).hands(breech()).in_labour().case(), false),
            ),
        ],
        ..BASE
    },
    Rule {
        code: "breech-near-term",
        title: "Breech near term",
        urgencies: &[Urgency::Soon, Urgency::Review],
        when: "Lengthwise, breech first, not in labour, waters not broken; from 36w+0d (gestation unknown: tape 33.0 cm or more, or none). With skilled staff: review.",
        advice: BREECH_BOOK,
        // GTG20a was not read again.
        sources: &[read("NG235 T7, PEP-1-52, OU-L8.6"), memory("GTG20a")],
        settles: Settling::HeadBelow,
        softens: Some(Softening::Breech),
        judged_by: near_term,
        edges: &[
            edge(
                Urgency::Soon,
                "breech at 36w+0d",
                || at(252).hands(breech()).case(),
                "breech at 35w+6d",
                || at(251).hands(breech()).case(),
            ),
            edge(
                Urgency::Soon,
                "dates unknown, tape 33.0 cm",
                || undated().hands(breech()).tape(330).case(),
                "dates unknown, tape 32.9 cm",
                || undated().hands(breech()).tape(329).case(),
            ),
            edge(
                Urgency::Review,
                "36w+0d, skilled staff",
                || skilled(at(252).hands(breech()).case(), true),
                "36w+0d, no skilled staff",
                || skilled(at(252).hands(breech()).case(), false),
            ),
        ],
        ..BASE
    },
    Rule {
        code: "breech-early",
        title: "Breech, early",
        urgencies: &[Urgency::Recheck],
        when: "Lengthwise, breech first, not in labour, waters not broken; from 32w+0d to 35w+6d (gestation unknown: tape 24.0 to 32.9 cm). Felt again at 36w+0d, or after 14 days where no date is known.",
        advice: FEEL_AGAIN,
        sources: &[read("CG6, PEP-16")],
        settles: Settling::HeadBelow,
        judged_by: early,
        edges: &[
            edge(
                Urgency::Recheck,
                "breech at 32w+0d",
                || at(224).hands(breech()).case(),
                "breech at 31w+6d",
                || at(223).hands(breech()).case(),
            ),
            edge(
                Urgency::Recheck,
                "dates unknown, tape 24.0 cm",
                || undated().hands(breech()).tape(240).case(),
                "dates unknown, tape 23.9 cm",
                || undated().hands(breech()).tape(239).case(),
            ),
            edge(
                Urgency::Recheck,
                "breech at 35w+6d",
                || at(251).hands(breech()).case(),
                "breech at 36w+0d",
                || at(252).hands(breech()).case(),
            ),
            edge(
                Urgency::Recheck,
                "dates unknown, tape 32.9 cm",
                || undated().hands(breech()).tape(329).case(),
                "dates unknown, tape 33.0 cm",
                || undated().hands(breech()).tape(330).case(),
            ),
        ],
        ..BASE
    },
];

fn waters(waters: Waters) -> Case {
    at(252)
        .hands(breech())
        .visit(|visit| visit.waters = Some(waters))
        .case()
}

fn skilled(mut case: Case, skilled: bool) -> Case {
    case.post.skilled_breech = skilled;
    case
}

fn in_labour(seen: &Picture<'_>, _: &Raised) -> Verdict {
    seen.breech()?;
    seen.begun()?;
    let state = if seen.labour.is_some() {
        "in labour"
    } else {
        "waters broken"
    };
    Ok(Spoken::now(format!(
        "Breech first, {state}, {}. {}{}",
        seen.age_in_labour(),
        seen.felt_words(),
        seen.waters_note()
    )))
}

fn near_term(seen: &Picture<'_>, _: &Raised) -> Verdict {
    seen.breech()?;
    seen.not_begun()?;
    seen.near()?;
    Ok(Spoken::soon(format!(
        "Breech first{}; from 36w+0d it is no longer waited for. {}{}",
        seen.at_age(),
        seen.felt_words(),
        seen.waters_note()
    )))
}

fn early(seen: &Picture<'_>, _: &Raised) -> Verdict {
    seen.breech()?;
    seen.not_begun()?;
    seen.early(224)?;
    Ok(Spoken::recheck(
        felt_again_at(seen),
        format!(
            "Breech first{}; to be felt again at 36w+0d{}. {}{}",
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
