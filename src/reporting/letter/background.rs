//! What matters of before: history, dating, illness.

use super::Item;
use super::words::day;
use crate::clinical::{Moment, Scan, gestation_text};
use crate::registry::referrals::LetterFacts;

pub(super) fn items(facts: &LetterFacts, on: Moment) -> Vec<Item> {
    let hers = &facts.pregnancy.facts;
    let mut before: Vec<String> = Vec::new();
    match hers.previous_caesareans {
        Some(0) => before.push("no caesarean".to_owned()),
        Some(1) => before.push("one caesarean".to_owned()),
        Some(more) => before.push(format!("{more} caesareans")),
        None => {}
    }
    before.extend(hers.history.iter().map(|event| event.words().to_owned()));
    let period = hers.dating.lmp.map(|lmp| {
        let sure = if hers.dating.lmp_certain == Some(false) {
            ", not certain"
        } else {
            ""
        };
        format!("{}{sure}", day(lmp))
    });
    let scans: Vec<_> = hers.dating.scans.iter().map(scan).collect();
    let visits = facts
        .case
        .visits
        .iter()
        .filter(|visit| visit.at <= on)
        .count();
    vec![
        Item::new("History", Some(before.join(", "))),
        Item::new("Last period", period),
        Item::new("Scan", Some(scans.join("; "))),
        Item::new("Babies", babies(facts, on)),
        Item::new("Visits so far", Some(visits.to_string())),
        Item::new("Illness", hers.illness.clone()),
        Item::new("Allergies", hers.allergies.clone()),
        Item::new("Medicines", hers.medicines.clone()),
        Item::new("Blood group", hers.blood_group.clone()),
        Item::new("Tests", hers.tests.clone()),
    ]
}

fn scan(scan: &Scan) -> String {
    let found = match (scan.gestation_days, scan.edd) {
        (Some(days), _) => format!(": {}", gestation_text(days)),
        (None, Some(edd)) => format!(": due {}", day(edd)),
        (None, None) => String::new(),
    };
    format!("{}{found}", day(scan.on))
}

fn babies(facts: &LetterFacts, on: Moment) -> Option<String> {
    let babies = facts.pregnancy.dated(on.date()).babies?;
    Some(format!("{babies}, by scan"))
}
