//! Findings without a mother: the same form, judged as her post judges, shown, and kept nowhere.

use askama::Template;
use chrono_tz::Tz;

use crate::clinical::{self, Case, assess, date_pregnancy, gestation_text};
use crate::registry::VisitForm as Shape;
use crate::registry::judging;
use crate::registry::visits::Findings;
use crate::web::answer::{self, Answer};
use crate::web::audience::SignedIn;
use crate::web::error::PageError;
use crate::web::filters;
use crate::web::form::{CheckedForm, Faults, Form, Query, Sense, Typed};
use crate::web::pages::tally::Tally;
use crate::web::shell::Shell;
use crate::web::spoken;
use crate::web::state::House;

use super::form::{Background, Known, VisitForm};
use super::meaning::{Bedside, Card};
use super::seen::Seen;
use super::sheet::{self, Sheet, Trial};
use super::subject::Subject;
use super::tapes;

const HERE: &str = "/practice/findings";

/// The visit form with the facts that a mother's page would tell.
pub(crate) struct Tried {
    typed: Typed,
    form: VisitForm,
    background: Background,
}

impl Form for Tried {
    fn read(typed: &Typed, sense: &Sense) -> Self {
        let form = VisitForm::read(typed, sense);
        Self {
            background: Background::read(typed, form.at.date.value),
            typed: typed.clone(),
            form,
        }
    }

    fn faults(&self) -> Faults {
        self.background.faults().and(self.form.faults())
    }
}

#[derive(Template)]
#[template(path = "visits/tried.html")]
struct TriedPage {
    shell: Shell,
    subject: Subject,
    cards: Vec<Card>,
    seen: Seen,
    judged_as: String,
    /// What was typed, for the way back to the form.
    typed: Vec<(String, String)>,
    tally: Tally,
}

impl TriedPage {
    fn here(&self) -> &'static str {
        HERE
    }
}

/// `GET /practice/findings`, `?form=drawing` and `?form=list`
pub(in crate::web) async fn ask(
    person: SignedIn,
    shell: Shell,
    sense: Sense,
    Query(query): Query,
) -> Answer {
    let shape: Shape = query.last("form").parse().unwrap_or(person.visit_form);
    let tried = Tried {
        form: VisitForm::of_nobody(shape, &sense),
        background: Background::read(&Typed::default(), None),
        typed: query,
    };
    sheet::answer(shell, of(tried, sense))
}

/// `POST /practice/findings`; with `again` the form comes back as it was filled in, with `turn` in its other shape.
pub(in crate::web) async fn judge(
    person: SignedIn,
    house: House,
    shell: Shell,
    sense: Sense,
    CheckedForm(mut tried): CheckedForm<Tried>,
) -> Answer {
    let wrong = !tried.faults().is_empty();
    let Some(findings) = tried.form.findings().filter(|_| !wrong) else {
        return sheet::answer(shell, of(tried, sense));
    };
    if let Some(turned) = tried.form.turned(&findings, &sense) {
        tried.form = turned;
        return sheet::answer(shell, of(tried, sense));
    }
    if tried.typed.has("again") {
        return sheet::answer(shell, of(tried, sense));
    }
    let post = judges(&person, &house, &findings).await?;
    let name = person.post.as_ref().map(|seat| seat.name.as_str());
    let judged_as = judged_as(name, &post);
    let case = case(&findings, &tried.background, post);
    // The rules count days in UTC; what was typed as “36 weeks” is 36 weeks on the page too, also at night.
    let by_rules = Sense {
        zone: Tz::UTC,
        ..sense
    };
    let day = findings.visit.at.date();
    let dated = date_pregnancy(&case.dating, day);
    let method = case.post.fundal_height_method;
    let course = tapes::course([&findings], &dated, method, &by_rules);
    let seen = Seen::of("tried", &findings, &course, sense.zone);
    let gestation = dated.gestation_on(day);
    let bedside = Bedside {
        hands: seen.hands.as_ref(),
        gestation: gestation.map(i64::from),
        sense: &sense,
    };
    let flags = assess(&case).flags;
    let cards = flags.iter().map(|it| Card::judged(it, &bedside)).collect();
    let said = |it: Option<String>| it.unwrap_or_else(|| "not known".to_owned());
    let facts = vec![
        ("Gestation", said(gestation.map(gestation_text))),
        ("Due", said(dated.edd().map(spoken::day))),
        (
            "Births before",
            said(case.mother.births_before.map(|it| it.to_string())),
        ),
    ];
    answer::page(&TriedPage {
        shell,
        subject: subject(facts),
        cards,
        seen,
        judged_as,
        tally: Tally::read(tried.typed.last("done")),
        typed: typed_again(&tried.typed),
    })
}

async fn judges(
    person: &SignedIn,
    house: &House,
    findings: &Findings,
) -> Result<clinical::Post, PageError> {
    let at = findings.visit.at;
    match person.post.as_ref().map(|seat| seat.id) {
        Some(post) => house.read(move |db| judging::judges_at(db, post, at)).await,
        None => Ok(clinical::Post::default()),
    }
}

fn judged_as(name: Option<&str>, post: &clinical::Post) -> String {
    let skill = match (post.skilled_breech, post.skilled_twins) {
        (true, true) => "with staff skilled in breech and twin birth",
        (true, false) => "with staff skilled in breech birth",
        (false, true) => "with staff skilled in twin birth",
        (false, false) => "without staff skilled in breech or twin birth",
    };
    match name {
        Some(name) => format!("Judged as at {name}, {skill}."),
        None => format!("Judged as at a post {skill}."),
    }
}

fn case(findings: &Findings, background: &Background, post: clinical::Post) -> Case {
    let visit = findings.visit.clone();
    Case {
        labour_began_at: findings.labour_began_at.filter(|_| visit.in_labour),
        waters_broke_at: findings.waters_broke_at,
        mother: background.mother(),
        dating: background.dating(visit.at.date()),
        post,
        visits: vec![visit],
        ..Case::new(findings.visit.at)
    }
}

fn of(tried: Tried, sense: Sense) -> Sheet {
    Sheet {
        faults: tried.faults(),
        subject: subject(vec![("Kept", "nothing: no name, no finding".to_owned())]),
        action: HERE.to_owned(),
        trial: Some(Trial {
            background: tried.background,
            tally: Tally::read(tried.typed.last("done")),
        }),
        form: tried.form,
        sense,
    }
}

fn subject(facts: Vec<(&'static str, String)>) -> Subject {
    Subject {
        eyebrow: "Practice · nothing is kept".to_owned(),
        name: "Findings without a mother".to_owned(),
        facts,
        last_day: None,
        waters_broken_since: None,
        gestation: None,
        last: Vec::new(),
        known: Known::default(),
    }
}

fn typed_again(typed: &Typed) -> Vec<(String, String)> {
    let ours = typed
        .everything()
        .filter(|(name, _)| !["token", "again"].contains(name));
    ours.map(|(name, text)| (name.to_owned(), text.to_owned()))
        .collect()
}
