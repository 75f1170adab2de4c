//! One month: where it stands, its tables, and the midwife's signature.

use askama::Template;

use super::chosen::Chosen;
use super::section::Section;
use super::state::State;
use crate::clinical::{Moment, RULES_VERSION};
use crate::registry::months::{self, Month, Signature};
use crate::registry::{Db, RegistryError, Role};
use crate::reporting::export::json;
use crate::reporting::{Report, ReportError, Scope, month_report};
use crate::web::answer::{self, Answer};
use crate::web::audience::{Midwife, Reporter};
use crate::web::error::PageError;
use crate::web::flash::Said;
use crate::web::form::{Asked, CheckedForm, Faults, Field, Form, Query, Sense, Typed, parse};
use crate::web::path::Key;
use crate::web::session::Person;
use crate::web::shell::Shell;
use crate::web::spoken;
use crate::web::state::House;

/// Two years back; older ones are reached by turning.
const MONTHS_TO_CHOOSE: usize = 25;

/// Signing asks for one thing.
pub(in crate::web) struct SignForm {
    seen: Field<bool>,
}

impl Form for SignForm {
    fn read(typed: &Typed, _: &Sense) -> Self {
        let label = "I have looked at the tables and the loose ends";
        let seen = Field::read(typed, "seen", label, parse::as_said("tick the box"));
        Self {
            seen: seen.needed("tick it once you have"),
        }
    }

    fn faults(&self) -> Faults {
        let asked: [&dyn Asked; 1] = [&self.seen];
        Faults::of(&asked)
    }
}

#[derive(Template)]
#[template(path = "months/month.html")]
struct MonthPage<'a> {
    shell: Shell,
    chosen: &'a Chosen,
    month: Month,
    state: State,
    provisional: bool,
    sections: Vec<Section>,
    loose: Section,
    tally: Vec<(&'static str, String, &'static str)>,
    signing: Option<SignForm>,
    faults: Faults,
    signer: String,
    made_at: String,
}

impl MonthPage<'_> {
    fn before_signing(&self) -> String {
        let open: i64 = self
            .tally
            .last()
            .and_then(|(_, count, _)| count.replace(',', "").parse().ok())
            .unwrap_or_default();
        let month = self.month.words();
        match open {
            0 => format!("{month} can be signed; no end is loose."),
            _ => format!(
                "{month} can be signed; {} still open and printed with it.",
                spoken::count(open, "loose end is", "loose ends are")
            ),
        }
    }

    /// The months one may turn to, newest first.
    fn months(&self) -> Vec<Month> {
        std::iter::successors(Some(self.chosen.current), |month| Some(month.previous()))
            .take(MONTHS_TO_CHOOSE)
            .collect()
    }
}

#[derive(Template)]
#[template(path = "months/print.html")]
struct PrintPage<'a> {
    shell: Shell,
    chosen: &'a Chosen,
    month: Month,
    state: State,
    provisional: bool,
    sections: Vec<Section>,
    loose: Section,
    signer: String,
    made_at: String,
}

/// What a page of a month is made of.
struct Read {
    report: Report,
    signature: Option<Signature>,
    unsigned: Vec<String>,
}

impl Read {
    fn state(&self, chosen: &Chosen, now: Moment) -> State {
        State::of(
            &self.report,
            self.signature.as_ref(),
            &self.unsigned,
            chosen,
            now,
        )
    }
}

/// `GET /months/{month}`
pub(in crate::web) async fn show(
    reporter: Reporter,
    house: House,
    shell: Shell,
    Key(month): Key<Month>,
    Query(query): Query,
) -> Answer {
    let chosen = Chosen::read(&reporter, &house, query.last("post")).await?;
    page(&reporter, &house, shell, &chosen, chosen.begun(month)?).await
}

/// The page of a month that has begun.
pub(super) async fn page(
    reporter: &Person,
    house: &House,
    shell: Shell,
    chosen: &Chosen,
    month: Month,
) -> Answer {
    let form = SignForm { seen: blank() };
    let page = made(reporter, house, shell, chosen, month, form).await?;
    answer::page(&page)
}

fn blank() -> Field<bool> {
    let typed = Typed::default();
    Field::read(
        &typed,
        "seen",
        "I have looked at the tables and the loose ends",
        parse::as_said("tick the box"),
    )
}

async fn made<'a>(
    reporter: &Person,
    house: &House,
    shell: Shell,
    chosen: &'a Chosen,
    month: Month,
    form: SignForm,
) -> Result<MonthPage<'a>, PageError> {
    let read = read(house, chosen, month).await?;
    let state = read.state(chosen, house.now());
    let place = chosen.name();
    let (sections, loose) = sections(&read.report, &place);
    let can_sign = matches!(state, State::Unsigned { .. }) && reporter.role == Role::Midwife;
    Ok(MonthPage {
        shell,
        chosen,
        month,
        state,
        provisional: read.report.provisional,
        sections,
        loose,
        tally: tally(&read.report),
        faults: form.faults(),
        signing: can_sign.then_some(form),
        signer: format!("{}, {}", reporter.name, reporter.role.words()),
        made_at: spoken::moment(read.report.made_at, chosen.zone),
    })
}

