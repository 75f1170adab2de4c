//! Trying a name and a password, and beginning a session.

use actix_web::http::StatusCode;
use actix_web::http::header::{LOCATION, RETRY_AFTER, USER_AGENT};
use actix_web::{HttpRequest, HttpResponse};

use super::{SignInForm, SignInPage};
use crate::registry::By;
use crate::registry::sessions::{self, Session};
use crate::registry::staff::{self, Staff};
use crate::web::answer::{self, Answer};
use crate::web::audience::Anyone;
use crate::web::blocking::blocking;
use crate::web::error::PageError;
use crate::web::form::{CheckedForm, Form as _};
use crate::web::session::{Seen, SessionKey, idle, session_cookie};
use crate::web::shell::Shell;
use crate::web::state::House;
use crate::web::throttle::FREE;

/// `POST /sign-in`
pub(in crate::web) async fn enter(
    _: Anyone,
    house: House,
    shell: Shell,
    req: HttpRequest,
    Seen(visitor): Seen,
    CheckedForm(mut form): CheckedForm<SignInForm>,
) -> Answer {
    let faults = form.faults();
    let (Some(name), Some(password)) = (form.name.value.clone(), form.password.value.clone())
    else {
        return answer::refused(&SignInPage::with(&house, shell, form, faults).await?);
    };
    let name = name.to_lowercase();
    let address = req
        .peer_addr()
        .map(|it| it.ip().to_string())
        .unwrap_or_default();
    let wait = house.throttle().wait(&name, &address, house.now());
    if wait > 0 {
        form.name
            .refuse(format!("too many wrong tries; try again in {wait} seconds"));
        let faults = form.faults();
        let page = SignInPage::with(&house, shell, form, faults).await?;
        let mut answer = answer::with(StatusCode::TOO_MANY_REQUESTS, &page)?;
        answer.headers_mut().insert(RETRY_AFTER, wait.into());
        return Ok(answer);
    }
    match proved(&house, name.clone(), password).await? {
        None => {
            let wrong = house.throttle().wrong(&name, &address, house.now());
            if wrong == FREE {
                tell_of_guessing(&house, name).await?;
            }
            form.name
                .refuse("name and password do not fit together; try again");
            let faults = form.faults();
            answer::refused(&SignInPage::with(&house, shell, form, faults).await?)
        }
        Some(person) => {
            house.throttle().right(&name, &address, house.now());
            let device = req
                .headers()
                .get(USER_AGENT)
                .and_then(|it| it.to_str().ok());
            let key = begin(&house, &person, device, visitor.key().to_owned()).await?;
            let then = form.then.value.as_deref().unwrap_or("/");
            Ok(HttpResponse::SeeOther()
                .insert_header((LOCATION, then))
                .cookie(session_cookie(&key, house.settings().secure_cookies))
                .finish())
        }
    }
}

/// The person, if the password is right. One guess at a time: each takes its memory and its time on purpose.
pub(in crate::web) async fn proved(
    house: &House,
    sign_in: String,
    password: String,
) -> Result<Option<Staff>, PageError> {
    let asked = sign_in.clone();
    let claim = house.read(move |db| staff::claim(db, &asked)).await?;
    let house = house.clone();
    blocking(move || {
        let _turn = house.throttle().turn();
        claim.proved_by(&password, house.settings().password_cost)
    })
    .await
}

/// Begins a session of `person`, and ends the one that this browser had.
pub(in crate::web) async fn begin(
    house: &House,
    person: &Staff,
    device: Option<&str>,
    former: String,
) -> Result<SessionKey, PageError> {
    let key = SessionKey::made()?;
    let (id, device) = (person.id, device.map(str::to_owned));
    house
        .write(person.by(), move |change| {
            change.tell("signed in", "staff", id.code(), "")
        })
        .await?;
    let (registry, now, text) = (house.registry().clone(), house.now(), key.text().to_owned());
    blocking(move || {
        let session = Session {
            staff: Some(id),
            state: String::new(),
        };
        sessions::sweep(&registry, now)?;
        sessions::end(&registry, &former)?;
        sessions::begin(&registry, &text, &session, device.as_deref(), now, idle())
    })
    .await?;
    Ok(key)
}

/// Once for each run of wrong guesses, and only of names that exist: what is typed as a name may be a password.
async fn tell_of_guessing(house: &House, sign_in: String) -> Result<(), PageError> {
    let found = house.read(move |db| staff::named(db, &sign_in)).await;
    let Ok(person) = found else {
        return Ok(());
    };
    house
        .write(By::program("Somebody"), move |change| {
            let told = format!("{}: {FREE} wrong passwords, slowed down", person.sign_in);
            change.tell("sign-in refused", "staff", person.id.code(), told)
        })
        .await
}
