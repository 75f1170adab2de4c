//! No date, a date nobody can believe, or a late scan that made the baby younger.

use super::advice::{FIND_A_DATE, LATE_SCAN};
use super::rule::{Raised, Rule, Settling, choice, edge, read};
use super::usual::{Usual, at, undated};
use crate::clinical::picture::Picture;
use crate::clinical::speech::day;
use crate::clinical::verdict::{Spoken, Verdict, Why, ask_fact};
use crate::clinical::{
    Case, Category, Movements, Presentation, Scan, UnknownReason, Urgency, gestation_text,
};
use chrono::Duration;

const BASE: Rule = Rule::of(Category::UnknownDates);

pub(super) static RULES: &[Rule] = &[
    Rule {
        code: "dates-unknown",
        title: "Dates unknown",
        urgencies: &[Urgency::Review],
        when: "No date that can be used, not in labour; once.",
        advice: FIND_A_DATE,
        sources: &[read("CO700, ANC16")],
        settles: Settling::Gestation,
        once: true,
        judged_by: unknown,
        edges: &[edge(
            Urgency::Review,
            "no date told",
            || undated().case(),
            "a last period told",
            || at(140).unscanned().case(),
        )],
        ..BASE
    },
    Rule {
        code: "dates-implausible",
        title: "Over 44 weeks",
        urgencies: &[Urgency::Soon, Urgency::Review],
        when: "The dates make her more than 44w+0d. Not in labour, and a visit of the last 7 days shows that she is pregnant (heart counted, movements felt, a presentation known): soon; else review.",
        advice: FIND_A_DATE,
        sources: &[choice(
            "a day after 44 weeks the danger is no smaller than before; without a sign of the baby a missed birth is likelier",
        )],
        settles: Settling::Gestation,
        judged_by: implausible,
        edges: &[
            edge(
                Urgency::Review,
                "44w+1d, nothing shows that she is pregnant",
                || at(309).case(),
                "44w+0d",
                || at(308).case(),
            ),
            edge(
                Urgency::Soon,
                "44w+1d, heart counted 7 days before",
                || counted().later(0).case(),
                "44w+1d, heart counted 7 days and a second before",
                || counted().later(1).case(),
            ),
        ],
        ..BASE
    },
    Rule {
        code: "late-scan-smaller",
        title: "Late scan, smaller baby",
        urgencies: &[Urgency::Review],
        when: "A scan from 28w+0d by a certain last period moved the date to a younger gestation.",
        advice: LATE_SCAN,
        sources: &[
            read("radiology reference on CO700"),
            choice("a baby that grows badly looks young"),
        ],
        judged_by: late_scan,
        edges: &[
            edge(
                Urgency::Review,
                "scan at 28w+0d by the period measures 24w+6d",
                || scanned(196, 174),
                "scan at 28w+0d by the period measures 25w+0d",
                || scanned(196, 175),
            ),
            edge(
                Urgency::Review,
                "scan at 28w+0d by the period measures 24w+6d",
                || scanned(196, 174),
                "scan at 27w+6d by the period measures 24w+6d",
                || scanned(195, 174),
            ),
        ],
        ..BASE
    },
];

/// 44w+1d today, the heart counted a week ago.
fn counted() -> Usual {
    at(309)
        .days_before(7, |visit| visit.fetal_hearts = vec![140])
        .told(|case| {
            case.visits.pop();
        })
}

fn scanned(by_period: i64, days: u16) -> Case {
    at(210)
        .told(|case| {
            let on = case.on.date() - Duration::days(210 - by_period);
            case.dating.scans = vec![Scan {
                on,
                gestation_days: Some(days),
                edd: None,
                babies: Some(1),
            }];
        })
        .case()
}

/// What showed that she is pregnant.
fn shown(seen: &Picture<'_>) -> Option<&'static str> {
    let visit = seen.v?;
    let known = seen
        .palpation
        .as_ref()
        .is_some_and(|hands| hands.presentation != Presentation::Unknown);
    match visit.movements {
        _ if !visit.fetal_hearts.is_empty() => Some("the heart was counted"),
        Some(Movements::Normal | Movements::Reduced) => Some("the baby moved"),
        _ if known => Some("hands felt what presents"),
        _ => None,
    }
}

fn unknown(seen: &Picture<'_>, _: &Raised) -> Verdict {
    seen.not_labouring()?;
    let reason = seen
        .dated
        .reason
        .ok_or(Why::Fact("the gestation is known"))?;
    if reason == UnknownReason::Over44Weeks {
        return Err(Why::Said("dates-implausible"));
    }
    let how = match (shown(seen), seen.v) {
        (Some(how), Some(visit)) => {
            format!(" She is pregnant: {how} {}.", seen.clock.day_of(visit.at))
        }
        _ => String::new(),
    };
    Ok(Spoken::review(format!(
        "Gestation unknown: {}.{how}",
        reason.words()
    )))
}

fn implausible(seen: &Picture<'_>, _: &Raised) -> Verdict {
    ask_fact(
        seen.dated.reason == Some(UnknownReason::Over44Weeks),
        "not over 44 weeks by her dates",
    )?;
    let told = seen.dated.days_told.unwrap_or_default();
    let words = format!("{} by her dates, over 44w+0d", gestation_text(told));
    let recent = seen
        .v
        .filter(|visit| seen.on - visit.at <= Duration::days(7));
    Ok(match (seen.labour.is_some(), recent, shown(seen)) {
        (false, Some(visit), Some(how)) => Spoken::soon(format!(
            "{words}; still pregnant: {how} {}.",
            seen.clock.day_of(visit.at)
        )),
        (true, ..) => Spoken::review(format!("{words}; in labour.")),
        _ => Spoken::review(format!(
            "{words}; no visit of the last 7 days shows that she is pregnant."
        )),
    })
}

fn late_scan(seen: &Picture<'_>, _: &Raised) -> Verdict {
    let scan = seen.dated.late_scan.ok_or(Why::Fact(
        "no scan from 28w+0d made the baby younger than a certain period does",
    ))?;
    Ok(Spoken::review(format!(
        "The scan on {} measured {}; by the certain last period it was {}. The date now goes by the scan.",
        day(scan.on),
        gestation_text(scan.by_scan),
        gestation_text(scan.by_period)
    )))
}
