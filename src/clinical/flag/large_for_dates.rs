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
        edges: &[
            edge(
                Urgency::Review,
                "34w+0d, 36.8 cm (centile 97.3), above the 97th",
                || at(238).tape(368).case(),
                "34w+0d, 36.7 cm (centile 97.0)",
                || at(238).tape(367).case(),
            ),
            edge(
                Urgency::Review,
                "24w+0d, 27.5 cm",
                || at(168).tape(275).case(),
                "23w+6d, 27.5 cm",
                || at(167).tape(275).case(),
            ),
            edge(
                Urgency::Review,
                "42w+0d, 44.0 cm",
                || at(294).tape(440).case(),
                "42w+1d, 44.0 cm",
                || at(295).tape(440).case(),
            ),
        ],
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
        edges: &[
            edge(
                Urgency::Review,
                "36w+0d, 38.1 cm, 2.1 cm over",
                || by_weeks_at(252, 381).case(),
                "36w+0d, 38.0 cm, 2 cm over",
                || by_weeks_at(252, 380).case(),
            ),
            edge(
                Urgency::Review,
                "24w+0d, 27.0 cm",
                || by_weeks_at(168, 270).case(),
                "23w+6d, 27.0 cm",
                || by_weeks_at(167, 270).case(),
            ),
            edge(
                Urgency::Review,
                "36w+0d, 38.5 cm",
                || by_weeks_at(252, 385).case(),
                "36w+1d, 38.5 cm",
                || by_weeks_at(253, 385).case(),
            ),
        ],
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
