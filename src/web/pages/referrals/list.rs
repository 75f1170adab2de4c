//! Which referrals wait, the most pressing first; and those that are closed.

use askama::Template;

use super::super::hers::{joined, short};
use crate::clinical::{Category, Moment, Urgency};
use crate::registry::posts::{self, Post};
use crate::registry::referrals::{self, After, Closed, ClosedLine, Waiting, WaitingPage};
use crate::registry::{ReferralId, ReferralState};
use crate::web::answer::{self, Answer};
use crate::web::audience::Carer;
use crate::web::form::{Query, Sense};
use crate::web::shell::Shell;
use crate::web::spoken;
use crate::web::state::House;

const LINES: usize = 50;

#[derive(Template)]
#[template(path = "referrals/waiting.html")]
struct ListPage {
    shell: Shell,
    post: Post,
    page: WaitingPage,
    now: Moment,
}

/// Reasons in one line.
pub(super) fn reasons(of: &[Category]) -> String {
    let words: Vec<_> = of.iter().map(|it| it.words()).collect();
    words.join(", ")
}

impl ListPage {
    fn eyebrow(&self) -> String {
        let local = self.post.local(self.now);
        format!(
            "{} · {}",
            local.format("%A %-d\u{a0}%b %Y, %H:%M"),
            self.post.name
        )
    }

    fn summary(&self) -> String {
        match (self.page.count, self.page.late, self.page.lines.first()) {
            (0, ..) => String::new(),
            (_, 0, _) => "None is late.".to_owned(),
            (_, late, Some(first)) => {
                let are = if late == 1 { "is" } else { "are" };
                format!(
                    "{late} {are} late. First: {}, {}.",
                    first.name,
                    self.waits_for(first)
                )
            }
            (_, late, None) => format!("{late} late."),
        }
    }

    fn register(&self, it: &Waiting) -> String {
        joined(&it.register)
    }

    fn reasons(&self, it: &Waiting) -> String {
        reasons(&it.reasons)
    }

    fn is_late(&self, it: &Waiting) -> bool {
        it.is_late(self.now)
    }

    fn late_by(&self, it: &Waiting) -> String {
        if it.progress.labels(self.now).lost_since.is_some() {
            return "lost".to_owned();
        }
        match it.due_at {
            Some(due) if due <= self.now => spoken::span(self.now - due),
            Some(due) if it.referral.urgency == Urgency::Now => {
                format!("{} left", spoken::span(due - self.now))
            }
            _ => "in time".to_owned(),
        }
    }

    fn waits_for(&self, it: &Waiting) -> String {
        match it.referral.state {
            ReferralState::Decided => match it.referral.planned_for {
                Some(day) => format!("leaving, booked for {}", spoken::short_day(day)),
                None => "leaving".to_owned(),
            },
            ReferralState::Left => match expected(it) {
                Some(at) => format!(
                    "arrival at {}, expected {}",
                    it.hospital,
                    short(&self.post, at, self.now)
                ),
                None => format!("arrival at {}", it.hospital),
            },
            _ => match it.due_at {
                Some(due) => format!(
                    "the hospital’s answer, due {}",
                    spoken::short_day(self.post.day(due))
                ),
                None => "the hospital’s answer".to_owned(),
            },
        }
    }

    fn where_she_is(&self, it: &Waiting) -> String {
        let told = it
            .told_at
            .map(|at| format!(", hospital told {}", short(&self.post, at, self.now)));
        match (it.referral.state, it.arrived_at) {
            (ReferralState::Decided, _) => {
                format!("Not left by our record{}", told.unwrap_or_default())
            }
            (ReferralState::Left, _) => match it.progress.left {
                Some(left) => format!("On the way since {}", short(&self.post, left, self.now)),
                None => "On the way, time not known".to_owned(),
            },
            (_, Some(Some(at))) => format!(
                "At {} since {}",
                it.hospital,
                short(&self.post, at, self.now)
            ),
            _ => format!("At {}", it.hospital),
        }
    }

