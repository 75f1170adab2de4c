//! Bones of the head that overlap (reference 4.3).

use crate::clinical::flag::advice::{EXAMINE_AGAIN, SEND_TO_SURGERY};
use crate::clinical::flag::rule::{Raised, Rule, Settling, choice, edge, memory, read};
use crate::clinical::flag::usual::labour;
use crate::clinical::picture::Picture;
use crate::clinical::record::{Record, run_start};
use crate::clinical::speech::span;
use crate::clinical::verdict::{Spoken, Unit, Verdict, Why, ask_fact, reaches};
use crate::clinical::{Case, Category, Moment, Stage, Urgency};
use chrono::Duration;

const BASE: Rule = Rule::of(Category::PoorProgress);

/// What moulding 3 makes a definite sign of disproportion beside.
const ARREST: &[&str] = &[
    "slow-dilatation",
    "active-stage-long",
    "second-stage-long",
    "right-of-alert",
    "past-action",
    "descent-arrest",
    "head-high-second-stage",
];

pub(super) static RULES: &[Rule] = &[
    Rule {
        code: "moulding-with-arrest",
        title: "Moulding and no progress",
        urgencies: &[Urgency::Now],
        when: "Last moulding 3 beside slow progress, a long stage, a crossed line, no descent or a high head at 10 cm.",
        advice: SEND_TO_SURGERY,
        sources: &[read("OU-L4")],
        after: ARREST,
        judged_by: with_arrest,
        edges: &[
            edge(
                Urgency::Now,
                "moulding 3, 8 cm for 2 h 30 min",
                || moulded_for(3, 150),
                "moulding 3, 8 cm for 2 h 29 min",
                || moulded_for(3, 149),
            ),
            edge(
                Urgency::Now,
                "moulding 3, 8 cm for 2 h 30 min",
                || moulded_for(3, 150),
                "moulding 2, 8 cm for 2 h 30 min",
                || moulded_for(2, 150),
            ),
            edge(
                Urgency::Now,
                "moulding 3, 3/5 at 10 cm for 1 h and a second",
                || high_for_an_hour(10),
                "moulding 3, 3/5 at 9 cm for 1 h and a second",
                || high_for_an_hour(9),
            ),
        ],
        ..BASE
    },
    Rule {
        code: "moulding-high-head",
        title: "Moulding and a high head",
        urgencies: &[Urgency::Now, Urgency::Review],
        when: "Active or second stage, last moulding 2 or more and last fifths 3/5 or more. Moulding 3, from 7 cm, or moulding 2 or more for 2 h: now; else review.",
        advice: SEND_TO_SURGERY,
        other_advice: Some(("At review", EXAMINE_AGAIN)),
        sources: &[
            read("BTC-3.27, 3.31, 3.33"),
            choice("one finding at 5 or 6 cm is no staying: from 7 cm or over 2 h"),
        ],
        settles: Settling::Moulding,
        judged_by: high_head,
        edges: &[
            edge(
                Urgency::Now,
                "moulding 2, 3/5, 7 cm",
                || high(7, 2, 3),
                "moulding 2, 3/5, 6 cm",
                || high(6, 2, 3),
            ),
            edge(
                Urgency::Now,
                "moulding 2 over 2 h at 6 cm",
                || lasting(120),
                "moulding 2 over 1 h 59 min at 6 cm",
                || lasting(119),
            ),
            edge(
                Urgency::Review,
                "moulding 2, 3/5, 6 cm",
                || high(6, 2, 3),
                "moulding 2, 2/5, 6 cm",
                || high(6, 2, 2),
            ),
            edge(
                Urgency::Now,
                "moulding 3, 3/5, 6 cm",
                || high(6, 3, 3),
                "moulding 2, 3/5, 6 cm",
                || high(6, 2, 3),
            ),
            edge(
                Urgency::Review,
                "moulding 2, 3/5, 6 cm",
                || high(6, 2, 3),
                "moulding 1, 3/5, 6 cm",
                || high(6, 1, 3),
            ),
        ],
        ..BASE
    },
    Rule {
        code: "moulding-severe",
        title: "Moulding alone",
        urgencies: &[Urgency::Review],
        when: "Last moulding 3, neither of the two rules above.",
        advice: EXAMINE_AGAIN,
        sources: &[memory("LCG"), read("BTC-3B")],
        settles: Settling::Moulding,
        after: &["moulding-with-arrest", "moulding-high-head"],
        judged_by: severe,
        edges: &[edge(
            Urgency::Review,
            "moulding 3",
            || high(6, 3, 2),
            "moulding 2",
            || high(6, 2, 2),
        )],
        ..BASE
    },
];

