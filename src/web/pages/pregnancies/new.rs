//! A further pregnancy of a mother whose last one has ended.

use askama::Template;

use super::form::{Days, PregnancyForm};
use crate::clinical::PastEvent;
use crate::registry::mothers::{self, Mother};
use crate::registry::pregnancies::{self, Pregnancy};
use crate::registry::{MotherId, PostId, RegistryError};
use crate::web::answer::{self, Answer};
use crate::web::audience::Carer;
use crate::web::error::PageError;
use crate::web::flash::Said;
use crate::web::form::{CheckedForm, Faults, Opt, Sense, Typed};
use crate::web::path::Key;
use crate::web::shell::Shell;
use crate::web::spoken;
use crate::web::state::House;

#[derive(Template)]
#[template(path = "pregnancies/new.html")]
struct NewPage {
    shell: Shell,
    faults: Faults,
    id: MotherId,
    number: String,
    name: String,
    /// What her last pregnancy says about this one.
    before: String,
    pregnancy: PregnancyForm,
    days: Days,
    sure_or_not: [Opt; 2],
    past_events: Vec<Opt>,
}

impl NewPage {
    fn title(&self) -> String {
        format!("A further pregnancy of {}", self.name)
    }
}

struct Known {
    mother: Mother,
    last: Option<Pregnancy>,
}

async fn known(house: &House, post: PostId, id: MotherId) -> Result<Known, PageError> {
    house
        .read(move |db| {
            let mother = mothers::find(db, post, id)?;
            let last = pregnancies::of_mother(db, id)?.into_iter().next();
            Ok(Known { mother, last })
        })
        .await
}

fn page(
    carer: &Carer,
    shell: Shell,
    known: &Known,
    pregnancy: PregnancyForm,
    days: Days,
) -> NewPage {
    NewPage {
        shell,
        faults: Faults::default(),
        id: known.mother.id,
        number: format!("{}\u{a0}{:04}", carer.post.code, known.mother.number),
        name: known.mother.name.clone(),
        before: before(known.last.as_ref()),
        pregnancy,
        days,
        sure_or_not: PregnancyForm::sure_or_not(),
        past_events: Opt::every::<PastEvent>(),
    }
}

/// Nothing is filled in beforehand: the last birth changes births, caesareans and history, and only she knows how.
fn before(last: Option<&Pregnancy>) -> String {
    let Some(last) = last else {
        return "No earlier pregnancy stands in this register.".to_owned();
    };
    let births = last.facts.births_before.map_or_else(
        || "births before it were not told".to_owned(),
        |births| {
            format!(
                "{} before it",
                spoken::count(i64::from(births), "birth", "births")
            )
        },
    );
    format!(
        "In her last pregnancy, opened {}, {births}. Ask again for everything: that birth may have changed it.",
        spoken::day(last.opened_at.date())
    )
}

/// `GET /mothers/{id}/pregnancies/new`
pub(in crate::web) async fn ask(
    carer: Carer,
    house: House,
    shell: Shell,
    sense: Sense,
    Key(id): Key<MotherId>,
) -> Answer {
    let known = known(&house, carer.post.id, id).await?;
    if known
        .last
        .as_ref()
        .is_some_and(|last| last.ended_at.is_none())
    {
        return answer::go(format!("/mothers/{id}"));
    }
    let days = Days::opening(sense.today());
    let blank = PregnancyForm::read(&Typed::default(), days);
    answer::page(&page(&carer, shell, &known, blank, days))
}

/// `POST /mothers/{id}/pregnancies/new`
pub(in crate::web) async fn open(
    carer: Carer,
    house: House,
    shell: Shell,
    sense: Sense,
    Key(id): Key<MotherId>,
    CheckedForm(typed): CheckedForm<Typed>,
) -> Answer {
    let days = Days::opening(sense.today());
    let known = known(&house, carer.post.id, id).await?;
    let mut form = PregnancyForm::read(&typed, days);
    let faults = form.faults();
    if !faults.is_empty() {
        return answer::refused(&NewPage {
            faults,
            ..page(&carer, shell, &known, form, days)
        });
    }
    let facts = form.facts();
    match house
        .write(&carer, move |change| pregnancies::open(change, id, &facts))
        .await
    {
        Ok(_) => {
            let next = if typed.last("then") == "visit" {
                "/visits/new"
            } else {
                ""
            };
            answer::go_and_say(
                &house,
                format!("/mothers/{id}{next}"),
                Said::PregnancyOpened,
            )
        }
        // Sent twice, or somebody else was faster: her page shows what stands.
        Err(PageError::Registry(RegistryError::Refused(_))) => answer::go(format!("/mothers/{id}")),
        Err(PageError::Registry(RegistryError::RefusedField { field, why })) => {
            if !form.refuse(field, &why) {
                form.lmp.refuse(why);
            }
            let faults = form.faults();
            answer::refused(&NewPage {
                faults,
                ..page(&carer, shell, &known, form, days)
            })
        }
        Err(error) => Err(error),
    }
}
