//! Who she is, why she is sent, whether she is in labour.

use super::words::{Clock, day, plain};
use super::{Item, NOT_RECORDED};
use crate::clinical::{Basis, UnknownReason};
use crate::registry::referrals::LetterFacts;

pub(super) fn items(facts: &LetterFacts, clock: &Clock<'_>) -> Vec<Item> {
    let hers = &facts.pregnancy.facts;
    let age = facts
        .case
        .mother
        .age_years
        .map(|years| format!("{years} years"));
    let companion = hers
        .companion
        .as_ref()
        .map(|name| match &hers.companion_phone {
            Some(phone) => format!("{name}, telephone {phone}"),
            None => format!("{name}, telephone {NOT_RECORDED}"),
        });
    vec![
        Item::new("Mother", Some(facts.about.name.clone())),
        Item::new("Age", age),
        Item::new("Register", Some(facts.about.register.clone())),
        Item::new("Village", facts.village.clone()),
        Item::new("Telephone", facts.phone.clone()),
        Item::new("Companion", companion),
        Item::new("Gestation", Some(gestation(facts))),
        Item::new(
            "Births before",
            hers.births_before.map(|births| births.to_string()),
        ),
        Item::new("Reason", Some(reason(facts))),
        Item::new("In labour", Some(in_labour(facts, clock))),
        Item::new("Waters", waters(facts, clock)),
    ]
}

fn gestation(facts: &LetterFacts) -> String {
    match (
        &facts.assessment.gestation,
        facts.assessment.gestation_reason,
    ) {
        (Some(known), _) => {
            let by = match known.basis {
                Basis::Lmp => "by last period",
                Basis::Scan => "by scan",
            };
            format!("{}, {by}, due {}", known.text(), day(known.edd))
        }
        (None, Some(why)) => format!("not known: {}", UnknownReason::words(why)),
        (None, None) => "not known".to_owned(),
    }
}

/// One sentence that the hospital reads first.
pub(super) fn reason(facts: &LetterFacts) -> String {
    let mut reasons: Vec<_> = facts.about.reasons.iter().map(|it| plain(*it)).collect();
    if facts.assessment.labour.is_some() {
        reasons.push("in labour");
    }
    let mut sentence = reasons.join(", ");
    if let Some(first) = sentence.get(..1) {
        let first = first.to_uppercase();
        sentence.replace_range(..1, &first);
    }
    sentence.push('.');
    sentence
}

fn in_labour(facts: &LetterFacts, clock: &Clock<'_>) -> String {
    if facts.assessment.labour.is_none() {
        return "no".to_owned();
    }
    match facts.case.labour_began_at {
        Some(began) => format!("yes, since {} as she told", clock.short(began)),
        None => match facts.case.labour.iter().map(|row| row.at).min() {
            Some(first) => format!("yes, at least since {}", clock.short(first)),
            None => "yes, since when is not recorded".to_owned(),
        },
    }
}

fn waters(facts: &LetterFacts, clock: &Clock<'_>) -> Option<String> {
    if let Some(broke) = facts.case.waters_broke_at {
        return Some(format!("broken since {}", clock.short(broke)));
    }
    super::latest::waters(facts).map(|(at, words)| format!("{words} at {}", clock.short(at)))
}
