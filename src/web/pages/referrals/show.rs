//! One referral: what comes next, its steps with their times, the answers, what went with her.

use askama::Template;

use super::super::hers::{joined, moment, short};
use super::list::reasons;
use crate::clinical::{Moment, gestation_text};
use crate::registry::answers::{self, Answer as HospitalAnswer};
use crate::registry::posts::{self, Post};
use crate::registry::referral_steps::Labels;
use crate::registry::referrals::{self, Facts, Step};
use crate::registry::{
    PregnancyEnding, ReferralEvent, ReferralId, ReferralState, Role, pregnancies,
};
use crate::web::answer::{self, Answer};
use crate::web::audience::Carer;
use crate::web::form::Sense;
use crate::web::path::Key;
use crate::web::shell::Shell;
use crate::web::spoken;
use crate::web::state::House;

/// One step as the list shows it.
pub(super) struct StepLine {
    pub(super) words: &'static str,
    /// Who told, how she travels, and the like.
    pub(super) small: String,
    pub(super) when: String,
    pub(super) machine: String,
    /// `""`, `next` or `todo`.
    pub(super) class: &'static str,
    /// Where a stored step is put right.
    pub(super) amend: String,
}

#[derive(Template)]
#[template(path = "referrals/show.html")]
struct ShowPage {
    shell: Shell,
    facts: Facts,
    post: Post,
    gestation: String,
    answers: Vec<(HospitalAnswer, Option<Moment>, bool)>,
    /// The pregnancy has no birth written down yet.
    birth_open: bool,
    /// The pregnancy goes on.
    lasting: bool,
    in_charge: bool,
    now: Moment,
}

impl ShowPage {
    fn register(&self) -> String {
        joined(&self.facts.register)
    }

    fn reasons(&self) -> String {
        reasons(&self.facts.reasons)
    }

    fn decided(&self) -> String {
        moment(&self.post, self.facts.referral.decided_at)
    }

    fn labels(&self) -> Labels {
        self.facts.progress.labels(self.now)
    }

    /// How late it is, in words; empty when it is not.
    fn late(&self) -> String {
        let labels = self.labels();
        match (labels.lost_since, labels.overdue_since) {
            (Some(_), _) => "Lost: nothing heard for a week".to_owned(),
            (None, Some(since)) => format!("{} late", spoken::span(self.now - since)),
            (None, None) => String::new(),
        }
    }

    fn open(&self) -> bool {
        !self.facts.referral.entered_in_error
            && matches!(
                self.facts.referral.state,
                ReferralState::Decided
                    | ReferralState::Left
                    | ReferralState::Arrived
                    | ReferralState::Seen
            )
    }

    fn on_her_way(&self) -> bool {
        matches!(
            self.facts.referral.state,
            ReferralState::Decided | ReferralState::Left
        )
    }

    /// The next thing to do, as a sentence.
    fn next(&self) -> String {
        let late = self.labels() != Labels::default();
        match self.facts.referral.state {
            ReferralState::Decided if self.facts.step(ReferralEvent::Told).is_none() => {
                format!(
                    "Phone {} and write down when she leaves.",
                    self.facts.hospital
                )
            }
            ReferralState::Decided if late => {
                "She has not left by our record. Find out where she is.".to_owned()
            }
            ReferralState::Decided => "Write down when she leaves.".to_owned(),
            ReferralState::Left if late => {
                "Nobody has said that she arrived. Phone the hospital.".to_owned()
            }
            ReferralState::Left => "Write down her arrival as soon as somebody says so.".to_owned(),
            _ => "Ask the hospital how she and the baby are.".to_owned(),
        }
    }

    fn closing(&self) -> String {
        let step = |event| self.facts.step(event);
        let when = |it: Option<&Step>| {
            it.and_then(|it| it.at)
                .map_or_else(String::new, |at| format!(", {}", moment(&self.post, at)))
        };
        match self.facts.referral.state {
            ReferralState::Declined => {
                let step = step(ReferralEvent::Declined);
                let back = if self.facts.step(ReferralEvent::Left).is_some() {
                    "She turned back"
                } else {
                    "She declined"
                };
                format!("{back}{}.", when(step))
            }
            ReferralState::StoodDown => {
                let step = step(ReferralEvent::StoodDown);
                let why = step
                    .and_then(|it| it.stand_down)
                    .map_or("stood down", |it| it.words());
                format!("Stood down: {why}{}.", when(step))
            }
            ReferralState::NotArrived => {
                format!("She never came{}.", when(step(ReferralEvent::NeverCame)))
            }
            _ => String::new(),
        }
    }

    fn expected(&self) -> Option<String> {
        let minutes = i64::from(self.facts.progress.travel_minutes?);
        let at = self.facts.progress.left? + chrono::TimeDelta::minutes(minutes);
        Some(short(&self.post, at, self.now))
    }

    fn steps(&self) -> Vec<StepLine> {
        step_lines(&self.facts, &self.post, self.now, self.expected())
    }

    /// Steps that were put right or taken out.
    fn corrections(&self) -> Vec<(String, String)> {
        let replaced = self.facts.steps.iter().filter(|(step, _)| !step.stands());
        replaced
            .map(|(step, by)| {
                let when = step
                    .at
                    .map_or_else(|| "time not known".to_owned(), |at| moment(&self.post, at));
                let better = self.facts.steps.iter().map(|(other, _)| other);
                let better = better
                    .into_iter()
                    .find(|other| step.replaced_by == Some(other.id));
                let why = better
                    .and_then(|it| it.correction.clone())
                    .unwrap_or_default();
                let what = if step.replaced_by == Some(step.id) {
                    "taken out"
                } else {
                    "put right"
                };
                let by = by.as_deref().unwrap_or("the hospital");
                (
                    format!("{}, {when}", step.event.words()),
                    format!("written by {by}; {what}: {why}"),
                )
            })
            .collect()
    }

