//! A pregnancy that ended without a birth of this register: lost, died, moved away, or never was.

use askama::Template;

use crate::clinical::Day;
use crate::registry::mothers::{self, Mother};
use crate::registry::pregnancies::{self, Pregnancy};
use crate::registry::{MotherId, PostId, PregnancyEnding, PregnancyId, RegistryError};
use crate::web::answer::{self, Answer};
use crate::web::audience::Carer;
use crate::web::error::PageError;
use crate::web::flash::Said;
use crate::web::form::{CheckedForm, Faults, Field, Form, Opt, Sense, Typed, parse};
use crate::web::path::Key;
use crate::web::shell::Shell;
use crate::web::spoken;
use crate::web::state::House;

/// Those that a birth does not bring about.
const ENDINGS: [(PregnancyEnding, &str, &str); 4] = [
    (
        PregnancyEnding::Loss,
        "It was lost before 28 weeks",
        "Miscarriage, ectopic, ended for her health: no sign of life in the baby.",
    ),
    (
        PregnancyEnding::MovedAway,
        "She moved away",
        "Another post or town cares for her now.",
    ),
    (
        PregnancyEnding::MaternalDeath,
        "She died before the birth",
        "It counts among the month’s maternal deaths.",
    ),
    (
        PregnancyEnding::EnteredInError,
        "It was entered by mistake",
        "She was not pregnant, or it stands here twice. It counts nowhere.",
    ),
];

/// How it ended and when.
pub(in crate::web) struct EndForm {
    ending: Field<PregnancyEnding>,
    on: Field<Day>,
}

impl Form for EndForm {
    fn read(typed: &Typed, sense: &Sense) -> Self {
        let today = sense.today();
        let past = |text: &str| match parse::day(text)? {
            day if day > today => Err(format!("{} has not come yet", spoken::day(day))),
            day => Ok(day),
        };
        Self {
            ending: Field::choice(
                typed,
                "ending",
                "How did it end?",
                &endings(),
                parse::as_said("choose one of the answers"),
            )
            .needed("choose how it ended"),
            on: Field::read(typed, "ended_on", "Day", past)
                .needed("write the day, or the day you heard of it"),
        }
    }

    fn faults(&self) -> Faults {
        Faults::of(&[&self.ending, &self.on])
    }
}

fn endings() -> Vec<Opt> {
    ENDINGS
        .iter()
        .map(|(ending, words, says)| Opt::new(ending.code(), *words).saying(*says))
        .collect()
}

#[derive(Template)]
#[template(path = "pregnancies/end.html")]
struct EndPage {
    shell: Shell,
    faults: Faults,
    id: PregnancyId,
    mother: MotherId,
    number: String,
    name: String,
    ending: Field<PregnancyEnding>,
    on: Field<Day>,
    endings: Vec<Opt>,
}

impl EndPage {
    fn title(&self) -> String {
        format!("The pregnancy of {} has ended", self.name)
    }
}

async fn known(
    house: &House,
    post: PostId,
    id: PregnancyId,
) -> Result<(Mother, Pregnancy), PageError> {
    house
        .read(move |db| {
            let pregnancy = pregnancies::find(db, post, id)?;
            Ok((mothers::find(db, post, pregnancy.mother_id)?, pregnancy))
        })
        .await
}

fn page(
    carer: &Carer,
    shell: Shell,
    mother: &Mother,
    id: PregnancyId,
    form: EndForm,
    faults: Faults,
) -> EndPage {
    EndPage {
        shell,
        faults,
        id,
        mother: mother.id,
        number: format!("{}\u{a0}{:04}", carer.post.code, mother.number),
        name: mother.name.clone(),
        ending: form.ending,
        on: form.on,
        endings: endings(),
    }
}

/// `GET /pregnancies/{id}/end`
pub(in crate::web) async fn ask(
    carer: Carer,
    house: House,
    shell: Shell,
    sense: Sense,
    Key(id): Key<PregnancyId>,
) -> Answer {
    let (mother, known) = known(&house, carer.post.id, id).await?;
    if known.ended_at.is_some() {
        return answer::go(format!("/mothers/{}", mother.id));
    }
    let blank = EndForm::read(&Typed::default(), &sense);
    answer::page(&page(&carer, shell, &mother, id, blank, Faults::default()))
}

/// `POST /pregnancies/{id}/end`
pub(in crate::web) async fn end(
    carer: Carer,
    house: House,
    shell: Shell,
    sense: Sense,
    Key(id): Key<PregnancyId>,
    CheckedForm(mut form): CheckedForm<EndForm>,
) -> Answer {
    let (mother, known) = known(&house, carer.post.id, id).await?;
    if known.ended_at.is_some() {
        return answer::go(format!("/mothers/{}", mother.id));
    }
    let (Some(ending), Some(on)) = (form.ending.value, form.on.value) else {
        let faults = form.faults();
        return answer::refused(&page(&carer, shell, &mother, id, form, faults));
    };
    let at = if on == sense.today() {
        sense.now
    } else {
        noon(&sense, on)
    };
    match house
        .write(&carer, move |change| {
            pregnancies::end(change, id, ending, at)
        })
        .await
    {
        Ok(()) => answer::go_and_say(
            &house,
            format!("/mothers/{}", mother.id),
            Said::PregnancyEnded,
        ),
        Err(PageError::Registry(RegistryError::RefusedField { why, .. })) => {
            form.on.refuse(why);
            let faults = form.faults();
            answer::refused(&page(&carer, shell, &mother, id, form, faults))
        }
        Err(error) => Err(error),
    }
}

/// A day without its hour counts from its noon at the post, so that it stays that day in every zone nearby.
fn noon(sense: &Sense, on: Day) -> crate::clinical::Moment {
    spoken::day_begins(on, sense.zone) + chrono::TimeDelta::hours(12)
}
