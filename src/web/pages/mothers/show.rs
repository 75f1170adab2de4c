//! The page of one mother: what to do next, her story with all pregnancies, her facts, her heights, what the hands felt.

use askama::Template;

use super::facts::{self, Fact};
use super::known::{Course, Known};
use super::next::Asked;
use super::story::{Teller, Volume};
use super::words::hands;
use crate::clinical::{Day, read_palpation};
use crate::registry::{MotherId, Role};
use crate::web::answer::{self, Answer};
use crate::web::audience::Carer;
use crate::web::charts::height::{self, Reading, Size};
use crate::web::charts::{Drawing, abdomen};
use crate::web::form::Sense;
use crate::web::pages::today::{DoNext, Way};
use crate::web::path::Key;
use crate::web::shell::Shell;
use crate::web::spoken;
use crate::web::state::House;

/// More small pictures would no longer be compared at a glance.
const BELLIES: usize = 6;

#[derive(Template)]
#[template(path = "mothers/show.html")]
struct MotherPage {
    shell: Shell,
    number: String,
    name: String,
    strip: Vec<Fact>,
    next: DoNext,
    current: Option<Volume>,
    earlier: Vec<Volume>,
    facts: Vec<Fact>,
    ways: Vec<Way>,
    height: Option<Height>,
    bellies: Vec<Belly>,
}

impl MotherPage {
    fn title(&self) -> String {
        format!("{}, {}", self.name, self.number)
    }

    fn day(&self, day: &Day) -> String {
        spoken::short_day(*day)
    }
}

/// The height chart and the same in words.
struct Height {
    drawing: Option<Drawing>,
    words: height::Words,
}

/// What the hands felt at one visit, small.
struct Belly {
    drawing: Drawing,
    href: String,
    when: String,
    words: String,
}

fn height(course: &Course, sense: &Sense, method: crate::clinical::HeightMethod) -> Option<Height> {
    let readings: Vec<_> = course
        .visits
        .iter()
        .filter_map(|seen| {
            let found = &seen.findings;
            let on = found.visit.at.date();
            Some(Reading {
                day: sense.local(found.visit.at).date(),
                gestation_days: course.pregnancy.dated(on).gestation_on(on),
                height_tenths: found.visit.fundal_height_tenths?,
                palpation: found.visit.palpation.as_ref().and_then(read_palpation),
            })
        })
        .collect();
    if readings.is_empty() {
        return None;
    }
    let of = height::Course {
        readings,
        method,
        twins_known: course.twins_known(sense.now),
    };
    Some(Height {
        drawing: of.draw("height", Size::Narrow),
        words: of.words(),
    })
}

fn bellies(course: &Course, sense: &Sense) -> Vec<Belly> {
    let felt = course.visits.iter().filter_map(|seen| {
        let (id, found) = (seen.id, &seen.findings);
        let findings = found.visit.palpation.as_ref()?;
        let conclusion = read_palpation(findings)?;
        let on = found.visit.at.date();
        let gestation = course
            .pregnancy
            .dated(on)
            .gestation_on(on)
            .map(|days| format!(", {}", spoken::gestation(i64::from(days))));
        Some(Belly {
            drawing: abdomen::draw_small(&format!("belly-{id}"), findings, Some(&conclusion)),
            href: format!("/visits/{id}"),
            when: format!(
                "{}{}",
                spoken::short_day(sense.local(found.visit.at).date()),
                gestation.unwrap_or_default()
            ),
            words: hands(&conclusion),
        })
    });
    let mut bellies: Vec<_> = felt.collect();
    bellies.drain(..bellies.len().saturating_sub(BELLIES));
    bellies
}

fn ways(known: &Known) -> Vec<Way> {
    let mother = known.mother.id;
    let mut ways = vec![Way::to(
        format!("/mothers/{mother}/amend"),
        "Amend who she is",
    )];
    if let Some(course) = known.lasting().or(known.courses.first()) {
        ways.push(Way::to(
            format!("/pregnancies/{}/amend", course.pregnancy.id),
            "Amend dates and history, add a scan",
        ));
    }
    if let Some(course) = known.lasting() {
        ways.push(Way::to(
            format!("/pregnancies/{}/end", course.pregnancy.id),
            "The pregnancy ended otherwise",
        ));
    }
    ways
}

/// `GET /mothers/{id}`
pub(in crate::web) async fn show(
    carer: Carer,
    house: House,
    shell: Shell,
    sense: Sense,
    Key(id): Key<MotherId>,
) -> Answer {
    let post = carer.post.id;
    let known = house.read(move |db| Known::read(db, post, id)).await?;
    let (today, midwife) = (sense.today(), carer.role == Role::Midwife);
    let teller = Teller {
        zone: sense.zone,
        now: sense.now,
        midwife,
    };
    let lasting = known.lasting();
    let earlier = known
        .courses
        .iter()
        .filter(|course| course.pregnancy.ended_at.is_some());
    let shown = lasting.or(known.courses.first());
    answer::page(&MotherPage {
        number: known
            .post
            .register_number(known.mother.number)
            .replace(' ', "\u{a0}"),
        name: known.mother.name.clone(),
        strip: facts::strip(&known, today),
        next: Asked {
            known: &known,
            today,
            midwife,
        }
        .next(),
        current: lasting.map(|course| teller.volume(&known, course)),
        earlier: earlier
            .map(|course| teller.volume(&known, course))
            .collect(),
        facts: facts::of(&known, today),
        ways: ways(&known),
        height: shown.and_then(|course| height(course, &sense, known.post.height_method)),
        bellies: shown
            .map(|course| bellies(course, &sense))
            .unwrap_or_default(),
        shell,
    })
}
