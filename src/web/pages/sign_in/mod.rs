//! Signing in and out.

mod enter;
mod practice;

use actix_web::HttpResponse;
use actix_web::http::header::LOCATION;
use askama::Template;

use crate::registry::sessions;
use crate::web::answer::{self, Answer};
use crate::web::audience::{Anyone, SignedIn};
use crate::web::flash::{self, Said};
use crate::web::form::{CheckedForm, Faults, Field, Form, Query, Sense, Typed, parse};
use crate::web::session::{Seen, expired_cookie};
use crate::web::shell::Shell;
use crate::web::state::House;

pub(in crate::web) use enter::{begin, enter, proved};
use practice::Account;

/// Longest sign-in name and password that are looked at.
const LONGEST: usize = 200;

pub(in crate::web) struct SignInForm {
    name: Field<String>,
    password: Field<String>,
    /// Where to go on.
    then: Field<String>,
}

impl Form for SignInForm {
    fn read(typed: &Typed, _: &Sense) -> Self {
        Self {
            name: Field::read(typed, "name", "Name", parse::line(LONGEST))
                .needed("write the name you sign in with"),
            password: Field::secret(typed, "password", "Password", LONGEST)
                .needed("write your password"),
            then: Field::read(typed, "then", "Then", |text| {
                ours(text).map(str::to_owned).ok_or("leads away from here")
            }),
        }
    }

    fn faults(&self) -> Faults {
        Faults::of(&[&self.name, &self.password])
    }
}

/// An address of ours; anything that a browser might take for another site is none.
fn ours(path: &str) -> Option<&str> {
    let inside = path.starts_with('/')
        && !path.starts_with("//")
        && !path.contains(['\\', '\n', '\r', '\t']);
    (inside && !path.starts_with("/sign-")).then_some(path)
}

#[derive(Template)]
#[template(path = "sign_in/page.html")]
struct SignInPage {
    shell: Shell,
    form: SignInForm,
    faults: Faults,
    district: String,
    signed_in_as: String,
    accounts: Vec<Account>,
    password_of_all: String,
}

impl SignInPage {
    async fn with(
        house: &House,
        shell: Shell,
        form: SignInForm,
        faults: Faults,
    ) -> Result<Self, crate::web::error::PageError> {
        let settings = house.settings();
        Ok(Self {
            signed_in_as: shell.person.clone(),
            shell,
            form,
            faults,
            district: settings.district.clone().unwrap_or_default(),
            accounts: practice::accounts(house).await?,
            password_of_all: settings
                .practice
                .as_ref()
                .map(|it| it.password.clone())
                .unwrap_or_default(),
        })
    }
}

/// `GET /sign-in`
pub(in crate::web) async fn show(
    _: Anyone,
    house: House,
    shell: Shell,
    sense: Sense,
    Query(asked): Query,
) -> Answer {
    let filled: Typed = [("then", asked.last("then"))].into_iter().collect();
    let form = SignInForm::read(&filled, &sense);
    answer::page(&SignInPage::with(&house, shell, form, Faults::default()).await?)
}

/// `POST /sign-out`
pub(in crate::web) async fn leave(
    _: SignedIn,
    house: House,
    Seen(visitor): Seen,
    CheckedForm(()): CheckedForm<()>,
) -> Answer {
    let (registry, key) = (house.registry().clone(), visitor.key().to_owned());
    crate::web::blocking::blocking(move || sessions::end(&registry, &key)).await?;
    let secure = house.settings().secure_cookies;
    Ok(HttpResponse::SeeOther()
        .insert_header((LOCATION, "/sign-in"))
        .cookie(expired_cookie(secure))
        .cookie(flash::say(Said::SignedOut, secure))
        .finish())
}

#[cfg(test)]
mod tests {
    use super::ours;

    #[test]
    fn the_way_on_never_leads_to_another_site() {
        for inside in ["/", "/mothers?q=nela", "/mothers/0199/visits/new"] {
            assert_eq!(ours(inside), Some(inside));
        }
        for outside in [
            "",
            "mothers",
            "//elsewhere.example",
            "/\\elsewhere.example",
            "https://elsewhere.example",
            "/a\nb",
            "/sign-in",
            "/sign-out",
        ] {
            assert_eq!(ours(outside), None, "{outside}");
        }
    }
}
