//! Review: the flags that wait for the midwife in charge, by urgency and age; one opens in place.

mod past;

use askama::Template;

use super::hers::{Hers, joined, short};
use crate::clinical::{self, CAUTION, Moment};
use crate::registry::flags::{self, After, Flag, Waiting};
use crate::registry::posts::{self, Post};
use crate::registry::{FlagDecision, FlagId, RegistryError};
use crate::web::answer::{self, Answer};
use crate::web::audience::Midwife;
use crate::web::charts::{Drawing, abdomen};
use crate::web::error::PageError;
use crate::web::flash::Said;
use crate::web::form::{Asked, CheckedForm, Faults, Field, Form, Opt, Query, Sense, Typed, parse};
use crate::web::path::Key;
use crate::web::shell::Shell;
use crate::web::spoken;
use crate::web::state::House;

const LINES: i64 = 50;

/// What the midwife chose.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Choice {
    Refer,
    Confirm,
    Dismiss,
}

fn choice(text: &str) -> Result<Choice, String> {
    match text {
        "refer" => Ok(Choice::Refer),
        "confirm" => Ok(Choice::Confirm),
        "dismiss" => Ok(Choice::Dismiss),
        _ => Err("choose one of the three".to_owned()),
    }
}

fn choices() -> Vec<Opt> {
    vec![
        Opt::new("refer", "Refer")
            .saying("The finding stands and she needs the hospital. Next page: where, when, how."),
        Opt::new("confirm", "Confirm, care here")
            .saying("The finding stands; say how it is followed at the post."),
        Opt::new("dismiss", "Dismiss")
            .saying("The finding does not stand, for example after you felt it yourself."),
    ]
}

/// The decision about one flag.
#[derive(Debug, Clone)]
pub(crate) struct ReviewForm {
    decision: Field<Choice>,
    reason: Field<String>,
    revision: Field<i32>,
}

impl Form for ReviewForm {
    fn read(typed: &Typed, _: &Sense) -> Self {
        let mut form = Self {
            decision: Field::choice(typed, "decision", "Your decision", &choices(), choice)
                .needed("choose one of the three"),
            reason: Field::read(typed, "reason", "Reason or plan", parse::lines(1000)),
            revision: Field::read(typed, "revision", "Revision", parse::whole(1..=i32::MAX)),
        };
        if matches!(form.decision.value, Some(Choice::Confirm | Choice::Dismiss)) {
            form.reason = form.reason.needed("write the reason, or the plan");
        }
        form
    }

    fn faults(&self) -> Faults {
        let asked: [&dyn Asked; 2] = [&self.decision, &self.reason];
        Faults::of(&asked)
    }
}

/// The flag that is open in place.
struct Open {
    flag: Flag,
    form: ReviewForm,
    hers: Hers,
    raised_by: Option<String>,
}

impl Open {
    /// The caution stands once, under the form.
    fn advice(&self) -> &str {
        let advice = self.flag.advice.trim_end();
        advice.strip_suffix(CAUTION).unwrap_or(advice).trim_end()
    }

    fn rule(&self) -> &str {
        clinical::rule(&self.flag.rule).map_or(&self.flag.rule, |rule| rule.when)
    }
}

/// The abdomen with its sentence.
struct Felt {
    drawing: Drawing,
    words: String,
    when: String,
}

#[derive(Template)]
#[template(path = "review/list.html")]
struct ReviewPage {
    shell: Shell,
    post: Post,
    waiting: Vec<Waiting>,
    counts: [i64; 3],
    open: Option<Open>,
    faults: Faults,
    refusal: String,
    stale: bool,
    more: String,
    now: Moment,
}

impl ReviewPage {
    fn eyebrow(&self) -> String {
        eyebrow(&self.post, self.now)
    }

    fn count(&self) -> i64 {
        self.counts.iter().sum()
    }

    fn summary(&self) -> String {
        let oldest = self.waiting.iter().map(|it| it.flag.raised_at).min();
        let waits = spoken::count(self.count(), "flag waits", "flags wait");
        match oldest {
            Some(oldest) => format!(
                "{waits}, the oldest for {}.",
                spoken::span(self.now - oldest)
            ),
            None => format!("{waits}."),
        }
    }

    fn register(&self, it: &Waiting) -> String {
        joined(&self.post.register_number(it.number))
    }

    fn raised(&self, flag: &Flag) -> String {
        short(&self.post, flag.raised_at, self.now)
    }

    fn is_open(&self, it: &Waiting) -> bool {
        self.open
            .as_ref()
            .is_some_and(|open| open.flag.id == it.flag.id)
    }

    /// What the hands felt at the last visit, when they felt anything.
    fn picture(&self, open: &Open) -> Option<Felt> {
        let seen = open
            .hers
            .case
            .visits
            .iter()
            .filter(|visit| visit.at <= self.now);
        let last = seen.max_by_key(|visit| visit.at)?;
        let conclusion = open.hers.assessment.palpation.as_ref();
        let felt = last.palpation.as_ref()?;
        Some(Felt {
            drawing: abdomen::draw("ab", felt, conclusion),
            words: abdomen::words(felt, conclusion).sentence,
            when: short(&self.post, last.at, self.now),
        })
    }

    /// The open flag is not in the list any more: decided or settled meanwhile, or on a later page.
    fn opened_alone(&self) -> bool {
        self.open
            .as_ref()
            .is_some_and(|open| self.waiting.iter().all(|it| it.flag.id != open.flag.id))
    }

    fn choices(&self) -> Vec<Opt> {
        choices()
    }
}

