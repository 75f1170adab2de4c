//! Somebody alike is in the register already: both are shown, and she says which it is.

use askama::Template;

use super::new::RegisterForm;
use crate::clinical::Day;
use crate::registry::mothers::{self, Born, Mother, Person};
use crate::registry::pregnancies::{self, Pregnancy};
use crate::registry::{self, Db, PostId, posts};
use crate::web::shell::Shell;
use crate::web::spoken;

/// A mother of the register beside whom the new one is held.
pub(super) struct Alike {
    pub(super) id: String,
    number: String,
    mother: Mother,
    lasting: Option<Pregnancy>,
}

/// Mothers of this post who may be the same woman.
pub(super) fn alike(
    db: &mut Db,
    post: PostId,
    person: &Person,
    today: Day,
) -> registry::Result<Vec<Alike>> {
    let post = posts::find(db, post)?;
    let found = mothers::possible_doubles(db, post.id, person, today)?;
    found
        .into_iter()
        .map(|mother| {
            Ok(Alike {
                id: mother.id.to_string(),
                number: post.register_number(mother.number),
                lasting: pregnancies::lasting(db, mother.id)?,
                mother,
            })
        })
        .collect()
}

/// One line of the comparison.
struct Row {
    part: &'static str,
    wrote: String,
    /// Of each mother alike: her number, what the register has, and a link to her for her name.
    has: Vec<Cell>,
}

struct Cell {
    number: String,
    said: String,
    href: String,
}

struct Choice {
    id: String,
    words: String,
}

#[derive(Template)]
#[template(path = "mothers/double.html")]
pub(super) struct DoublePage {
    shell: Shell,
    found: String,
    numbers: Vec<String>,
    rows: Vec<Row>,
    choices: Vec<Choice>,
    typed: Vec<(String, String)>,
    /// Asked already, and sent back without a choice.
    unanswered: bool,
}

impl DoublePage {
    pub(super) fn of(shell: Shell, form: &RegisterForm, alike: &[Alike], today: Day) -> Self {
        let person = form.mother.person(today);
        let period = form.pregnancy.lmp.value;
        let row = |part, wrote: String, has: &dyn Fn(&Alike) -> String| Row {
            part,
            wrote,
            has: alike
                .iter()
                .map(|line| Cell {
                    number: line.number.clone(),
                    said: has(line),
                    href: if part == "Name" {
                        format!("/mothers/{}", line.id)
                    } else {
                        String::new()
                    },
                })
                .collect(),
        };
        let rows = vec![
            row("Name", person.name.clone(), &|line| {
                line.mother.name.clone()
            }),
            row("Born", born(person.born), &|line| born(line.mother.born())),
            row("Village", told(person.village.as_ref()), &|line| {
                told(line.mother.village.as_ref())
            }),
            row("Phone", told(person.phone.as_ref()), &|line| {
                told(line.mother.phone.as_ref())
            }),
            row(
                "Pregnancy",
                told(period.map(last_period).as_ref()),
                &|line| course(line, today),
            ),
        ];
        Self {
            found: match alike.len() {
                1 => "One line of the register looks alike.".to_owned(),
                count => format!("{count} lines of the register look alike."),
            },
            numbers: alike.iter().map(|line| line.number.clone()).collect(),
            choices: alike
                .iter()
                .map(|line| Choice {
                    id: line.id.clone(),
                    words: format!("The same woman: {}, {}", line.mother.name, line.number),
                })
                .collect(),
            rows,
            typed: form.typed.clone(),
            unanswered: form.asked_double,
            shell,
        }
    }
}

fn born(born: Born) -> String {
    match born {
        Born::Year(year) => year.to_string(),
        Born::Age { years, told_on } => format!("{years} years old on {}", spoken::day(told_on)),
        Born::Unknown => "not told".to_owned(),
    }
}

fn told(text: Option<&String>) -> String {
    text.filter(|text| !text.is_empty())
        .cloned()
        .unwrap_or_else(|| "not told".to_owned())
}

fn last_period(lmp: Day) -> String {
    format!("last period {}", spoken::day(lmp))
}

fn course(line: &Alike, today: Day) -> String {
    let Some(pregnancy) = &line.lasting else {
        return "none open".to_owned();
    };
    let mut said = vec!["open".to_owned()];
    said.extend(
        pregnancy
            .dated(today)
            .gestation
            .map(|gestation| spoken::gestation(i64::from(gestation.days))),
    );
    said.extend(pregnancy.facts.dating.lmp.map(last_period));
    said.join(", ")
}
