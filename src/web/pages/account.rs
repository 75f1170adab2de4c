//! One's own account: the visit form, the password, the sessions.

use actix_web::http::header::{LOCATION, USER_AGENT};
use actix_web::{HttpRequest, HttpResponse};
use askama::Template;

use super::sign_in::{begin, proved};
use crate::registry::passwords::{self, HashedPassword};
use crate::registry::{Role, SessionId, VisitForm, sessions, staff};
use crate::web::answer::{self, Answer};
use crate::web::audience::SignedIn;
use crate::web::blocking::blocking;
use crate::web::device::device;
use crate::web::error::PageError;
use crate::web::flash::{self, Said};
use crate::web::form::{CheckedForm, Faults, Field, Form, Opt, Sense, Typed};
use crate::web::session::{Seen, session_cookie};
use crate::web::shell::Shell;
use crate::web::spoken;
use crate::web::state::House;

pub(in crate::web) struct PasswordForm {
    current: Field<String>,
    new: Field<String>,
    again: Field<String>,
}

impl Form for PasswordForm {
    fn read(typed: &Typed, _: &Sense) -> Self {
        let secret = |name: &'static str, label: &'static str| {
            Field::secret(typed, name, label, passwords::LONGEST)
        };
        let mut form = Self {
            current: secret("current", "Password now").needed("write the password you have now"),
            new: secret("password", "New password").needed("write a new password"),
            again: secret("again", "New password again").needed("write the new password twice"),
        };
        if let (Some(new), Some(again)) = (&form.new.value, &form.again.value)
            && new != again
        {
            form.again
                .refuse("is not the same; write the new password twice");
        }
        form
    }

    fn faults(&self) -> Faults {
        Faults::of(&[&self.current, &self.new, &self.again])
    }
}

pub(in crate::web) struct VisitFormForm {
    chosen: Field<VisitForm>,
}

impl Form for VisitFormForm {
    fn read(typed: &Typed, _: &Sense) -> Self {
        Self {
            chosen: Field::code(typed, "visit_form", "How do you like to enter a visit?")
                .needed("choose one of the two"),
        }
    }

    fn faults(&self) -> Faults {
        Faults::of(&[&self.chosen])
    }
}

struct SessionLine {
    id: String,
    device: &'static str,
    began: String,
    seen: String,
    this_one: bool,
}

#[derive(Template)]
#[template(path = "account/page.html")]
struct AccountPage {
    shell: Shell,
    faults: Faults,
    introduced: String,
    sign_in: String,
    enters_visits: bool,
    visit_form: VisitFormForm,
    visit_forms: Vec<Opt>,
    password: PasswordForm,
    password_set: String,
    sessions: Vec<SessionLine>,
}

impl AccountPage {
    async fn of(
        person: &SignedIn,
        house: &House,
        shell: Shell,
        sense: &Sense,
        key: &str,
    ) -> Result<Self, PageError> {
        let (id, now, key, zone) = (person.id, house.now(), key.to_owned(), person.zone);
        let (account, sessions) = house
            .read(move |db| Ok((staff::find(db, id)?, sessions::of(db, id, now)?)))
            .await?;
        let line = |line: sessions::Line| SessionLine {
            id: line.id.to_string(),
            device: device(line.device.as_deref()),
            began: spoken::moment(line.began_at, zone),
            seen: spoken::moment(line.seen_at, zone),
            this_one: line.is_opened_by(&key),
        };
        let mut visit_form = VisitFormForm::read(&Typed::default(), sense);
        visit_form.chosen = visit_form.chosen.chosen(Some(account.visit_form));
        Ok(Self {
            shell,
            faults: Faults::default(),
            introduced: person.introduced(),
            sign_in: person.sign_in.clone(),
            enters_visits: matches!(person.role, Role::Nurse | Role::Midwife),
            visit_form,
            visit_forms: visit_forms(),
            password: PasswordForm::read(&Typed::default(), sense),
            password_set: spoken::moment(account.password_set_at, zone),
            sessions: sessions.into_iter().map(line).collect(),
        })
    }
}

fn visit_forms() -> Vec<Opt> {
    vec![
        Opt::new(VisitForm::Drawing.code(), "As a drawing")
            .saying("the belly, touched where something was felt; for a phone and one hand"),
        Opt::new(VisitForm::List.code(), "As a list")
            .saying("every question below the other; for a keyboard"),
    ]
}

