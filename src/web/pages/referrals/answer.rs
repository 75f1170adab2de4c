//! The hospital's answer, taken down from the paper slip or the telephone.

use askama::Template;

use super::super::hers::{joined, moment};
use super::list::reasons;
use super::new_form::{MOST_LINE, MOST_TEXT};
use super::show::{StepLine, step_lines};
use super::step::read;
use crate::clinical::{Day, Moment};
use crate::registry::answers::{self, NewAnswer};
use crate::registry::posts::Post;
use crate::registry::referral_steps::next;
use crate::registry::referrals::Facts;
use crate::registry::{AnswerWay, ReferralEvent, ReferralId, ReferralStepId, RegistryError};
use crate::web::answer::{self, Answer};
use crate::web::audience::Carer;
use crate::web::error::PageError;
use crate::web::flash::Said;
use crate::web::form::{Asked, CheckedForm, Faults, Field, Form, Opt, Sense, Typed, When, parse};
use crate::web::path::Key;
use crate::web::shell::Shell;
use crate::web::state::House;

/// What was typed of an answer.
#[derive(Debug, Clone)]
pub(crate) struct AnswerForm {
    way: Field<AnswerWay>,
    at: When,
    given_by: Field<String>,
    given_on: Field<Day>,
    came: Field<bool>,
    arrived: When,
    seen: When,
    diagnosis: Field<String>,
    treatment: Field<String>,
    mother: Field<String>,
    baby: Field<String>,
    follow_up: Field<String>,
    revision: Field<i32>,
    request: Field<String>,
}

/// Ways in which the post takes an answer down; the hospital's own has its page later.
const WAYS: [AnswerWay; 2] = [AnswerWay::Phone, AnswerWay::Paper];

impl Form for AnswerForm {
    fn read(typed: &Typed, sense: &Sense) -> Self {
        let text = |name, label| Field::read(typed, name, label, parse::lines(MOST_TEXT));
        let mut form = Self {
            way: Field::choice(
                typed,
                "way",
                "How the answer came",
                &Opt::these(&WAYS),
                str::parse,
            )
            .needed("choose one"),
            at: When::read(typed, "at", "When they answered", sense)
                .needed("write when they answered")
                .past(sense),
            given_by: Field::read(
                typed,
                "given_by",
                "Who answered, and role",
                parse::line(MOST_LINE),
            ),
            given_on: Field::read(typed, "given_on", "Date on the slip", parse::day),
            came: Field::choice(
                typed,
                "came",
                "Did she arrive?",
                &Opt::yes_no(),
                parse::yes_no,
            )
            .needed("say whether she arrived"),
            arrived: When::read(typed, "arrived", "She arrived", sense).past(sense),
            seen: When::read(typed, "seen", "First seen there", sense).past(sense),
            diagnosis: text("diagnosis", "Diagnosis"),
            treatment: text("treatment", "Treatment, mode of birth"),
            mother: text("mother_outcome", "Mother"),
            baby: text("baby_outcome", "Baby"),
            follow_up: text("follow_up", "Advice to us"),
            revision: Field::read(typed, "revision", "Revision", parse::whole(1..=i32::MAX)),
            request: Field::read(typed, "request", "Request", parse::line(64)),
        };
        if form.given_on.value.is_some_and(|day| day > sense.today()) {
            form.given_on.refuse("has not come yet");
        }
        form
    }

    fn faults(&self) -> Faults {
        let asked: [&dyn Asked; 12] = [
            &self.way,
            &self.at,
            &self.given_by,
            &self.given_on,
            &self.came,
            &self.arrived,
            &self.seen,
            &self.diagnosis,
            &self.treatment,
            &self.mother,
            &self.baby,
            &self.follow_up,
        ];
        Faults::of(&asked)
    }
}

impl AnswerForm {
    /// The answers looked at together.
    fn judged(mut self) -> Self {
        let findings = [&self.diagnosis, &self.treatment, &self.mother, &self.baby];
        let says = findings.iter().any(|field| field.value.is_some());
        let at_fault = findings.iter().any(|field| field.fault.is_some());
        match self.came.value {
            Some(true) if !says && !at_fault => {
                self.diagnosis.refuse(
                    "write at least the diagnosis, the treatment or how mother or baby are",
                );
            }
            Some(false) if says || self.arrived.value.is_some() || self.seen.value.is_some() => {
                self.came
                    .refuse("“she never came” and findings of the hospital cannot both be");
            }
            _ => {}
        }
        self
    }

