//! Opening an account.

use super::{ListPage, Sift, everyone};
use crate::registry::passwords::{self, HashedPassword};
use crate::registry::staff::{self, NewStaff};
use crate::registry::{PostId, Role};
use crate::web::answer::{self, Answer};
use crate::web::audience::Keeper;
use crate::web::blocking::blocking;
use crate::web::error::PageError;
use crate::web::flash::Said;
use crate::web::form::{CheckedForm, Faults, Field, Form, Opt, Sense, Typed, parse};
use crate::web::shell::Shell;
use crate::web::state::House;

pub(in crate::web) struct NewForm {
    pub(super) name: Field<String>,
    pub(super) sign_in: Field<String>,
    pub(super) role: Field<Role>,
    pub(super) post: Field<PostId>,
    pub(super) password: Field<String>,
}

impl Form for NewForm {
    fn read(typed: &Typed, _: &Sense) -> Self {
        Self {
            name: Field::read(typed, "full_name", "Full name", parse::line(80))
                .needed("write the full name"),
            sign_in: Field::read(typed, "sign_in", "Signs in as", parse::line(40))
                .needed("write a short name without spaces"),
            role: Field::choice(typed, "role", "Role", &roles(), str::parse).needed("choose one"),
            post: Field::read(
                typed,
                "post",
                "Post",
                parse::as_said("choose one of the list"),
            ),
            password: Field::secret(typed, "password", "First password", passwords::LONGEST)
                .needed("write a first password"),
        }
    }

    fn faults(&self) -> Faults {
        Faults::of(&[
            &self.name,
            &self.sign_in,
            &self.role,
            &self.post,
            &self.password,
        ])
    }
}

/// The roles, with what each does.
pub(super) fn roles() -> Vec<Opt> {
    let says = |role: &Role| match role {
        Role::Nurse => "registers, visits, labour, births of her post",
        Role::Midwife => "the same, and reviews, refers, signs the month",
        Role::District => "reports of all posts, no names",
        Role::Keeper => "accounts, posts, settings, trail; no care",
    };
    let options = Opt::every::<Role>().into_iter();
    options
        .zip(Role::ALL)
        .map(|(option, role)| option.saying(says(role)))
        .collect()
}

/// `POST /staff`
pub(in crate::web) async fn add(
    keeper: Keeper,
    house: House,
    shell: Shell,
    sense: Sense,
    CheckedForm(mut form): CheckedForm<NewForm>,
) -> Answer {
    if form.faults().is_empty()
        && let Some(new) = hashed(&house, &mut form).await?
    {
        match house
            .write(&keeper, move |change| staff::add(change, &new))
            .await
        {
            Ok(id) => {
                return answer::go_and_say(&house, format!("/staff/{id}"), Said::AccountOpened);
            }
            Err(error) => refuse(&mut form, error)?,
        }
    }
    let faults = form.faults();
    let everyone = everyone(&house).await?;
    let sift = Sift::read(&Typed::default());
    answer::refused(&ListPage::new(
        &keeper,
        shell,
        &sense,
        &everyone,
        sift,
        (form, faults),
    ))
}

/// The account with its password hashed; or none, and the form says why.
async fn hashed(house: &House, form: &mut NewForm) -> Result<Option<NewStaff>, PageError> {
    let (Some(name), Some(sign_in), Some(role), Some(password)) = (
        form.name.value.clone(),
        form.sign_in.value.clone(),
        form.role.value,
        form.password.value.clone(),
    ) else {
        return Ok(None);
    };
    let cost = house.settings().password_cost;
    match blocking(move || HashedPassword::of(&password, cost)).await {
        Ok(password) => Ok(Some(NewStaff {
            sign_in,
            name,
            role,
            post: form.post.value,
            password,
        })),
        Err(error) => {
            refuse(form, error)?;
            Ok(None)
        }
    }
}

fn refuse(form: &mut NewForm, error: PageError) -> Result<(), PageError> {
    let (field, why) = error.beside_a_field()?;
    match field {
        "sign_in" => form.sign_in.refuse(why),
        "post" => form.post.refuse(why),
        "password" => form.password.refuse(why),
        _ => form.name.refuse(why),
    }
    Ok(())
}
