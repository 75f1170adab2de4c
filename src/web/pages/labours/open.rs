//! Opening a labour record.

use askama::Template;

use super::super::hers::{self, Hers};
use super::row_form::RowForm;
use crate::clinical::{LabourProtocol, Waters};
use crate::registry::hospitals;
use crate::registry::labours::{self, Labour, NewLabour};
use crate::registry::{LabourId, PregnancyId, RegistryError};
use crate::web::answer::{self, Answer};
use crate::web::audience::Carer;
use crate::web::error::PageError;
use crate::web::flash::Said;
use crate::web::form::{
    Asked, CheckedForm, Faults, Field, Form, Opt, Query, Sense, Typed, When, parse,
};
use crate::web::shell::Shell;
use crate::web::spoken;
use crate::web::state::House;

/// What was typed to open a record.
pub(crate) struct OpenForm {
    pregnancy: Field<PregnancyId>,
    request: Field<String>,
    labour_began: When,
    waters: Field<Waters>,
    waters_broke: When,
    row: RowForm,
}

impl Form for OpenForm {
    fn read(typed: &Typed, sense: &Sense) -> Self {
        let mut form = Self {
            pregnancy: Field::read(
                typed,
                "pregnancy",
                "Pregnancy",
                parse::as_said("is not known here"),
            ),
            request: Field::read(typed, "request", "Request", parse::line(64)),
            labour_began: When::read(
                typed,
                "labour_began",
                "When did regular, painful contractions begin?",
                sense,
            )
            .past(sense),
            waters: Field::code(typed, "waters", "Waters"),
            waters_broke: When::read(typed, "waters_broke", "When they broke", sense).past(sense),
            row: RowForm::read(typed, sense),
        };
        if form.waters.value == Some(Waters::Intact) && form.waters_broke.value.is_some() {
            form.waters
                .refuse("“not broken” and a time at which they broke cannot both be");
        }
        form
    }

    fn faults(&self) -> Faults {
        let asked: [&dyn Asked; 3] = [&self.labour_began, &self.waters, &self.waters_broke];
        Faults::of(&asked).and(self.row.faults())
    }
}

#[derive(Template)]
#[template(path = "labours/open.html")]
struct OpenPage {
    shell: Shell,
    hers: Hers,
    form: OpenForm,
    faults: Faults,
    refusal: String,
    /// Her record that is open already.
    running: Option<LabourId>,
    way: String,
}

impl OpenPage {
    fn waters_options(&self) -> Vec<Opt> {
        Opt::every::<Waters>()
    }

    fn protocol(&self) -> &'static str {
        LabourProtocol::words(self.hers.post.labour_protocol)
    }

    fn active_from(&self) -> u8 {
        match self.hers.post.labour_protocol {
            LabourProtocol::CareGuide => 5,
            LabourProtocol::Partograph => 4,
        }
    }

    /// Nothing was found in this labour yet.
    fn last(&self, _: &str) -> String {
        String::new()
    }

    fn hint(&self, _: &str, text: &str) -> String {
        text.to_owned()
    }
}

#[derive(Template)]
#[template(path = "labours/whose.html")]
struct WhosePage {
    shell: Shell,
}

/// `GET /labour/new?pregnancy=…` or `?mother=…`
pub(in crate::web) async fn ask(
    carer: Carer,
    house: House,
    shell: Shell,
    sense: Sense,
    Query(query): Query,
) -> Answer {
    let (post, now) = (carer.post.id, sense.now);
    let Some(pregnancy) = hers::asked_for(&query, &house, post).await? else {
        return answer::page(&WhosePage { shell });
    };
    let hers = house
        .read(move |db| Hers::read(db, post, pregnancy, now))
        .await?;
    let mut form = OpenForm::read(&Typed::default(), &sense);
    form.pregnancy = form.pregnancy.holding(hers.pregnancy.id);
    form.request = form.request.holding(LabourId::made(now));
    form.row = RowForm::blank(&sense);
    answer::page(&page(&house, shell, hers, form, String::new()).await?)
}

async fn page(
    house: &House,
    shell: Shell,
    hers: Hers,
    form: OpenForm,
    refusal: String,
) -> Result<OpenPage, PageError> {
    let (post, pregnancy) = (hers.post.clone(), hers.pregnancy.id);
    let now = hers.case.on;
    let (nearest, running) = house
        .read(move |db| {
            let nearest = hospitals::nearest_operating(db, &post, now)?;
            Ok((nearest, labours::of_pregnancy(db, post.id, pregnancy)?))
        })
        .await?;
    let way = match nearest {
        Some((hospital, minutes)) => format!(
            "{} to {}, at this hour",
            spoken::span(chrono::TimeDelta::minutes(i64::from(minutes))),
            hospital.name
        ),
        None => "no way to a hospital that can operate is set".to_owned(),
    };
    let open = |labour: &&Labour| labour.closed_at.is_none();
    let running = running.iter().find(open).map(|labour| labour.id);
    let faults = Faults::default();
    Ok(OpenPage {
        shell,
        hers,
        form,
        faults,
        refusal,
        running,
        way,
    })
}

/// `POST /labour/new`
pub(in crate::web) async fn open(
    carer: Carer,
    house: House,
    shell: Shell,
    sense: Sense,
    CheckedForm(mut form): CheckedForm<OpenForm>,
) -> Answer {
    let pregnancy = form.pregnancy.value.ok_or(PageError::Missing)?;
    let mut refusal = String::new();
    if form.faults().is_empty()
        && let Some(first) = form.row.row()
    {
        let new = NewLabour {
            pregnancy,
            began_at: form.labour_began.value,
            waters: form.waters.value,
            waters_broke_at: form.waters_broke.value,
            first,
            request: form.request.value.clone(),
        };
        match house
            .write(&carer, move |change| labours::open(change, &new))
            .await
        {
            Ok(id) => {
                return answer::go_and_say(&house, format!("/labour/{id}"), Said::LabourOpened);
            }
            Err(PageError::Registry(RegistryError::RefusedField { field, why })) => match field {
                "labour_began_date" | "labour_began_at" => form.labour_began.refuse(why),
                "waters_broke_date" | "waters_broke_at" => form.waters_broke.refuse(why),
                "waters" => form.waters.refuse(why),
                _ => form.row.at.refuse(why),
            },
            Err(PageError::Registry(RegistryError::Refused(why))) => refusal = why,
            Err(error) => return Err(error),
        }
    }
    let (post, now) = (carer.post.id, sense.now);
    let hers = house
        .read(move |db| Hers::read(db, post, pregnancy, now))
        .await?;
    let mut page = page(&house, shell, hers, form, refusal).await?;
    page.faults = page.form.faults();
    answer::refused(&page)
}
