//! Contractions that leave the baby no rest.

use crate::clinical::flag::advice::CONTRACTIONS_REST;
use crate::clinical::flag::rule::{Raised, Rule, Settling, choice, edge, memory, read};
use crate::clinical::flag::usual::labour;
use crate::clinical::labour::{is_contraction_record, too_many, too_often};
use crate::clinical::picture::Picture;
use crate::clinical::record::{Record, run_start};
use crate::clinical::speech::span;
use crate::clinical::verdict::{Spoken, Verdict, Why, ask};
use crate::clinical::{Case, Category, DangerSign, LabourRow, Moment, Urgency};
use chrono::Duration;

pub(super) static RULES: &[Rule] = &[Rule {
    code: "contractions-too-many",
    title: "Too many contractions",
    urgencies: &[Urgency::Now, Urgency::Review, Urgency::Recheck],
    when: "More than 5 in 10 min, or longer than 60 s: counted again after 10 min. Still too many or too long for 10 min: review. More than 5 for 10 min, or with bleeding, severe abdominal pain or an abnormal heart: now.",
    advice: CONTRACTIONS_REST,
    sources: &[
        memory("LCG"),
        read("GPN, BTC-3.36"),
        choice("long ones alone are usual late in labour"),
    ],
    settles: Settling::Contractions,
    after: &["heart-abnormal"],
    judged_by: judge,
    edges: &[
        edge(
            Urgency::Recheck,
            "6 in 10 min",
            || once(|row| row.contractions_in_10_min = Some(6)),
            "5 in 10 min",
            || once(|row| row.contractions_in_10_min = Some(5)),
        ),
        edge(
            Urgency::Recheck,
            "61 s",
            || once(|row| row.contraction_seconds = Some(61)),
            "60 s",
            || once(|row| row.contraction_seconds = Some(60)),
        ),
        edge(
            Urgency::Review,
            "61 s, again after 10 min",
            || twice(10, |row| row.contraction_seconds = Some(61)),
            "61 s, again after 9 min",
            || twice(9, |row| row.contraction_seconds = Some(61)),
        ),
        edge(
            Urgency::Now,
            "6 in 10 min, again after 10 min",
            || twice(10, |row| row.contractions_in_10_min = Some(6)),
            "6 in 10 min, again after 9 min",
            || twice(9, |row| row.contractions_in_10_min = Some(6)),
        ),
    ],
    ..Rule::of(Category::DangerSign)
}];

fn once(change: fn(&mut LabourRow)) -> Case {
    labour().row(0, change).case()
}

fn twice(minutes: i64, change: fn(&mut LabourRow)) -> Case {
    labour().row(minutes, change).row(0, change).case()
}

/// The last count, for a rule that keeps silent.
pub(in crate::clinical::flag) fn counted(record: Record<'_>, is: &'static str) -> Why {
    let row = record.row();
    Why::Pair {
        what: "contractions",
        first: row
            .and_then(|row| row.contractions_in_10_min)
            .map(u16::from),
        between: " in 10 min, ",
        second: row.and_then(|row| row.contraction_seconds),
        is,
    }
}

/// `6 in 10 min, 50 s`.
pub(in crate::clinical::flag) fn contraction_words(record: Record<'_>) -> String {
    let Some(row) = record.row() else {
        return String::new();
    };
    match (row.contractions_in_10_min, row.contraction_seconds) {
        (Some(number), Some(seconds)) => format!("{number} in 10 min, {seconds} s"),
        (Some(number), None) => format!("{number} in 10 min"),
        (None, Some(seconds)) => format!("{seconds} s long"),
        (None, None) => String::new(),
    }
}

/// Since when a test holds over the contraction records, the last included.
fn since(seen: &Picture<'_>, test: fn(Record<'_>) -> bool) -> Option<Moment> {
    run_start(
        seen.labour_records()
            .iter()
            .rev()
            .filter(|record| is_contraction_record(**record))
            .map(|record| (record.at(), test(*record))),
    )
}

fn judge(seen: &Picture<'_>, raised: &Raised) -> Verdict {
    seen.labouring()?;
    let (at, record) = seen
        .last_in_labour(|record| is_contraction_record(record).then_some(record))
        .ok_or(Why::Fact("contractions not counted"))?;
    ask(
        too_many(record),
        counted(record, "s: at most 5 and at most 60 s"),
    )?;
    let text = format!(
        "{} at {}; limits 5 in 10 min and 60 s",
        contraction_words(record),
        seen.time(at)
    );
    let lasting = |test| {
        since(seen, test)
            .filter(|start| at - *start >= Duration::minutes(10))
            .map(|start| {
                format!(
                    "for {} since {}",
                    span((at - start).num_seconds()),
                    seen.time(start)
                )
            })
    };
    let beside = [DangerSign::Bleeding, DangerSign::SevereAbdominalPain]
        .iter()
        .find(|sign| seen.sign(**sign).is_some())
        .map(|sign| sign.words())
        .or_else(|| raised.has("heart-abnormal").then_some("an abnormal heart"));
    if let Some(lasting) = lasting(too_often) {
        return Ok(Spoken::now(format!("{text}; too often {lasting}.")));
    }
    if let Some(beside) = beside {
        return Ok(Spoken::now(format!("{text}; with {beside}.")));
    }
    if let Some(lasting) = lasting(too_many) {
        return Ok(Spoken::review(format!(
            "{text}; too many or too long {lasting}."
        )));
    }
    let again = at + Duration::minutes(10);
    Ok(Spoken::recheck(
        again,
        format!("{text}. To be counted again at {}.", seen.time(again)),
    ))
}
