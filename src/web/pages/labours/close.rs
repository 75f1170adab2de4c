//! Closing a record otherwise than by a birth: she left for hospital, or it was no labour.

use askama::Template;

use super::super::hers::joined;
use crate::registry::labours::{self, Labour};
use crate::registry::{LabourEnding, LabourId, RegistryError};
use crate::web::answer::{self, Answer};
use crate::web::audience::Carer;
use crate::web::error::PageError;
use crate::web::flash::Said;
use crate::web::form::{Asked, CheckedForm, Faults, Field, Form, Opt, Sense, Typed, When, parse};
use crate::web::path::Key;
use crate::web::shell::Shell;
use crate::web::state::House;

/// Endings that this page writes; a birth has its own.
fn endings() -> Vec<Opt> {
    vec![
        Opt::new("not-in-labour", "Not in labour after all")
            .saying("Contractions stopped, or it was something else. The rows stay readable and are judged no more."),
        Opt::new("referral", "She left for hospital")
            .saying("Without a referral of ours; leaving by a referral closes the record by itself."),
    ]
}

/// What was typed to close a record.
pub(crate) struct CloseForm {
    ending: Field<LabourEnding>,
    at: When,
    note: Field<String>,
    revision: Field<i32>,
}

impl Form for CloseForm {
    fn read(typed: &Typed, sense: &Sense) -> Self {
        Self {
            ending: Field::choice(typed, "ending", "How it ends", &endings(), str::parse)
                .needed("choose one"),
            at: When::read(typed, "at", "When", sense)
                .needed("write when it was")
                .past(sense),
            note: Field::read(typed, "note", "Note", parse::lines(500)),
            revision: Field::read(typed, "revision", "Revision", parse::whole(1..=i32::MAX)),
        }
    }

    fn faults(&self) -> Faults {
        let asked: [&dyn Asked; 3] = [&self.ending, &self.at, &self.note];
        Faults::of(&asked)
    }
}

#[derive(Template)]
#[template(path = "labours/close.html")]
struct ClosePage {
    shell: Shell,
    labour: Labour,
    form: CloseForm,
    faults: Faults,
    refusal: String,
}

impl ClosePage {
    fn register(&self) -> String {
        joined(&self.labour.register)
    }

    fn endings(&self) -> Vec<Opt> {
        endings()
    }
}

/// `GET /labour/{id}/close`
pub(in crate::web) async fn ask(
    carer: Carer,
    house: House,
    shell: Shell,
    sense: Sense,
    Key(id): Key<LabourId>,
) -> Answer {
    let post = carer.post.id;
    let labour = house.read(move |db| labours::one(db, post, id)).await?;
    let mut form = CloseForm::read(&Typed::default(), &sense);
    form.at = When::holding("at", "When", sense.now, &sense);
    form.revision = form.revision.holding(labour.revision);
    answer::page(&ClosePage {
        shell,
        labour,
        form,
        faults: Faults::default(),
        refusal: String::new(),
    })
}

/// `POST /labour/{id}/close`
pub(in crate::web) async fn close(
    carer: Carer,
    house: House,
    shell: Shell,
    Key(id): Key<LabourId>,
    CheckedForm(mut form): CheckedForm<CloseForm>,
) -> Answer {
    let (mut refusal, mut stale) = (String::new(), false);
    if let (true, Some(ending), Some(at), Some(revision)) = (
        form.faults().is_empty(),
        form.ending.value,
        form.at.value,
        form.revision.value,
    ) {
        let note = form.note.value.clone();
        let done = house
            .write(&carer, move |change| {
                labours::close(change, id, revision, ending, at, note.as_deref())
            })
            .await;
        match done {
            Ok(()) => {
                return answer::go_and_say(&house, format!("/labour/{id}"), Said::LabourClosed);
            }
            Err(PageError::Registry(RegistryError::RefusedField { why, .. })) => {
                form.at.refuse(why);
            }
            Err(PageError::Registry(RegistryError::Refused(why))) => refusal = why,
            Err(PageError::Registry(RegistryError::Stale { .. })) => {
                stale = true;
                "Somebody else wrote into this record after you opened the page. Look at it, then close it again."
                    .clone_into(&mut refusal);
            }
            Err(error) => return Err(error),
        }
    }
    let post = carer.post.id;
    let labour = house.read(move |db| labours::one(db, post, id)).await?;
    form.revision = form.revision.holding(labour.revision);
    let faults = form.faults();
    let page = ClosePage {
        shell,
        labour,
        form,
        faults,
        refusal,
    };
    if stale {
        answer::stale(&page)
    } else {
        answer::refused(&page)
    }
}
