//! What was told of a pregnancy is put right, with a reason; its dating and flags are judged anew.

use askama::Template;

use super::difference::Difference;
use super::form::{Days, PregnancyForm};
use crate::clinical::{PastEvent, Scan};
use crate::registry::mothers::{self, Mother};
use crate::registry::pregnancies::{self, Facts, Pregnancy};
use crate::registry::{MotherId, PostId, PregnancyId, RegistryError};
use crate::web::answer::{self, Answer};
use crate::web::audience::Carer;
use crate::web::error::PageError;
use crate::web::flash::Said;
use crate::web::form::{CheckedForm, Faults, Field, Opt, Sense, Typed, parse};
use crate::web::path::Key;
use crate::web::shell::Shell;
use crate::web::spoken;
use crate::web::state::House;

#[derive(Template)]
#[template(path = "pregnancies/amend.html")]
struct AmendPage {
    shell: Shell,
    faults: Faults,
    id: PregnancyId,
    mother: MotherId,
    number: String,
    name: String,
    revision: i32,
    pregnancy: PregnancyForm,
    days: Days,
    reason: Field<String>,
    newer: Option<Vec<Difference>>,
    sure_or_not: [Opt; 2],
    past_events: Vec<Opt>,
}

impl AmendPage {
    fn title(&self) -> String {
        format!("Amend the pregnancy of {}", self.name)
    }
}

async fn known(
    house: &House,
    post: PostId,
    id: PregnancyId,
) -> Result<(Mother, Pregnancy), PageError> {
    house
        .read(move |db| {
            let pregnancy = pregnancies::find(db, post, id)?;
            Ok((mothers::find(db, post, pregnancy.mother_id)?, pregnancy))
        })
        .await
}

fn reason(typed: &Typed) -> Field<String> {
    Field::read(typed, "reason", "Why", parse::line(200))
        .needed("say in a few words what was wrong or is new")
}

fn page(
    carer: &Carer,
    shell: Shell,
    (mother, known): (&Mother, &Pregnancy),
    form: PregnancyForm,
    days: Days,
) -> AmendPage {
    AmendPage {
        shell,
        faults: Faults::default(),
        id: known.id,
        mother: mother.id,
        number: format!("{}\u{a0}{:04}", carer.post.code, mother.number),
        name: mother.name.clone(),
        revision: known.revision,
        pregnancy: form.with_room(),
        days,
        reason: reason(&Typed::default()),
        newer: None,
        sure_or_not: PregnancyForm::sure_or_not(),
        past_events: Opt::every::<PastEvent>(),
    }
}

fn days_of(known: &Pregnancy, sense: &Sense) -> Days {
    Days {
        today: sense.today(),
        opened: sense.local(known.opened_at).date(),
    }
}

/// `GET /pregnancies/{id}/amend`
pub(in crate::web) async fn ask(
    carer: Carer,
    house: House,
    shell: Shell,
    sense: Sense,
    Key(id): Key<PregnancyId>,
) -> Answer {
    let (mother, known) = known(&house, carer.post.id, id).await?;
    let days = days_of(&known, &sense);
    let form = PregnancyForm::holding(&known, days);
    answer::page(&page(&carer, shell, (&mother, &known), form, days))
}

