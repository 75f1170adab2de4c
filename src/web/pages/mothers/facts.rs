//! The strip on top of a mother's page, and the facts beside her story.

use super::known::{Course, Known};
use super::list::gestation_words;
use super::words;
use crate::clinical::Day;
use crate::web::pages::pregnancies::amend::scan;
use crate::web::spoken;

/// A label and its value.
pub(super) struct Fact {
    pub(super) label: &'static str,
    pub(super) value: String,
}

fn fact(label: &'static str, value: impl Into<String>) -> Fact {
    Fact {
        label,
        value: value.into(),
    }
}

/// What everybody looks for first.
pub(super) fn strip(known: &Known, today: Day) -> Vec<Fact> {
    let mother = &known.mother;
    let mut facts = Vec::new();
    match known.lasting() {
        Some(course) => {
            let dated = course.pregnancy.dated(today);
            facts.push(fact(
                "Gestation",
                dated.gestation.as_ref().map_or_else(
                    || "not known".to_owned(),
                    |it| spoken::gestation(i64::from(it.days)),
                ),
            ));
            facts.push(fact(
                "Due",
                dated
                    .edd()
                    .map_or_else(|| "not known".to_owned(), spoken::day),
            ));
        }
        None => facts.push(fact("Pregnancy", "none open")),
    }
    facts.push(fact(
        "Age",
        mother
            .age_on(today)
            .map_or_else(|| "not known".to_owned(), |age| age.to_string()),
    ));
    if let Some(course) = known.lasting() {
        let births = course.pregnancy.facts.births_before;
        facts.push(fact(
            "Births before",
            births.map_or_else(|| "not told".to_owned(), |births| births.to_string()),
        ));
    }
    facts.push(fact(
        "Village",
        mother
            .village
            .clone()
            .unwrap_or_else(|| "not told".to_owned()),
    ));
    facts.push(fact("Phone", phone(known)));
    facts
}

fn phone(known: &Known) -> String {
    match (&known.mother.phone, known.mother.may_phone) {
        (None, _) => "none".to_owned(),
        (Some(phone), Some(true)) => phone.clone(),
        (Some(phone), Some(false)) => format!("{phone}; she asked not to be phoned"),
        (Some(phone), None) => format!("{phone}; not asked whether to phone"),
    }
}

/// What is told of the pregnancy that lasts, or of the last one.
pub(super) fn of(known: &Known, today: Day) -> Vec<Fact> {
    let Some(course) = known.lasting().or(known.courses.first()) else {
        return Vec::new();
    };
    let told = &course.pregnancy.facts;
    let mut facts = vec![fact("Dating", dating(course, today))];
    if !told.dating.scans.is_empty() {
        let scans: Vec<_> = told.dating.scans.iter().map(scan).collect();
        facts.push(fact(
            if scans.len() == 1 { "Scan" } else { "Scans" },
            scans.join("; "),
        ));
    }
    facts.push(fact(
        "Before",
        words::before(told.births_before, told.previous_caesareans, &told.history),
    ));
    let lines = [
        ("Illness", &told.illness),
        ("Allergies", &told.allergies),
        ("Medicines", &told.medicines),
        ("Blood", &told.blood_group),
        ("Tests", &told.tests),
        ("Goes with her", &told.companion),
        ("Their phone", &told.companion_phone),
    ];
    facts.extend(
        lines
            .into_iter()
            .filter_map(|(label, text)| Some(fact(label, text.clone()?))),
    );
    if course.pregnancy.ended_at.is_none() {
        let next = course
            .visits
            .last()
            .and_then(|seen| seen.findings.next_visit_on);
        facts.push(fact(
            "Next visit",
            next.map_or_else(|| "not set".to_owned(), spoken::day),
        ));
    }
    facts
}

fn dating(course: &Course, today: Day) -> String {
    let ended = course.pregnancy.ended_at.map(|at| at.date());
    let on = ended.unwrap_or(today);
    let mut said = words::dating(&course.pregnancy.facts.dating, on);
    if let Some(about) = words::about_weeks(&course.pregnancy.facts.dating, on) {
        said = format!("{said} She would be {about}.");
    } else if course.pregnancy.dated(on).gestation.is_none() && course.pregnancy.due_date.is_some()
    {
        said = format!(
            "{said} By her dates: {}.",
            gestation_words(course.pregnancy.due_date, on)
        );
    }
    said
}
