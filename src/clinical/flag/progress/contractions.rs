//! Contractions too weak to bring the baby.

use crate::clinical::flag::advice::LABOUR_COMFORT;
use crate::clinical::flag::danger_sign::{contraction_words, counted as counted_last};
use crate::clinical::flag::rule::{Raised, Rule, Settling, edge, memory, read};
use crate::clinical::flag::usual::{Usual, labour};
use crate::clinical::labour::{is_contraction_record, weak};
use crate::clinical::picture::Picture;
use crate::clinical::record::run_start;
use crate::clinical::speech::span;
use crate::clinical::verdict::{Spoken, Verdict, Why, ask};
use crate::clinical::{Case, Category, LabourProtocol, Urgency};
use chrono::Duration;

pub(super) static RULES: &[Rule] = &[Rule {
    code: "contractions-weak",
    title: "Weak contractions",
    urgencies: &[Urgency::Review, Urgency::Recheck],
    when: "From the active stage on. Labour care guide: at most 2 in 10 min, or under 20 s. Partograph: under 3 in 10 min, and under 40 s or not timed. Counted again after 30 min; still so for 30 min: review.",
    advice: LABOUR_COMFORT,
    sources: &[memory("LCG"), read("MCPC S-57")],
    settles: Settling::Contractions,
    judged_by: judge,
    edges: &[
        edge(
            Urgency::Recheck,
            "labour care guide, 19 s",
            || counted(3, Some(19)).case(),
            "labour care guide, 20 s",
            || counted(3, Some(20)).case(),
        ),
        edge(
            Urgency::Review,
            "2 in 10 min over 30 min",
            || lasting(30),
            "2 in 10 min over 29 min",
            || lasting(29),
        ),
        edge(
            Urgency::Recheck,
            "labour care guide, 2 in 10 min",
            || counted(2, None).case(),
            "labour care guide, 3 in 10 min",
            || counted(3, None).case(),
        ),
        edge(
            Urgency::Recheck,
            "partograph, 2 in 10 min",
            || counted(2, None).partograph().case(),
            "partograph, 3 in 10 min",
            || counted(3, None).partograph().case(),
        ),
        edge(
            Urgency::Recheck,
            "partograph, 2 in 10 min, 39 s",
            || counted(2, Some(39)).partograph().case(),
            "partograph, 2 in 10 min, 40 s",
            || counted(2, Some(40)).partograph().case(),
        ),
    ],
    ..Rule::of(Category::PoorProgress)
}];

fn counted(number: u8, seconds: Option<u16>) -> Usual {
    labour().row(0, |row| {
        row.dilatation_cm = Some(6);
        row.contractions_in_10_min = Some(number);
        row.contraction_seconds = seconds;
    })
}

fn lasting(minutes: i64) -> Case {
    labour()
        .row(minutes, |row| {
            row.dilatation_cm = Some(6);
            row.contractions_in_10_min = Some(2);
        })
        .row(0, |row| row.contractions_in_10_min = Some(2))
        .case()
}

fn judge(seen: &Picture<'_>, _: &Raised) -> Verdict {
    let labour = seen.labouring()?;
    let active = labour
        .active
        .ok_or(Why::Fact("the active stage is not reached"))?;
    let records = &seen.labour_records()[active.place..];
    let counted = || {
        records
            .iter()
            .rev()
            .filter(|record| is_contraction_record(**record))
    };
    let last = counted()
        .next()
        .ok_or(Why::Fact("contractions not counted since the active stage"))?;
    ask(
        weak(*last, labour.protocol),
        counted_last(*last, "s: not weak"),
    )?;
    let at = last.at();
    let since = run_start(counted().map(|record| (record.at(), weak(*record, labour.protocol))))
        .unwrap_or(at);
    let limit = match labour.protocol {
        LabourProtocol::CareGuide => "weak from 2 in 10 min or under 20 s (labour care guide)",
        LabourProtocol::Partograph => "weak under 3 in 10 min and under 40 s (partograph)",
    };
    let words = format!("{} at {}; {limit}", contraction_words(*last), seen.time(at));
    if at - since >= Duration::minutes(30) {
        return Ok(Spoken::review(format!(
            "{words}; so for {} since {}.",
            span((at - since).num_seconds()),
            seen.time(since)
        )));
    }
    let again = at + Duration::minutes(30);
    Ok(Spoken::recheck(
        again,
        format!("{words}. To be counted again at {}.", seen.time(again)),
    ))
}
