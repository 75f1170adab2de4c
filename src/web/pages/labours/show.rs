//! One labour record: what it comes to, a row to add, what is due, the rows.

use askama::Template;
use chrono::TimeDelta;

use super::super::hers::{joined, moment, short};
use super::row_form::RowForm;
use super::words::{Judged, and_more, due_words, judged, rule_words};
use crate::clinical::{LabourPicture, Moment};
use crate::registry::labours::{self, StoredRow};
use crate::registry::{By, LabourId, LabourRowId, RegistryError};
use crate::web::answer::{self, Answer};
use crate::web::audience::Carer;
use crate::web::error::PageError;
use crate::web::flash::Said;
use crate::web::form::{CheckedForm, Faults, Field, Form, Sense, Typed, parse};
use crate::web::path::Key;
use crate::web::shell::Shell;
use crate::web::spoken;
use crate::web::state::House;

/// A row to add.
pub(crate) struct AddForm {
    row: RowForm,
    request: Field<String>,
}

impl Form for AddForm {
    fn read(typed: &Typed, sense: &Sense) -> Self {
        Self {
            row: RowForm::read(typed, sense),
            request: Field::read(typed, "request", "Request", parse::line(64)),
        }
    }
    fn faults(&self) -> Faults {
        self.row.faults()
    }
}

#[derive(Template)]
#[template(path = "labours/show.html")]
struct ShowPage {
    shell: Shell,
    it: Judged,
    rows: Vec<StoredRow>,
    form: RowForm,
    request: String,
    faults: Faults,
    refusal: String,
    now: Moment,
}

impl ShowPage {
    fn register(&self) -> String {
        joined(&self.it.labour.register)
    }

    fn at(&self, moment_of: &Moment) -> String {
        short(&self.it.hers.post, *moment_of, self.now)
    }

    fn clock(&self) -> String {
        moment(&self.it.hers.post, self.now)
    }

    fn state(&self) -> String {
        self.it.state(self.now)
    }

    fn is_open(&self) -> bool {
        self.it.labour.closed_at.is_none()
    }

    fn to_leave(&self) -> (String, String) {
        self.it.to_leave(self.now)
    }

    fn due(&self) -> Vec<(String, String, bool)> {
        let due = self
            .it
            .picture()
            .map(|it| it.due.as_slice())
            .unwrap_or_default();
        due.iter()
            .map(|it| {
                let (words, overdue) = due_words(it, self.now);
                (
                    format!("{} {}", it.what.words(), self.at(&it.at)),
                    words,
                    overdue,
                )
            })
            .collect()
    }

    fn limit(&self, labour: &LabourPicture) -> String {
        match labour.limits.first() {
            Some(limit) => format!("{} ({})", self.at(&limit.at), rule_words(limit.rule)),
            None => "none applies yet".to_owned(),
        }
    }

    /// From the arrival, if she leaves now, to the limit.
    fn in_hand(&self, minutes: &i64) -> String {
        let span = spoken::span(TimeDelta::minutes(minutes.abs()));
        if *minutes < 0 {
            format!("none: {span} too late")
        } else {
            span
        }
    }

    fn limits(&self, labour: &LabourPicture) -> String {
        let limits: Vec<_> = labour
            .limits
            .iter()
            .skip(1)
            .map(|limit| format!("{} {}", rule_words(limit.rule), self.at(&limit.at)))
            .collect();
        if limits.is_empty() {
            "none".to_owned()
        } else {
            limits.join(" · ")
        }
    }

    /// Rows that count, the newest first.
    fn standing(&self) -> Vec<&StoredRow> {
        self.rows
            .iter()
            .filter(|row| row.replaced_by.is_none())
            .collect()
    }

    fn replaced(&self) -> Vec<&StoredRow> {
        self.rows
            .iter()
            .filter(|row| row.replaced_by.is_some())
            .collect()
    }

    fn dilatation(&self, row: &StoredRow) -> String {
        let found = row.row.found.dilatation_cm;
        found.map_or_else(|| "–".to_owned(), |cm| format!("{cm}\u{a0}cm"))
    }

    fn fifths(&self, row: &StoredRow) -> String {
        let found = row.row.found.fifths;
        found.map_or_else(|| "–".to_owned(), |fifths| format!("{fifths}/5"))
    }

    fn heart(&self, row: &StoredRow) -> String {
        let found = &row.row.found;
        let counts: Vec<_> = found.fetal_hearts.iter().map(u8::to_string).collect();
        match (counts.is_empty(), found.heart_sought) {
            (false, _) => counts.join(" and "),
            (true, Some(true)) => "not heard".to_owned(),
            (true, _) => "–".to_owned(),
        }
    }

