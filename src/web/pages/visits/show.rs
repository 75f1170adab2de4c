//! The page of a visit: what it means, why, what was felt and taped, and what was left out.

use askama::Template;

use crate::clinical::{Palpation, read_palpation};
use crate::registry::visits::{Revision, Visit};
use crate::registry::{Role, VisitId};
use crate::web::answer::{self, Answer};
use crate::web::audience::Carer;
use crate::web::charts::abdomen;
use crate::web::charts::height::{self, Size};
use crate::web::charts::{Drawing, WordRow};
use crate::web::error::PageError;
use crate::web::filters;
use crate::web::form::Sense;
use crate::web::path::{Key, Keys};
use crate::web::shell::Shell;
use crate::web::spoken;
use crate::web::state::House;

use super::ground::Ground;
use super::meaning::{About, Meaning};
use super::subject::Subject;
use super::tapes;
use super::words::{self, Entry, Group};

/// One revision of a visit, usually the one that stands.
#[derive(Template)]
#[template(path = "visits/show.html")]
struct ShowPage {
    shell: Shell,
    sense: Sense,
    subject: Subject,
    mother: String,
    visit: Visit,
    shown: Revision,
    stands: bool,
    meaning: Meaning,
    hands: Option<Palpation>,
    picture: Drawing,
    felt: abdomen::Words,
    height: Option<Drawing>,
    tape: height::Words,
    entries: Vec<Entry>,
    left_out: Vec<&'static str>,
}

/// `GET /visits/{id}`
pub(in crate::web) async fn show(
    carer: Carer,
    house: House,
    shell: Shell,
    sense: Sense,
    Key(id): Key<VisitId>,
) -> Answer {
    page(carer, house, shell, sense, id, None).await
}

/// `GET /visits/{id}/revisions/{number}`
pub(in crate::web) async fn revision(
    carer: Carer,
    house: House,
    shell: Shell,
    sense: Sense,
    Keys(id, number): Keys<VisitId, i32>,
) -> Answer {
    page(carer, house, shell, sense, id, Some(number)).await
}

async fn page(
    carer: Carer,
    house: House,
    shell: Shell,
    sense: Sense,
    id: VisitId,
    number: Option<i32>,
) -> Answer {
    let post = carer.post.id;
    let (ground, visit, flags) = house
        .read(move |db| {
            let (ground, visit) = Ground::of_visit(db, post, id)?;
            let flags = ground.flags(db, id)?;
            Ok((ground, visit, flags))
        })
        .await?;
    let number = number.unwrap_or(visit.standing.number);
    let all = std::iter::once(&visit.standing).chain(&visit.earlier);
    let shown = all.into_iter().find(|it| it.number == number).cloned();
    let shown = shown.ok_or(PageError::Missing)?;
    let stands = shown.number == visit.standing.number && !visit.place.entered_in_error;
    let findings = &shown.findings;
    let felt = findings.visit.palpation.clone().unwrap_or_default();
    let hands = read_palpation(&felt);
    let eyebrow = format!(
        "Visit of {} at {} · register {}",
        spoken::moment(findings.visit.at, sense.zone),
        ground.post.name,
        ground.register()
    );
    let subject = ground.subject(findings.visit.at, Some(id), &sense, eyebrow);
    let meaning = if stands {
        let about = About {
            visit: id,
            at: findings.visit.at,
            hands: hands.as_ref(),
            gestation: subject.gestation,
            in_charge: carer.role == Role::Midwife,
            sense: &sense,
        };
        Meaning::of(&flags, &about)
    } else {
        Meaning::default()
    };
    let dated = ground.pregnancy.dated(sense.today());
    // of the visit itself the revision on the page counts
    let tapes = ground
        .visits
        .iter()
        .map(|(one, found)| if *one == id { findings } else { found });
    let course = tapes::course(tapes, &dated, ground.post.height_method, &sense);
    answer::page(&ShowPage {
        picture: abdomen::draw(&format!("abdomen-{id}"), &felt, hands.as_ref()),
        felt: abdomen::words(&felt, hands.as_ref()),
        height: course.draw(&format!("height-{id}"), Size::Narrow),
        tape: course.words(),
        entries: words::entries(findings, sense.zone),
        left_out: words::left_out(findings, sense.zone),
        mother: ground.mother.id.to_string(),
        shell,
        sense,
        subject,
        shown,
        stands,
        visit,
        meaning,
        hands,
    })
}

impl ShowPage {
    fn title(&self) -> String {
        let day = spoken::day(self.sense.local(self.shown.findings.visit.at).date());
        format!("Visit of {}, {day}", self.subject.name)
    }

    /// The address of this visit.
    fn here(&self) -> String {
        format!("/visits/{}", self.visit.place.id)
    }

    /// Said large when no flag speaks.
    fn quiet(&self) -> &str {
        if self.hands.is_some() {
            &self.felt.sentence
        } else {
            "Nothing was palpated at this visit."
        }
    }

    fn lie(hands: &Palpation) -> String {
        format!("{} ({})", hands.lie.code(), hands.lie.words())
    }

    fn presentation(hands: &Palpation) -> &'static str {
        hands.presentation.words()
    }

    fn certainty(hands: &Palpation) -> &'static str {
        hands.certainty.words()
    }

    fn engaged(hands: &Palpation) -> Option<&'static str> {
        hands.engaged.map(|engaged| {
            if engaged {
                "yes: two fifths or fewer above the brim"
            } else {
                "no"
            }
        })
    }

    fn rows(&self) -> &[WordRow] {
        &self.felt.rows
    }

    /// Place by place, as the form asks.
    fn felt_words(&self) -> String {
        let felt = self.entries.iter().filter(|it| it.group == Group::Hands);
        let said = felt.filter_map(|it| Some(format!("{}: {}", it.label, it.said.as_deref()?)));
        said.collect::<Vec<_>>().join("; ")
    }

    /// What was recorded beside hands and tape.
    fn also(&self) -> Vec<(&'static str, String)> {
        let visit = &self.shown.findings.visit;
        let mut also = Vec::new();
        for it in &self.entries {
            let beside = it.name == "bladder_empty"
                || (matches!(it.group, Group::Measured | Group::Told)
                    && it.name != "fundal_height_cm");
            let Some(said) = it.said.as_deref().filter(|_| beside) else {
                continue;
            };
            match (it.name, visit.systolic, visit.diastolic) {
                ("systolic", Some(upper), Some(lower)) => {
                    also.push(("Blood pressure", format!("{upper} / {lower}\u{a0}mmHg")));
                }
                ("diastolic", Some(_), Some(_)) => {}
                _ => also.push((it.label, said.to_owned())),
            }
        }
        also
    }

    fn next_visit(&self) -> Option<String> {
        self.shown.findings.next_visit_on.map(spoken::long_day)
    }
}

impl ShowPage {
    fn position(hands: &Palpation) -> String {
        words::position(hands.position)
    }

    fn meaning(hands: &Palpation) -> Option<&'static str> {
        words::position_meaning(hands.position)
    }

    fn faces(hands: &Palpation) -> &'static str {
        words::faces(hands.position)
    }
}
