//! The flags of a visit spoken: conclusion first, then evidence, rule, source and advice.

use crate::clinical::{CAUTION, Category, Certainty, Moment, Palpation, Urgency, rule};
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
    /// It waits for the midwife in charge, and this page is not hers.
    pub(super) seen: bool,
}

/// What the flags of a pregnancy say on the page of one visit.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(super) struct Meaning {
    /// Raised by this visit, or once more by it.
    pub(super) cards: Vec<Card>,
    /// Still open from other visits.
    pub(super) before: Vec<Card>,
}

/// Whose page it is and what it is about.
pub(super) struct About<'a> {
    pub(super) visit: VisitId,
    pub(super) at: Moment,
    pub(super) hands: Option<&'a Palpation>,
    pub(super) gestation: Option<i64>,
    pub(super) in_charge: bool,
    pub(super) sense: &'a Sense,
}

impl Meaning {
    /// In the order of the flags: those that stand first, by urgency.
    pub(super) fn of(flags: &[Flag], about: &About<'_>) -> Self {
        let spoke =
            |flag: &&Flag| flag.visit_id == Some(about.visit) || flag.last_raised_at == about.at;
        let (now, before): (Vec<&Flag>, Vec<&Flag>) = flags.iter().partition(spoke);
        let mut cards: Vec<Card> = now.into_iter().map(|flag| Card::of(flag, about)).collect();
        // One referral answers all of them; its form opens with every pressing flag.
        let mut offered = false;
        for card in &mut cards {
            card.refer = card.refer.take().filter(|_| !offered);
            offered |= card.refer.is_some();
        }
        Self {
            cards,
            before: before
                .into_iter()
                .map(|flag| Card::of(flag, about))
                .collect(),
        }
    }
}

impl Card {
    fn of(flag: &Flag, about: &About<'_>) -> Self {
        let advice = flag
            .advice
            .trim_end()
            .strip_suffix(CAUTION)
            .unwrap_or(&flag.advice);
        let decides =
            flag.urgency == Urgency::Now || (about.in_charge && flag.urgency <= Urgency::Review);
        let known = rule(&flag.rule);
        Self {
            id: flag.id.to_string(),
            urgency: flag.urgency,
            category: flag.category.words(),
            said: said(flag, known.map(|it| it.title), about),
            evidence: flag.evidence.clone(),
            rule: known.map_or_else(|| flag.rule.clone(), |it| it.when.to_owned()),
            source: flag.source.clone(),
            advice: advice.trim_end().to_owned(),
            state: state(flag, about),
            refer: (decides && flag.stands()).then(|| {
                format!(
                    "/referrals/new?pregnancy={}&flag={}",
                    flag.pregnancy_id, flag.id
                )
            }),
            seen: !about.in_charge && flag.waits(),
        }
    }
}

/// The kind of flag and its rule: “Breech near term”, “Danger sign: bleeding”.
fn named(category: &str, title: Option<&str>) -> String {
    let Some(title) = title else {
        return category.to_owned();
    };
    let small = title.to_lowercase();
    let known = category.to_lowercase();
    if known
        .split(' ')
        .any(|word| word.len() > 4 && small.contains(word))
    {
        return title.to_owned();
    }
    let mut letters = title.chars();
    let first = letters.next().into_iter().flat_map(char::to_lowercase);
    format!("{category}: {}", first.chain(letters).collect::<String>())
}

fn said(flag: &Flag, title: Option<&str>, about: &About<'_>) -> String {
    let by_hand = matches!(
        flag.category,
        Category::Breech | Category::TransverseLie | Category::Malpresentation
    );
    let likely = by_hand
        && about
            .hands
            .is_some_and(|it| it.certainty == Certainty::Probable);
    let what = named(flag.category.words(), title);
    let likely = if likely { ", likely" } else { "" };
    let age = about.gestation.map_or_else(
        || "her dates are not known".to_owned(),
        |days| format!("she is {}", spoken::gestation(days)),
    );
    let urgency = flag.recheck_at.map_or_else(
        || flag.urgency.words().to_owned(),
        |at| {
            let day = about.sense.local(at).date();
            format!("{} on {}", flag.urgency.words(), spoken::day(day))
        },
    );
    format!("{what}{likely}. {urgency}: {age}.")
}

fn state(flag: &Flag, about: &About<'_>) -> String {
    let day = |moment| spoken::day(about.sense.local(moment).date());
    match (flag.closed_at, flag.decision) {
        (Some(closed), _) => {
            let why = flag.closing.map_or("closed", |it| it.words());
            format!("{why}, {}", day(closed))
        }
        (None, Some(decision)) => decision.words().to_owned(),
        (None, None) if flag.visit_id == Some(about.visit) => String::new(),
        (None, None) => format!("since {}", day(flag.raised_at)),
    }
}

#[cfg(test)]
mod tests {
    use super::named;

    #[test]
    fn a_flag_is_named_by_its_kind_and_its_rule_without_saying_one_word_twice() {
        assert_eq!(
            named("Breech", Some("Breech near term")),
            "Breech near term"
        );
        assert_eq!(
            named("Danger sign", Some("Bleeding")),
            "Danger sign: bleeding"
        );
        assert_eq!(
            named("Raised blood pressure", Some("Severe")),
            "Raised blood pressure: severe"
        );
        assert_eq!(named("Breech", None), "Breech");
    }
}
