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
    /// Who is late with what, in one sentence; absent when nobody is.
    late: Option<String>,
    rows: Vec<Row>,
}

/// A post.
struct Row {
    name: String,
    /// “2 late”, or empty.
    late: String,
    cells: Vec<Cell>,
}

/// A month of a post.
struct Cell {
    address: String,
    /// Of the symbols in the page.
    mark: &'static str,
    aloud: String,
    seen: String,
    letter: String,
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
        late: late_in_words(&posts),
        rows: posts.iter().map(|post| Row::of(post, chosen)).collect(),
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

fn late_in_words(posts: &[PostMonths]) -> Option<String> {
    let late = posts.iter().filter(|post| late_months(post) > 0);
    let names: Vec<String> = late
        .map(|post| format!("{} ({})", post.name, late_months(post)))
        .collect();
    (!names.is_empty()).then(|| format!("Late: {}.", names.join(", ")))
}

impl Row {
    fn of(post: &PostMonths, chosen: &Chosen) -> Self {
        let late = late_months(post);
        Self {
            name: post.name.clone(),
            late: if late > 0 {
                format!("{late} late")
            } else {
                String::new()
            },
            cells: post
                .months
                .iter()
                .map(|month| Cell::of(&post.name, &post.code, month, chosen.zone))
                .collect(),
        }
    }
}

impl Cell {
    fn of(post: &str, code: &str, month: &PostMonth, zone: Tz) -> Self {
        let signed_on = month
            .signed_at
            .map(|at| spoken::short_day(spoken::local_day(at, zone)))
            .unwrap_or_default();
        let (mark, state, seen) = match month.state {
            State::Signed => ("m-s", format!("signed {signed_on}"), signed_on),
            State::Late(days) => {
                let days = spoken::count(days, "day", "days");
                ("m-l", format!("late, {days}"), days)
            }
            State::Ready => ("m-o", "not signed yet".to_owned(), "to sign".to_owned()),
            State::Running => ("m-n", "not over yet".to_owned(), String::new()),
            State::BeforeTheRegister => ("m-n", "before the register".to_owned(), String::new()),
        };
        let words = month.month.short_words();
        Self {
            address: format!("/months/{}?post={code}", month.month),
            mark,
            aloud: format!("{post}, {words}: {state}"),
            seen,
            letter: words.chars().take(1).collect(),
        }
    }
}

fn late_months(post: &PostMonths) -> usize {
    post.months
        .iter()
        .filter(|month| matches!(month.state, State::Late(_)))
        .count()
}
