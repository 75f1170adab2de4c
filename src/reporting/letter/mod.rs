//! The letter to the hospital: what stands on it, in the order situation, background, assessment, recommendation.
//!
//! SBAR [R SBAR07: WHO Patient Safety Solution 3, 2007]; contents [R Open University, HEAT antenatal care 9.4.1].
//! An item that is empty says “not recorded”: a blank could be read as normal.

mod background;
mod latest;
mod situation;
mod words;

use crate::clinical::{Moment, RULES_VERSION, Urgency};
use crate::registry::ReferralEvent;
use crate::registry::referrals::LetterFacts;
use words::Clock;

/// Stands where nothing was written down.
pub const NOT_RECORDED: &str = "not recorded";

/// One item of the letter.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Item {
    /// Its label.
    pub label: &'static str,
    /// What stands behind it; never empty.
    pub words: String,
}

impl Item {
    fn new(label: &'static str, words: Option<String>) -> Self {
        let words = words.filter(|words| !words.trim().is_empty());
        Self {
            label,
            words: words.unwrap_or_else(|| NOT_RECORDED.to_owned()),
        }
    }
}

/// A letter that may be printed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Letter {
    /// `QF-2026-088`.
    pub number: String,
    /// Date and time of the decision, by the clock of the post.
    pub decided: String,
    /// Date and time of printing, by the clock of the post.
    pub printed: String,
    /// How soon.
    pub urgency: Urgency,
    /// What the hospital reads first: how soon, why, what is asked.
    pub urge: String,
    /// The sending post and its telephone.
    pub from: Item,
    /// The hospital and its telephone.
    pub to: Item,
    /// Who is sent, why, how far: situation.
    pub situation: Vec<Item>,
    /// What matters of before: background.
    pub background: Vec<Item>,
    /// The latest findings with their times: assessment.
    pub assessment: Vec<Item>,
    /// Flags that stand: words, evidence, source.
    pub flags: Vec<Item>,
    /// What is asked and how she travels: recommendation.
    pub recommendation: Vec<Item>,
    /// Name and role of whoever decided.
    pub sender: String,
    /// Of the rules that judged.
    pub rules_version: &'static str,
}

/// What keeps a letter from being printed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum Lacking {
    /// No receiving hospital.
    #[error("The letter has no hospital.")]
    Hospital,
    /// Nothing says why she is sent.
    #[error("The letter has no reason.")]
    Reason,
    /// Nobody signs it.
    #[error("The letter has no sender.")]
    Sender,
}

impl Letter {
    /// The letter as it is printed at `on`.
    ///
    /// # Errors
    /// Everything that has to be filled in first.
    pub fn of(facts: &LetterFacts, on: Moment) -> Result<Self, Vec<Lacking>> {
        let about = &facts.about;
        let blank = |text: &str| text.trim().is_empty();
        let lacking: Vec<_> = [
            (blank(&about.hospital), Lacking::Hospital),
            (about.reasons.is_empty(), Lacking::Reason),
            (blank(&about.decided_by.0), Lacking::Sender),
        ]
        .into_iter()
        .filter_map(|(lacks, what)| lacks.then_some(what))
        .collect();
        if !lacking.is_empty() {
            return Err(lacking);
        }
        let clock = Clock(&facts.post);
        let phoned = |name: &str, phone: Option<&String>| match phone {
            Some(phone) => format!("{name}, telephone {phone}"),
            None => format!("{name}, telephone {NOT_RECORDED}"),
        };
        let (name, role) = &about.decided_by;
        Ok(Self {
            number: about.referral.number.clone(),
            decided: clock.moment(about.referral.decided_at),
            printed: clock.moment(on),
            urgency: about.referral.urgency,
            urge: urge(facts),
            from: Item::new(
                "From",
                Some(phoned(&facts.post.name, facts.post.phone.as_ref())),
            ),
            to: Item::new(
                "To",
                Some(phoned(&about.hospital, about.hospital_phone.as_ref())),
            ),
            situation: situation::items(facts, &clock),
            background: background::items(facts, on),
            assessment: latest::items(facts, &clock),
            flags: facts.flags.iter().map(words::flag).collect(),
            recommendation: recommendation(facts, &clock),
            sender: format!("{name}, {}", role.words()),
            rules_version: RULES_VERSION,
        })
    }
}

/// `REFER NOW. Baby lies across, in labour. Please assess at once for caesarean birth.`
fn urge(facts: &LetterFacts) -> String {
    let how_soon = match facts.about.referral.urgency {
        Urgency::Now => "REFER NOW",
        Urgency::Soon => "REFER SOON",
        Urgency::Review | Urgency::Recheck => "REFER",
    };
    format!("{how_soon}. {}", situation::reason(facts))
}

fn recommendation(facts: &LetterFacts, clock: &Clock<'_>) -> Vec<Item> {
    let about = &facts.about;
    let told = about.step(ReferralEvent::Told).map(|step| {
        let who = step
            .who
            .as_deref()
            .unwrap_or("who answered is not recorded");
        format!("{}, {who}", clock.known(step.at))
    });
    let left = about.step(ReferralEvent::Left);
    let transport = left.and_then(|step| step.transport.clone());
    let escort = left.and_then(|step| step.who.clone());
    let mut items = vec![
        Item::new("We ask", about.referral.asked.clone()),
        Item::new("Told", told),
        Item::new("Left at", left.map(|step| clock.known(step.at))),
        Item::new(
            "Transport",
            transport.or_else(|| about.referral.transport.clone()),
        ),
        Item::new("Escort", escort.or_else(|| about.referral.escort.clone())),
    ];
    if facts
        .assessment
        .labour
        .as_ref()
        .is_some_and(|labour| labour.birth_near)
    {
        let words = "Birth may come before arrival.".to_owned();
        items.push(Item::new("On the way", Some(words)));
    }
    if about.referral.note.is_some() {
        items.push(Item::new("Note", about.referral.note.clone()));
    }
    items
}
