//! The audit trail: every write with who, when and what, by filters and pages; and whether the chain is whole.

use askama::Template;

use crate::clinical::{Day, Moment};
use crate::registry::audit::{self, ChainCheck, Filter, Line};
use crate::registry::posts::{self, Post};
use crate::registry::staff::{self, Account};
use crate::registry::{PostId, StaffId};
use crate::web::answer::{self, Answer};
use crate::web::audience::Keeper;
use crate::web::form::{CheckedForm, Faults, Field, Opt, Query, Sense, Typed, parse};
use crate::web::paging::{self, Paged};
use crate::web::shell::Shell;
use crate::web::spoken;
use crate::web::state::House;

struct Sift {
    from: Field<Day>,
    until: Field<Day>,
    who: Field<StaffId>,
    post: Field<PostId>,
    verb: Field<String>,
    number: Field<String>,
    after: Option<i32>,
}

impl Sift {
    fn read(asked: &Typed) -> Self {
        Self {
            from: Field::read(asked, "from", "From", parse::day),
            until: Field::read(asked, "until", "Until", parse::day),
            who: Field::read(
                asked,
                "who",
                "Who",
                parse::as_said("choose one of the list"),
            ),
            post: Field::read(
                asked,
                "post",
                "Post",
                parse::as_said("choose one of the list"),
            ),
            verb: Field::read(asked, "what", "What", parse::line(100)),
            number: Field::read(
                asked,
                "number",
                "Register or referral number",
                parse::line(20),
            ),
            after: asked.last("after").parse().ok(),
        }
    }

    fn filter(&self, sense: &Sense) -> Filter {
        let begins = |day: Day| spoken::day_begins(day, sense.zone);
        Filter {
            from: self.from.value.map(begins),
            until: self.until.value.and_then(|day| day.succ_opt()).map(begins),
            staff: self.who.value,
            post: self.post.value,
            verb: self.verb.value.clone(),
            number: self.number.value.as_deref().map(as_written),
            about: None,
            about_id: None,
        }
    }

    fn faults(&self) -> Faults {
        Faults::of(&[
            &self.from,
            &self.until,
            &self.who,
            &self.post,
            &self.verb,
            &self.number,
        ])
    }

    /// The address of the same lines, from `after` on.
    fn address(&self, after: i32) -> String {
        paging::address(
            "/trail",
            &[
                ("from", &self.from.typed),
                ("until", &self.until.typed),
                ("who", &self.who.typed),
                ("post", &self.post.typed),
                ("what", &self.verb.typed),
                ("number", &self.number.typed),
                ("after", &after.to_string()),
            ],
        )
    }

    fn shows_all(&self) -> bool {
        [
            &self.from.typed,
            &self.until.typed,
            &self.who.typed,
            &self.post.typed,
            &self.verb.typed,
            &self.number.typed,
        ]
        .iter()
        .all(|text| text.is_empty())
    }
}

/// “qf 412” as the register writes it, QF 0412; a referral's number in its capitals.
fn as_written(typed: &str) -> String {
    let typed = typed.trim().to_uppercase();
    let split = typed.find(|letter: char| !letter.is_alphabetic());
    let (letters, rest) = typed.split_at(split.unwrap_or(typed.len()));
    match rest.trim().parse::<u32>() {
        Ok(number) if !letters.is_empty() => format!("{letters} {number:04}"),
        _ => typed,
    }
}

struct TrailLine {
    time: String,
    what: String,
    who: String,
    post: String,
    detail: String,
    mark: String,
    number: i32,
}

struct TrailDay {
    day: String,
    lines: Vec<TrailLine>,
}

#[derive(Template)]
#[template(path = "trail/page.html")]
struct TrailPage {
    shell: Shell,
    place: String,
    faults: Faults,
    sift: Sift,
    people: Vec<Opt>,
    posts: Vec<Opt>,
    verbs: Vec<Opt>,
    days: Vec<TrailDay>,
    shown: usize,
    older: Option<String>,
    chain: Option<ChainCheck>,
}

impl TrailPage {
    fn whole(&self) -> String {
        self.chain
            .as_ref()
            .map(|chain| spoken::figure(chain.whole.into()))
            .unwrap_or_default()
    }
}

fn days(lines: &[Line], posts: &[Post], sense: &Sense) -> Vec<TrailDay> {
    let mut days: Vec<TrailDay> = Vec::new();
    for line in lines {
        let day = spoken::long_day(spoken::local_day(line.at, sense.zone));
        let post = line
            .post_id
            .and_then(|id| posts.iter().find(|post| post.id == id));
        let shown = TrailLine {
            time: spoken::exact_time(line.at, sense.zone),
            what: line.verb.clone(),
            who: line.staff_name.clone(),
            post: post.map(|post| post.name.clone()).unwrap_or_default(),
            detail: line.detail.clone(),
            mark: line.digest.chars().take(6).collect(),
            number: line.seq,
        };
        match days.last_mut().filter(|last| last.day == day) {
            Some(last) => last.lines.push(shown),
            None => days.push(TrailDay {
                day,
                lines: vec![shown],
            }),
        }
    }
    days
}

async fn page(
    keeper: &Keeper,
    house: &House,
    shell: Shell,
    sense: Sense,
    sift: Sift,
    chain: Option<ChainCheck>,
) -> Result<TrailPage, crate::web::error::PageError> {
    let (filter, after, now): (Filter, Option<i32>, Moment) =
        (sift.filter(&sense), sift.after, sense.now);
    let (lines, people, posts, verbs): (Vec<Line>, Vec<Account>, Vec<Post>, Vec<String>) = house
        .read(move |db| {
            Ok((
                audit::page(db, &filter, after, paging::asked_for())?,
                staff::list(db, now)?,
                posts::list(db)?,
                audit::verbs(db)?,
            ))
        })
        .await?;
    let lines = Paged::of(lines);
    let last = lines.lines.last().map(|line| line.seq);
    Ok(TrailPage {
        shell,
        place: keeper.place().to_owned(),
        people: people
            .iter()
            .map(|it| Opt::new(it.staff.id.to_string(), &*it.staff.name))
            .collect(),
        verbs: verbs
            .into_iter()
            .map(|verb| Opt::new(verb.clone(), verb))
            .collect(),
        days: days(&lines.lines, &posts, &sense),
        posts: posts
            .iter()
            .map(|it| Opt::new(it.id.to_string(), &*it.name))
            .collect(),
        shown: lines.lines.len(),
        older: last.filter(|_| lines.more).map(|last| sift.address(last)),
        faults: sift.faults(),
        sift,
        chain,
    })
}

/// `GET /trail`
pub(in crate::web) async fn show(
    keeper: Keeper,
    house: House,
    shell: Shell,
    sense: Sense,
    Query(asked): Query,
) -> Answer {
    let page = page(&keeper, &house, shell, sense, Sift::read(&asked), None).await?;
    if page.faults.is_empty() {
        answer::page(&page)
    } else {
        answer::refused(&page)
    }
}

/// `POST /trail/check`: reads the whole chain. A form and no link, so that nothing but a person asks for it.
pub(in crate::web) async fn check(
    keeper: Keeper,
    house: House,
    shell: Shell,
    sense: Sense,
    CheckedForm(()): CheckedForm<()>,
) -> Answer {
    let chain = house.read(audit::check_chain).await?;
    answer::page(
        &page(
            &keeper,
            &house,
            shell,
            sense,
            Sift::read(&Typed::default()),
            Some(chain),
        )
        .await?,
    )
}
