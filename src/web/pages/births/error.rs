//! A birth that is marked as entered in error: out of every count, and the pregnancy goes on.

use askama::Template;

use super::super::entered_in_error::ErrorForm;
use super::super::hers::joined;
use crate::registry::BirthId;
use crate::registry::births::{self, Birth};
use crate::web::answer::{self, Answer};
use crate::web::audience::Midwife;
use crate::web::flash::Said;
use crate::web::form::{CheckedForm, Faults, Form, Sense};
use crate::web::path::Key;
use crate::web::shell::Shell;
use crate::web::state::House;

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
    let form = ErrorForm::blank(birth.revision, &sense);
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
    if let Some((why, revision)) = form.said() {
        let done = house
            .write(&midwife, move |change| {
                births::mark_error(change, id, revision, &why)
            })
            .await;
        match done {
            Ok(()) => {
                return answer::go_and_say(&house, format!("/births/{id}"), Said::BirthInError);
            }
            Err(error) => stale = form.refused(error)?,
        }
    }
    let post = midwife.post.id;
    let birth = house.read(move |db| births::one(db, post, id)).await?;
    let form = form.seen(birth.revision);
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
