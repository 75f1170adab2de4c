//! A birth that is marked as entered in error: out of every count, and the pregnancy goes on.

use askama::Template;

use super::super::hers::joined;
use crate::registry::births::{self, Birth};
use crate::registry::{BirthId, RegistryError};
use crate::web::answer::{self, Answer};
use crate::web::audience::Midwife;
use crate::web::error::PageError;
use crate::web::flash::Said;
use crate::web::form::{Asked, CheckedForm, Faults, Field, Form, Sense, Typed, parse};
use crate::web::path::Key;
use crate::web::shell::Shell;
use crate::web::state::House;

/// The reason, and the revision that was seen.
pub(crate) struct ErrorForm {
    reason: Field<String>,
    revision: Field<i32>,
}

impl Form for ErrorForm {
    fn read(typed: &Typed, _: &Sense) -> Self {
        Self {
            reason: Field::read(typed, "reason", "What was wrong", parse::lines(500))
                .needed("say what was wrong"),
            revision: Field::read(typed, "revision", "Revision", parse::whole(1..=i32::MAX)),
        }
    }

    fn faults(&self) -> Faults {
        let asked: [&dyn Asked; 1] = [&self.reason];
        Faults::of(&asked)
    }
}

#[derive(Template)]
#[template(path = "births/error.html")]
struct ErrorPage {
    shell: Shell,
    birth: Birth,
    form: ErrorForm,
    faults: Faults,
    stale: bool,
}

impl ErrorPage {
    fn register(&self) -> String {
        joined(&self.birth.register)
    }
}

/// `GET /births/{id}/error`
pub(in crate::web) async fn ask(
    midwife: Midwife,
    house: House,
    shell: Shell,
    sense: Sense,
    Key(id): Key<BirthId>,
) -> Answer {
    let post = midwife.post.id;
    let birth = house.read(move |db| births::one(db, post, id)).await?;
    let mut form = ErrorForm::read(&Typed::default(), &sense);
    form.revision = form.revision.holding(birth.revision);
    answer::page(&ErrorPage {
        shell,
        birth,
        form,
        faults: Faults::default(),
        stale: false,
    })
}

/// `POST /births/{id}/error`
pub(in crate::web) async fn mark(
    midwife: Midwife,
    house: House,
    shell: Shell,
    Key(id): Key<BirthId>,
    CheckedForm(mut form): CheckedForm<ErrorForm>,
) -> Answer {
    let mut stale = false;
    if let (Some(why), Some(revision)) = (form.reason.value.clone(), form.revision.value) {
        let done = house
            .write(&midwife, move |change| {
                births::mark_error(change, id, revision, &why)
            })
            .await;
        match done {
            Ok(()) => {
                return answer::go_and_say(&house, format!("/births/{id}"), Said::BirthInError);
            }
            Err(PageError::Registry(RegistryError::Stale { .. })) => stale = true,
            Err(PageError::Registry(
                RegistryError::RefusedField { why, .. } | RegistryError::Refused(why),
            )) => {
                form.reason.refuse(why);
            }
            Err(error) => return Err(error),
        }
    }
    let post = midwife.post.id;
    let birth = house.read(move |db| births::one(db, post, id)).await?;
    form.revision = form.revision.holding(birth.revision);
    let faults = form.faults();
    let page = ErrorPage {
        shell,
        birth,
        form,
        faults,
        stale,
    };
    if stale {
        answer::stale(&page)
    } else {
        answer::refused(&page)
    }
}
