//! The tape is high.

use super::advice::LARGE_THINK;
use super::rule::{Raised, Rule, Settling, edge, read};
use super::small_for_dates::{by_weeks_at, height_words, weeks_words, within_weeks};
use super::usual::at;
use crate::clinical::fundal_height::{WeeksVerdict, Z97, by_weeks};
use crate::clinical::picture::Picture;
use crate::clinical::verdict::{Spoken, Verdict, Why, ask, ask_fact};
use crate::clinical::{Category, Urgency};

const BASE: Rule = Rule {
    settles: Settling::Tape,
    after: &["twins-likely"],
    ..Rule::of(Category::LargeForDates)
};

pub(super) static RULES: &[Rule] = &[
    Rule {
        code: "height-above-97th",
        title: "Above the 97th centile",
        urgencies: &[Urgency::Review],
        when: "Tape above the 97th centile from 24w+0d to 42w+0d, in labour too, where the weeks method does not decide; silent beside known or likely twins, which have the tape in their evidence.",
        advice: LARGE_THINK,
        sources: &[
            read("PEP-16"),
            read("PI: above the 90th alone is no referral"),
        ],
        judged_by: above_97th,
        edges: &[edge(
            Urgency::Review,
            "34w+0d, 37.0 cm (centile 97.9)",
            || at(238).tape(370).case(),
            "34w+0d, 36.5 cm (centile 96.2)",
            || at(238).tape(365).case(),
        )],
        ..BASE
    },
    Rule {
        code: "height-over-weeks",
        title: "Over the weeks",
        urgencies: &[Urgency::Review],
        when: "Weeks method, 24w+0d to 36w+0d, in labour too: more than 2 cm over the weeks; silent beside known or likely twins.",
        advice: LARGE_THINK,
        sources: &[read("ANC16")],
        judged_by: over_weeks,
        edges: &[edge(
            Urgency::Review,
            "36w+0d, 38.1 cm",
            || by_weeks_at(252, 381).case(),
            "36w+0d, 38.0 cm",
            || by_weeks_at(252, 380).case(),
        )],
        ..BASE
    },
];

fn one_baby(seen: &Picture<'_>, raised: &Raised) -> Result<u16, Why> {
    seen.not_twins_known()?;
    raised.silent_beside(&["twins-likely"])?;
    seen.taped()
}

fn above_97th(seen: &Picture<'_>, raised: &Raised) -> Verdict {
    let tape = one_baby(seen, raised)?;
    let score = seen.judged()?;
    ask_fact(
        !seen.weeks_decide(),
        "the weeks method decides from 24w+0d to 36w+0d",
    )?;
    ask(
        score.z > Z97,
        Why::Centile {
            z: score.z,
            is: "is not above",
            centile: "97th",
            limit: Z97,
        },
    )?;
    Ok(Spoken::review(format!(
        "{}, above the 97th.",
        height_words(seen, tape)
    )))
}

fn over_weeks(seen: &Picture<'_>, raised: &Raised) -> Verdict {
    let tape = one_baby(seen, raised)?;
    let verdict = by_weeks(seen.case.post.fundal_height_method, tape, seen.g)
        .ok_or(Why::Fact("the weeks method does not decide here"))?;
    ask(
        verdict == WeeksVerdict::Over,
        within_weeks(seen, tape, "is not more than 2 cm over"),
    )?;
    Ok(Spoken::review(weeks_words(seen, tape)))
}