/// `GET /months/{month}/print`
pub(in crate::web) async fn print(
    reporter: Reporter,
    house: House,
    shell: Shell,
    Key(month): Key<Month>,
    Query(query): Query,
) -> Answer {
    let chosen = Chosen::read(&reporter, &house, query.last("post")).await?;
    let read = read(&house, &chosen, chosen.begun(month)?).await?;
    let (sections, loose) = sections(&read.report, &chosen.name());
    answer::page(&PrintPage {
        shell,
        month,
        state: read.state(&chosen, house.now()),
        provisional: read.report.provisional,
        sections,
        loose,
        signer: format!("{}, {}", reporter.name, reporter.role.words()),
        made_at: spoken::moment(read.report.made_at, chosen.zone),
        chosen: &chosen,
    })
}

/// `POST /months/{month}/sign`
pub(in crate::web) async fn sign(
    midwife: Midwife,
    house: House,
    shell: Shell,
    Key(month): Key<Month>,
    CheckedForm(form): CheckedForm<SignForm>,
) -> Answer {
    let chosen = Chosen::of_post(&midwife.post, &house).await?;
    let month = chosen.begun(month)?;
    if !form.faults().is_empty() {
        return answer::refused(&made(&midwife, &house, shell, &chosen, month, form).await?);
    }
    let read = read(&house, &chosen, month).await?;
    let figures = json::write(&read.report).map_err(PageError::failed)?;
    let kept = house
        .write(&midwife, move |change| {
            months::sign(change, month, &figures, RULES_VERSION)
        })
        .await;
    match kept {
        // Sent twice: she sees that it is signed, which is what she wanted.
        Err(PageError::Registry(RegistryError::Refused(_))) if read.signature.is_some() => {
            answer::go(chosen.address(month, ""))
        }
        Err(error) => Err(error),
        Ok(_) => answer::go_and_say(&house, chosen.address(month, ""), Said::MonthSigned),
    }
}

/// The report of a month, in one reading with its signature.
async fn read(house: &House, chosen: &Chosen, month: Month) -> Result<Read, PageError> {
    let (scope, now) = (chosen.scope(), house.now());
    house
        .read(move |db| Ok(read_at_once(db, scope, month, now)))
        .await?
        .map_err(page_error)
}

fn read_at_once(db: &mut Db, scope: Scope, month: Month, now: Moment) -> Result<Read, ReportError> {
    let signature = match scope {
        Scope::One(post) => months::signature(db, post, month)?,
        Scope::AllPosts => None,
    };
    let unsigned = match scope {
        Scope::One(_) => Vec::new(),
        Scope::AllPosts => {
            let posts = months::overview(db, None, &[month], now)?;
            posts
                .into_iter()
                .filter(waits_for_signing)
                .map(|post| post.name)
                .collect()
        }
    };
    Ok(Read {
        report: month_report(db, scope, month, now)?,
        signature,
        unsigned,
    })
}

fn waits_for_signing(post: &months::PostMonths) -> bool {
    post.months
        .iter()
        .any(|month| matches!(month.state, months::State::Ready | months::State::Late(_)))
}

pub(super) fn page_error(error: ReportError) -> PageError {
    match error {
        ReportError::Registry(error) => PageError::Registry(error),
        other @ ReportError::Table(_) => PageError::failed(other),
    }
}

/// The tables, and apart from them what is not known yet.
fn sections(report: &Report, place: &str) -> (Vec<Section>, Section) {
    let mut sections: Vec<Section> = report
        .tables
        .iter()
        .map(|table| Section::of(table, place))
        .collect();
    let last = sections.pop().unwrap_or_default();
    (sections, last)
}

fn tally(report: &Report) -> Vec<(&'static str, String, &'static str)> {
    let all = |id: &'static str, keys: &[&str], column: &str| {
        let table = report.table(id);
        let count = table.and_then(|table| table.cell(table.row(keys)?, column).count());
        count.unwrap_or_default()
    };
    let loose = report.table("loose-ends").map_or(0, |table| {
        table
            .rows
            .iter()
            .filter_map(|row| row.get(1)?.count())
            .sum()
    });
    vec![
        (
            "births",
            spoken::figure(all("births", &["all"], "women")),
            "Women gave birth",
        ),
        (
            "referrals-by-reason",
            spoken::figure(all("referrals-by-reason", &["all"], "decided")),
            "Referrals decided",
        ),
        (
            "flags",
            spoken::figure(all("flags", &["all", "all"], "raised")),
            "Flags raised",
        ),
        ("loose-ends", spoken::figure(loose), "Loose ends"),
    ]
}
