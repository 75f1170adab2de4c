//! The district officer's Today: whose months are not signed? No names of mothers, ever.

use askama::Template;

use super::parts::{DoNext, Figure, Way};
use crate::registry::months::{self, Month, PostMonth, PostMonths, State};
use crate::web::answer::{self, Answer};
use crate::web::audience::SignedIn;
use crate::web::shell::Shell;
use crate::web::spoken;
use crate::web::state::House;

/// A year: what came late once comes late again in the same season.
const MONTHS_SHOWN: usize = 12;

#[derive(Template)]
#[template(path = "today/district.html")]
struct DistrictPage {
    shell: Shell,
    eyebrow: String,
    next: DoNext,
    tally: Vec<Figure>,
    attention: Vec<Attention>,
    months: Vec<String>,
    posts: Vec<PostRow>,
    files_words: String,
    files: Way,
}

/// A post that keeps the district waiting.
struct Attention {
    name: String,
    href: String,
    number: String,
    why: String,
    act: Way,
}

struct PostRow {
    name: String,
    href: String,
    late: String,
    seals: Vec<Seal>,
}

/// One month of one post: a mark, its sentence, and what a narrow or a wide page shows under it.
struct Seal {
    href: String,
    mark: &'static str,
    said: String,
    day: String,
    letter: String,
}

/// The last months that are over, oldest first.
fn shown(current: Month) -> Vec<Month> {
    let over = std::iter::successors(Some(current.previous()), |month| Some(month.previous()));
    let mut months: Vec<_> = over.take(MONTHS_SHOWN).collect();
    months.reverse();
    months
}

/// The page of one month of one post.
fn month_href(post: &PostMonths, month: Month) -> String {
    format!("/months/{month}?post={}", post.code)
}

fn late(post: &PostMonths) -> impl Iterator<Item = (Month, i64)> {
    post.months.iter().filter_map(|month| match month.state {
        State::Late(days) => Some((month.month, days)),
        State::BeforeTheRegister | State::Running | State::Ready | State::Signed => None,
    })
}

fn days(days: i64) -> String {
    spoken::count(days, "day", "days")
}

fn seal(post: &PostMonths, month: &PostMonth, person: &SignedIn) -> Seal {
    let signed = month
        .signed_at
        .map(|at| spoken::short_day(spoken::local_day(at, person.zone)));
    let (mark, day) = match month.state {
        State::Signed => ("m-s", signed.unwrap_or_default()),
        State::Late(late) => ("m-l", days(late)),
        State::Ready | State::Running => (
            "m-o",
            format!("by {}", spoken::short_day(month.month.sign_by())),
        ),
        State::BeforeTheRegister => ("", "–".to_owned()),
    };
    let state = match month.state {
        State::Signed => format!("signed {day}"),
        State::Late(_) => format!("late, {day}"),
        State::Ready | State::Running => format!("to be signed {day}"),
        State::BeforeTheRegister => "before its register began".to_owned(),
    };
    Seal {
        href: month_href(post, month.month),
        mark,
        said: format!("{}, {}: {state}", post.name, month.month.short_words()),
        letter: month.month.words().chars().take(1).collect(),
        day,
    }
}

fn row(post: &PostMonths, person: &SignedIn) -> PostRow {
    let late = late(post).count();
    PostRow {
        name: post.name.clone(),
        href: format!("/months?post={}", post.code),
        late: if late == 0 {
            String::new()
        } else {
            format!("{late} late")
        },
        seals: post
            .months
            .iter()
            .map(|month| seal(post, month, person))
            .collect(),
    }
}

fn attention(post: &PostMonths) -> Option<Attention> {
    let late: Vec<_> = late(post).collect();
    let (oldest, _) = late.first()?;
    let by: Vec<_> = late
        .iter()
        .map(|(month, late)| format!("{} by {}", month.words(), days(*late)))
        .collect();
    Some(Attention {
        name: post.name.clone(),
        href: format!("/months?post={}", post.code),
        number: spoken::count(
            i64::try_from(late.len()).unwrap_or_default(),
            "month late",
            "months late",
        ),
        why: format!("{}.", by.join(", ")),
        act: Way::to(month_href(post, *oldest), "Open the oldest"),
    })
}

