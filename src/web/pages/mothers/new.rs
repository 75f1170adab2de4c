//! Registering a mother: her line and her pregnancy in one form; somebody alike is shown before anything is saved.

use askama::Template;

use super::double::{self, DoublePage};
use super::form::MotherForm;
use crate::clinical::{Day, PastEvent};
use crate::registry::RegistryError;
use crate::registry::mothers::{self, NewMother};
use crate::web::answer::{self, Answer};
use crate::web::audience::Carer;
use crate::web::error::PageError;
use crate::web::flash::Said;
use crate::web::form::{
    CheckedForm, Faults, Form, Opt, Query, REQUEST, Sense, Typed, request_key, request_of,
};
use crate::web::pages::pregnancies::{Days, PregnancyForm};
use crate::web::shell::Shell;
use crate::web::state::House;

/// Everything that one sending brought.
pub(in crate::web) struct RegisterForm {
    pub(super) mother: MotherForm,
    pub(super) pregnancy: PregnancyForm,
    /// Of this form; the same key again is the same entry.
    request: Option<String>,
    /// `visit` leads on to her first visit.
    then_visit: bool,
    /// Empty, `back`, `other`, or the id of the mother she is.
    pub(super) double: String,
    pub(super) asked_double: bool,
    pub(super) typed: Vec<(String, String)>,
}

impl Form for RegisterForm {
    fn read(typed: &Typed, sense: &Sense) -> Self {
        let of_double = |name: &str| name == "double" || name == "double_asked" || name == "token";
        let kept = typed.everything().filter(|(name, _)| !of_double(name));
        Self {
            mother: MotherForm::read(typed, sense.today()),
            pregnancy: PregnancyForm::read(typed, Days::opening(sense.today())),
            request: request_of(typed),
            then_visit: typed.last("then") == "visit",
            double: typed.last("double").to_owned(),
            asked_double: typed.has("double_asked"),
            typed: kept
                .map(|(name, text)| (name.to_owned(), text.to_owned()))
                .collect(),
        }
    }

    fn faults(&self) -> Faults {
        self.mother.faults().and(self.pregnancy.faults())
    }
}

impl RegisterForm {
    fn refuse(&mut self, field: &str, why: &str) {
        if !self.mother.refuse(field, why) && !self.pregnancy.refuse(field, why) {
            self.mother.name.refuse(why);
        }
    }
}

#[derive(Template)]
#[template(path = "mothers/new.html")]
struct NewPage {
    shell: Shell,
    faults: Faults,
    mother: MotherForm,
    pregnancy: PregnancyForm,
    days: Days,
    request: String,
    number: String,
    villages: Vec<String>,
    yes_no: Vec<Opt>,
    sure_or_not: [Opt; 2],
    past_events: Vec<Opt>,
}

impl NewPage {
    fn title(&self) -> String {
        if self.faults.is_empty() {
            "Register a mother".to_owned()
        } else {
            format!("{} · Register a mother", self.faults.heading())
        }
    }
}

async fn page(
    carer: &Carer,
    house: &House,
    shell: Shell,
    form: RegisterForm,
    today: Day,
    faults: Faults,
) -> Result<NewPage, PageError> {
    let (post, code) = (carer.post.id, carer.post.code.clone());
    let (villages, number) = house
        .read(move |db| {
            Ok((
                mothers::villages(db, post)?,
                mothers::next_number(db, post)?,
            ))
        })
        .await?;
    Ok(NewPage {
        shell,
        faults,
        mother: form.mother,
        pregnancy: form.pregnancy,
        days: Days::opening(today),
        request: form.request.unwrap_or_default(),
        number: format!("{code}\u{a0}{number:04}"),
        villages,
        yes_no: Opt::yes_no(),
        sure_or_not: PregnancyForm::sure_or_not(),
        past_events: Opt::every::<PastEvent>(),
    })
}

/// `GET /mothers/new`; `?name=` fills the name in.
pub(in crate::web) async fn ask(
    carer: Carer,
    house: House,
    shell: Shell,
    sense: Sense,
    Query(query): Query,
) -> Answer {
    let name: String = query.last("name").chars().take(80).collect();
    let typed: Typed = [("name", name), (REQUEST, request_key()?)]
        .into_iter()
        .collect();
    let form = RegisterForm::read(&typed, &sense);
    answer::page(
        &page(
            &carer,
            &house,
            shell,
            form,
            sense.today(),
            Faults::default(),
        )
        .await?,
    )
}

/// `POST /mothers/new`
pub(in crate::web) async fn register(
    carer: Carer,
    house: House,
    shell: Shell,
    sense: Sense,
    CheckedForm(mut form): CheckedForm<RegisterForm>,
) -> Answer {
    let today = sense.today();
    let faults = form.faults();
    if !faults.is_empty() {
        return answer::refused(&page(&carer, &house, shell, form, today, faults).await?);
    }
    if form.double == "back" {
        return answer::page(&page(&carer, &house, shell, form, today, Faults::default()).await?);
    }
    if form.double != "other" {
        let (post, person) = (carer.post.id, form.mother.person(today));
        let request = form.request.clone();
        let alike = house
            .read(move |db| {
                Ok(
                    match mothers::already_registered(db, post, request.as_deref())? {
                        Some(_) => Vec::new(),
                        None => double::alike(db, post, &person, today)?,
                    },
                )
            })
            .await?;
        if alike.iter().any(|line| line.id == form.double) {
            return answer::go(format!("/mothers/{}", form.double));
        }
        if !alike.is_empty() {
            let page = DoublePage::of(shell, &form, &alike, today);
            return if form.asked_double {
                answer::refused(&page)
            } else {
                answer::page(&page)
            };
        }
    }
    let new = NewMother {
        person: form.mother.person(today),
        facts: form.pregnancy.facts(),
        request_key: form.request.clone(),
    };
    match house
        .write(&carer, move |change| mothers::register(change, &new))
        .await
    {
        Ok(entered) => {
            let next = if form.then_visit { "/visits/new" } else { "" };
            answer::go_and_say(
                &house,
                format!("/mothers/{}{next}", entered.mother),
                Said::MotherRegistered,
            )
        }
        Err(PageError::Registry(RegistryError::RefusedField { field, why })) => {
            form.refuse(field, &why);
            let faults = form.faults();
            answer::refused(&page(&carer, &house, shell, form, today, faults).await?)
        }
        Err(error) => Err(error),
    }
}