    /// Where the next step is written down, and its words.
    fn action(&self, it: &Waiting) -> (&'static str, &'static str) {
        match it.referral.state {
            ReferralState::Decided => ("/left", "She left"),
            ReferralState::Left => ("/arrived", "Record arrival"),
            _ => ("/answer", "Write the answer"),
        }
    }
}

/// When she should arrive, by the post's own travel time.
fn expected(it: &Waiting) -> Option<Moment> {
    let minutes = it.progress.travel_minutes?;
    Some(it.progress.left? + chrono::TimeDelta::minutes(i64::from(minutes)))
}

#[derive(Template)]
#[template(path = "referrals/closed.html")]
struct ClosedPage {
    shell: Shell,
    post: Post,
    shown: &'static str,
    lines: Vec<ClosedLine>,
    more: bool,
    now: Moment,
}

impl ClosedPage {
    fn eyebrow(&self) -> String {
        let local = self.post.local(self.now);
        format!(
            "{} · {}",
            local.format("%A %-d\u{a0}%b %Y, %H:%M"),
            self.post.name
        )
    }

    fn register(&self, it: &ClosedLine) -> String {
        joined(&it.register)
    }

    fn reasons(&self, it: &ClosedLine) -> String {
        reasons(&it.reasons)
    }

    fn decided(&self, it: &ClosedLine) -> String {
        spoken::day(self.post.day(it.referral.decided_at))
    }

    fn state(&self, it: &ClosedLine) -> String {
        if it.referral.entered_in_error {
            "entered in error".to_owned()
        } else {
            it.referral.state.words().to_owned()
        }
    }

    fn next(&self) -> Option<String> {
        let last = self.lines.last().filter(|_| self.more)?;
        Some(format!(
            "/referrals?show={}&after={}",
            self.shown, last.referral.id
        ))
    }

    /// What a list without lines says.
    fn empty(&self) -> (&'static str, &'static str) {
        match self.shown {
            "answered" => (
                "No referral is answered yet.",
                "What a hospital answers, on paper or by phone, stands here.",
            ),
            "ended" => (
                "None ended without hospital.",
                "A woman who never came, declined or was stood down stands here.",
            ),
            _ => (
                "Nobody was ever referred from here.",
                "A referral is decided from a flag in Review, or freely from the mother’s page.",
            ),
        }
    }
}

/// `GET /referrals`
pub(in crate::web) async fn list(
    carer: Carer,
    house: House,
    shell: Shell,
    sense: Sense,
    Query(query): Query,
) -> Answer {
    let (id, now) = (carer.post.id, sense.now);
    let after: Option<ReferralId> = query.last("after").parse().ok();
    let which = match query.last("show") {
        "answered" => Some((Closed::Answered, "answered")),
        "ended" => Some((Closed::WithoutHospital, "ended")),
        "all" => Some((Closed::All, "all")),
        _ => None,
    };
    if let Some((which, shown)) = which {
        let (post, mut lines) = house
            .read(move |db| {
                let after = match after {
                    Some(after) => {
                        let last = referrals::find(db, id, after)?;
                        Some(After {
                            at: last.decided_at,
                            id: last.id,
                        })
                    }
                    None => None,
                };
                let most = i64::try_from(LINES + 1).unwrap_or(i64::MAX);
                Ok((
                    posts::find(db, id)?,
                    referrals::closed(db, id, which, after, most)?,
                ))
            })
            .await?;
        let more = lines.len() > LINES;
        lines.truncate(LINES);
        return answer::page(&ClosedPage {
            shell,
            post,
            shown,
            lines,
            more,
            now,
        });
    }
    let (post, page) = house
        .read(move |db| {
            Ok((
                posts::find(db, id)?,
                referrals::waiting(db, id, now, after, LINES)?,
            ))
        })
        .await?;
    answer::page(&ListPage {
        shell,
        post,
        page,
        now,
    })
}
