//! Recording a birth, and amending it.

use askama::Template;

use super::super::hers::{self, Hers};
use super::form::{BirthForm, Pressed};
use super::show::summary;
use crate::registry::births::{self, NewBirth};
use crate::registry::flags::{self, Flag};
use crate::registry::{BirthId, PregnancyId, RegistryError};
use crate::web::answer::{self, Answer};
use crate::web::audience::Carer;
use crate::web::error::PageError;
use crate::web::flash::Said;
use crate::web::form::{CheckedForm, Faults, Form as _, Query, Sense};
use crate::web::path::Key;
use crate::web::shell::Shell;
use crate::web::state::House;

#[derive(Template)]
#[template(path = "births/edit.html")]
struct EditPage {
    shell: Shell,
    hers: Hers,
    flags: Vec<Flag>,
    form: BirthForm,
    faults: Faults,
    refusal: String,
    /// The birth that is amended.
    amends: Option<BirthId>,
    /// What somebody else wrote meanwhile.
    newer: Vec<(String, String)>,
    /// There is room for one more baby now.
    added: bool,
}

impl EditPage {
    fn action(&self) -> String {
        match self.amends {
            Some(id) => format!("/births/{id}/amend"),
            None => "/births/new".to_owned(),
        }
    }

    fn open_flags(&self) -> String {
        let words: Vec<_> = self
            .flags
            .iter()
            .map(|flag| flag.category.words())
            .collect();
        if words.is_empty() {
            "none".to_owned()
        } else {
            words.join(", ")
        }
    }
}

#[derive(Template)]
#[template(path = "births/whose.html")]
struct WhosePage {
    shell: Shell,
}

/// `GET /births/new?pregnancy=…` or `?mother=…`
pub(in crate::web) async fn ask_new(
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
    let (hers, flags, written) = house
        .read(move |db| {
            let hers = Hers::read(db, post, pregnancy, now)?;
            Ok((
                hers,
                flags::standing(db, pregnancy)?,
                births::of_pregnancy(db, post, pregnancy)?,
            ))
        })
        .await?;
    if let Some(birth) = written.filter(|birth| !birth.entered_in_error) {
        return answer::go(format!("/births/{}", birth.id));
    }
    let mut form = BirthForm::blank(&sense);
    form.pregnancy = form.pregnancy.holding(pregnancy);
    form.request = form.request.holding(BirthId::made(now));
    answer::page(&EditPage {
        shell,
        hers,
        flags,
        form,
        faults: Faults::default(),
        refusal: String::new(),
        amends: None,
        newer: Vec::new(),
        added: false,
    })
}

/// `POST /births/new`
pub(in crate::web) async fn record(
    carer: Carer,
    house: House,
    shell: Shell,
    sense: Sense,
    CheckedForm(mut form): CheckedForm<BirthForm>,
) -> Answer {
    let pregnancy = form.pregnancy.value.ok_or(PageError::Missing)?;
    let mut page = edit_page(&carer, &house, shell, &sense, pregnancy, form.clone(), None).await?;
    if form.pressed != Pressed::Save {
        return rebuilt(page, &form, &sense);
    }
    form.judge(page.hers.pregnancy.facts.dating.lmp, &sense);
    if form.faults().is_empty() {
        let new = NewBirth {
            pregnancy,
            record: form.record(&sense),
            request: form.request.value.clone(),
        };
        match house
            .write(&carer, move |change| births::record(change, &new))
            .await
        {
            Ok(id) => {
                return answer::go_and_say(&house, format!("/births/{id}"), Said::BirthRecorded);
            }
            Err(PageError::Registry(
                RegistryError::Refused(why) | RegistryError::RefusedField { why, .. },
            )) => {
                page.refusal = why;
            }
            Err(error) => return Err(error),
        }
    }
    page.faults = form.faults();
    page.form = form;
    answer::refused(&page)
}

/// `GET /births/{id}/amend`
pub(in crate::web) async fn ask_amend(
    carer: Carer,
    house: House,
    shell: Shell,
    sense: Sense,
    Key(id): Key<BirthId>,
) -> Answer {
    let post = carer.post.id;
    let birth = house.read(move |db| births::one(db, post, id)).await?;
    let mut form = BirthForm::holding(&birth.record, &sense);
    form.pregnancy = form.pregnancy.holding(birth.pregnancy);
    form.revision = form.revision.holding(birth.revision);
    answer::page(
        &edit_page(
            &carer,
            &house,
            shell,
            &sense,
            birth.pregnancy,
            form,
            Some(id),
        )
        .await?,
    )
}

/// `POST /births/{id}/amend`
pub(in crate::web) async fn amend(
    carer: Carer,
    house: House,
    shell: Shell,
    sense: Sense,
    Key(id): Key<BirthId>,
    CheckedForm(mut form): CheckedForm<BirthForm>,
) -> Answer {
    let post = carer.post.id;
    let birth = house.read(move |db| births::one(db, post, id)).await?;
    let mut page = edit_page(
        &carer,
        &house,
        shell,
        &sense,
        birth.pregnancy,
        form.clone(),
        Some(id),
    )
    .await?;
    if form.pressed != Pressed::Save {
        return rebuilt(page, &form, &sense);
    }
    form.judge(page.hers.pregnancy.facts.dating.lmp, &sense);
    form.reason = form.reason.needed("write why");
    let mut stale = false;
    if let (true, Some(reason)) = (form.faults().is_empty(), form.reason.value.clone()) {
        let (record, revision) = (form.record(&sense), form.revision.value.unwrap_or(0));
        let done = house
            .write(&carer, move |change| {
                births::amend(change, id, revision, &record, &reason)
            })
            .await;
        match done {
            Ok(()) => {
                return answer::go_and_say(&house, format!("/births/{id}"), Said::BirthAmended);
            }
            Err(PageError::Registry(
                RegistryError::Refused(why) | RegistryError::RefusedField { why, .. },
            )) => {
                page.refusal = why;
            }
            Err(PageError::Registry(RegistryError::Stale { current_revision })) => {
                stale = true;
                page.newer = summary(&birth.record, &page.hers.post);
                form.revision = form.revision.holding(current_revision);
            }
            Err(error) => return Err(error),
        }
    }
    page.faults = form.faults();
    page.form = form;
    if stale {
        answer::stale(&page)
    } else {
        answer::refused(&page)
    }
}

/// The same form with a baby more or less: 200, nothing is saved.
fn rebuilt(mut page: EditPage, form: &BirthForm, sense: &Sense) -> Answer {
    page.form = form.rebuilt(sense);
    page.added = form.pressed == Pressed::AddBaby && page.form.babies.len() > form.babies.len();
    if form.count.fault.is_some() {
        page.faults = Faults(
            page.form
                .faults()
                .0
                .into_iter()
                .filter(|it| it.anchor == "babies")
                .collect(),
        );
        return answer::refused(&page);
    }
    answer::page(&page)
}

async fn edit_page(
    carer: &Carer,
    house: &House,
    shell: Shell,
    sense: &Sense,
    pregnancy: PregnancyId,
    form: BirthForm,
    amends: Option<BirthId>,
) -> Result<EditPage, PageError> {
    let (post, now) = (carer.post.id, sense.now);
    let (hers, flags) = house
        .read(move |db| {
            Ok((
                Hers::read(db, post, pregnancy, now)?,
                flags::standing(db, pregnancy)?,
            ))
        })
        .await?;
    let (faults, refusal) = (Faults::default(), String::new());
    Ok(EditPage {
        shell,
        hers,
        flags,
        form,
        faults,
        refusal,
        amends,
        newer: Vec::new(),
        added: false,
    })
}
