//! The keeper's Today: is everything safe, and which setting is missing?

use askama::Template;
use chrono::TimeDelta;
use chrono_tz::Tz;

use super::parts::{DoNext, Figure, Way};
use super::people;
use crate::clinical::Moment;
use crate::registry::hospitals::{self, Hospital};
use crate::registry::posts::{self, Post, Travel};
use crate::registry::staff::{self, Account};
use crate::registry::{self, Db, Role, audit, today};
use crate::web::answer::{self, Answer};
use crate::web::audience::SignedIn;
use crate::web::shell::Shell;
use crate::web::spoken;
use crate::web::state::House;

/// So many lines of the trail are tried on every opening of the page.
const TRIED_LINES: i64 = 2_000;
/// What is written in a week can still be written again from paper.
const COPY_GROWS_OLD: TimeDelta = TimeDelta::days(7);

#[derive(Template)]
#[template(path = "today/keeper.html")]
struct KeeperPage {
    shell: Shell,
    eyebrow: String,
    next: DoNext,
    states: Vec<State>,
    missing: Vec<Missing>,
    tally: Vec<Figure>,
}

/// One line of “Is everything safe”.
struct State {
    what: &'static str,
    class: &'static str,
    tag: String,
    words: String,
    way: Option<Way>,
}

/// A setting that is not there, and where to make it.
struct Missing {
    name: String,
    href: String,
    number: String,
    why: String,
    act: Way,
}

/// What the page is made of, read at one moment.
struct Known {
    posts: Vec<(Post, Vec<Travel>)>,
    hospitals: Vec<Hospital>,
    accounts: Vec<Account>,
    trail: audit::ChainCheck,
    lines: i32,
    last_copy: Option<Moment>,
}

impl Known {
    fn read(db: &mut Db, now: Moment) -> registry::Result<Self> {
        let open = posts::list(db)?
            .into_iter()
            .filter(|post| post.stopped_at.is_none());
        let posts = open
            .map(|post| posts::ways(db, post.id).map(|ways| (post, ways)))
            .collect::<registry::Result<_>>()?;
        let newest = audit::page(db, &audit::Filter::default(), None, 1)?;
        Ok(Self {
            posts,
            hospitals: hospitals::list(db)?
                .into_iter()
                .filter(|it| it.stopped_at.is_none())
                .collect(),
            accounts: staff::list(db, now)?
                .into_iter()
                .filter(|it| it.staff.stopped_at.is_none())
                .collect(),
            trail: audit::check_newest(db, TRIED_LINES)?,
            lines: newest.first().map_or(0, |line| line.seq),
            last_copy: today::house(db, now)?.last_backup,
        })
    }

    fn missing(&self) -> Vec<Missing> {
        let mut missing = Vec::new();
        for (post, ways) in &self.posts {
            let mut lacks = |why: &str, act: Way| {
                missing.push(Missing {
                    name: post.name.clone(),
                    href: format!("/posts/{}", post.id),
                    number: "post".to_owned(),
                    why: why.to_owned(),
                    act,
                });
            };
            let set = || Way::to(format!("/posts/{}", post.id), "Set it");
            let operates = |way: &Travel| {
                self.hospitals
                    .iter()
                    .any(|it| it.id == way.hospital_id && it.can_operate)
            };
            if !ways.iter().any(operates) {
                lacks(
                    "No travel time to a hospital that can operate: its pages cannot say when a woman must leave.",
                    set(),
                );
            }
            if post.phone.is_none() {
                lacks(
                    "No phone: its letters and messages tell the hospital no number to call.",
                    set(),
                );
            }
            let has = |role| {
                self.accounts
                    .iter()
                    .any(|it| it.staff.role == role && it.staff.post_id == Some(post.id))
            };
            if !has(Role::Midwife) {
                lacks(
                    "No midwife in charge has an account: nobody reviews its flags or signs its months.",
                    Way::to("/staff", "Add one"),
                );
            }
        }
        if self.hospitals.is_empty() {
            missing.push(Missing {
                name: "Receiving hospitals".to_owned(),
                href: "/posts".to_owned(),
                number: String::new(),
                why: "None is in the register: nobody can be referred.".to_owned(),
                act: Way::to("/posts", "Add one"),
            });
        }
        missing
    }

