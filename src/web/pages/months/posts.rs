//! Posts by months: who has signed and who is late.

use askama::Template;
use chrono_tz::Tz;

use super::chosen::Chosen;
use crate::registry::months::{self, Month, PostMonth, PostMonths, State};
use crate::web::answer::{self, Answer};
use crate::web::shell::Shell;
use crate::web::spoken;
use crate::web::state::House;

const MONTHS: usize = 12;

#[derive(Template)]
#[template(path = "months/posts.html")]
struct PostsPage<'a> {
    shell: Shell,
    chosen: &'a Chosen,
    months: Vec<Month>,
    heads: Vec<String>,
    how_many: String,
    posts: Vec<PostMonths>,
    zone: Tz,
}

/// The page.
pub(super) async fn show(house: &House, shell: Shell, chosen: &Chosen) -> Answer {
    let months = last_months(chosen.current);
    let (asked, now) = (months.clone(), house.now());
    let posts = house
        .read(move |db| months::overview(db, None, &asked, now))
        .await?;
    answer::page(&PostsPage {
        shell,
        chosen,
        heads: heads(&months),
        how_many: spoken::count(
            i64::try_from(posts.len()).unwrap_or(i64::MAX),
            "post",
            "posts",
        ),
        months,
        posts,
        zone: chosen.zone,
    })
}

/// The months that are over, oldest first.
fn last_months(current: Month) -> Vec<Month> {
    let mut months: Vec<Month> =
        std::iter::successors(Some(current.previous()), |month| Some(month.previous()))
            .take(MONTHS)
            .collect();
    months.reverse();
    months
}

/// “Dec 25”, “Jan 26”, “Feb”: the year where it begins.
fn heads(months: &[Month]) -> Vec<String> {
    let head = |(place, month): (usize, &Month)| {
        let with_year = place == 0 || month.to_string().ends_with("-01");
        month
            .first_day()
            .format(if with_year { "%b %y" } else { "%b" })
            .to_string()
    };
    months.iter().enumerate().map(head).collect()
}

impl PostsPage<'_> {
    /// Who is late with what, in one sentence.
    fn said(&self) -> String {
        let late = self.posts.iter().filter(|post| late_months(post) > 0);
        let names: Vec<String> = late
            .map(|post| format!("{} ({})", post.name, late_months(post)))
            .collect();
        if names.is_empty() {
            "No month is late.".to_owned()
        } else {
            format!("Late: {}.", names.join(", "))
        }
    }

    fn any_late(&self) -> bool {
        self.posts.iter().any(|post| late_months(post) > 0)
    }

    fn late(&self, post: &PostMonths) -> String {
        match late_months(post) {
            0 => String::new(),
            late => format!("{late} late"),
        }
    }

    /// The mark of the symbols in the page.
    fn mark(&self, month: &PostMonth) -> &'static str {
        match month.state {
            State::Signed => "m-s",
            State::Late(_) => "m-l",
            State::Ready => "m-o",
            State::Running | State::BeforeTheRegister => "m-n",
        }
    }

    /// What is read aloud.
    fn aloud(&self, post: &PostMonths, month: &PostMonth) -> String {
        let state = match (month.state, month.signed_at) {
            (State::Signed, Some(at)) => format!(
                "signed {}",
                spoken::short_day(spoken::local_day(at, self.zone))
            ),
            (State::Late(days), _) => format!("late, {}", spoken::count(days, "day", "days")),
            (State::Ready | State::Signed, _) => "not signed yet".to_owned(),
            (State::Running, _) => "not over yet".to_owned(),
            (State::BeforeTheRegister, _) => "before the register".to_owned(),
        };
        format!("{}, {}: {state}", post.name, month.month.short_words())
    }

    /// What is seen beside the mark.
    fn seen(&self, month: &PostMonth) -> String {
        match (month.state, month.signed_at) {
            (State::Signed, Some(at)) => spoken::short_day(spoken::local_day(at, self.zone)),
            (State::Late(days), _) => spoken::count(days, "day", "days"),
            (State::Ready | State::Signed, _) => "to sign".to_owned(),
            (State::Running | State::BeforeTheRegister, _) => String::new(),
        }
    }

    fn letter(&self, month: &PostMonth) -> String {
        month.month.short_words().chars().take(1).collect()
    }

    fn address(&self, post: &PostMonths, month: &PostMonth) -> String {
        let code = self
            .chosen
            .posts
            .iter()
            .find(|known| known.id == post.post)
            .map_or("all", |known| &known.code);
        format!("/months/{}?post={code}", month.month)
    }
}

fn late_months(post: &PostMonths) -> usize {
    post.months
        .iter()
        .filter(|month| matches!(month.state, State::Late(_)))
        .count()
}
