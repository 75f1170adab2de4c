//! One case: told, asked, and answered beside the program, which judges it anew each time.
//!
//! Her answers travel in the address, as the tally does: they are nobody's data, and whoever follows a link from the compared
//! page can come back to it.

use askama::Template;

use super::answers::Answers;
use super::compared::Compared;
use super::exercises::{self, Exercise};
use super::list::next_after;
use super::told::{self, Told};
use crate::clinical::assess;
use crate::web::answer::{self, Answer};
use crate::web::audience::SignedIn;
use crate::web::error::PageError;
use crate::web::filters;
use crate::web::form::{Faults, Query};
use crate::web::pages::tally::Tally;
use crate::web::pages::visits::meaning::{Bedside, Card};
use crate::web::pages::visits::seen::Seen;
use crate::web::path::Key;
use crate::web::shell::Shell;

#[derive(Template)]
#[template(path = "practice/case.html")]
struct AskPage {
    shell: Shell,
    exercise: &'static Exercise,
    count: usize,
    told: Told,
    tally: Tally,
    answers: Answers,
    faults: Faults,
}

#[derive(Template)]
#[template(path = "practice/compared.html")]
struct ComparedPage {
    shell: Shell,
    exercise: &'static Exercise,
    count: usize,
    told: Told,
    tally: Tally,
    compared: Compared,
    cards: Vec<Card>,
    next: Option<(u8, String)>,
}

impl ComparedPage {
    fn of(
        shell: Shell,
        exercise: &'static Exercise,
        told: Told,
        before: Tally,
        answers: &Answers,
    ) -> Self {
        let judged = assess(&exercise.case);
        let compared = Compared::of(exercise, answers, &judged);
        let tally = before.with(exercise.number, compared.done());
        let sense = told::sense(exercise);
        let bedside = Bedside {
            hands: judged.palpation.as_ref(),
            gestation: told.gestation,
            sense: &sense,
        };
        let cards = judged.flags.iter();
        Self {
            shell,
            exercise,
            count: exercises::all().len(),
            cards: cards.map(|it| Card::judged(it, &bedside)).collect(),
            next: next_after(exercise.number, &tally).map(|it| (it.number, tally.on(&it.here()))),
            told,
            tally,
            compared,
        }
    }

    fn seen(&self) -> &Seen {
        &self.told.seen
    }
}

/// `GET /practice/cases/{number}`: the case asked, or with `compare` and the answers behind it compared.
pub(in crate::web) async fn show(
    _: SignedIn,
    shell: Shell,
    Key(number): Key<String>,
    Query(query): Query,
) -> Answer {
    let exercise = Exercise::numbered(&number).ok_or(PageError::Missing)?;
    let told = Told::of(exercise).ok_or(PageError::Missing)?;
    let tally = Tally::read(query.last("done"));
    // A form in which nothing was chosen sends no answer; this says that it was sent.
    let compares = query.has("compare");
    let answers = if compares {
        Answers::read(&query)
    } else {
        Answers::blank()
    };
    let faults = answers.faults();
    if compares && faults.is_empty() {
        let page = ComparedPage::of(shell, exercise, told, tally, &answers);
        return answer::page(&page);
    }
    let page = AskPage {
        shell,
        exercise,
        count: exercises::all().len(),
        told,
        tally,
        answers,
        faults,
    };
    if page.faults.is_empty() {
        answer::page(&page)
    } else {
        answer::refused(&page)
    }
}
