//! Finding a mother: those pregnant now, after birth, with a flag, or all; or whoever was asked for.

use askama::Template;

use super::line::{self, Row};
use crate::clinical::Day;
use crate::registry::mothers::{self, After, Found, Which};
use crate::registry::posts;
use crate::web::answer::{self, Answer};
use crate::web::audience::Carer;
use crate::web::form::{Query, Sense, Typed, escaped};
use crate::web::shell::Shell;
use crate::web::spoken;
use crate::web::state::House;

/// Lines of one page.
const LINES: i64 = 50;

/// The lists, by the code in the address, with their words and what stands in an empty one.
const LISTS: [(Which, &str, &str); 4] = [
    (Which::Pregnant, "pregnant", "Pregnant now"),
    (Which::AfterBirth, "after", "After birth"),
    (Which::Flagged, "flagged", "With an open flag"),
    (Which::All, "all", "All"),
];

#[derive(Template)]
#[template(path = "mothers/list.html")]
struct ListPage {
    shell: Shell,
    place: String,
    asked: String,
    which: Which,
    counts: [i64; 4],
    rows: Vec<Row>,
    first: Option<String>,
    next: Option<String>,
}

struct Tab {
    href: String,
    words: &'static str,
    count: String,
    here: bool,
}

impl ListPage {
    fn title(&self) -> String {
        if self.asked.is_empty() {
            "Mothers".to_owned()
        } else {
            format!("Mothers found for “{}”", self.asked)
        }
    }

    fn pregnant(&self) -> String {
        format!("{} pregnant now", spoken::figure(self.counts[0]))
    }

    fn tabs(&self) -> Vec<Tab> {
        let tab = |((which, code, words), count): (&(Which, &str, &'static str), &i64)| Tab {
            href: href(*which, code),
            words,
            count: spoken::figure(*count),
            here: *which == self.which,
        };
        LISTS.iter().zip(&self.counts).map(tab).collect()
    }

    fn words(&self) -> &'static str {
        LISTS
            .iter()
            .find(|(which, ..)| *which == self.which)
            .map_or("All", |(_, _, words)| words)
    }

    /// What the table shows, from whom to whom.
    fn caption(&self) -> String {
        let what = if self.asked.is_empty() {
            format!("{}, by name", self.words())
        } else {
            format!("Found for “{}”, by name", self.asked)
        };
        match (self.rows.first(), self.rows.last()) {
            (Some(first), Some(last)) if first.id != last.id => {
                format!("{what}: {} to {}", first.name, last.name)
            }
            _ => what,
        }
    }

    fn last_name(&self) -> &str {
        self.rows.last().map_or("", |row| row.name.as_str())
    }

    fn nobody(&self) -> String {
        match self.which {
            _ if !self.asked.is_empty() => format!("Nobody found for “{}”", self.asked),
            Which::Pregnant => "Nobody is pregnant now".to_owned(),
            Which::AfterBirth => "Nobody gave birth in the last six weeks".to_owned(),
            Which::Flagged => "No flag is open".to_owned(),
            Which::All => "The register is empty".to_owned(),
        }
    }

    fn nobody_why(&self) -> String {
        match self.which {
            _ if !self.asked.is_empty() => format!(
                "No name, number, village or phone at {} is like it.",
                self.place
            ),
            Which::Pregnant | Which::All => {
                "Every woman who is registered stands here with her gestation and next visit."
                    .to_owned()
            }
            Which::AfterBirth => {
                "A mother stands here for six weeks after her birth is recorded.".to_owned()
            }
            Which::Flagged => {
                "What a visit raises stands here until it is settled or decided.".to_owned()
            }
        }
    }

    fn nobody_next(&self) -> &'static str {
        if self.asked.is_empty() {
            ""
        } else {
            "Try the first letters only, or the register number on her card. Mothers of other posts are not searched."
        }
    }

    fn register_href(&self) -> String {
        if self.asked.chars().any(char::is_alphabetic) {
            format!("/mothers/new?name={}", escaped(&self.asked))
        } else {
            "/mothers/new".to_owned()
        }
    }

    fn register_words(&self) -> String {
        if self.asked.chars().any(char::is_alphabetic) {
            format!("Register {}", self.asked)
        } else {
            "Register a mother".to_owned()
        }
    }
}

fn href(which: Which, code: &str) -> String {
    if which == Which::Pregnant {
        "/mothers".to_owned()
    } else {
        format!("/mothers?show={code}")
    }
}

fn which(query: &Typed) -> Which {
    let code = query.last("show");
    LISTS
        .iter()
        .find(|(_, known, _)| *known == code)
        .map_or(Which::Pregnant, |(which, ..)| *which)
}

fn after(query: &Typed) -> Option<After> {
    let id = query.last("id").parse().ok()?;
    Some(After {
        name_folded: query.last("after").to_owned(),
        id,
    })
}

/// `GET /mothers`: `?q=`, `?show=pregnant|after|flagged|all`, and `after` with `id` for the next page.
pub(in crate::web) async fn list(
    carer: Carer,
    house: House,
    shell: Shell,
    sense: Sense,
    Query(query): Query,
) -> Answer {
    let asked: String = query
        .last("q")
        .split_whitespace()
        .collect::<Vec<_>>()
        .join(" ")
        .chars()
        .take(100)
        .collect();
    let which = if asked.is_empty() {
        which(&query)
    } else {
        Which::All
    };
    let (after, today, post, sought) = (after(&query), sense.today(), carer.post.id, asked.clone());
    let begins = after.is_none();
    let (post, found, counts) = house
        .read(move |db| {
            let post = posts::find(db, post)?;
            let found = mothers::page(db, &post, &sought, which, after.as_ref(), today, LINES)?;
            let counts = mothers::counts(db, post.id, today)?;
            Ok((post, found, counts))
        })
        .await?;
    let Found { lines, next } = found;
    let code = LISTS
        .iter()
        .find(|(known, ..)| *known == which)
        .map_or("all", |(_, code, _)| code);
    let here = if asked.is_empty() {
        format!("/mothers?show={code}")
    } else {
        format!("/mothers?q={}", escaped(&asked))
    };
    answer::page(&ListPage {
        place: post.name.clone(),
        rows: lines
            .into_iter()
            .map(|found| line::row(found, &post, today))
            .collect(),
        first: (!begins).then(|| here.clone()),
        next: next.map(|after| {
            format!(
                "{here}&after={}&id={}",
                escaped(&after.name_folded),
                after.id
            )
        }),
        asked,
        which,
        counts,
        shell,
    })
}

/// Kept apart from the list, so that a day of the register can be read without a page.
pub(super) fn gestation_words(due: Option<Day>, today: Day) -> String {
    use crate::clinical::dating::{TERM_DAYS, gestation_on};
    let Some(due) = due else {
        return "unknown".to_owned();
    };
    match gestation_on(due, today) {
        Some(days) => spoken::gestation(i64::from(days)),
        None if TERM_DAYS - (due - today).num_days() < 0 => "unknown".to_owned(),
        None => "over 44w by her dates".to_owned(),
    }
}
