//! Signs that the baby does not fit.

use crate::clinical::flag::advice::SEND_TO_SURGERY;
use crate::clinical::flag::rule::{Raised, Rule, choice, edge, read};
use crate::clinical::flag::usual::{Usual, labour};
use crate::clinical::picture::Picture;
use crate::clinical::record::Record;
use crate::clinical::speech::list;
use crate::clinical::verdict::{Spoken, Unit, Verdict, Why, ask};
use crate::clinical::{Case, Category, Liquor, ObstructionSign, Urgency};
use chrono::Duration;

/// Every other rule of the category: one that is `now` makes a single sign enough.
const PROGRESS: &[&str] = &[
    "slow-dilatation",
    "active-stage-long",
    "second-stage-long",
    "right-of-alert",
    "past-action",
    "latent-long",
    "labour-long",
    "descent-arrest",
    "head-high-in-labour",
    "head-high-second-stage",
    "pushing-long",
    "moulding-with-arrest",
    "moulding-high-head",
    "moulding-severe",
    "contractions-weak",
];

pub(super) static RULES: &[Rule] = &[Rule {
    code: "obstruction-signs",
    title: "Signs of obstruction",
    urgencies: &[Urgency::Now],
    when: "A ridge across the belly. Or two of: swollen cervix, swollen vulva, blood in the urine, pain between contractions, caput 3, foul meconium, moulding 3, pulse over 100. One (not moulding or pulse) is enough beside poor progress that is now, or from 12 h of labour on.",
    advice: SEND_TO_SURGERY,
    sources: &[
        read("OU-L9.3.1, ALG"),
        choice("two signs; pulse or moulding alone is not the one"),
    ],
    after: PROGRESS,
    judged_by: judge,
    edges: &[
        edge(
            Urgency::Now,
            "a ridge across the belly",
            || with(&[ObstructionSign::RidgeAcrossBelly]).case(),
            "a swollen vulva alone",
            || with(&[ObstructionSign::SwollenVulva]).case(),
        ),
        edge(
            Urgency::Now,
            "a swollen vulva and pulse 101",
            || pulse(101),
            "a swollen vulva and pulse 100",
            || pulse(100),
        ),
        edge(
            Urgency::Now,
            "a swollen vulva after 12 h",
            || after(720),
            "a swollen vulva after 11 h 59 min",
            || after(719),
        ),
        edge(
            Urgency::Now,
            "a swollen vulva and caput 3",
            || head(Some(3), None),
            "a swollen vulva and caput 2",
            || head(Some(2), None),
        ),
        edge(
            Urgency::Now,
            "a swollen vulva and moulding 3",
            || head(None, Some(3)),
            "a swollen vulva and moulding 2",
            || head(None, Some(2)),
        ),
    ],
    ..Rule::of(Category::PoorProgress)
}];

fn with(signs: &[ObstructionSign]) -> Usual {
    labour().row(0, |row| row.obstruction_signs = signs.to_vec())
}

fn pulse(count: u8) -> Case {
    with(&[ObstructionSign::SwollenVulva])
        .row(0, |row| row.pulse = Some(count))
        .case()
}

fn head(caput: Option<u8>, moulding: Option<u8>) -> Case {
    with(&[ObstructionSign::SwollenVulva])
        .row(0, |row| {
            row.caput = caput;
            row.moulding = moulding;
        })
        .case()
}

fn after(minutes: i64) -> Case {
    with(&[ObstructionSign::SwollenVulva])
        .told(|case| case.labour_began_at = Some(case.on - Duration::minutes(minutes)))
        .case()
}

/// When a sign was first seen in this labour.
fn seen_at(seen: &Picture<'_>, sign: ObstructionSign) -> Option<String> {
    seen.labour_records()
        .iter()
        .find(|record| {
            record
                .row()
                .is_some_and(|row| row.obstruction_signs.contains(&sign))
        })
        .map(|record| format!("{} at {}", sign.words(), seen.time(record.at())))
}

fn judge(seen: &Picture<'_>, raised: &Raised) -> Verdict {
    let labour = seen.labouring()?;
    if let Some(ridge) = seen_at(seen, ObstructionSign::RidgeAcrossBelly) {
        return Ok(Spoken::now(format!("Sign of obstruction: {ridge}.")));
    }
    let mut signs: Vec<String> = ObstructionSign::ALL
        .iter()
        .filter_map(|sign| seen_at(seen, *sign))
        .collect();
    if let Some((at, 3..)) = seen.last_in_labour(|record| record.row()?.caput) {
        signs.push(format!("caput 3 at {}", seen.time(at)));
    }
    let meconium = seen
        .last_in_labour(|record| record.row()?.liquor)
        .filter(|(_, liquor)| {
            matches!(
                liquor,
                Liquor::Meconium1 | Liquor::Meconium2 | Liquor::Meconium3
            )
        });
    if let Some((at, _)) = meconium.filter(|_| seen.waters.foul()) {
        signs.push(format!("foul meconium at {}", seen.time(at)));
    }
    let own = signs.len();
    if let Some((at, 3..)) = super::moulding::last_moulding(seen) {
        signs.push(format!("moulding 3 at {}", seen.time(at)));
    }
    if let Some((at, pulse @ 101..)) = seen.last(Record::pulse) {
        signs.push(format!("pulse {pulse}{}", seen.when(at)));
    }
    if signs.len() >= 2 {
        return Ok(Spoken::now(format!(
            "{} signs of obstruction: {}.",
            signs.len(),
            list(&signs)
        )));
    }
    ask(
        own >= 1,
        Why::Figure {
            what: "signs of obstruction",
            found: i64::try_from(own).unwrap_or_default(),
            is: "are fewer than",
            limit: 1,
            unit: Unit::Plain,
        },
    )?;
    if let Some(code) = raised.now_in(Category::PoorProgress) {
        let title = crate::clinical::flag::rule(code).map_or(code, |rule| rule.title);
        return Ok(Spoken::now(format!(
            "One sign of obstruction, {}, beside {}.",
            list(&signs),
            title.to_lowercase()
        )));
    }
    ask(
        seen.on - labour.began >= Duration::hours(12),
        Why::Fact("one sign alone, progress not poor, and under 12 h of labour"),
    )?;
    Ok(Spoken::now(format!(
        "One sign of obstruction, {}, after {} of labour (from 12 h).",
        list(&signs),
        seen.ago(labour.began)
    )))
}