fn high(cm: u8, grade: u8, fifths: u8) -> Case {
    labour()
        .row(0, |row| {
            row.dilatation_cm = Some(cm);
            row.moulding = Some(grade);
            row.fifths = Some(fifths);
        })
        .case()
}

fn moulded_for(grade: u8, minutes: i64) -> Case {
    labour()
        .opened(8, minutes)
        .row(0, |row| row.moulding = Some(grade))
        .case()
}

/// Moulding 3 above the brim, an hour and a second ago.
fn high_for_an_hour(cm: u8) -> Case {
    labour()
        .row(60, |row| {
            row.dilatation_cm = Some(cm);
            row.moulding = Some(3);
            row.fifths = Some(3);
        })
        .later(1)
        .case()
}

fn lasting(minutes: i64) -> Case {
    labour()
        .row(minutes, |row| {
            row.dilatation_cm = Some(6);
            row.moulding = Some(2);
        })
        .row(0, |row| {
            row.moulding = Some(2);
            row.fifths = Some(3);
        })
        .case()
}

pub(super) fn last_moulding(seen: &Picture<'_>) -> Option<(Moment, u8)> {
    seen.last_in_labour(|record| record.row()?.moulding)
}

fn asked(seen: &Picture<'_>) -> Result<(Moment, u8), Why> {
    seen.labouring()?;
    last_moulding(seen).ok_or(Why::Fact("moulding not recorded"))
}

fn with_arrest(seen: &Picture<'_>, raised: &Raised) -> Verdict {
    let (at, grade) = asked(seen)?;
    reaches("moulding", grade, 3, Unit::Plain)?;
    let beside = ARREST
        .iter()
        .find(|code| raised.has(code))
        .ok_or(Why::Fact(
            "no rule of slow progress or no descent is raised",
        ))?;
    Ok(Spoken::now(format!(
        "Moulding {grade} at {}, beside {}.",
        seen.time(at),
        crate::clinical::flag::rule(beside)
            .map_or_else(|| (*beside).to_owned(), |rule| rule.title.to_lowercase())
    )))
}

fn high_head(seen: &Picture<'_>, _: &Raised) -> Verdict {
    let (at, grade) = asked(seen)?;
    let labour = seen.labouring()?;
    reaches("moulding", grade, 2, Unit::Plain)?;
    let (fifths_at, fifths) = seen
        .last_in_labour(Record::fifths)
        .ok_or(Why::Fact("fifths not counted in this labour"))?;
    reaches("fifths", fifths, 3, Unit::Fifths)?;
    ask_fact(
        matches!(labour.stage, Some(Stage::Active | Stage::Second)),
        "neither active nor second stage",
    )?;
    let cm = labour.highest.map_or(0, |(cm, _)| cm);
    let since = run_start(
        seen.labour_records()
            .iter()
            .rev()
            .filter_map(|record| Some((record.at(), record.row()?.moulding? >= 2))),
    )
    .unwrap_or(at);
    let words = format!(
        "Moulding {grade} at {}, head {fifths}/5 at {}, {cm} cm; moulding 2 or more {}",
        seen.time(at),
        seen.time(fifths_at),
        if at > since {
            format!("for {}", span((at - since).num_seconds()))
        } else {
            "found once".to_owned()
        }
    );
    Ok(
        if grade >= 3 || cm >= 7 || at - since >= Duration::hours(2) {
            Spoken::now(format!("{words}."))
        } else {
            Spoken::review(format!("{words}, before 7 cm and under 2 h.")).advising(EXAMINE_AGAIN)
        },
    )
}

fn severe(seen: &Picture<'_>, raised: &Raised) -> Verdict {
    let (at, grade) = asked(seen)?;
    reaches("moulding", grade, 3, Unit::Plain)?;
    raised.silent_beside(&["moulding-with-arrest", "moulding-high-head"])?;
    Ok(Spoken::review(format!(
        "Moulding {grade} at {}: bones overlap and stay.",
        seen.time(at)
    )))
}
