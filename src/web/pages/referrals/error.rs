//! A referral that is marked as entered in error: out of every count, still readable.

use askama::Template;

use super::super::entered_in_error::ErrorForm;
use super::super::hers::joined;
use super::step::read;
use crate::registry::ReferralId;
use crate::registry::referrals::{self, Facts};
use crate::web::answer::{self, Answer};
use crate::web::audience::Midwife;
use crate::web::flash::Said;
use crate::web::form::{CheckedForm, Faults, Form, Sense};
use crate::web::path::Key;
use crate::web::shell::Shell;
use crate::web::state::House;

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
    let form = ErrorForm::blank(facts.referral.revision, &sense);
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
    if let Some((why, revision)) = form.said() {
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
            Err(error) => stale = form.refused(error)?,
        }
    }
    let (facts, _) = read(&house, midwife.post.id, id).await?;
    let form = form.seen(facts.referral.revision);
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
