//! Flags that were decided, or settled by a later examination.

use askama::Template;
use chrono::TimeDelta;

use super::super::hers::{joined, moment};
use super::eyebrow;
use crate::clinical::Moment;
use crate::registry::flags::{self, Waiting};
use crate::registry::posts::{self, Post};
use crate::web::answer::{self, Answer};
use crate::web::audience::Midwife;
use crate::web::shell::Shell;
use crate::web::state::House;

/// How far back these lists look; the mother's page keeps all.
const LOOK_BACK: TimeDelta = TimeDelta::days(30);
const MOST: i64 = 200;

#[derive(Template)]
#[template(path = "review/past.html")]
struct PastPage {
    shell: Shell,
    post: Post,
    shown: &'static str,
    lines: Vec<Waiting>,
    now: Moment,
}

impl PastPage {
    fn eyebrow(&self) -> String {
        eyebrow(&self.post, self.now)
    }

    fn register(&self, it: &Waiting) -> String {
        joined(&self.post.register_number(it.number))
    }

    fn outcome(&self, it: &Waiting) -> String {
        let flag = &it.flag;
        if self.shown == "decided" {
            let decision = flag.decision.map_or("", |it| it.words());
            let when = flag
                .decided_at
                .map(|at| moment(&self.post, at))
                .unwrap_or_default();
            format!(
                "{decision}, {when}: {}",
                flag.reason.as_deref().unwrap_or("no reason written")
            )
        } else {
            let when = flag
                .closed_at
                .map(|at| moment(&self.post, at))
                .unwrap_or_default();
            format!("settled by a later examination, {when}")
        }
    }
}

/// The list called `decided` or `settled`.
pub(super) async fn show(
    midwife: &Midwife,
    house: &House,
    shell: Shell,
    shown: &'static str,
    now: Moment,
) -> Answer {
    let id = midwife.post.id;
    let (post, lines) = house
        .read(move |db| {
            let since = now - LOOK_BACK;
            let lines = match shown {
                "decided" => flags::decided_since(db, id, since, MOST)?,
                _ => flags::settled_since(db, id, since, MOST)?,
            };
            Ok((posts::find(db, id)?, lines))
        })
        .await?;
    answer::page(&PastPage {
        shell,
        post,
        shown,
        lines,
        now,
    })
}
