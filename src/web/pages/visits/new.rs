//! A new visit: the form in the person's own shape, and what comes of it.

use crate::registry::visits::{self, Findings, NewVisit, Recorded};
use crate::registry::{MotherId, RegistryError, VisitForm as Shape, VisitId};
use crate::web::answer::{self, Answer};
use crate::web::audience::Carer;
use crate::web::error::PageError;
use crate::web::flash::Said;
use crate::web::form::{CheckedForm, Form as _, Query, Sense};
use crate::web::path::Key;
use crate::web::shell::Shell;
use crate::web::state::House;

use super::form::VisitForm;
use super::ground::Ground;
use super::sheet::{self, Sheet};

/// `GET /mothers/{id}/visits/new`, `?form=drawing` and `?form=list`
pub(in crate::web) async fn ask(
    carer: Carer,
    house: House,
    shell: Shell,
    sense: Sense,
    Key(id): Key<MotherId>,
    Query(query): Query,
) -> Answer {
    let post = carer.post.id;
    let ground = house
        .read(move |db| Ground::of_mother(db, post, id, None))
        .await?;
    let Some(ground) = ground else {
        // Her page says that no pregnancy is open, and opens one.
        return answer::go(format!("/mothers/{id}"));
    };
    let shape: Shape = query.last("form").parse().unwrap_or(carer.visit_form);
    // Any key will do that nobody else makes; one of the register's own ids is that.
    let request = VisitId::made(sense.now).to_string();
    let form = VisitForm::fresh(shape, request, ground.pregnancy.id, &sense);
    sheet::answer(shell, of(&ground, form, sense))
}

/// `POST /mothers/{id}/visits/new`; with `turn` the form comes back in its other shape, and nothing is saved.
pub(in crate::web) async fn record(
    carer: Carer,
    house: House,
    shell: Shell,
    sense: Sense,
    Key(id): Key<MotherId>,
    CheckedForm(mut form): CheckedForm<VisitForm>,
) -> Answer {
    let (post, named) = (carer.post.id, form.pregnancy);
    let ground = house
        .read(move |db| Ground::of_mother(db, post, id, named))
        .await?;
    let Some(ground) = ground else {
        return answer::go(format!("/mothers/{id}"));
    };
    let at = form.at.value.unwrap_or(sense.now);
    let known = ground.subject(at, None, &sense, String::new()).known;
    form.against(&known, &sense);
    let Some(findings) = form.findings() else {
        return sheet::answer(shell, of(&ground, form, sense));
    };
    if let Some(turned) = form.turned(&findings, &sense) {
        return sheet::answer(shell, of(&ground, turned, sense));
    }
    // A form that the browser brought back after it was sent has a new key and the same answers, the minute among them.
    if let Some((id, _)) = ground.visits.iter().find(|(_, known)| *known == findings) {
        return answer::go_and_say(&house, format!("/visits/{id}"), Said::VisitRecorded);
    }
    let new = NewVisit {
        pregnancy: ground.pregnancy.id,
        findings: findings.clone(),
        request_key: Some(form.request.clone()).filter(|key| !key.is_empty()),
    };
    match house
        .write(&carer, move |change| visits::record(change, &new))
        .await
    {
        Ok(recorded) => saved(&carer, &house, recorded, &findings).await,
        Err(PageError::Registry(RegistryError::RefusedField { field, why })) => {
            if !form.refuse(field, &why) {
                return Err(RegistryError::RefusedField { field, why }.into());
            }
            sheet::answer(shell, of(&ground, form, sense))
        }
        Err(error) => Err(error),
    }
}

/// To the page of the visit. A form sent a second time with other answers is not lost in silence.
async fn saved(carer: &Carer, house: &House, recorded: Recorded, sent: &Findings) -> Answer {
    let (post, id) = (carer.post.id, recorded.visit);
    let said = if recorded.assessment.is_some() {
        Said::VisitRecorded
    } else {
        let known = house.read(move |db| visits::find(db, post, id)).await?;
        if known.standing.findings == *sent {
            Said::VisitRecorded
        } else {
            Said::VisitKnown
        }
    };
    answer::go_and_say(house, format!("/visits/{id}"), said)
}

fn of(ground: &Ground, form: VisitForm, sense: Sense) -> Sheet {
    let at = form.at.value.unwrap_or(sense.now);
    let eyebrow = format!(
        "Visit at {} · register {}",
        ground.post.name,
        ground.register()
    );
    Sheet {
        faults: form.faults(),
        subject: ground.subject(at, None, &sense, eyebrow),
        action: format!("/mothers/{}/visits/new", ground.mother.id),
        form,
        sense,
        trial: None,
    }
}
