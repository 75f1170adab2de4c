//! The births of a month, those that lack something, and the women whose birth nobody wrote down.

use askama::Template;
use chrono::Datelike as _;

use super::super::hers::joined;
use super::show::baby_words;
use crate::clinical::{Day, Moment, dating, gestation_text};
use crate::registry::births::{self, After, Line, Overdue, Which};
use crate::registry::posts::{self, Post};
use crate::registry::{BirthId, PregnancyId, pregnancies};
use crate::web::answer::{self, Answer};
use crate::web::audience::Carer;
use crate::web::form::{Query, Sense};
use crate::web::shell::Shell;
use crate::web::spoken;
use crate::web::state::House;

const LINES: usize = 50;

/// The first day of a month and of the next one.
fn month_of(day: Day) -> Option<(Day, Day)> {
    let first = day.with_day(1)?;
    Some((first, first.checked_add_months(chrono::Months::new(1))?))
}

#[derive(Template)]
#[template(path = "births/list.html")]
struct ListPage {
    shell: Shell,
    post: Post,
    /// First day of the month shown; absent for the list of those that lack something.
    month: Option<Day>,
    lines: Vec<Line>,
    more: bool,
    now: Moment,
}

impl ListPage {
    fn eyebrow(&self) -> String {
        let today = self.post.local(self.now).format("%A %-d\u{a0}%b %Y");
        format!("{today} · {}", self.post.name)
    }

    fn shown(&self) -> &'static str {
        match self.month {
            Some(month) if month == self.this_month() => "month",
            Some(_) => "other",
            None => "missing",
        }
    }

    fn this_month(&self) -> Day {
        let today = self.post.day(self.now);
        today.with_day(1).unwrap_or(today)
    }

    fn this_month_words(&self) -> String {
        spoken::month(self.this_month())
    }

    fn caption(&self) -> String {
        let women = i64::try_from(self.lines.len()).unwrap_or_default();
        let babies: usize = self.lines.iter().map(|line| line.newborns.len()).sum();
        let babies = i64::try_from(babies).unwrap_or_default();
        let counts = format!(
            "{}, {}",
            spoken::count(women, "woman", "women"),
            spoken::count(babies, "baby", "babies")
        );
        match self.month {
            Some(month) => format!(
                "{}: {counts}{}",
                spoken::month(month),
                if self.more { " on this page" } else { "" }
            ),
            None => format!("Something missing: {counts}"),
        }
    }

    fn register(&self, line: &Line) -> String {
        joined(&line.register)
    }

    fn day(&self, line: &Line) -> String {
        spoken::short_day(line.born_on)
    }

    fn gestation(&self, line: &Line) -> String {
        let days = line
            .due_date
            .and_then(|due| dating::gestation_on(due, line.born_on));
        days.map_or_else(|| "not known".to_owned(), gestation_text)
    }

    fn place_and_mode(&self, line: &Line) -> String {
        line.newborns
            .first()
            .map(|baby| format!("{}, {}", baby.place.words(), baby.mode.words()))
            .unwrap_or_default()
    }

    fn babies(&self, line: &Line) -> Vec<String> {
        line.newborns.iter().map(baby_words).collect()
    }

    fn lacks(&self, line: &Line) -> String {
        line.lacks().join(", ")
    }

    /// The months beside the one shown: address and words.
    fn month_before(&self) -> Option<(String, String)> {
        let before = self.month?.checked_sub_months(chrono::Months::new(1))?;
        Some((
            format!("/births?month={}", before.format("%Y-%m")),
            spoken::month(before),
        ))
    }

    fn month_after(&self) -> Option<(String, String)> {
        let after = self.month?.checked_add_months(chrono::Months::new(1))?;
        (after <= self.this_month()).then(|| {
            (
                format!("/births?month={}", after.format("%Y-%m")),
                spoken::month(after),
            )
        })
    }

    fn next_page(&self) -> Option<String> {
        let last = self.lines.last().filter(|_| self.more)?;
        Some(match self.month {
            Some(month) => format!("/births?month={}&after={}", month.format("%Y-%m"), last.id),
            None => format!("/births?show=missing&after={}", last.id),
        })
    }
}

#[derive(Template)]
#[template(path = "births/not_recorded.html")]
struct OverduePage {
    shell: Shell,
    post: Post,
    women: Vec<Overdue>,
    more: bool,
    now: Moment,
}

impl OverduePage {
    fn eyebrow(&self) -> String {
        let today = self.post.local(self.now).format("%A %-d\u{a0}%b %Y");
        format!("{today} · {}", self.post.name)
    }

    fn shown(&self) -> &'static str {
        "not-recorded"
    }

    fn this_month_words(&self) -> String {
        spoken::month(self.post.day(self.now))
    }

    fn register(&self, it: &Overdue) -> String {
        joined(&it.register)
    }

    fn since(&self, it: &Overdue) -> String {
        let days = (self.post.day(self.now) - it.due_date).num_days();
        format!(
            "due {}, {} ago",
            spoken::day(it.due_date),
            spoken::count(days, "day", "days")
        )
    }
}

/// `GET /births`
pub(in crate::web) async fn list(
    carer: Carer,
    house: House,
    shell: Shell,
    sense: Sense,
    Query(query): Query,
) -> Answer {
    let (id, now, today) = (carer.post.id, sense.now, sense.today());
    let most = i64::try_from(LINES + 1).unwrap_or(i64::MAX);
    if query.last("show") == "not-recorded" {
        let after: Option<PregnancyId> = query.last("after").parse().ok();
        let (post, mut women) = house
            .read(move |db| {
                let after = match after {
                    Some(after) => pregnancies::find(db, id, after)?
                        .due_date
                        .map(|due| (due, after)),
                    None => None,
                };
                Ok((
                    posts::find(db, id)?,
                    births::not_recorded(db, id, today, after, most)?,
                ))
            })
            .await?;
        let more = women.len() > LINES;
        women.truncate(LINES);
        return answer::page(&OverduePage {
            shell,
            post,
            women,
            more,
            now,
        });
    }
    let after: Option<BirthId> = query.last("after").parse().ok();
    let wanted =
        Day::parse_from_str(&format!("{}-01", query.last("month")), "%Y-%m-%d").unwrap_or(today);
    let lacking = query.last("show") == "missing";
    let (from, until) = month_of(wanted)
        .or_else(|| month_of(today))
        .unwrap_or((today, today));
    let which = if lacking {
        Which::Lacking
    } else {
        Which::Between(from, until)
    };
    let (post, mut lines) = house
        .read(move |db| {
            let after = match after {
                Some(after) => {
                    let last = births::one(db, id, after)?;
                    let first = last.record.newborns.first().map(|baby| baby.born_on);
                    first.map(|on| After { on, id: last.id })
                }
                None => None,
            };
            Ok((
                posts::find(db, id)?,
                births::list(db, id, which, after, most)?,
            ))
        })
        .await?;
    let more = lines.len() > LINES;
    lines.truncate(LINES);
    let month = (!lacking).then_some(from);
    answer::page(&ListPage {
        shell,
        post,
        month,
        lines,
        more,
        now,
    })
}
