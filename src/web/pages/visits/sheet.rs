//! What the templates of the form ask for, drawn or as a list.

use askama::Template;

use crate::clinical::{
    DangerSign, Front, Head, Movements, Pole, Protein, Side, Vocabulary, Waters,
};
use crate::registry::VisitForm as Shape;
use crate::web::answer::{self, Answer};
use crate::web::charts::{Drawing, abdomen};
use crate::web::form::{Faults, Opt, Sense, choice_id};
use crate::web::pages::tally::Tally;
use crate::web::shell::Shell;
use crate::web::spoken;

use super::form::{Background, VisitForm};
use super::subject::Subject;

/// A form with whom it is about.
pub(super) struct Sheet {
    pub(super) form: VisitForm,
    pub(super) faults: Faults,
    pub(super) subject: Subject,
    pub(super) action: String,
    pub(super) sense: Sense,
    /// Findings that belong to nobody: judged, and kept nowhere.
    pub(super) trial: Option<Trial>,
}

/// What a form without a mother has instead of her.
pub(super) struct Trial {
    pub(super) background: Background,
    /// Of this sitting, carried along.
    pub(super) tally: Tally,
}

#[derive(Template)]
#[template(path = "visits/pad.html")]
struct PadPage {
    shell: Shell,
    sheet: Sheet,
}

#[derive(Template)]
#[template(path = "visits/list.html")]
struct ListPage {
    shell: Shell,
    sheet: Sheet,
}

/// The form in the shape it has; 422 when something is wrong with it.
pub(super) fn answer(shell: Shell, sheet: Sheet) -> Answer {
    let wrong = !sheet.faults.is_empty();
    match (sheet.form.shape, wrong) {
        (Shape::Drawing, false) => answer::page(&PadPage { shell, sheet }),
        (Shape::Drawing, true) => answer::refused(&PadPage { shell, sheet }),
        (Shape::List, false) => answer::page(&ListPage { shell, sheet }),
        (Shape::List, true) => answer::refused(&ListPage { shell, sheet }),
    }
}

fn poles() -> Vec<Opt> {
    relabelled::<Pole>(&[("soft-irregular", "Softer, irregular")])
}

/// Every code of a vocabulary, some in the words of this form.
fn relabelled<T: Vocabulary>(words: &[(&str, &str)]) -> Vec<Opt> {
    let mut options = Opt::every::<T>();
    for option in &mut options {
        if let Some((_, said)) = words.iter().find(|(code, _)| *code == option.code) {
            (*said).clone_into(&mut option.words);
        }
    }
    options
}

impl Sheet {
    pub(super) fn title(&self) -> String {
        let whose = match self.trial {
            Some(_) => self.subject.name.clone(),
            None => format!("Visit of {}", self.subject.name),
        };
        if self.faults.is_empty() {
            whose
        } else {
            format!("{} · {whose}", self.faults.heading())
        }
    }

    /// What the one button does.
    pub(super) fn sends(&self) -> &'static str {
        match self.trial {
            Some(_) => "What does it mean?",
            None => "Save the visit",
        }
    }

    /// The moment in the boxes, for the line that opens them.
    pub(super) fn when(&self) -> String {
        let at = self.form.at.value.unwrap_or(self.sense.now);
        spoken::moment(at, self.sense.zone)
    }

    /// What the last visit found, beside the same question.
    pub(super) fn last(&self, name: &str) -> Option<&str> {
        let name = name.strip_suffix("-1").unwrap_or(name);
        let found = self.subject.last.iter().find(|it| it.name == name)?;
        found.said.as_deref()
    }

    #[expect(
        clippy::unused_self,
        reason = "templates reach functions through the page"
    )]
    pub(super) fn id(&self, name: &str, code: &str) -> String {
        choice_id(name, code)
    }

    pub(super) fn more_hearts(&self) -> bool {
        let mut more = self.form.measures.fetal_hearts.iter().skip(1);
        more.any(|it| !it.typed.is_empty())
    }

    pub(super) fn heart_hint(&self, name: &str) -> &'static str {
        let first = self.form.measures.fetal_hearts.first();
        if first.is_some_and(|it| it.name == name) {
            "Counted over a full minute."
        } else {
            "Only if two were counted at the same time."
        }
    }

    pub(super) fn proposals(&self) -> Vec<Opt> {
        self.form
            .next
            .proposals(self.sense.today(), self.subject.gestation)
    }

    pub(super) fn first_proposal(&self) -> String {
        let first = self.proposals().into_iter().next();
        first.map_or_else(String::new, |it| {
            format!("For instance {}, {}.", it.words, it.says)
        })
    }
}

/// The choices, which do not depend on whose form it is.
#[expect(
    clippy::unused_self,
    reason = "templates reach functions through the page"
)]
impl Sheet {
    /// The picture that will be saved, with every mark it may come to hold.
    pub(super) fn belly(&self) -> Drawing {
        abdomen::draw_pad()
    }

    pub(super) fn glyphs(&self) -> Drawing {
        abdomen::draw_glyphs()
    }

    pub(super) fn fifths(&self) -> [(&'static str, &'static str); 6] {
        [
            ("5", "fifths-5"),
            ("4", "fifths-4"),
            ("3", "fifths-3"),
            ("2", "fifths-2"),
            ("1", "fifths-1"),
            ("0", "fifths-0"),
        ]
    }

    pub(super) fn fifths_listed(&self) -> Vec<Opt> {
        self.fifths()
            .into_iter()
            .map(|(number, _)| Opt::new(number, number))
            .collect()
    }

    pub(super) fn poles(&self) -> Vec<Opt> {
        poles()
    }

    pub(super) fn sides(&self) -> Vec<Opt> {
        Opt::every::<Side>()
    }

    pub(super) fn fronts(&self) -> Vec<Opt> {
        Opt::every::<Front>()
    }

    pub(super) fn heads(&self) -> Vec<Opt> {
        Opt::every::<Head>()
    }

    pub(super) fn movements(&self) -> Vec<Opt> {
        relabelled::<Movements>(&[("reduced", "Fewer")])
    }

    pub(super) fn waters(&self) -> Vec<Opt> {
        relabelled::<Waters>(&[("intact", "Intact"), ("broken-foul", "Broken, foul")])
    }

    pub(super) fn yes_no(&self) -> Vec<Opt> {
        vec![Opt::new("false", "No"), Opt::new("true", "Yes")]
    }

    pub(super) fn signs(&self) -> Vec<Opt> {
        Opt::every::<DangerSign>()
    }

    pub(super) fn proteins(&self) -> Vec<Opt> {
        Opt::every::<Protein>()
    }
}
