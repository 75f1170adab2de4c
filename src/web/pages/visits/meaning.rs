//! The flags of a visit spoken: conclusion first, then evidence, rule, source and advice.

use crate::clinical::{CAUTION, Category, Certainty, Palpation, Urgency, rule};
use crate::registry::VisitId;
use crate::registry::flags::Flag;
use crate::web::form::Sense;
use crate::web::spoken;

/// One flag as it stands on the page of a visit.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Card {
    pub(super) id: String,
    pub(super) urgency: Urgency,
    pub(super) category: &'static str,
    /// “Breech near term, likely. Refer soon: she is 36w+2d.”
    pub(super) said: String,
    pub(super) evidence: String,
    /// When the rule speaks, in words.
    pub(super) rule: String,
    pub(super) source: String,
    pub(super) advice: String,
    /// Reviewed, settled, or raised at an earlier visit; empty for a new one.
    pub(super) state: String,
    /// Where the referral is decided, for whoever may decide it.
    pub(super) refer: Option<String>,
}

/// In the order of the flags: those that stand first, by urgency.
pub(super) fn cards(
    flags: &[Flag],
    visit: VisitId,
    hands: Option<&Palpation>,
    gestation: Option<i64>,
    sense: &Sense,
    in_charge: bool,
) -> Vec<Card> {
    let card = |flag: &Flag| {
        let advice = flag
            .advice
            .trim_end()
            .strip_suffix(CAUTION)
            .unwrap_or(&flag.advice);
        let decides =
            flag.urgency == Urgency::Now || (in_charge && flag.urgency <= Urgency::Review);
        let known = rule(&flag.rule);
        Card {
            id: flag.id.to_string(),
            urgency: flag.urgency,
            category: flag.category.words(),
            said: said(flag, known.map(|it| it.title), hands, gestation, sense),
            evidence: flag.evidence.clone(),
            rule: known.map_or_else(|| flag.rule.clone(), |it| it.when.to_owned()),
            source: flag.source.clone(),
            advice: advice.trim_end().to_owned(),
            state: state(flag, visit, sense),
            refer: (decides && flag.stands()).then(|| {
                format!(
                    "/referrals/new?pregnancy={}&flag={}",
                    flag.pregnancy_id, flag.id
                )
            }),
        }
    };
    flags.iter().map(card).collect()
}

fn said(
    flag: &Flag,
    title: Option<&str>,
    hands: Option<&Palpation>,
    gestation: Option<i64>,
    sense: &Sense,
) -> String {
    let by_hand = matches!(
        flag.category,
        Category::Breech | Category::TransverseLie | Category::Malpresentation
    );
    let likely = by_hand && hands.is_some_and(|it| it.certainty == Certainty::Probable);
    let what = title.unwrap_or(flag.category.words());
    let likely = if likely { ", likely" } else { "" };
    let age = gestation.map_or_else(
        || "her dates are not known".to_owned(),
        |days| format!("she is {}", spoken::gestation(days)),
    );
    let urgency = match flag.recheck_at {
        Some(at) => format!(
            "{} on {}",
            flag.urgency.words(),
            spoken::day(sense.local(at).date())
        ),
        None => flag.urgency.words().to_owned(),
    };
    format!("{what}{likely}. {urgency}: {age}.")
}

fn state(flag: &Flag, visit: VisitId, sense: &Sense) -> String {
    if let Some(closed) = flag.closed_at {
        return format!("closed {}", spoken::day(sense.local(closed).date()));
    }
    if let Some(decision) = flag.decision {
        return decision.words().to_owned();
    }
    if flag.visit_id == Some(visit) {
        String::new()
    } else {
        format!("since {}", spoken::day(sense.local(flag.raised_at).date()))
    }
}
