//! The pages of single steps: told, left, arrived, seen, declined, stood down, never came; and putting one right.

use askama::Template;

use super::super::hers::{joined, moment};
use super::list::reasons;
use super::new_form::Means;
use super::show::{StepLine, step_lines};
use super::step_form::{Kind, StepForm};
use crate::clinical::Moment;
use crate::registry::posts::{self, Post};
use crate::registry::referral_steps::next;
use crate::registry::referrals::{self, Facts, Step};
use crate::registry::{
    By, PostId, ReferralEvent, ReferralId, ReferralStepId, RegistryError, StandDownReason,
};
use crate::web::answer::{self, Answer};
use crate::web::audience::{Carer, Midwife};
use crate::web::error::PageError;
use crate::web::flash::Said;
use crate::web::form::{CheckedForm, Faults, Form as _, Opt, Sense};
use crate::web::path::{Key, Keys};
use crate::web::shell::Shell;
use crate::web::state::House;

#[derive(Template)]
#[template(path = "referrals/step.html")]
struct StepPage {
    shell: Shell,
    kind: Kind,
    form: StepForm,
    faults: Faults,
    refusal: String,
    facts: Facts,
    post: Post,
    /// The stored step that is put right.
    corrects: Option<Step>,
    /// Somebody else wrote something since the page was opened.
    stale: bool,
    now: Moment,
}

impl StepPage {
    fn action(&self) -> String {
        let referral = self.facts.referral.id;
        match &self.corrects {
            Some(step) => format!("/referrals/{referral}/steps/{}", step.id),
            None => format!("/referrals/{referral}/{}", self.kind.path()),
        }
    }