    fn chain(&self) -> State {
        let all = spoken::count(i64::from(self.lines), "line", "lines");
        let way = Some(Way::to("/trail", "Trail"));
        match self.trail.broken_at {
            None => State {
                what: "Audit chain",
                class: "done",
                tag: "whole".to_owned(),
                words: if self.trail.whole == self.lines {
                    format!("all {all} hold together, tried just now.")
                } else {
                    let tried = spoken::figure(i64::from(self.trail.whole));
                    format!(
                        "the newest {tried} of {all} hold together, tried just now. “brimline check” tries every one."
                    )
                },
                way,
            },
            Some(line) => State {
                what: "Audit chain",
                class: "late",
                tag: "broken".to_owned(),
                words: format!(
                    "line {line} was changed or taken out. Keep a copy of the data folder as it is, and tell who supports you."
                ),
                way,
            },
        }
    }

    fn copy(&self, now: Moment, zone: Tz) -> State {
        let Some(made) = self.last_copy else {
            return State {
                what: "Copy",
                class: "late",
                tag: "none known".to_owned(),
                words: "This program has made no copy of the registry. Once a week stop it, copy the whole data folder to another disk, and start it again.".to_owned(),
                way: None,
            };
        };
        let old = now - made > COPY_GROWS_OLD;
        State {
            what: "Copy",
            class: if old { "late" } else { "done" },
            tag: if old { "old" } else { "good" }.to_owned(),
            words: format!("the last one was made {}.", people::when(made, now, zone)),
            way: None,
        }
    }

    fn next(&self, missing: &[Missing]) -> DoNext {
        if let Some(line) = self.trail.broken_at {
            return DoNext::calm(format!("The trail is broken at line {line}."))
                .because("Somebody changed the database past the program. Copy the data folder before anything else is done.")
                .by(Way::to("/trail", "Open the trail"));
        }
        match missing.first() {
            Some(first) => {
                let more = missing.len() - 1;
                let others = match more {
                    0 => String::new(),
                    more => format!(
                        "And {} below.",
                        spoken::count(
                            i64::try_from(more).unwrap_or_default(),
                            "more thing",
                            "more things"
                        )
                    ),
                };
                DoNext::calm(format!("{}: {}", first.name, lower(&first.why)))
                    .because(others)
                    .by(first.act.clone())
            }
            None => DoNext::calm("Every post has what it needs.")
                .because("Make the weekly copy of the data folder; nothing else waits."),
        }
    }

    fn tally(&self) -> Vec<Figure> {
        let sessions: usize = self.accounts.iter().map(|it| it.open_sessions).sum();
        vec![
            Figure::of(self.posts.len(), "Posts", "/posts"),
            Figure::of(self.accounts.len(), "Accounts open", "/staff"),
            Figure::of(sessions, "Sessions now", "/staff"),
            Figure::of(
                spoken::figure(i64::from(self.lines)),
                "Lines in the trail",
                "/trail",
            ),
        ]
    }
}

fn lower(why: &str) -> String {
    let mut rest = why.chars();
    let first = rest.next().into_iter().flat_map(char::to_lowercase);
    first.chain(rest).collect()
}

/// `GET /` for the keeper.
pub(super) async fn show(keeper: &SignedIn, house: &House, shell: Shell) -> Answer {
    let now = house.now();
    let known = house.read(move |db| Known::read(db, now)).await?;
    let missing = known.missing();
    let day = spoken::long_day(spoken::local_day(now, keeper.zone));
    let place = match keeper.place() {
        "" => String::new(),
        place => format!(" · {place}"),
    };
    answer::page(&KeeperPage {
        eyebrow: format!("{day}{place}"),
        next: known.next(&missing),
        states: vec![known.copy(now, keeper.zone), known.chain()],
        tally: known.tally(),
        missing,
        shell,
    })
}