    fn contractions(&self, row: &StoredRow) -> String {
        let found = &row.row.found;
        match (found.contractions_in_10_min, found.contraction_seconds) {
            (None, None) => "–".to_owned(),
            (Some(count), None) => count.to_string(),
            (None, Some(seconds)) => format!("{seconds}\u{a0}s"),
            (Some(count), Some(seconds)) => format!("{count} × {seconds}\u{a0}s"),
        }
    }

    fn liquor(&self, row: &StoredRow) -> String {
        let foul = if row.row.found.liquor_foul == Some(true) {
            ", foul"
        } else {
            ""
        };
        match row.row.found.liquor {
            Some(liquor) => format!("{}{foul}", liquor.words()),
            None if foul.is_empty() => "–".to_owned(),
            None => "foul".to_owned(),
        }
    }

    fn and_more(&self, row: &StoredRow) -> String {
        and_more(row)
    }

    /// A hint with what was found last.
    fn hint(&self, name: &str, text: &str) -> String {
        match self.last(name) {
            last if last.is_empty() => text.to_owned(),
            last => format!("{text} Last {last}.").trim_start().to_owned(),
        }
    }

    /// The last value of a question with its time: `13:00: 140`.
    fn last(&self, name: &str) -> String {
        let words = |row: &StoredRow| {
            let found = &row.row.found;
            let text = match name {
                "fetal_heart" => found.fetal_hearts.first().map(u8::to_string),
                "contractions" => found.contractions_in_10_min.map(|it| it.to_string()),
                "seconds" => found.contraction_seconds.map(|it| it.to_string()),
                "fifths" => found.fifths.map(|it| format!("{it}/5")),
                "dilatation" => found.dilatation_cm.map(|it| format!("{it}\u{a0}cm")),
                "liquor" => found.liquor.map(|it| it.words().to_owned()),
                "moulding" => found.moulding.map(|it| it.to_string()),
                "caput" => found.caput.map(|it| it.to_string()),
                "pulse" => found.pulse.map(|it| it.to_string()),
                "systolic" => found.systolic.map(|it| it.to_string()),
                "diastolic" => found.diastolic.map(|it| it.to_string()),
                "temperature" => found
                    .temperature_tenths
                    .map(|it| crate::web::spoken::tenths(i32::from(it))),
                "urine" => found.urine_protein.map(|it| it.words().to_owned()),
                _ => None,
            };
            text.map(|text| format!("{}: {text}", self.at(&found.at)))
        };
        self.standing()
            .into_iter()
            .find_map(words)
            .unwrap_or_default()
    }
}

/// `GET /labour/{id}`
pub(in crate::web) async fn show(
    carer: Carer,
    house: House,
    shell: Shell,
    sense: Sense,
    Key(id): Key<LabourId>,
) -> Answer {
    let form = RowForm::blank(&sense);
    let request = LabourRowId::made(sense.now).to_string();
    let page = read(&carer, &house, shell, &sense, id, form, request).await?;
    answer::page(&page)
}

async fn read(
    carer: &Carer,
    house: &House,
    shell: Shell,
    sense: &Sense,
    id: LabourId,
    form: RowForm,
    request: String,
) -> Result<ShowPage, PageError> {
    let (post, now) = (carer.post.id, sense.now);
    let found = judged(house, By::from(carer), post, Some(id), now).await?;
    let it = found.into_iter().next().ok_or(PageError::Missing)?;
    let rows = house.read(move |db| labours::rows(db, id)).await?;
    let (faults, refusal) = (Faults::default(), String::new());
    Ok(ShowPage {
        shell,
        it,
        rows,
        form,
        request,
        faults,
        refusal,
        now,
    })
}

/// `POST /labour/{id}/rows`
pub(in crate::web) async fn add_row(
    carer: Carer,
    house: House,
    shell: Shell,
    sense: Sense,
    Key(id): Key<LabourId>,
    CheckedForm(mut form): CheckedForm<AddForm>,
) -> Answer {
    let mut refusal = String::new();
    let request = form.request.value.clone();
    if let Some(row) = form.row.row() {
        let done = house
            .write(&carer, move |change| {
                labours::add_row(change, id, &row, request.as_deref())
            })
            .await;
        match done {
            Ok(_) => return answer::go_and_say(&house, format!("/labour/{id}"), Said::RowSaved),
            Err(PageError::Registry(RegistryError::RefusedField { why, .. })) => {
                form.row.at.refuse(why);
            }
            Err(PageError::Registry(RegistryError::Refused(why))) => refusal = why,
            Err(error) => return Err(error),
        }
    }
    let mut page = read(
        &carer,
        &house,
        shell,
        &sense,
        id,
        form.row,
        form.request.typed,
    )
    .await?;
    page.faults = page.form.faults();
    page.refusal = refusal;
    answer::refused(&page)
}