/// `POST /pregnancies/{id}/amend`
pub(in crate::web) async fn amend(
    carer: Carer,
    house: House,
    shell: Shell,
    sense: Sense,
    Key(id): Key<PregnancyId>,
    CheckedForm(typed): CheckedForm<Typed>,
) -> Answer {
    let (mother, known) = known(&house, carer.post.id, id).await?;
    let days = days_of(&known, &sense);
    let (mut form, reason) = (PregnancyForm::read(&typed, days), reason(&typed));
    let revision = Field::read(&typed, "revision", "Revision", parse::whole(1..=i32::MAX))
        .value
        .unwrap_or_default();
    let faults = form.faults().and(Faults::of(&[&reason]));
    if !faults.is_empty() {
        return answer::refused(&AmendPage {
            faults,
            revision,
            reason,
            ..page(&carer, shell, (&mother, &known), form, days)
        });
    }
    let (facts, why) = (form.facts(), reason.value.clone().unwrap_or_default());
    let number = format!("{} {:04}", carer.post.code, mother.number);
    let written = facts.clone();
    let work = move |change: &mut crate::registry::Change<'_>| {
        pregnancies::amend(change, id, revision, &written)?;
        change.tell(
            "reason of the amendment",
            "pregnancy",
            id.code(),
            format!("{number}: {why}"),
        )
    };
    match house.write(&carer, work).await {
        Ok(()) => answer::go_and_say(
            &house,
            format!("/mothers/{}", mother.id),
            Said::PregnancyAmended,
        ),
        Err(PageError::Registry(RegistryError::Stale { .. })) => {
            let newer = differences(&facts, &known.facts);
            answer::stale(&AmendPage {
                newer: Some(newer),
                reason,
                ..page(&carer, shell, (&mother, &known), form, days)
            })
        }
        Err(PageError::Registry(RegistryError::RefusedField { field, why })) => {
            if !form.refuse(field, &why) {
                form.lmp.refuse(why);
            }
            let faults = form.faults();
            answer::refused(&AmendPage {
                faults,
                revision,
                reason,
                ..page(&carer, shell, (&mother, &known), form, days)
            })
        }
        Err(error) => Err(error),
    }
}

fn differences(wrote: &Facts, has: &Facts) -> Vec<Difference> {
    let number = |number: Option<u8>| number.map(|number| number.to_string()).unwrap_or_default();
    let text = |text: &Option<String>| text.clone().unwrap_or_default();
    let period = |facts: &Facts| {
        let unsure = if facts.dating.lmp_certain == Some(false) {
            ", not sure"
        } else {
            ""
        };
        facts
            .dating
            .lmp
            .map(|lmp| format!("{}{unsure}", spoken::day(lmp)))
            .unwrap_or_default()
    };
    let scans = |facts: &Facts| {
        facts
            .dating
            .scans
            .iter()
            .map(scan)
            .collect::<Vec<_>>()
            .join("; ")
    };
    let history = |facts: &Facts| {
        facts
            .history
            .iter()
            .map(|event| event.words())
            .collect::<Vec<_>>()
            .join(", ")
    };
    Difference::among([
        ("Last period", period(wrote), period(has)),
        ("Scans", scans(wrote), scans(has)),
        (
            "Births before",
            number(wrote.births_before),
            number(has.births_before),
        ),
        (
            "Caesareans",
            number(wrote.previous_caesareans),
            number(has.previous_caesareans),
        ),
        ("History", history(wrote), history(has)),
        ("Illness", text(&wrote.illness), text(&has.illness)),
        ("Allergies", text(&wrote.allergies), text(&has.allergies)),
        ("Medicines", text(&wrote.medicines), text(&has.medicines)),
        (
            "Blood group",
            text(&wrote.blood_group),
            text(&has.blood_group),
        ),
        ("Tests", text(&wrote.tests), text(&has.tests)),
        ("Companion", text(&wrote.companion), text(&has.companion)),
        (
            "Companion’s phone",
            text(&wrote.companion_phone),
            text(&has.companion_phone),
        ),
    ])
}

/// A scan in a few words: its day and what it showed.
pub(crate) fn scan(scan: &Scan) -> String {
    let mut said = vec![spoken::day(scan.on)];
    said.extend(
        scan.gestation_days
            .map(|days| spoken::gestation(i64::from(days))),
    );
    said.extend(scan.edd.map(|edd| format!("due {}", spoken::day(edd))));
    said.extend(
        scan.babies
            .map(|babies| spoken::count(i64::from(babies), "baby", "babies")),
    );
    said.join(", ")
}
