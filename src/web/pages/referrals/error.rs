//! A referral that is marked as entered in error: out of every count, still readable.

use askama::Template;

use super::super::hers::joined;
use super::step::read;
use crate::registry::referrals::{self, Facts};
use crate::registry::{ReferralId, RegistryError};
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
            reason: Field::read(typed, "reason", "What was wrong", parse::lines(600))
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
#[template(path = "referrals/error.html")]
struct ErrorPage {
    shell: Shell,
    form: ErrorForm,
    faults: Faults,
    facts: Facts,
    stale: bool,
}

impl ErrorPage {
    fn register(&self) -> String {
        joined(&self.facts.register)
    }
}

/// `GET /referrals/{id}/error`
pub(in crate::web) async fn ask(
    midwife: Midwife,
    house: House,
    shell: Shell,
    sense: Sense,
    Key(id): Key<ReferralId>,
) -> Answer {
    let (facts, _) = read(&house, midwife.post.id, id).await?;
    let mut form = ErrorForm::read(&Typed::default(), &sense);
    form.revision = form.revision.holding(facts.referral.revision);
    answer::page(&ErrorPage {
        shell,
        form,
        faults: Faults::default(),
        facts,
        stale: false,
    })
}

/// `POST /referrals/{id}/error`
pub(in crate::web) async fn save(
    midwife: Midwife,
    house: House,
    shell: Shell,
    Key(id): Key<ReferralId>,
    CheckedForm(mut form): CheckedForm<ErrorForm>,
) -> Answer {
    let mut stale = false;
    if let (Some(why), Some(revision)) = (form.reason.value.clone(), form.revision.value) {
        let done = house
            .write(&midwife, move |change| {
                referrals::mark_error(change, id, revision, &why)
            })
            .await;
        match done {
            Ok(()) => {
                return answer::go_and_say(
                    &house,
                    format!("/referrals/{id}"),
                    Said::ReferralInError,
                );
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
    let (facts, _) = read(&house, midwife.post.id, id).await?;
    form.revision = form.revision.holding(facts.referral.revision);
    let faults = form.faults();
    let page = ErrorPage {
        shell,
        form,
        faults,
        facts,
        stale,
    };
    if stale {
        answer::stale(&page)
    } else {
        answer::refused(&page)
    }
}
