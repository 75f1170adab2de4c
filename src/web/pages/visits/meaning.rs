//! The flags of a visit spoken: conclusion first, then evidence, rule, source and advice.

use crate::clinical::{self, CAUTION, Category, Certainty, Moment, Palpation, Urgency, rule};
use crate::registry::VisitId;
use crate::registry::flags::{Flag, Raising};
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
    /// What this visit raised as it was said then, those that stand first; then what earlier records had raised.
    pub(super) fn of(raised: &[(Raising, Flag)], flags: &[Flag], about: &About<'_>) -> Self {
        let mut raised: Vec<&(Raising, Flag)> = raised.iter().collect();
        raised.sort_by_key(|(_, flag)| !flag.stands());
        let mut cards: Vec<Card> = raised
            .iter()
            .map(|(said, flag)| Card::of(flag, Some(said), about))
            .collect();
        // One referral answers all of them; its form opens with every pressing flag.
        let mut offered = false;
        for card in &mut cards {
            card.refer = card.refer.take().filter(|_| !offered);
            offered |= card.refer.is_some();
        }
        let before = flags.iter().filter(|flag| {
            flag.stands()
                && flag.raised_at <= about.at
                && !raised.iter().any(|(_, one)| one.id == flag.id)
        });
        Self {
            cards,
            before: before.map(|flag| Card::of(flag, None, about)).collect(),
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

    fn of(flag: &Flag, said: Option<&Raising>, about: &About<'_>) -> Self {
        let raised = Raised {
            rule: &flag.rule,
            category: flag.category,
            urgency: said.map_or(flag.urgency, |it| it.urgency),
            recheck_at: said.map_or(flag.recheck_at, |it| it.recheck_at),
            evidence: said.map_or(&flag.evidence, |it| &it.evidence),
            source: said.map_or(&flag.source, |it| &it.source),
            advice: said.map_or(&flag.advice, |it| &it.advice),
        };
        let decides =
            flag.urgency == Urgency::Now || (about.in_charge && flag.urgency <= Urgency::Review);
        Self {
            id: flag.id.to_string(),
            state: state(flag, raised.urgency, about),
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
    let words = |text: &str| -> Vec<String> {
        let text = text.to_lowercase();
        let words = text.split(|it: char| !it.is_alphanumeric());
        words
            .filter(|word| word.len() > 2)
            .map(str::to_owned)
            .collect()
    };
    let known = words(category);
    if words(title).iter().any(|word| known.contains(word)) {
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
        |at| format!("{} {}", raised.urgency.words(), again(raised, at, bedside)),
    );
    format!("{what}{likely}. {urgency}: {age}.")
}

/// `at 07:05 today`, or the day where no hour is meant.
fn again(raised: &Raised<'_>, at: Moment, bedside: &Bedside<'_>) -> String {
    let there = bedside.sense.local(at);
    let day = spoken::day(there.date());
    if matches!(raised.category, Category::Breech | Category::TransverseLie) {
        return format!("on {day}");
    }
    let hour = there.format("%H:%M");
    if there.date() == bedside.sense.today() {
        format!("at {hour} today")
    } else {
        format!("on {day} at {hour}")
    }
}

fn state(flag: &Flag, said: Urgency, about: &About<'_>) -> String {
    let day = |moment| spoken::day(about.bedside.sense.local(moment).date());
    match (flag.closed_at, flag.decision) {
        (Some(closed), _) => {
            let why = flag.closing.map_or("closed", |it| it.words());
            format!("{why}, {}", day(closed))
        }
        (None, Some(decision)) => decision.words().to_owned(),
        (None, None) if flag.urgency != said => format!("now: {}", flag.urgency.words()),
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
            named("High head", Some("Head high at term")),
            "Head high at term"
        );
        assert_eq!(
            named("Birth place", Some("Stillbirth before")),
            "Birth place: stillbirth before"
        );
        assert_eq!(named("Breech", None), "Breech");
    }
}
