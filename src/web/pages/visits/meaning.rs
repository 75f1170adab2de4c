//! The flags of a visit spoken: conclusion first, then evidence, rule, source and advice.

use crate::clinical::{self, CAUTION, Category, Certainty, Moment, Palpation, Urgency, rule};
use crate::registry::VisitId;
use crate::registry::flags::Flag;
use crate::web::form::Sense;
use crate::web::spoken;

/// One flag as it stands on the page of a visit.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(in crate::web::pages) struct Card {
    pub(in crate::web::pages) id: String,
    pub(in crate::web::pages) urgency: Urgency,
    pub(in crate::web::pages) category: &'static str,
    /// “Breech near term, likely. Refer soon: she is 36w+2d.”
    pub(in crate::web::pages) said: String,
    pub(in crate::web::pages) evidence: String,
    /// When the rule speaks, in words.
    pub(in crate::web::pages) rule: String,
    /// Where the rules page lists it.
    pub(in crate::web::pages) listed: String,
    pub(in crate::web::pages) source: String,
    pub(in crate::web::pages) advice: String,
    /// Reviewed, settled, or raised at an earlier visit; empty for a new one.
    pub(in crate::web::pages) state: String,
    /// Where the referral is decided, for whoever may decide it.
    pub(in crate::web::pages) refer: Option<String>,
    /// It waits for the midwife in charge, and this page is not hers.
    pub(in crate::web::pages) seen: bool,
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
    pub(super) in_charge: bool,
    pub(super) bedside: Bedside<'a>,
}

/// What the sentence about a flag says of her.
pub(in crate::web::pages) struct Bedside<'a> {
    pub(in crate::web::pages) hands: Option<&'a Palpation>,
    pub(in crate::web::pages) gestation: Option<i64>,
    pub(in crate::web::pages) sense: &'a Sense,
}

/// A flag of the register, or of a judgement that nobody keeps.
struct Raised<'a> {
    rule: &'a str,
    category: Category,
    urgency: Urgency,
    recheck_at: Option<Moment>,
    evidence: &'a str,
    source: &'a str,
    advice: &'a str,
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
    /// Of a judgement that nobody keeps: nothing is to be decided.
    pub(in crate::web::pages) fn judged(flag: &clinical::Flag, bedside: &Bedside<'_>) -> Self {
        let raised = Raised {
            rule: flag.rule,
            category: flag.category,
            urgency: flag.urgency,
            recheck_at: flag.recheck_at,
            evidence: &flag.evidence,
            source: &flag.source,
            advice: &flag.advice,
        };
        Self::saying(&raised, bedside)
    }

    fn of(flag: &Flag, about: &About<'_>) -> Self {
        let raised = Raised {
            rule: &flag.rule,
            category: flag.category,
            urgency: flag.urgency,
            recheck_at: flag.recheck_at,
            evidence: &flag.evidence,
            source: &flag.source,
            advice: &flag.advice,
        };
        let decides =
            flag.urgency == Urgency::Now || (about.in_charge && flag.urgency <= Urgency::Review);
        Self {
            id: flag.id.to_string(),
            state: state(flag, about),
            refer: (decides && flag.stands()).then(|| {
                format!(
                    "/referrals/new?pregnancy={}&flag={}",
                    flag.pregnancy_id, flag.id
                )
            }),
            seen: !about.in_charge && flag.waits(),
            ..Self::saying(&raised, &about.bedside)
        }
    }

    fn saying(raised: &Raised<'_>, bedside: &Bedside<'_>) -> Self {
        let advice = raised
            .advice
            .trim_end()
            .strip_suffix(CAUTION)
            .unwrap_or(raised.advice);
        let known = rule(raised.rule);
        Self {
            id: raised.rule.to_owned(),
            urgency: raised.urgency,
            category: raised.category.words(),
            said: said(raised, known.map(|it| it.title), bedside),
            evidence: raised.evidence.to_owned(),
            rule: known.map_or_else(|| raised.rule.to_owned(), |it| it.when.to_owned()),
            listed: format!("/rules#{}", raised.rule),
            source: raised.source.to_owned(),
            advice: advice.trim_end().to_owned(),
            state: String::new(),
            refer: None,
            seen: false,
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

fn said(raised: &Raised<'_>, title: Option<&str>, bedside: &Bedside<'_>) -> String {
    let by_hand = matches!(
        raised.category,
        Category::Breech | Category::TransverseLie | Category::Malpresentation
    );
    let likely = by_hand
        && bedside
            .hands
            .is_some_and(|it| it.certainty == Certainty::Probable);
    let what = named(raised.category.words(), title);
    let likely = if likely { ", likely" } else { "" };
    let age = bedside.gestation.map_or_else(
        || "her dates are not known".to_owned(),
        |days| format!("she is {}", spoken::gestation(days)),
    );
    let urgency = raised.recheck_at.map_or_else(
        || raised.urgency.words().to_owned(),
        |at| {
            let day = bedside.sense.local(at).date();
            format!("{} on {}", raised.urgency.words(), spoken::day(day))
        },
    );
    format!("{what}{likely}. {urgency}: {age}.")
}

fn state(flag: &Flag, about: &About<'_>) -> String {
    let day = |moment| spoken::day(about.bedside.sense.local(moment).date());
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
