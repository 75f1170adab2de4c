//! What is told of a mother is put right; when somebody else was faster both versions stand side by side.

use askama::Template;

use super::form::MotherForm;
use crate::registry::mothers::{self, Born, Mother, Person};
use crate::registry::{MotherId, PostId, RegistryError};
use crate::web::answer::{self, Answer};
use crate::web::audience::Carer;
use crate::web::error::PageError;
use crate::web::flash::Said;
use crate::web::form::{CheckedForm, Faults, Field, Opt, Sense, Typed, parse};
use crate::web::pages::pregnancies::Difference;
use crate::web::path::Key;
use crate::web::shell::Shell;
use crate::web::spoken;
use crate::web::state::House;

#[derive(Template)]
#[template(path = "mothers/amend.html")]
struct AmendPage {
    shell: Shell,
    faults: Faults,
    id: MotherId,
    number: String,
    name: String,
    revision: i32,
    mother: MotherForm,
    /// What the register has now and the form has not, when it was stale.
    newer: Option<Vec<Difference>>,
    villages: Vec<String>,
    yes_no: Vec<Opt>,
}

impl AmendPage {
    fn title(&self) -> String {
        format!("Amend who {} is", self.name)
    }
}

async fn known(
    house: &House,
    post: PostId,
    id: MotherId,
) -> Result<(Mother, Vec<String>), PageError> {
    house
        .read(move |db| Ok((mothers::find(db, post, id)?, mothers::villages(db, post)?)))
        .await
}

fn page(
    carer: &Carer,
    shell: Shell,
    mother: &Mother,
    villages: Vec<String>,
    form: MotherForm,
) -> AmendPage {
    AmendPage {
        shell,
        faults: Faults::default(),
        id: mother.id,
        number: format!("{}\u{a0}{:04}", carer.post.code, mother.number),
        name: mother.name.clone(),
        revision: mother.revision,
        mother: form,
        newer: None,
        villages,
        yes_no: Opt::yes_no(),
    }
}

/// `GET /mothers/{id}/amend`
pub(in crate::web) async fn ask(
    carer: Carer,
    house: House,
    shell: Shell,
    sense: Sense,
    Key(id): Key<MotherId>,
) -> Answer {
    let (mother, villages) = known(&house, carer.post.id, id).await?;
    let form = MotherForm::holding(&mother, sense.today());
    answer::page(&page(&carer, shell, &mother, villages, form))
}

/// `POST /mothers/{id}/amend`
pub(in crate::web) async fn amend(
    carer: Carer,
    house: House,
    shell: Shell,
    sense: Sense,
    Key(id): Key<MotherId>,
    CheckedForm(typed): CheckedForm<Typed>,
) -> Answer {
    let today = sense.today();
    let (mother, villages) = known(&house, carer.post.id, id).await?;
    let mut form = MotherForm::read(&typed, today);
    let revision = Field::read(&typed, "revision", "Revision", parse::whole(1..=i32::MAX))
        .value
        .unwrap_or_default();
    let faults = form.faults();
    if !faults.is_empty() {
        return answer::refused(&AmendPage {
            faults,
            revision,
            ..page(&carer, shell, &mother, villages, form)
        });
    }
    let mut person = form.person(today);
    // An age that still holds was told on the day it was told, not today.
    if let Born::Age { years, .. } = person.born
        && mother.age_on(today) == Some(i32::from(years))
    {
        person.born = mother.born();
    }
    let told = person.clone();
    match house
        .write(&carer, move |change| {
            mothers::amend(change, id, revision, &told)
        })
        .await
    {
        Ok(()) => answer::go_and_say(&house, format!("/mothers/{id}"), Said::MotherAmended),
        Err(PageError::Registry(RegistryError::Stale { .. })) => {
            let newer = differences(&person, &mother.person());
            answer::stale(&AmendPage {
                newer: Some(newer),
                ..page(&carer, shell, &mother, villages, form)
            })
        }
        Err(PageError::Registry(RegistryError::RefusedField { field, why })) => {
            if !form.refuse(field, &why) {
                form.name.refuse(why);
            }
            let faults = form.faults();
            answer::refused(&AmendPage {
                faults,
                revision,
                ..page(&carer, shell, &mother, villages, form)
            })
        }
        Err(error) => Err(error),
    }
}

fn differences(wrote: &Person, has: &Person) -> Vec<Difference> {
    let said = |text: Option<&String>| text.cloned().unwrap_or_default();
    let may = |may: Option<bool>| match may {
        Some(true) => "yes".to_owned(),
        Some(false) => "no".to_owned(),
        None => String::new(),
    };
    let born = |born: Born| match born {
        Born::Year(year) => year.to_string(),
        Born::Age { years, told_on } => format!("{years} on {}", spoken::day(told_on)),
        Born::Unknown => String::new(),
    };
    Difference::among([
        ("Full name", wrote.name.clone(), has.name.clone()),
        ("Born", born(wrote.born), born(has.born)),
        (
            "Village",
            said(wrote.village.as_ref()),
            said(has.village.as_ref()),
        ),
        (
            "Phone",
            said(wrote.phone.as_ref()),
            said(has.phone.as_ref()),
        ),
        ("May be phoned", may(wrote.may_phone), may(has.may_phone)),
    ])
}
