//! A visit is put right: a new revision with its reason. Who was slower sees both versions and loses neither.

use askama::Template;
use chrono::Timelike as _;

use crate::registry::visits::{self, Findings, Visit};
use crate::registry::{RegistryError, VisitId};
use crate::web::answer::{self, Answer};
use crate::web::audience::Carer;
use crate::web::error::PageError;
use crate::web::flash::Said;
use crate::web::form::{CheckedForm, Form, Sense, Typed};
use crate::web::path::Key;
use crate::web::shell::Shell;
use crate::web::spoken;
use crate::web::state::House;

use super::form::VisitForm;
use super::ground::Ground;
use super::sheet::Sheet;
use super::stale::{self, Choice};

#[derive(Template)]
#[template(path = "visits/amend.html")]
struct AmendPage {
    shell: Shell,
    sheet: Sheet,
    /// That the form was read at.
    revision: i32,
    back: String,
}

/// What is posted: the form, and the choices of whoever was slower.
pub(crate) struct Amended {
    typed: Typed,
    form: VisitForm,
}

impl Form for Amended {
    fn read(typed: &Typed, sense: &Sense) -> Self {
        Self {
            form: VisitForm::read(typed, sense),
            typed: typed.clone(),
        }
    }

    fn faults(&self) -> crate::web::form::Faults {
        self.form.faults()
    }
}

/// `GET /visits/{id}/amend`
pub(in crate::web) async fn ask(
    carer: Carer,
    house: House,
    shell: Shell,
    sense: Sense,
    Key(id): Key<VisitId>,
) -> Answer {
    let (ground, visit) = around(&carer, &house, id).await?;
    if visit.place.entered_in_error {
        return answer::go(format!("/visits/{id}"));
    }
    let standing = &visit.standing;
    let request = VisitId::made(sense.now).to_string();
    let form = VisitForm::holding(&standing.findings, standing.number, request, &sense);
    let page = page(shell, &ground, &visit, form, sense);
    answer::page(&page)
}

/// `POST /visits/{id}/amend`
pub(in crate::web) async fn amend(
    carer: Carer,
    house: House,
    shell: Shell,
    sense: Sense,
    Key(id): Key<VisitId>,
    CheckedForm(sent): CheckedForm<Amended>,
) -> Answer {
    let (ground, visit) = around(&carer, &house, id).await?;
    let Amended { typed, mut form } = sent;
    if typed.has("compared") && form.revision == Some(visit.standing.number) {
        match stale::settled(&typed, &form, &visit.standing, &sense) {
            Choice::Made(merged) => form = *merged,
            Choice::AllSaved => return answer::go(format!("/visits/{id}")),
            Choice::Missing => return both(shell, &ground, &visit, &form, Some(&typed), sense),
        }
    }
    let known = ground
        .subject(visit.place.at, Some(id), &sense, String::new())
        .known;
    form.against(&known, &sense);
    form.needs_reason();
    let findings = form
        .findings()
        .map(|found| as_exact(found, &visit.standing.findings));
    let stale = form.revision != Some(visit.standing.number);
    if findings.as_ref() == Some(&visit.standing.findings) {
        if stale {
            // The same form a second time: all it says stands already.
            return answer::go(format!("/visits/{id}"));
        }
        form.reason
            .refuse("comes with no change; change what was wrong, or leave the visit as it is");
    }
    let Some(findings) = findings.filter(|_| form.faults().is_empty()) else {
        return answer::refused(&page(shell, &ground, &visit, form, sense));
    };
    if stale {
        return both(shell, &ground, &visit, &form, None, sense);
    }
    let (number, reason) = (visit.standing.number, form.reason.typed.clone());
    let written = house
        .write(&carer, move |change| {
            visits::amend(change, id, number, &findings, &reason)
        })
        .await;
    match written {
        Ok(_) => answer::go_and_say(&house, format!("/visits/{id}"), Said::VisitAmended),
        Err(PageError::Registry(RegistryError::Stale { .. })) => {
            let (ground, visit) = around(&carer, &house, id).await?;
            both(shell, &ground, &visit, &form, None, sense)
        }
        Err(PageError::Registry(RegistryError::RefusedField { field, why })) => {
            if !form.refuse(field, &why) {
                return Err(RegistryError::RefusedField { field, why }.into());
            }
            answer::refused(&page(shell, &ground, &visit, form, sense))
        }
        Err(error) => Err(error),
    }
}

async fn around(carer: &Carer, house: &House, id: VisitId) -> Result<(Ground, Visit), PageError> {
    let post = carer.post.id;
    house.read(move |db| Ground::of_visit(db, post, id)).await
}

fn page(shell: Shell, ground: &Ground, visit: &Visit, form: VisitForm, sense: Sense) -> AmendPage {
    let id = visit.place.id;
    AmendPage {
        shell,
        revision: form.revision.unwrap_or(visit.standing.number),
        back: format!("/visits/{id}"),
        sheet: Sheet {
            faults: form.faults(),
            subject: subject(ground, visit, &sense),
            action: format!("/visits/{id}/amend"),
            form,
            sense,
            trial: None,
        },
    }
}

/// Her strip, with who wrote what stands; the visit before this one would only distract here.
fn subject(ground: &Ground, visit: &Visit, sense: &Sense) -> super::subject::Subject {
    let at = spoken::moment(visit.place.at, sense.zone);
    let eyebrow = format!("Amend the visit of {at} · register {}", ground.register());
    let mut subject = ground.subject(visit.place.at, Some(visit.place.id), sense, eyebrow);
    subject.last.clear();
    subject.last_day = None;
    let standing = &visit.standing;
    subject
        .facts
        .push(("Written by", standing.written_by.clone()));
    subject
        .facts
        .push(("Now", format!("revision {}", standing.number)));
    subject
}

fn both(
    shell: Shell,
    ground: &Ground,
    visit: &Visit,
    form: &VisitForm,
    again: Option<&Typed>,
    sense: Sense,
) -> Answer {
    let subject = subject(ground, visit, &sense);
    stale::answer(shell, subject, visit, form, again, sense)
}

/// The boxes hold minutes; an untouched time keeps its seconds.
fn as_exact(mut found: Findings, standing: &Findings) -> Findings {
    if standing.visit.at.with_second(0) == Some(found.visit.at) {
        found.visit.at = standing.visit.at;
    }
    found
}
