//! The page of a visit: what it means, why, what was felt and taped, and what was left out.

use askama::Template;

use crate::registry::flags;
use crate::registry::visits::{Revision, Visit};
use crate::registry::{Role, VisitId};
use crate::web::answer::{self, Answer};
use crate::web::audience::Carer;
use crate::web::error::PageError;
use crate::web::filters;
use crate::web::form::Sense;
use crate::web::path::{Key, Keys};
use crate::web::shell::Shell;
use crate::web::spoken;
use crate::web::state::House;

use super::ground::Ground;
use super::meaning::{About, Bedside, Meaning};
use super::seen::Seen;
use super::subject::Subject;
use super::tapes;

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
    /// Nothing was ever raised in this pregnancy.
    silent: bool,
    seen: Seen,
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
    let (ground, visit, flags, raised) = house
        .read(move |db| {
            let (ground, visit) = Ground::of_visit(db, post, id)?;
            let flags = ground.flags(db)?;
            Ok((ground, visit, flags, flags::by_visit(db, id)?))
        })
        .await?;
    let number = number.unwrap_or(visit.standing.number);
    let all = std::iter::once(&visit.standing).chain(&visit.earlier);
    let shown = all.into_iter().find(|it| it.number == number).cloned();
    let shown = shown.ok_or(PageError::Missing)?;
    let stands = shown.number == visit.standing.number && !visit.place.entered_in_error;
    let findings = &shown.findings;
    let eyebrow = format!(
        "Visit of {} at {} · register {}",
        spoken::moment(findings.visit.at, sense.zone),
        ground.post.name,
        ground.register()
    );
    let subject = ground.subject(findings.visit.at, Some(id), &sense, eyebrow);
    let dated = ground.pregnancy.dated(sense.today());
    // of the visit itself the revision on the page counts
    let until = findings.visit.at;
    let tapes = ground
        .visits
        .iter()
        .filter(|(one, found)| *one == id || found.visit.at <= until)
        .map(|(one, found)| if *one == id { findings } else { found });
    let course = tapes::course(tapes, &dated, ground.post.height_method, &sense);
    let seen = Seen::of(&id.to_string(), findings, &course, sense.zone);
    let meaning = if stands {
        let about = About {
            visit: id,
            at: findings.visit.at,
            in_charge: carer.role == Role::Midwife,
            bedside: Bedside {
                hands: seen.hands.as_ref(),
                gestation: subject.gestation,
                sense: &sense,
            },
        };
        Meaning::of(&raised, &flags, &about)
    } else {
        Meaning::default()
    };
    answer::page(&ShowPage {
        mother: ground.mother.id.to_string(),
        shell,
        sense,
        subject,
        shown,
        stands,
        visit,
        meaning,
        silent: flags.is_empty(),
        seen,
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

    fn next_visit(&self) -> Option<String> {
        self.shown.findings.next_visit_on.map(spoken::long_day)
    }
}
