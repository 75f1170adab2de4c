//! A receiving hospital: what it can do, and whether it receives.

use askama::Template;

use crate::registry::hospitals::{self, Hospital, HospitalSettings};
use crate::registry::{HospitalId, RegistryError};
use crate::web::answer::{self, Answer};
use crate::web::audience::Keeper;
use crate::web::error::PageError;
use crate::web::flash::Said;
use crate::web::form::{CheckedForm, Faults, Field, Form, Sense, Typed, parse};
use crate::web::path::Key;
use crate::web::shell::Shell;
use crate::web::state::House;

pub(in crate::web) struct HospitalForm {
    revision: Option<i32>,
    name: Field<String>,
    phone: Field<String>,
    can_operate: Field<bool>,
    has_blood: Field<bool>,
    receives: Field<bool>,
    reason: Field<String>,
}

impl Form for HospitalForm {
    fn read(typed: &Typed, _: &Sense) -> Self {
        let tick = |name: &'static str, label: &'static str| {
            Field::read(typed, name, label, parse::yes_no)
        };
        Self {
            revision: typed.last("revision").parse().ok(),
            name: Field::read(typed, "name", "Name", parse::line(60))
                .needed("write the name of the hospital"),
            phone: Field::read(
                typed,
                "phone",
                "Phone of the maternity ward",
                parse::line(24),
            ),
            can_operate: tick("can_operate", "Caesareans are done at any hour"),
            has_blood: tick("has_blood", "Blood is kept"),
            receives: tick("receives", "It receives referrals"),
            reason: Field::read(typed, "reason", "Why the change", parse::line(200)),
        }
    }

    fn faults(&self) -> Faults {
        Faults::of(&[
            &self.name,
            &self.phone,
            &self.can_operate,
            &self.has_blood,
            &self.receives,
            &self.reason,
        ])
    }
}

impl HospitalForm {
    fn holding(hospital: &Hospital, sense: &Sense) -> Self {
        let yes = |is: bool| if is { "true" } else { "" }.to_owned();
        let pairs = [
            ("revision", hospital.revision.to_string()),
            ("name", hospital.name.clone()),
            ("phone", hospital.phone.clone().unwrap_or_default()),
            ("can_operate", yes(hospital.can_operate)),
            ("has_blood", yes(hospital.has_blood)),
            ("receives", yes(hospital.stopped_at.is_none())),
        ];
        Self::read(&pairs.into_iter().collect(), sense)
    }

    fn settings(&self) -> Option<HospitalSettings> {
        if !self.faults().is_empty() {
            return None;
        }
        Some(HospitalSettings {
            name: self.name.value.clone()?,
            phone: self.phone.value.clone(),
            can_operate: self.can_operate.value.unwrap_or_default(),
            has_blood: self.has_blood.value.unwrap_or_default(),
            receives: self.receives.value.unwrap_or_default(),
        })
    }

    fn refuse(&mut self, error: PageError) -> Result<(), PageError> {
        match error.beside_a_field()? {
            ("phone", why) => self.phone.refuse(why),
            (_, why) => self.name.refuse(why),
        }
        Ok(())
    }
}

#[derive(Template)]
#[template(path = "posts/hospital.html")]
struct HospitalPage {
    shell: Shell,
    heading: String,
    action: String,
    form: HospitalForm,
    faults: Faults,
}

impl HospitalPage {
    fn new(shell: Shell, stored: Option<&Hospital>, form: HospitalForm, faults: Faults) -> Self {
        Self {
            shell,
            heading: stored.map_or_else(|| "Add a hospital".to_owned(), |it| it.name.clone()),
            action: stored.map_or_else(
                || "/posts/hospitals/new".to_owned(),
                |it| format!("/posts/hospitals/{}", it.id),
            ),
            form,
            faults,
        }
    }
}

/// `GET /posts/hospitals/new`
pub(in crate::web) async fn ask_new(_: Keeper, shell: Shell, sense: Sense) -> Answer {
    let usual: Typed = [("receives", "true")].into_iter().collect();
    let form = HospitalForm::read(&usual, &sense);
    answer::page(&HospitalPage::new(shell, None, form, Faults::default()))
}

/// `GET /posts/hospitals/{id}`
pub(in crate::web) async fn show(
    _: Keeper,
    house: House,
    shell: Shell,
    sense: Sense,
    Key(id): Key<HospitalId>,
) -> Answer {
    let hospital = house.read(move |db| hospitals::find(db, id)).await?;
    let form = HospitalForm::holding(&hospital, &sense);
    answer::page(&HospitalPage::new(
        shell,
        Some(&hospital),
        form,
        Faults::default(),
    ))
}

/// `POST /posts/hospitals/new`
pub(in crate::web) async fn add(
    keeper: Keeper,
    house: House,
    shell: Shell,
    CheckedForm(mut form): CheckedForm<HospitalForm>,
) -> Answer {
    if let Some(settings) = form.settings() {
        match house
            .write(&keeper, move |change| hospitals::add(change, &settings))
            .await
        {
            Ok(_) => return answer::go_and_say(&house, "/posts", Said::HospitalSaved),
            Err(error) => form.refuse(error)?,
        }
    }
    let faults = form.faults();
    answer::refused(&HospitalPage::new(shell, None, form, faults))
}

/// `POST /posts/hospitals/{id}`
pub(in crate::web) async fn amend(
    keeper: Keeper,
    house: House,
    shell: Shell,
    Key(id): Key<HospitalId>,
    CheckedForm(mut form): CheckedForm<HospitalForm>,
) -> Answer {
    let stored = house.read(move |db| hospitals::find(db, id)).await?;
    if form.reason.value.is_none() {
        form.reason.refuse("write why; it stands in the trail");
    }
    if let Some(settings) = form.settings() {
        let (revision, reason) = (
            form.revision.unwrap_or_default(),
            form.reason.value.clone().unwrap_or_default(),
        );
        let saved = house
            .write(&keeper, move |change| {
                hospitals::amend(change, id, revision, &settings, &reason)
            })
            .await;
        match saved {
            Ok(()) => return answer::go_and_say(&house, "/posts", Said::HospitalSaved),
            Err(PageError::Registry(RegistryError::Stale { current_revision })) => {
                form.revision = Some(current_revision);
                form.name.refuse(format!(
                    "somebody else changed this hospital meanwhile ({}); look again, then save",
                    now(&stored)
                ));
                let faults = form.faults();
                return answer::stale(&HospitalPage::new(shell, Some(&stored), form, faults));
            }
            Err(error) => form.refuse(error)?,
        }
    }
    let faults = form.faults();
    answer::refused(&HospitalPage::new(shell, Some(&stored), form, faults))
}

/// What stands now, in short.
fn now(hospital: &Hospital) -> String {
    let able = |is: bool, what: &str| format!("{} {what}", if is { "can" } else { "cannot" });
    let phone = hospital.phone.as_deref().unwrap_or("no phone");
    let receives = if hospital.stopped_at.is_none() {
        "receives"
    } else {
        "does not receive"
    };
    format!(
        "{}, {phone}, {}, {}, {receives}",
        hospital.name,
        able(hospital.can_operate, "operate"),
        able(hospital.has_blood, "give blood")
    )
}