fn eyebrow(post: &Post, now: Moment) -> String {
    let local = post.local(now);
    format!(
        "{} · {}",
        local.format("%A %-d\u{a0}%b %Y, %H:%M"),
        post.name
    )
}

/// `GET /review`
pub(in crate::web) async fn list(
    midwife: Midwife,
    house: House,
    shell: Shell,
    sense: Sense,
    Query(query): Query,
) -> Answer {
    let shown = match query.last("show") {
        "decided" => "decided",
        "settled" => "settled",
        _ => "",
    };
    if shown.is_empty() {
        let open: Option<FlagId> = query.last("open").parse().ok();
        let after: Option<FlagId> = query.last("after").parse().ok();
        let page = read(&midwife, &house, shell, &sense, open, after).await?;
        return answer::page(&page);
    }
    past::show(&midwife, &house, shell, shown, sense.now).await
}

/// `POST /review/{flag}`
pub(in crate::web) async fn decide(
    midwife: Midwife,
    house: House,
    shell: Shell,
    sense: Sense,
    Key(id): Key<FlagId>,
    CheckedForm(mut form): CheckedForm<ReviewForm>,
) -> Answer {
    let (mut refusal, mut stale) = (String::new(), false);
    if form.faults().is_empty()
        && let (Some(chosen), Some(revision)) = (form.decision.value, form.revision.value)
    {
        let decision = match chosen {
            Choice::Refer | Choice::Confirm => FlagDecision::Confirmed,
            Choice::Dismiss => FlagDecision::Dismissed,
        };
        let reason = form.reason.value.clone();
        let written = reason
            .clone()
            .unwrap_or_else(|| "To be referred.".to_owned());
        let done = house
            .write(&midwife, move |change| {
                flags::decide(change, id, revision, decision, &written)
            })
            .await;
        match done {
            Ok(()) if chosen == Choice::Refer => {
                let reason = encoded(reason.as_deref().unwrap_or_default());
                return answer::go_and_say(
                    &house,
                    format!("/referrals/new?flag={id}&reason={reason}"),
                    Said::FlagConfirmed,
                );
            }
            Ok(()) => {
                let said = if chosen == Choice::Dismiss {
                    Said::FlagDismissed
                } else {
                    Said::FlagConfirmed
                };
                return answer::go_and_say(&house, next_flag(&midwife, &house).await?, said);
            }
            Err(PageError::Registry(RegistryError::RefusedField { why, .. })) => {
                form.reason.refuse(why);
            }
            Err(PageError::Registry(RegistryError::Refused(why))) => refusal = why,
            Err(PageError::Registry(RegistryError::Stale { .. })) => stale = true,
            Err(error) => return Err(error),
        }
    }
    let mut page = read(&midwife, &house, shell, &sense, Some(id), None).await?;
    page.faults = form.faults();
    page.refusal = refusal;
    page.stale = stale;
    if let Some(open) = &mut page.open {
        form.revision = form.revision.holding(open.flag.revision);
        open.form = form;
    }
    if stale {
        answer::stale(&page)
    } else {
        answer::refused(&page)
    }
}

async fn next_flag(midwife: &Midwife, house: &House) -> Result<String, PageError> {
    let post = midwife.post.id;
    let next = house
        .read(move |db| flags::waiting(db, post, None, 1))
        .await?;
    Ok(next.first().map_or_else(
        || "/review".to_owned(),
        |it| format!("/review?open={}#open", it.flag.id),
    ))
}

async fn read(
    midwife: &Midwife,
    house: &House,
    shell: Shell,
    sense: &Sense,
    open: Option<FlagId>,
    after: Option<FlagId>,
) -> Result<ReviewPage, PageError> {
    let (id, now) = (midwife.post.id, sense.now);
    let (post, mut waiting, counts, opened) = house
        .read(move |db| {
            let after = match after {
                Some(after) => {
                    let (flag, _) = flags::find(db, id, after)?;
                    Some(After {
                        urgency: flag.urgency,
                        raised_at: flag.raised_at,
                        id: flag.id,
                    })
                }
                None => None,
            };
            let opened = match open {
                Some(open) => {
                    let (flag, _) = flags::find(db, id, open)?;
                    let hers = Hers::read(db, id, flag.pregnancy_id, now)?;
                    Some((flag, hers))
                }
                None => None,
            };
            let waiting = flags::waiting(db, id, after.as_ref(), LINES + 1)?;
            Ok((
                posts::find(db, id)?,
                waiting,
                flags::waiting_count(db, id)?,
                opened,
            ))
        })
        .await?;
    let over = i64::try_from(waiting.len()).unwrap_or(i64::MAX) > LINES;
    waiting.truncate(50);
    let more = waiting
        .last()
        .filter(|_| over)
        .map(|it| format!("/review?after={}", it.flag.id));
    let open = opened.map(|(flag, hers)| {
        let mut form = ReviewForm::read(&Typed::default(), sense);
        form.revision = form.revision.holding(flag.revision);
        let raised_by = waiting
            .iter()
            .find(|it| it.flag.id == flag.id)
            .and_then(|it| it.raised_by.clone());
        Open {
            flag,
            form,
            hers,
            raised_by,
        }
    });
    Ok(ReviewPage {
        shell,
        post,
        waiting,
        counts,
        open,
        faults: Faults::default(),
        refusal: String::new(),
        stale: false,
        more: more.unwrap_or_default(),
        now,
    })
}

/// As a value in an address.
fn encoded(text: &str) -> String {
    use std::fmt::Write as _;
    text.bytes().fold(String::new(), |mut out, byte| {
        if byte.is_ascii_alphanumeric() {
            out.push(char::from(byte));
        } else {
            let _ = write!(out, "%{byte:02X}");
        }
        out
    })
}
