//! What one visit found, read and drawn: for the page of the visit, and for practice where nothing is kept.

use chrono_tz::Tz;

use crate::clinical::{Palpation, read_palpation};
use crate::registry::visits::Findings;
use crate::web::charts::abdomen;
use crate::web::charts::height::{self, Course, Size};
use crate::web::charts::{Drawing, WordRow};

use super::words::{self, Entry, Group};

/// Hands, tape and all else of one visit, in words and pictures.
pub(in crate::web::pages) struct Seen {
    pub(in crate::web::pages) hands: Option<Palpation>,
    pub(in crate::web::pages) entries: Vec<Entry>,
    pub(in crate::web::pages) left_out: Vec<&'static str>,
    pub(in crate::web::pages) picture: Drawing,
    pub(in crate::web::pages) felt: abdomen::Words,
    pub(in crate::web::pages) height: Option<Drawing>,
    pub(in crate::web::pages) tape: height::Words,
    pub(in crate::web::pages) note: Option<String>,
    pressure: Option<(u16, u16)>,
}

impl Seen {
    /// `id` is unique on the page; `course` holds every tape of the pregnancy, this one too.
    pub(in crate::web::pages) fn of(
        id: &str,
        findings: &Findings,
        course: &Course,
        zone: Tz,
    ) -> Self {
        let visit = &findings.visit;
        let felt = visit.palpation.clone().unwrap_or_default();
        let hands = read_palpation(&felt);
        Self {
            picture: abdomen::draw(&format!("abdomen-{id}"), &felt, hands.as_ref()),
            felt: abdomen::words(&felt, hands.as_ref()),
            height: course.draw(&format!("height-{id}"), Size::Narrow),
            tape: course.words(),
            entries: words::entries(findings, zone),
            left_out: words::left_out(findings, zone),
            note: findings.note.clone(),
            pressure: visit.systolic.zip(visit.diastolic),
            hands,
        }
    }

    /// Said large when no flag speaks.
    pub(in crate::web::pages) fn quiet(&self) -> &str {
        if self.hands.is_some() {
            &self.felt.sentence
        } else {
            "Nothing was palpated at this visit."
        }
    }

    pub(in crate::web::pages) fn rows(&self) -> &[WordRow] {
        &self.felt.rows
    }

    /// Place by place, as the form asks.
    pub(in crate::web::pages) fn felt_words(&self) -> String {
        let felt = self.entries.iter().filter(|it| it.group == Group::Hands);
        let said = felt.filter_map(|it| Some(format!("{}: {}", it.label, it.said.as_deref()?)));
        said.collect::<Vec<_>>().join("; ")
    }

    /// What was recorded beside hands and tape.
    pub(in crate::web::pages) fn also(&self) -> Vec<(&'static str, String)> {
        let mut also = Vec::new();
        for it in &self.entries {
            let beside = it.name == "bladder_empty"
                || (matches!(it.group, Group::Measured | Group::Told)
                    && it.name != "fundal_height_cm");
            let Some(said) = it.said.as_deref().filter(|_| beside) else {
                continue;
            };
            match (it.name, self.pressure) {
                ("systolic", Some((upper, lower))) => {
                    also.push(("Blood pressure", format!("{upper} / {lower}\u{a0}mmHg")));
                }
                ("diastolic", Some(_)) => {}
                _ => also.push((it.label, said.to_owned())),
            }
        }
        also
    }
}

/// The conclusion of the hands, as its templates read it.
impl Seen {
    pub(in crate::web::pages) fn lie(&self, hands: &Palpation) -> String {
        format!("{} ({})", hands.lie.code(), hands.lie.words())
    }

    pub(in crate::web::pages) fn presentation(&self, hands: &Palpation) -> &'static str {
        hands.presentation.words()
    }

    pub(in crate::web::pages) fn certainty(&self, hands: &Palpation) -> &'static str {
        hands.certainty.words()
    }

    pub(in crate::web::pages) fn engaged(&self, hands: &Palpation) -> Option<&'static str> {
        hands.engaged.map(|engaged| {
            if engaged {
                "yes: two fifths or fewer above the brim"
            } else {
                "no"
            }
        })
    }

    pub(in crate::web::pages) fn position(&self, hands: &Palpation) -> String {
        words::position(hands.position)
    }

    pub(in crate::web::pages) fn meaning(&self, hands: &Palpation) -> Option<&'static str> {
        words::position_meaning(hands.position)
    }

    pub(in crate::web::pages) fn faces(&self, hands: &Palpation) -> &'static str {
        words::faces(hands.position)
    }
}
