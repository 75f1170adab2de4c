//! The one table of rules: what raises a flag, how soon, what to do, from which source.
//!
//! One [`Rule`] value each, in its category's file. `assess`, the rules page, `--explain` and the boundary test all read this table.

mod advice;
mod birth_place;
mod breech;
mod danger_sign;
mod fetal_heart;
mod heart_in_labour;
mod high_head;
mod large_for_dates;
mod lie;
mod liquor;
mod malpresentation;
mod occiput_posterior;
mod past_dates;
mod pressure;
mod preterm_labour;
mod progress;
mod rule;
mod scarred_uterus;
mod small_for_dates;
mod twins;
mod unclear_findings;
mod unknown_dates;
mod usual;
mod waters;

use super::picture::Picture;
use super::verdict::{Spoken, Verdict};
use super::{Case, Flag, Urgency};
use std::sync::LazyLock;

pub use advice::{BIRTH_NEAR, CAUTION};
pub(crate) use rule::Raised;
pub use rule::{Edge, Mark, Rule, Settling, Softening, Source};

/// All rules, by category and in the order of the reference.
static TABLE: LazyLock<Vec<&'static Rule>> = LazyLock::new(|| {
    let one = [
        lie::RULES,
        malpresentation::RULES,
        breech::RULES,
        twins::RULES,
        small_for_dates::RULES,
        large_for_dates::RULES,
    ];
    let two = [high_head::RULES, occiput_posterior::RULES];
    let three = [
        pressure::RULES,
        fetal_heart::RULES,
        waters::RULES,
        preterm_labour::RULES,
        past_dates::RULES,
        scarred_uterus::RULES,
        birth_place::RULES,
        unclear_findings::RULES,
        unknown_dates::RULES,
    ];
    one.into_iter()
        .chain(progress::RULES.iter().copied())
        .chain(two)
        .chain(danger_sign::RULES.iter().copied())
        .chain(three)
        .flatten()
        .collect()
});

/// The order of judging: a rule that asks about another is judged after it.
static ORDER: LazyLock<Vec<(usize, &'static Rule)>> = LazyLock::new(|| {
    let mut waiting: Vec<(usize, &'static Rule)> = TABLE.iter().copied().enumerate().collect();
    let mut order: Vec<(usize, &'static Rule)> = Vec::with_capacity(waiting.len());
    while !waiting.is_empty() {
        let ready = |rule: &Rule| {
            !waiting
                .iter()
                .any(|(_, other)| rule.after.contains(&other.code))
        };
        let (now, later): (Vec<_>, Vec<_>) = waiting.iter().partition(|(_, rule)| ready(rule));
        // A circle would wait for ever; the test of the table refuses one, and here its rules are judged in table order.
        let (now, later) = if now.is_empty() {
            (later, now)
        } else {
            (now, later)
        };
        order.extend(now);
        waiting = later;
    }
    order
});

/// All rules in the order of the reference.
pub fn rules() -> impl Iterator<Item = &'static Rule> {
    TABLE.iter().copied()
}

/// The rule with this code.
#[must_use]
pub fn rule(code: &str) -> Option<&'static Rule> {
    TABLE.iter().copied().find(|rule| rule.code == code)
}

/// The line that every conclusion ends with.
#[must_use]
pub fn caution() -> &'static str {
    CAUTION
}

/// Every rule that speaks, softened by skilled staff, in the order of the table.
pub(crate) fn judge(seen: &Picture<'_>) -> Raised {
    let mut raised = Raised::default();
    for (place, rule) in ORDER.iter() {
        // Most rules keep silent: nothing is moved or made before one speaks.
        if let Ok(spoken) = (rule.judged_by)(seen, &raised) {
            raised.add(*place, rule, rule.softened(spoken, seen));
        }
    }
    raised
}

/// What every rule answers, silent ones with their reason, in the order of the table.
pub(crate) fn explain(seen: &Picture<'_>) -> Vec<(&'static Rule, Verdict)> {
    let mut raised = Raised::default();
    let mut answers: Vec<(usize, &'static Rule, Verdict)> = Vec::with_capacity(ORDER.len());
    for (place, rule) in ORDER.iter() {
        let verdict = (rule.judged_by)(seen, &raised).map(|spoken| rule.softened(spoken, seen));
        if let Ok(spoken) = &verdict {
            raised.add(*place, rule, spoken.clone());
        }
        answers.push((*place, rule, verdict));
    }
    answers.sort_by_key(|(place, ..)| *place);
    answers
        .into_iter()
        .map(|(_, rule, verdict)| (rule, verdict))
        .collect()
}

/// Flags by urgency, category and rule.
pub(crate) fn flags(raised: Raised, birth_near: bool) -> Vec<Flag> {
    let mut spoken = raised.into_spoken();
    spoken.sort_by_key(|(place, _, spoken)| (spoken.urgency, *place));
    spoken
        .into_iter()
        .map(|(_, rule, spoken)| flag(rule, spoken, birth_near))
        .collect()
}

fn flag(rule: &'static Rule, spoken: Spoken, birth_near: bool) -> Flag {
    let mut advice = String::with_capacity(320);
    advice.push_str(spoken.advice.unwrap_or(rule.advice));
    if birth_near && spoken.urgency == Urgency::Now {
        advice.push(' ');
        advice.push_str(BIRTH_NEAR);
    }
    advice.push(' ');
    advice.push_str(CAUTION);
    Flag {
        category: rule.category,
        rule: rule.code,
        urgency: spoken.urgency,
        evidence: spoken.evidence,
        advice,
        source: rule.source_words(),
        recheck_at: spoken
            .recheck_at
            .filter(|_| spoken.urgency == Urgency::Recheck),
    }
}

/// Judges one case by one rule alone, for the boundary test.
#[must_use]
pub fn urgency_of(rule: &Rule, case: &Case) -> Option<Urgency> {
    let seen = Picture::of(case, case.on);
    judge(&seen).urgency_of(rule.code)
}

/// Every rule that keeps silent in a case, and why in the words of `--explain`, for the tests of these words.
#[must_use]
pub fn silences(case: &Case) -> Vec<(&'static str, String)> {
    let answers = explain(&Picture::of(case, case.on)).into_iter();
    answers
        .filter_map(|(rule, verdict)| Some((rule.code, verdict.err()?.to_string())))
        .collect()
}
