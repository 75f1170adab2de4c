//! `/practice`: the cases with what was done in this sitting, and the way to findings of one's own.

use askama::Template;

use super::exercises::{self, Exercise, Level};
use crate::web::answer::{self, Answer};
use crate::web::audience::SignedIn;
use crate::web::form::Query;
use crate::web::pages::tally::Tally;
use crate::web::shell::Shell;

/// Cases of one level.
struct Part {
    level: Level,
    cases: Vec<Line>,
}

struct Line {
    exercise: &'static Exercise,
    href: String,
    /// “5 of 6 the same”, once answered in this sitting.
    done: Option<String>,
    /// “What to do” was another.
    urgency_differs: bool,
}

#[derive(Template)]
#[template(path = "practice/list.html")]
struct ListPage {
    shell: Shell,
    tally: Tally,
    parts: Vec<Part>,
    next: Option<(u8, String)>,
    count: usize,
}

/// `GET /practice`
pub(in crate::web) async fn show(_: SignedIn, shell: Shell, Query(query): Query) -> Answer {
    let tally = Tally::read(query.last("done"));
    let part = |level: Level| Part {
        level,
        cases: exercises::all()
            .iter()
            .filter(|it| it.level == level)
            .map(|it| Line::of(it, &tally))
            .collect(),
    };
    let parts = Level::ALL.into_iter().map(part).collect();
    let next = next_after(0, &tally);
    answer::page(&ListPage {
        shell,
        parts,
        next: next.map(|it| (it.number, tally.on(&it.here()))),
        count: exercises::all().len(),
        tally,
    })
}

impl Line {
    fn of(exercise: &'static Exercise, tally: &Tally) -> Self {
        let done = tally.of(exercise.number);
        Self {
            exercise,
            href: tally.on(&exercise.here()),
            done: done.map(|it| format!("{} of {} the same", it.same, Tally::QUESTIONS)),
            urgency_differs: done.is_some_and(|it| !it.urgency_same),
        }
    }
}

/// The next case that was not answered in this sitting, behind this one or from the beginning.
pub(super) fn next_after(number: u8, tally: &Tally) -> Option<&'static Exercise> {
    let open = |it: &&Exercise| tally.of(it.number).is_none() && it.number != number;
    let behind = exercises::all().iter().filter(|it| it.number > number);
    behind.chain(exercises::all()).find(open)
}
