//! Accounts: who signs in, as what and where; opening, resetting, stopping.

mod account;
mod open;

use askama::Template;
use chrono::TimeDelta;

use crate::clinical::Moment;
use crate::registry::posts::{self, Post};
use crate::registry::staff::{self, Account};
use crate::registry::{PostId, StaffId};
use crate::web::answer::{self, Answer};
use crate::web::audience::Keeper;
use crate::web::form::{Faults, Form as _, Opt, Query, Sense, Typed};
use crate::web::shell::Shell;
use crate::web::spoken;
use crate::web::state::House;

pub(in crate::web) use account::{end_sessions, reset, show, stop};
pub(in crate::web) use open::add;

use open::NewForm;

/// An account that nobody used for so long is worth a look. [O]
const UNUSED: TimeDelta = TimeDelta::days(90);

struct Line {
    id: StaffId,
    name: String,
    sign_in: String,
    role: &'static str,
    post: String,
    seen: String,
    state: State,
    sessions: String,
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum State {
    Open,
    NotUsed,
    Stopped,
}

impl State {
    fn of(account: &Account, now: Moment) -> Self {
        let used = account.last_seen.unwrap_or(account.staff.made_at);
        if account.staff.stopped_at.is_some() {
            Self::Stopped
        } else if now - used > UNUSED {
            Self::NotUsed
        } else {
            Self::Open
        }
    }
}

impl Line {
    fn of(account: &Account, sense: &Sense, me: StaffId) -> Self {
        let open = i64::try_from(account.open_sessions).unwrap_or_default();
        let mut sessions = match (account.staff.stopped_at, open) {
            (Some(at), _) => spoken::short_day(spoken::local_day(at, sense.zone)),
            (None, 0) => String::new(),
            (None, open) => spoken::count(open, "session", "sessions"),
        };
        if account.staff.id == me {
            sessions = format!("you, {sessions}");
        }
        Self {
            id: account.staff.id,
            name: account.staff.name.clone(),
            sign_in: account.staff.sign_in.clone(),
            role: account.staff.role.words(),
            post: account.post.clone().unwrap_or_else(|| "–".to_owned()),
            seen: account
                .last_seen
                .map(|at| spoken::moment(at, sense.zone))
                .unwrap_or_default(),
            state: State::of(account, sense.now),
            sessions,
        }
    }
}

/// Which accounts the list shows.
struct Sift {
    name: String,
    post: String,
    state: String,
}

impl Sift {
    fn read(asked: &Typed) -> Self {
        let text = |name: &str| asked.last(name).trim().to_owned();
        Self {
            name: text("q"),
            post: text("post"),
            state: text("state"),
        }
    }

    fn shows(&self, account: &Account, now: Moment) -> bool {
        let sought = self.name.to_lowercase();
        let named = [&account.staff.name, &account.staff.sign_in];
        let state = State::of(account, now);
        (sought.is_empty()
            || named
                .iter()
                .any(|name| name.to_lowercase().contains(&sought)))
            && self
                .post
                .parse()
                .map_or(self.post.is_empty(), |post: PostId| {
                    account.staff.post_id == Some(post)
                })
            && match self.state.as_str() {
                "stopped" => state == State::Stopped,
                "unused" => state == State::NotUsed,
                "all" => true,
                _ => state != State::Stopped,
            }
    }
}

#[derive(Template)]
#[template(path = "staff/list.html")]
struct ListPage {
    shell: Shell,
    summary: String,
    sift: Sift,
    states: Vec<Opt>,
    lines: Vec<Line>,
    posts: Vec<Opt>,
    roles: Vec<Opt>,
    form: NewForm,
    faults: Faults,
}

impl ListPage {
    fn new(
        keeper: &Keeper,
        shell: Shell,
        sense: &Sense,
        (accounts, posts): &(Vec<Account>, Vec<Post>),
        sift: Sift,
        (form, faults): (NewForm, Faults),
    ) -> Self {
        let stopped = accounts
            .iter()
            .filter(|it| it.staff.stopped_at.is_some())
            .count();
        let mut summary = format!(
            "{} accounts open, {stopped} stopped",
            accounts.len() - stopped
        );
        if !keeper.place().is_empty() {
            summary = format!("{} · {summary}", keeper.place());
        }
        let shown = accounts
            .iter()
            .filter(|account| sift.shows(account, sense.now));
        Self {
            shell,
            summary,
            lines: shown
                .map(|account| Line::of(account, sense, keeper.id))
                .collect(),
            sift,
            states: [
                ("", "Open"),
                ("unused", "Not used for 90 days"),
                ("stopped", "Stopped"),
                ("all", "All"),
            ]
            .map(|(code, words)| Opt::new(code, words))
            .into(),
            posts: posts
                .iter()
                .filter(|post| post.stopped_at.is_none())
                .map(|post| Opt::new(post.id.to_string(), &*post.name))
                .collect(),
            roles: open::roles(),
            form,
            faults,
        }
    }
}

async fn everyone(
    house: &House,
) -> Result<(Vec<Account>, Vec<Post>), crate::web::error::PageError> {
    let now = house.now();
    house
        .read(move |db| Ok((staff::list(db, now)?, posts::list(db)?)))
        .await
}

/// `GET /staff`
pub(in crate::web) async fn list(
    keeper: Keeper,
    house: House,
    shell: Shell,
    sense: Sense,
    Query(asked): Query,
) -> Answer {
    let everyone = everyone(&house).await?;
    let form = NewForm::read(&Typed::default(), &sense);
    let asked = Sift::read(&asked);
    answer::page(&ListPage::new(
        &keeper,
        shell,
        &sense,
        &everyone,
        asked,
        (form, Faults::default()),
    ))
}
