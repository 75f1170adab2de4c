//! One case: told, asked, and answered beside the program, which judges it anew each time.

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
use crate::web::form::{CheckedForm, Faults, Form as _, Query};
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
    fn seen(&self) -> &Seen {
        &self.told.seen
    }
}

/// `GET /practice/cases/{number}`
pub(in crate::web) async fn ask(
    _: SignedIn,
    shell: Shell,
    Key(number): Key<String>,
    Query(query): Query,
) -> Answer {
    let (exercise, told) = found(&number)?;
    let answers = Answers::blank(query.last("done").to_owned());
    answer::page(&asked(shell, exercise, told, answers))
}

/// `POST /practice/cases/{number}`
pub(in crate::web) async fn compare(
    _: SignedIn,
    shell: Shell,
    Key(number): Key<String>,
    CheckedForm(answers): CheckedForm<Answers>,
) -> Answer {
    let (exercise, told) = found(&number)?;
    if !answers.faults().is_empty() {
        return answer::refused(&asked(shell, exercise, told, answers));
    }
    let judged = assess(&exercise.case);
    let compared = Compared::of(exercise, &answers, &judged);
    let tally = Tally::read(&answers.done).with(exercise.number, compared.done());
    let sense = told::sense(exercise);
    let bedside = Bedside {
        hands: judged.palpation.as_ref(),
        gestation: told.gestation,
        sense: &sense,
    };
    let cards = judged.flags.iter();
    answer::page(&ComparedPage {
        shell,
        exercise,
        count: exercises::all().len(),
        cards: cards.map(|it| Card::judged(it, &bedside)).collect(),
        next: next_after(exercise.number, &tally).map(|it| (it.number, tally.on(&it.here()))),
        told,
        tally,
        compared,
    })
}

fn found(number: &str) -> Result<(&'static Exercise, Told), PageError> {
    let exercise = Exercise::numbered(number).ok_or(PageError::Missing)?;
    let told = Told::of(exercise).ok_or(PageError::Missing)?;
    Ok((exercise, told))
}

fn asked(shell: Shell, exercise: &'static Exercise, told: Told, answers: Answers) -> AskPage {
    AskPage {
        shell,
        exercise,
        count: exercises::all().len(),
        told,
        tally: Tally::read(&answers.done),
        faults: answers.faults(),
        answers,
    }
}
