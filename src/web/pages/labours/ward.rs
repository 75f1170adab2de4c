//! Everybody in labour, the most urgent first.

use askama::Template;
use chrono::TimeDelta;

use super::super::hers::{joined, short};
use super::words::{Judged, due_words, judged};
use crate::clinical::{LabourProtocol, Moment, Urgency};
use crate::registry::labours::{self, Labour};
use crate::registry::posts::{self, Post};
use crate::registry::{By, LabourEnding};
use crate::web::answer::{self, Answer};
use crate::web::audience::Carer;
use crate::web::form::Sense;
use crate::web::shell::Shell;
use crate::web::spoken;
use crate::web::state::House;

#[derive(Template)]
#[template(path = "labours/ward.html")]
struct WardPage {
    shell: Shell,
    post: Post,
    women: Vec<Judged>,
    ended: Vec<Labour>,
    now: Moment,
}

impl WardPage {
    fn eyebrow(&self) -> String {
        let local = self.post.local(self.now).format("%A %-d\u{a0}%b %Y, %H:%M");
        let women = i64::try_from(self.women.len()).unwrap_or_default();
        format!(
            "{local} · {}, {}",
            self.post.name,
            spoken::count(women, "woman", "women")
        )
    }

    /// The woman for whom something must happen now.
    fn first(&self) -> Option<&Judged> {
        self.women
            .first()
            .filter(|it| it.urgency() == Some(Urgency::Now))
    }

    fn register(&self, it: &Labour) -> String {
        let birth = match it.births_before {
            Some(0) => ", first birth".to_owned(),
            Some(births) => format!(
                ", {} before",
                spoken::count(i64::from(births), "birth", "births")
            ),
            None => String::new(),
        };
        format!("{}{birth}", joined(&it.register))
    }

    fn class(&self, it: &Judged) -> &'static str {
        it.urgency().map_or("", |urgency| urgency.code())
    }

    fn state(&self, it: &Judged) -> String {
        it.state(self.now)
    }

    fn stage(&self, it: &Judged) -> String {
        match it.picture().and_then(|labour| labour.stage) {
            Some(stage) => stage.words().to_owned(),
            None => "–".to_owned(),
        }
    }

    fn examined(&self, it: &Judged) -> String {
        let rows = it.hers.case.labour.iter().filter(|row| row.at <= self.now);
        let last = rows
            .filter(|row| row.dilatation_cm.is_some())
            .max_by_key(|row| row.at);
        match last.and_then(|row| row.dilatation_cm.map(|cm| (cm, row.at))) {
            Some((cm, at)) => format!("{cm}\u{a0}cm at {}", short(&self.post, at, self.now)),
            None => "not inside yet".to_owned(),
        }
    }

    fn due(&self, it: &Judged) -> (String, String, bool) {
        match it.first_due() {
            Some(due) => {
                let (words, overdue) = due_words(due, self.now);
                (
                    format!(
                        "{} {}",
                        due.what.words(),
                        short(&self.post, due.at, self.now)
                    ),
                    words,
                    overdue,
                )
            }
            None => ("–".to_owned(), String::new(), false),
        }
    }

    fn to_leave(&self, it: &Judged) -> (String, String) {
        it.to_leave(self.now)
    }

    fn protocol(&self) -> &'static str {
        LabourProtocol::words(self.post.labour_protocol)
    }

    fn how_it_ended(&self, it: &Labour) -> String {
        let when = it
            .closed_at
            .map(|at| short(&self.post, at, self.now))
            .unwrap_or_default();
        match it.closed_as {
            Some(LabourEnding::Birth) => format!("birth, {when}"),
            Some(LabourEnding::Referral) => format!("left for hospital, {when}"),
            Some(LabourEnding::NotInLabour) => format!("not in labour after all, {when}"),
            None => when,
        }
    }
}

/// `GET /labour`
pub(in crate::web) async fn list(carer: Carer, house: House, shell: Shell, sense: Sense) -> Answer {
    let (id, now) = (carer.post.id, sense.now);
    let mut women = judged(&house, By::from(&carer), id, None, now).await?;
    women.sort_by_cached_key(|it| (it.pressing(), it.labour.id));
    let (post, ended) = house
        .read(move |db| {
            Ok((
                posts::find(db, id)?,
                labours::ended_since(db, id, now - TimeDelta::days(1))?,
            ))
        })
        .await?;
    answer::page(&WardPage {
        shell,
        post,
        women,
        ended,
        now,
    })
}
