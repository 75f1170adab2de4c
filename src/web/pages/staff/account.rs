//! One account: what is known of it, a new password, its sessions, its end.

use askama::Template;

use crate::registry::passwords::{self, HashedPassword};
use crate::registry::staff::{self, Staff};
use crate::registry::{RegistryError, StaffId, posts, sessions};
use crate::web::answer::{self, Answer};
use crate::web::audience::Keeper;
use crate::web::blocking::blocking;
use crate::web::device::device;
use crate::web::error::PageError;
use crate::web::flash::Said;
use crate::web::form::{CheckedForm, Faults, Field, Form, Sense, Typed};
use crate::web::path::Key;
use crate::web::shell::Shell;
use crate::web::spoken;
use crate::web::state::House;

pub(in crate::web) struct ResetForm {
    password: Field<String>,
}

impl Form for ResetForm {
    fn read(typed: &Typed, _: &Sense) -> Self {
        Self {
            password: Field::secret(typed, "password", "New password", passwords::LONGEST)
                .needed("write a new password"),
        }
    }

    fn faults(&self) -> Faults {
        Faults::of(&[&self.password])
    }
}

struct Open {
    device: &'static str,
    began: String,
    seen: String,
}

#[derive(Template)]
#[template(path = "staff/account.html")]
struct AccountPage {
    shell: Shell,
    id: StaffId,
    name: String,
    sign_in: String,
    role: String,
    since: String,
    password_set: String,
    stopped: Option<String>,
    sessions: Vec<Open>,
    is_me: bool,
    form: ResetForm,
    faults: Faults,
    refused: Option<String>,
}

impl AccountPage {
    async fn of(
        keeper: &Keeper,
        house: &House,
        shell: Shell,
        sense: &Sense,
        id: StaffId,
        form: ResetForm,
    ) -> Result<Self, PageError> {
        let (now, zone) = (sense.now, sense.zone);
        let (person, post, open) = house
            .read(move |db| {
                let person: Staff = staff::find(db, id)?;
                let post = person
                    .post_id
                    .map(|post| posts::find(db, post))
                    .transpose()?;
                Ok((person, post, sessions::of(db, id, now)?))
            })
            .await?;
        let line = |line: sessions::Line| Open {
            device: device(line.device.as_deref()),
            began: spoken::moment(line.began_at, zone),
            seen: spoken::moment(line.seen_at, zone),
        };
        Ok(Self {
            shell,
            id,
            role: match post {
                Some(post) => format!("{}, {}", person.role.words(), post.name),
                None => person.role.words().to_owned(),
            },
            since: spoken::moment(person.made_at, zone),
            password_set: spoken::moment(person.password_set_at, zone),
            stopped: person.stopped_at.map(|at| spoken::moment(at, zone)),
            sessions: open.into_iter().map(line).collect(),
            is_me: keeper.id == id,
            name: person.name,
            sign_in: person.sign_in,
            faults: form.faults(),
            form,
            refused: None,
        })
    }
}

/// `GET /staff/{id}`
pub(in crate::web) async fn show(
    keeper: Keeper,
    house: House,
    shell: Shell,
    sense: Sense,
    Key(id): Key<StaffId>,
) -> Answer {
    let form = ResetForm::read(&Typed::default(), &sense);
    answer::page(&AccountPage::of(&keeper, &house, shell, &sense, id, form).await?)
}

/// `POST /staff/{id}/reset`
pub(in crate::web) async fn reset(
    keeper: Keeper,
    house: House,
    shell: Shell,
    sense: Sense,
    Key(id): Key<StaffId>,
    CheckedForm(mut form): CheckedForm<ResetForm>,
) -> Answer {
    if let Some(password) = form.password.value.clone() {
        let cost = house.settings().password_cost;
        let hashed = blocking(move || HashedPassword::of(&password, cost)).await;
        let done = match hashed {
            Ok(hashed) => {
                house
                    .write(&keeper, move |change| {
                        staff::reset_password(change, id, &hashed)
                    })
                    .await
            }
            Err(error) => Err(error),
        };
        match done {
            Ok(()) => {
                return answer::go_and_say(&house, format!("/staff/{id}"), Said::PasswordReset);
            }
            Err(error) => form.password.refuse(error.beside_a_field()?.1),
        }
    }
    answer::refused(&AccountPage::of(&keeper, &house, shell, &sense, id, form).await?)
}

/// `POST /staff/{id}/sessions`
pub(in crate::web) async fn end_sessions(
    keeper: Keeper,
    house: House,
    Key(id): Key<StaffId>,
    CheckedForm(()): CheckedForm<()>,
) -> Answer {
    house.read(move |db| staff::find(db, id)).await?;
    house
        .write(&keeper, move |change| sessions::end_all_of(change, id))
        .await?;
    answer::go_and_say(&house, format!("/staff/{id}"), Said::StaffSessionsEnded)
}

/// `POST /staff/{id}/stop`
pub(in crate::web) async fn stop(
    keeper: Keeper,
    house: House,
    shell: Shell,
    sense: Sense,
    Key(id): Key<StaffId>,
    CheckedForm(()): CheckedForm<()>,
) -> Answer {
    match house
        .write(&keeper, move |change| staff::stop(change, id))
        .await
    {
        Ok(()) => answer::go_and_say(&house, format!("/staff/{id}"), Said::AccountStopped),
        Err(PageError::Registry(RegistryError::Refused(why))) => {
            let form = ResetForm::read(&Typed::default(), &sense);
            let mut page = AccountPage::of(&keeper, &house, shell, &sense, id, form).await?;
            page.refused = Some(why);
            answer::refused(&page)
        }
        Err(error) => Err(error),
    }
}