    fn answer(&self) -> Option<NewAnswer> {
        if !self.faults().is_empty() {
            return None;
        }
        Some(NewAnswer {
            arrived: self.came.value?,
            arrived_at: self.arrived.value,
            seen_at: self.seen.value,
            at: self.at.value,
            way: self.way.value?,
            diagnosis: self.diagnosis.value.clone(),
            treatment: self.treatment.value.clone(),
            mother_outcome: self.mother.value.clone(),
            baby_outcome: self.baby.value.clone(),
            follow_up: self.follow_up.value.clone(),
            given_by: self.given_by.value.clone(),
            given_on: self.given_on.value,
            request: self.request.value.clone(),
        })
    }
}

#[derive(Template)]
#[template(path = "referrals/answer.html")]
struct AnswerPage {
    shell: Shell,
    form: AnswerForm,
    faults: Faults,
    refusal: String,
    facts: Facts,
    post: Post,
    stale: bool,
    now: Moment,
}

impl AnswerPage {
    fn heading(&self) -> String {
        format!("{}: the hospital’s answer", self.facts.name)
    }

    fn register(&self) -> String {
        joined(&self.facts.register)
    }

    fn reasons(&self) -> String {
        reasons(&self.facts.reasons)
    }

    fn decided(&self) -> String {
        moment(&self.post, self.facts.referral.decided_at)
    }

    fn steps(&self) -> Vec<StepLine> {
        step_lines(&self.facts, &self.post, self.now, None)
    }

    fn ways(&self) -> Vec<Opt> {
        Opt::these(&WAYS)
    }

    fn came(&self) -> Vec<Opt> {
        vec![
            Opt::new("true", "She arrived"),
            Opt::new("false", "She never came"),
        ]
    }
}

/// `GET /referrals/{id}/answer`
pub(in crate::web) async fn ask(
    carer: Carer,
    house: House,
    shell: Shell,
    sense: Sense,
    Key(id): Key<ReferralId>,
) -> Answer {
    let (facts, post) = read(&house, carer.post.id, id).await?;
    let mut form = AnswerForm::read(&Typed::default(), &sense);
    form.at = When::holding("at", "When they answered", sense.now, &sense);
    form.revision = form.revision.holding(facts.referral.revision);
    form.request = form.request.holding(ReferralStepId::made(sense.now));
    if let Some(at) = facts.step(ReferralEvent::Arrived).and_then(|step| step.at) {
        form.arrived = When::holding("arrived", "She arrived", at, &sense);
    }
    let refusal = match next(facts.referral.state, ReferralEvent::Answered) {
        Ok(_) => String::new(),
        Err(why) => why.to_string(),
    };
    let faults = Faults::default();
    answer::page(&AnswerPage {
        shell,
        form,
        faults,
        refusal,
        facts,
        post,
        stale: false,
        now: sense.now,
    })
}

/// `POST /referrals/{id}/answer`
pub(in crate::web) async fn save(
    carer: Carer,
    house: House,
    shell: Shell,
    sense: Sense,
    Key(id): Key<ReferralId>,
    CheckedForm(form): CheckedForm<AnswerForm>,
) -> Answer {
    let mut form = form.judged();
    let revision = form.revision.value.unwrap_or(0);
    let (mut refusal, mut stale) = (String::new(), false);
    if let Some(new) = form.answer() {
        match house
            .write(&carer, move |change| {
                answers::record(change, id, revision, &new)
            })
            .await
        {
            Ok(()) => {
                return answer::go_and_say(&house, format!("/referrals/{id}"), Said::AnswerSaved);
            }
            Err(PageError::Registry(RegistryError::RefusedField {
                field: "diagnosis",
                why,
            })) => form.diagnosis.refuse(why),
            Err(PageError::Registry(RegistryError::RefusedField { why, .. })) => {
                form.arrived.refuse(why);
            }
            Err(PageError::Registry(RegistryError::Refused(why))) => refusal = why,
            Err(PageError::Registry(RegistryError::Stale { .. })) => stale = true,
            Err(error) => return Err(error),
        }
    }
    let (facts, post) = read(&house, carer.post.id, id).await?;
    form.revision = form.revision.holding(facts.referral.revision);
    let faults = form.faults();
    let page = AnswerPage {
        shell,
        form,
        faults,
        refusal,
        facts,
        post,
        stale,
        now: sense.now,
    };
    if stale {
        answer::stale(&page)
    } else {
        answer::refused(&page)
    }
}
