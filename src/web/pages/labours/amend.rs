//! Amending a row: the old one stays readable, with the reason.

use askama::Template;

use super::super::hers::{joined, moment, short};
use super::row_form::RowForm;
use super::words::and_more;
use crate::clinical::Moment;
use crate::registry::labours::{self, Labour, StoredRow};
use crate::registry::posts::{self, Post};
use crate::registry::{LabourId, LabourRowId, RegistryError};
use crate::web::answer::{self, Answer};
use crate::web::audience::Carer;
use crate::web::error::PageError;
use crate::web::flash::Said;
use crate::web::form::{Asked, CheckedForm, Faults, Field, Form, Sense, Typed, parse};
use crate::web::path::Keys;
use crate::web::shell::Shell;
use crate::web::state::House;

/// The better row and why.
pub(crate) struct AmendForm {
    row: RowForm,
    reason: Field<String>,
    request: Field<String>,
}

impl Form for AmendForm {
    fn read(typed: &Typed, sense: &Sense) -> Self {
        Self {
            row: RowForm::read(typed, sense),
            reason: Field::read(typed, "reason", "Why it is amended", parse::lines(500))
                .needed("write why"),
            request: Field::read(typed, "request", "Request", parse::line(64)),
        }
    }

    fn faults(&self) -> Faults {
        let asked: [&dyn Asked; 1] = [&self.reason];
        self.row.faults().and(Faults::of(&asked))
    }
}

#[derive(Template)]
#[template(path = "labours/amend.html")]
struct AmendPage {
    shell: Shell,
    post: Post,
    labour: Labour,
    row_id: LabourRowId,
    form: AmendForm,
    faults: Faults,
    refusal: String,
    /// The row that somebody else put in its place meanwhile.
    newer: Option<StoredRow>,
    now: Moment,
}

impl AmendPage {
    fn register(&self) -> String {
        joined(&self.labour.register)
    }

    fn newer_words(&self, row: &StoredRow) -> String {
        let found = &row.row.found;
        let hearts: Vec<_> = found.fetal_hearts.iter().map(u8::to_string).collect();
        let inside = found.dilatation_cm.map(|cm| format!(", {cm}\u{a0}cm"));
        format!(
            "{}: heart {}{}, {}",
            moment(&self.post, found.at),
            if hearts.is_empty() {
                "–".to_owned()
            } else {
                hearts.join(" and ")
            },
            inside.unwrap_or_default(),
            and_more(row)
        )
    }

    fn at(&self) -> String {
        self.form
            .row
            .at
            .value
            .map(|at| short(&self.post, at, self.now))
            .unwrap_or_default()
    }

    fn last(&self, _: &str) -> String {
        String::new()
    }

    fn hint(&self, _: &str, text: &str) -> String {
        text.to_owned()
    }
}

/// `GET /labour/{id}/rows/{row}`
pub(in crate::web) async fn ask(
    carer: Carer,
    house: House,
    shell: Shell,
    sense: Sense,
    Keys(id, row_id): Keys<LabourId, LabourRowId>,
) -> Answer {
    let (post, labour, row) = read(&carer, &house, id, row_id).await?;
    if let Some(newer) = row.replaced_by {
        return answer::go(format!("/labour/{id}/rows/{newer}"));
    }
    let blank = Typed::default();
    let form = AmendForm {
        row: RowForm::holding(&row.row, &sense),
        reason: AmendForm::read(&blank, &sense).reason,
        request: Field::blank("request", "Request").holding(LabourRowId::made(sense.now)),
    };
    let (faults, refusal, now) = (Faults::default(), String::new(), sense.now);
    answer::page(&AmendPage {
        shell,
        post,
        labour,
        row_id,
        form,
        faults,
        refusal,
        newer: None,
        now,
    })
}

async fn read(
    carer: &Carer,
    house: &House,
    id: LabourId,
    row: LabourRowId,
) -> Result<(Post, Labour, StoredRow), PageError> {
    let post = carer.post.id;
    let (found, labour, row) = house
        .read(move |db| {
            let (labour, row) = labours::row(db, post, row)?;
            Ok((posts::find(db, post)?, labour, row))
        })
        .await?;
    if labour.id == id {
        Ok((found, labour, row))
    } else {
        Err(PageError::Missing)
    }
}

/// `POST /labour/{id}/rows/{row}`
pub(in crate::web) async fn save(
    carer: Carer,
    house: House,
    shell: Shell,
    sense: Sense,
    Keys(id, row_id): Keys<LabourId, LabourRowId>,
    CheckedForm(mut form): CheckedForm<AmendForm>,
) -> Answer {
    let (post, labour, _) = read(&carer, &house, id, row_id).await?;
    let (mut refusal, mut newer) = (String::new(), None);
    if let (true, Some(row), Some(reason)) = (
        form.faults().is_empty(),
        form.row.row(),
        form.reason.value.clone(),
    ) {
        let request = form.request.value.clone();
        let done = house
            .write(&carer, move |change| {
                labours::amend_row(change, row_id, &row, &reason, request.as_deref())
            })
            .await;
        match done {
            Ok(_) => return answer::go_and_say(&house, format!("/labour/{id}"), Said::RowAmended),
            Err(PageError::Registry(RegistryError::RefusedField { why, .. })) => {
                form.row.at.refuse(why);
            }
            Err(PageError::Registry(RegistryError::Refused(why))) => refusal = why,
            Err(PageError::Registry(RegistryError::Stale { .. })) => {
                newer = Some(newest(&carer, &house, id, row_id).await?);
            }
            Err(error) => return Err(error),
        }
    }
    let stale = newer.is_some();
    // Sent again, it replaces the row that stands now.
    let row_id = newer.as_ref().map_or(row_id, |row: &StoredRow| row.id);
    let faults = form.faults();
    let page = AmendPage {
        shell,
        post,
        labour,
        row_id,
        form,
        faults,
        refusal,
        newer,
        now: sense.now,
    };
    if stale {
        answer::stale(&page)
    } else {
        answer::refused(&page)
    }
}

/// Follows the replacements to the row that stands.
async fn newest(
    carer: &Carer,
    house: &House,
    id: LabourId,
    row: LabourRowId,
) -> Result<StoredRow, PageError> {
    let mut row = read(carer, house, id, row).await?.2;
    while let Some(newer) = row.replaced_by {
        row = read(carer, house, id, newer).await?.2;
    }
    Ok(row)
}