/// `GET /account`
pub(in crate::web) async fn show(
    person: SignedIn,
    house: House,
    shell: Shell,
    sense: Sense,
    Seen(visitor): Seen,
) -> Answer {
    answer::page(&AccountPage::of(&person, &house, shell, &sense, visitor.key()).await?)
}

/// `POST /account/visit-form`
pub(in crate::web) async fn choose_visit_form(
    person: SignedIn,
    house: House,
    shell: Shell,
    sense: Sense,
    Seen(visitor): Seen,
    CheckedForm(form): CheckedForm<VisitFormForm>,
) -> Answer {
    let Some(chosen) = form.chosen.value else {
        let mut page = AccountPage::of(&person, &house, shell, &sense, visitor.key()).await?;
        page.faults = form.faults();
        page.visit_form = form;
        return answer::refused(&page);
    };
    house
        .write(&person, move |change| {
            staff::choose_visit_form(change, chosen)
        })
        .await?;
    answer::go_and_say(&house, "/account", Said::FormChosen)
}

/// `POST /account/password`
pub(in crate::web) async fn change_password(
    person: SignedIn,
    house: House,
    shell: Shell,
    sense: Sense,
    req: HttpRequest,
    Seen(visitor): Seen,
    CheckedForm(mut form): CheckedForm<PasswordForm>,
) -> Answer {
    if let Some(new) = changed(&person, &house, &req, &mut form).await? {
        let (id, by) = (person.id, person.by());
        house
            .write(by, move |change| staff::set_own_password(change, &new))
            .await?;
        // Every session has ended, this one too; she goes on in a new one.
        let account = house.read(move |db| staff::find(db, id)).await?;
        let device = req
            .headers()
            .get(USER_AGENT)
            .and_then(|it| it.to_str().ok());
        let key = begin(&house, &account, device, visitor.key().to_owned()).await?;
        let secure = house.settings().secure_cookies;
        return Ok(HttpResponse::SeeOther()
            .insert_header((LOCATION, "/account"))
            .cookie(session_cookie(&key, secure))
            .cookie(flash::say(Said::PasswordChanged, secure))
            .finish());
    }
    let mut page = AccountPage::of(&person, &house, shell, &sense, visitor.key()).await?;
    page.faults = form.faults();
    page.password = form;
    answer::refused(&page)
}

/// The new password, hashed; or none, and the form says why.
async fn changed(
    person: &SignedIn,
    house: &House,
    req: &HttpRequest,
    form: &mut PasswordForm,
) -> Result<Option<HashedPassword>, PageError> {
    let (Some(current), Some(new)) = (form.current.value.clone(), form.new.value.clone()) else {
        return Ok(None);
    };
    let address = req
        .peer_addr()
        .map(|it| it.ip().to_string())
        .unwrap_or_default();
    let wait = house
        .throttle()
        .wait(&person.sign_in, &address, house.now());
    if wait > 0 {
        form.current
            .refuse(format!("too many wrong tries; try again in {wait} seconds"));
    } else if proved(house, person.sign_in.clone(), current)
        .await?
        .is_none()
    {
        house
            .throttle()
            .wrong(&person.sign_in, &address, house.now());
        form.current.refuse("this is not the password you have now");
    }
    if new == person.sign_in || new.eq_ignore_ascii_case(&person.name) {
        form.new
            .refuse("is your own name; choose something that others do not know");
    }
    if !form.faults().is_empty() {
        return Ok(None);
    }
    let cost = house.settings().password_cost;
    match blocking(move || HashedPassword::of(&new, cost)).await {
        Ok(hashed) => Ok(Some(hashed)),
        Err(error) => match error.beside_a_field() {
            Ok((_, why)) => {
                form.new.refuse(why);
                Ok(None)
            }
            Err(error) => Err(error),
        },
    }
}

/// `POST /account/sessions`
pub(in crate::web) async fn end_sessions(
    person: SignedIn,
    house: House,
    Seen(visitor): Seen,
    CheckedForm(typed): CheckedForm<Typed>,
) -> Answer {
    let which = typed.last("session").to_owned();
    if which == "others" {
        let key = visitor.key().to_owned();
        house
            .write(&person, move |change| {
                sessions::end_all_others(change, &key)
            })
            .await?;
        return answer::go_and_say(&house, "/account", Said::SessionsEnded);
    }
    let id: SessionId = which.parse().map_err(|_| PageError::Missing)?;
    house
        .write(&person, move |change| sessions::end_one(change, id))
        .await?;
    answer::go_and_say(&house, "/account", Said::SessionEnded)
}