fn next(posts: &[PostMonths], last: Month, signed: usize) -> DoNext {
    let files = Way::to(
        format!("/months/{last}?post=all"),
        format!("Take the files of {}", last.words()),
    );
    let behind = posts
        .iter()
        .max_by_key(|post| late(post).map(|(_, late)| late).sum::<i64>());
    let Some(first) = behind.filter(|post| late(post).next().is_some()) else {
        if posts.is_empty() {
            return DoNext::calm("No post is in the register yet.")
                .because("The keeper adds posts; their months will stand here.");
        }
        let mut calm = DoNext::calm(if signed == posts.len() {
            format!("Every post has signed {}.", last.words())
        } else {
            standing(posts, last)
        });
        calm.category = format!("{signed} of {} signed", posts.len());
        return calm.by(files);
    };
    let unsigned: Vec<_> = late(first).collect();
    let total: usize = posts.iter().map(|post| late(post).count()).sum();
    let names: Vec<_> = unsigned.iter().map(|(month, _)| month.words()).collect();
    let verb = if names.len() == 1 { "is" } else { "are" };
    let mut next = DoNext::calm(format!(
        "{} first: {} {verb} not signed.",
        first.name,
        listed(&names)
    ))
    .because("Months are due on the 10th of the next.")
    .by(Way::to(
        format!("/months?post={}", first.code),
        format!("Open {}", first.name),
    ))
    .by(Way::to("#months", "See all months"));
    next.category = spoken::count(
        i64::try_from(total).unwrap_or_default(),
        "month late",
        "months late",
    );
    next.late = true;
    next
}

/// When no month is late and not every post has signed the last one.
fn standing(posts: &[PostMonths], last: Month) -> String {
    let waits = |post: &PostMonths| {
        post.months
            .last()
            .is_some_and(|month| month.state == State::Ready)
    };
    if posts.iter().any(waits) {
        format!(
            "No month is late. {} is due on {}.",
            last.words(),
            spoken::day(last.sign_by())
        )
    } else {
        "No month waits for a signature.".to_owned()
    }
}

/// “September and October”; of many the first two.
fn listed(names: &[String]) -> String {
    match names {
        [] => String::new(),
        [one] => one.clone(),
        [one, two] => format!("{one} and {two}"),
        [one, two, rest @ ..] => format!("{one}, {two} and {} more", rest.len()),
    }
}

/// `GET /` for the district officer.
pub(super) async fn show(officer: &SignedIn, house: &House, shell: Shell) -> Answer {
    let (now, zone) = (house.now(), officer.zone);
    let wanted = shown(Month::of(now, zone));
    let last = Month::of(now, zone).previous();
    let asked = wanted.clone();
    let mut posts = house
        .read(move |db| months::overview(db, None, &asked, now))
        .await?;
    let signed = posts
        .iter()
        .filter(|post| {
            post.months
                .last()
                .is_some_and(|month| month.state == State::Signed)
        })
        .count();
    let late_months: usize = posts.iter().map(|post| late(post).count()).sum();
    let next = next(&posts, last, signed);
    posts.sort_by_key(|post| std::cmp::Reverse(late(post).map(|(_, late)| late).sum::<i64>()));
    let place = if officer.place().is_empty() {
        String::new()
    } else {
        format!(" · {}", officer.place())
    };
    let count = spoken::count(
        i64::try_from(posts.len()).unwrap_or_default(),
        "post",
        "posts",
    );
    answer::page(&DistrictPage {
        eyebrow: format!(
            "{}{place}, {count}",
            spoken::long_day(spoken::local_day(now, zone))
        ),
        next,
        tally: vec![
            Figure::of(late_months, "Months late", "#months"),
            Figure::of(
                format!("{signed} of {}", posts.len()),
                format!("Posts signed for {}", last.words()),
                "#months",
            ),
        ],
        attention: posts.iter().filter_map(attention).collect(),
        months: wanted
            .iter()
            .enumerate()
            .map(|(place, month)| heading(place, *month))
            .collect(),
        posts: posts.iter().map(|post| row(post, officer)).collect(),
        files_words: format!(
            "{signed} of {} posts have signed {}. A file holds what stands in the register when it is made, signed or not. No name, phone or village is in any of them.",
            posts.len(),
            last.words()
        ),
        files: Way::to(
            format!("/months/{last}?post=all"),
            format!("Tables and files of {}", last.words()),
        ),
        shell,
    })
}

/// The year stands at the first month shown and at each January.
fn heading(place: usize, month: Month) -> String {
    let day = month.first_day();
    let pattern = if place == 0 || day.format("%m").to_string() == "01" {
        "%b %y"
    } else {
        "%b"
    };
    day.format(pattern).to_string()
}