    fn heading(&self) -> String {
        match &self.corrects {
            Some(step) => format!("{}: put “{}” right", self.facts.name, step.event.words()),
            None => format!("{}{}", self.facts.name, self.kind.heading()),
        }
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

    fn asks(&self, event: ReferralEvent) -> bool {
        self.kind.0 == event
    }

    fn means(&self) -> Vec<Opt> {
        Opt::every::<Means>()
    }

    fn stand_downs(&self) -> Vec<Opt> {
        Opt::every::<StandDownReason>()
    }

    /// What a closing step may have been in truth.
    fn other_events(&self) -> Vec<Opt> {
        let closing = [ReferralEvent::NeverCame, ReferralEvent::Declined];
        let Some(step) = self
            .corrects
            .as_ref()
            .filter(|step| closing.contains(&step.event))
        else {
            return Vec::new();
        };
        let others = [
            ReferralEvent::Left,
            ReferralEvent::Arrived,
            ReferralEvent::NeverCame,
            ReferralEvent::Declined,
        ];
        let others: Vec<_> = others
            .into_iter()
            .filter(|event| *event != step.event)
            .collect();
        Opt::these(&others)
    }

    fn can_be_taken_out(&self) -> bool {
        self.corrects
            .as_ref()
            .is_some_and(|step| step.event != ReferralEvent::Decided)
    }

    fn steps(&self) -> Vec<StepLine> {
        step_lines(&self.facts, &self.post, self.now, None)
    }
}

pub(super) async fn read(
    house: &House,
    post: PostId,
    id: ReferralId,
) -> Result<(Facts, Post), PageError> {
    house
        .read(move |db| Ok((referrals::facts(db, post, id)?, posts::find(db, post)?)))
        .await
}

fn step_of(facts: &Facts, id: ReferralStepId) -> Result<Step, PageError> {
    let mut standing = facts
        .steps
        .iter()
        .map(|(step, _)| step)
        .filter(|step| step.stands());
    standing
        .find(|step| step.id == id)
        .cloned()
        .ok_or(PageError::Missing)
}

async fn ask(
    kind: Kind,
    post: PostId,
    house: House,
    shell: Shell,
    sense: Sense,
    id: ReferralId,
) -> Answer {
    let (facts, post) = read(&house, post, id).await?;
    let mut form = StepForm::filled(None, &sense);
    form.revision = form.revision.holding(facts.referral.revision);
    form.request = form.request.holding(ReferralStepId::made(sense.now));
    form.at.label = kind.when().into();
    form.who.label = kind.who().into();
    if kind.0 == ReferralEvent::Left {
        form.who = form
            .who
            .holding(facts.referral.escort.clone().unwrap_or_default());
        let planned = Means::ALL.iter().copied();
        let planned = planned
            .into_iter()
            .find(|it| Some(it.words()) == facts.referral.transport.as_deref());
        form.means = form.means.chosen(planned);
    }
    let refusal = match next(facts.referral.state, kind.0) {
        Ok(_) => String::new(),
        Err(why) => why.to_string(),
    };
    answer::page(&StepPage {
        shell,
        kind,
        form,
        faults: Faults::default(),
        refusal,
        facts,
        post,
        corrects: None,
        stale: false,
        now: sense.now,
    })
}

async fn save(
    kind: Kind,
    (by, post): (By, PostId),
    house: House,
    shell: Shell,
    sense: Sense,
    id: ReferralId,
    form: StepForm,
) -> Answer {
    let mut form = form.judged(kind);
    let revision = form.revision.value.unwrap_or(0);
    let mut refusal = String::new();
    let mut stale = false;
    if let Some(step) = form.step(kind) {
        let written = house
            .write(by, move |change| {
                referrals::advance(change, id, revision, &step)
            })
            .await;
        match written {
            Ok(_) => return answer::go_and_say(&house, format!("/referrals/{id}"), said(kind)),
            Err(error) => explain(error, &mut form, &mut refusal, &mut stale)?,
        }
    }
    let (facts, post) = read(&house, post, id).await?;
    again(shell, kind, form, refusal, facts, post, None, stale, &sense)
}

/// One page a step: its address, whom it is for, what it writes.
macro_rules! pages {
    ($($step:ident: $audience:ty, $event:ident;)+) => { $(
        pub(in crate::web) mod $step {
            use super::*;

            /// The page that asks.
            pub(in crate::web) async fn ask(who: $audience, house: House, shell: Shell, sense: Sense, Key(id): Key<ReferralId>) -> Answer {
                super::ask(Kind(ReferralEvent::$event), who.post.id, house, shell, sense, id).await
            }

            /// Writes the step down.
            pub(in crate::web) async fn save(
                who: $audience, house: House, shell: Shell, sense: Sense, Key(id): Key<ReferralId>, CheckedForm(form): CheckedForm<StepForm>,
            ) -> Answer {
                let by = (By::from(&who), who.post.id);
                super::save(Kind(ReferralEvent::$event), by, house, shell, sense, id, form).await
            }
        }
    )+ };
}

pages! {
    told: Carer, Told;
    left: Carer, Left;
    arrived: Carer, Arrived;
    seen: Carer, Seen;
    declined: Carer, Declined;
    never_came: Carer, NeverCame;
    stood_down: Midwife, StoodDown;
}

/// `GET /referrals/{id}/steps/{step}`
pub(in crate::web) async fn ask_better(
    carer: Carer,
    house: House,
    shell: Shell,
    sense: Sense,
    Keys(id, step): Keys<ReferralId, ReferralStepId>,
) -> Answer {
    let (facts, post) = read(&house, carer.post.id, id).await?;
    let step = step_of(&facts, step)?;
    let kind = Kind(step.event);
    let mut form = StepForm::filled(Some(&step), &sense);
    form.revision = form.revision.holding(facts.referral.revision);
    form.request = form.request.holding(ReferralStepId::made(sense.now));
    form.at.label = kind.when().into();
    form.who.label = kind.who().into();
    answer::page(&StepPage {
        shell,
        kind,
        form,
        faults: Faults::default(),
        refusal: String::new(),
        facts,
        post,
        corrects: Some(step),
        stale: false,
        now: sense.now,
    })
}

/// `POST /referrals/{id}/steps/{step}`
pub(in crate::web) async fn save_better(
    carer: Carer,
    house: House,
    shell: Shell,
    sense: Sense,
    Keys(id, old): Keys<ReferralId, ReferralStepId>,
    CheckedForm(form): CheckedForm<StepForm>,
) -> Answer {
    let (facts, post) = read(&house, carer.post.id, id).await?;
    let stands = step_of(&facts, old);
    let event = match &stands {
        Ok(step) => step.event,
        // Put right by somebody else meanwhile: both versions are shown.
        Err(_) if facts.steps.iter().any(|(step, _)| step.id == old) => {
            return answer::go(format!("/referrals/{id}"));
        }
        Err(_) => return Err(PageError::Missing),
    };
    let kind = Kind(form.becomes.value.unwrap_or(event));
    let mut form = form.judged(kind);
    form.correction = form.correction.needed("say why");
    let revision = form.revision.value.unwrap_or(0);
    let (mut refusal, mut stale) = (String::new(), false);
    let why = form.correction.value.clone().unwrap_or_default();
    let written = if !form.faults().is_empty() {
        None
    } else if form.withdraw.value == Some(true) {
        Some(
            house
                .write(&carer, move |change| {
                    referrals::withdraw(change, id, revision, old, &why)
                })
                .await,
        )
    } else if let Some(step) = form.step(kind) {
        let done = house
            .write(&carer, move |change| {
                referrals::correct(change, id, revision, old, &step, &why)
            })
            .await;
        Some(done.map(|_| ()))
    } else {
        None
    };
    match written {
        Some(Ok(())) => {
            return answer::go_and_say(&house, format!("/referrals/{id}"), Said::StepPutRight);
        }
        Some(Err(error)) => explain(error, &mut form, &mut refusal, &mut stale)?,
        None => {}
    }
    let corrects = stands.ok();
    again(
        shell,
        Kind(event),
        form,
        refusal,
        facts,
        post,
        corrects,
        stale,
        &sense,
    )
}

fn said(kind: Kind) -> Said {
    match kind.0 {
        ReferralEvent::Left => Said::ReferralLeft,
        ReferralEvent::Arrived => Said::ReferralArrived,
        ReferralEvent::StoodDown => Said::ReferralStoodDown,
        _ => Said::StepSaved,
    }
}

/// What the registry refused stands beside its field, on top, or as “somebody else was faster”.
fn explain(
    error: PageError,
    form: &mut StepForm,
    refusal: &mut String,
    stale: &mut bool,
) -> Result<(), PageError> {
    match error {
        PageError::Registry(RegistryError::RefusedField { field, why }) => form.refuse(field, why),
        PageError::Registry(RegistryError::Refused(why)) => *refusal = why,
        PageError::Registry(RegistryError::Stale { .. }) => *stale = true,
        other => return Err(other),
    }
    Ok(())
}

#[expect(
    clippy::too_many_arguments,
    reason = "every part of a page that is shown again"
)]
fn again(
    shell: Shell,
    kind: Kind,
    mut form: StepForm,
    refusal: String,
    facts: Facts,
    post: Post,
    corrects: Option<Step>,
    stale: bool,
    sense: &Sense,
) -> Answer {
    // Sent again, it is judged against what stands now.
    form.revision = form.revision.holding(facts.referral.revision);
    let faults = form.faults();
    let page = StepPage {
        shell,
        kind,
        form,
        faults,
        refusal,
        facts,
        post,
        corrects,
        stale,
        now: sense.now,
    };
    if stale {
        answer::stale(&page)
    } else {
        answer::refused(&page)
    }
}