    fn planned(&self) -> String {
        self.facts
            .referral
            .planned_for
            .map(spoken::day)
            .unwrap_or_default()
    }

    fn text(&self, text: &Option<String>) -> String {
        text.clone()
            .unwrap_or_else(|| "not written down".to_owned())
    }

    fn answer_head(&self, answer: &(HospitalAnswer, Option<Moment>, bool)) -> String {
        let (answer, at, stands) = answer;
        let when = at.map_or_else(|| "time not known".to_owned(), |at| moment(&self.post, at));
        let by = answer
            .given_by
            .clone()
            .unwrap_or_else(|| "nobody named".to_owned());
        let gone = if *stands { "" } else { " · replaced" };
        format!("{when} · {} · {by}{gone}", answer.way.words())
    }
}

/// Every step that stands, then those that may still come.
pub(super) fn step_lines(
    facts: &Facts,
    post: &Post,
    now: Moment,
    expected: Option<String>,
) -> Vec<StepLine> {
    let mut known: Vec<_> = facts
        .steps
        .iter()
        .filter(|(step, _)| step.stands())
        .collect();
    known.sort_by_key(|(step, _)| step.event);
    let mut lines: Vec<_> = known
        .iter()
        .map(|(step, by)| StepLine {
            words: large(step),
            small: small(step, by.as_deref()),
            when: match step.at {
                Some(at) => format!("{}{}", short(post, at, now), after(facts, step, at)),
                None => "time not known".to_owned(),
            },
            machine: step.at.map(spoken::machine).unwrap_or_default(),
            class: "",
            amend: format!("/referrals/{}/steps/{}", facts.referral.id, step.id),
        })
        .collect();
    let to_come: &[(&'static str, ReferralState)] = &[
        ("Left", ReferralState::Decided),
        ("Arrived", ReferralState::Left),
        ("Seen", ReferralState::Arrived),
        ("Answered", ReferralState::Seen),
    ];
    let open = to_come
        .iter()
        .filter(|(_, before)| facts.referral.state <= *before);
    for (place, (words, _)) in open.enumerate() {
        let when = match (place, *words) {
            (0, "Arrived") => expected
                .as_ref()
                .map(|at| format!("expected {at}"))
                .unwrap_or_default(),
            _ => String::new(),
        };
        lines.push(StepLine {
            words,
            small: String::new(),
            when,
            machine: String::new(),
            class: if place == 0 { "next" } else { "todo" },
            amend: String::new(),
        });
    }
    lines
}

fn large(step: &Step) -> &'static str {
    match step.event {
        ReferralEvent::Decided => "Decided",
        ReferralEvent::Told => "Hospital told",
        ReferralEvent::Left => "Left",
        ReferralEvent::Arrived => "Arrived",
        ReferralEvent::Seen => "Seen",
        ReferralEvent::Answered => "Answered",
        ReferralEvent::NeverCame => "Never came",
        ReferralEvent::Declined => "Declined",
        ReferralEvent::StoodDown => "Stood down",
    }
}

fn small(step: &Step, by: Option<&str>) -> String {
    let told = [
        &step.who,
        &step.transport,
        &step.reason,
        &step.advised,
        &step.note,
    ];
    let mut parts: Vec<&str> = told.into_iter().flatten().map(String::as_str).collect();
    if let Some(why) = step.stand_down {
        parts.push(why.words());
    }
    if parts.is_empty() {
        parts.push(by.unwrap_or("by the hospital"));
    }
    parts.join("; ")
}

/// How long after the step before it.
fn after(facts: &Facts, step: &Step, at: Moment) -> String {
    let (before, words) = match step.event {
        ReferralEvent::Left => (ReferralEvent::Decided, "after deciding"),
        ReferralEvent::Arrived => (ReferralEvent::Left, "after leaving"),
        ReferralEvent::Seen => (ReferralEvent::Arrived, "after arriving"),
        ReferralEvent::Decided => {
            let first = facts.referral.first_flag_at.filter(|first| *first <= at);
            return first.map_or_else(String::new, |first| {
                format!(" ({} after the finding)", spoken::span(at - first))
            });
        }
        _ => return String::new(),
    };
    let before = facts
        .step(before)
        .and_then(|it| it.at)
        .filter(|before| *before <= at);
    before.map_or_else(String::new, |before| {
        format!(" ({} {words})", spoken::span(at - before))
    })
}

/// `GET /referrals/{id}`
pub(in crate::web) async fn show(
    carer: Carer,
    house: House,
    shell: Shell,
    sense: Sense,
    Key(id): Key<ReferralId>,
) -> Answer {
    let post = carer.post.id;
    let in_charge = carer.role == Role::Midwife;
    let (facts, post, pregnancy, answers) = house
        .read(move |db| {
            let facts = referrals::facts(db, post, id)?;
            let pregnancy = pregnancies::find(db, post, facts.referral.pregnancy_id)?;
            Ok((
                facts,
                posts::find(db, post)?,
                pregnancy,
                answers::of(db, id)?,
            ))
        })
        .await?;
    let decided = facts.referral.decided_at.date();
    let gestation = pregnancy.dated(decided).gestation_on(decided);
    let gestation = gestation.map_or_else(|| "not known".to_owned(), gestation_text);
    let lasting = pregnancy.ended_at.is_none();
    let birth_open = pregnancy.ending != Some(PregnancyEnding::Birth);
    answer::page(&ShowPage {
        shell,
        facts,
        post,
        gestation,
        answers,
        birth_open,
        lasting,
        in_charge,
        now: sense.now,
    })
}
