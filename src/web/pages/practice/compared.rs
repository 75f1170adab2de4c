//! Her six answers beside the program's, each with its reason.

use super::answers::{Answers, Question, of_the_program};
use super::exercises::Exercise;
use super::reasons;
use crate::clinical::{Assessment, Urgency};
use crate::web::pages::tally::Done;

/// One question, both answers and why.
pub(super) struct Row {
    pub(super) label: String,
    pub(super) hers: String,
    pub(super) programs: String,
    pub(super) same: bool,
    pub(super) why: String,
}

/// All six.
pub(super) struct Compared {
    pub(super) rows: Vec<Row>,
    waits_longer: bool,
}

impl Compared {
    pub(super) fn of(exercise: &Exercise, answers: &Answers, judged: &Assessment) -> Self {
        let programs = of_the_program(judged);
        let whys = reasons::of(exercise, judged);
        let both = answers.questions.iter().zip(programs).zip(whys);
        let row = |((question, program), why): ((&Question, &str), String)| {
            let hers = question.field.value.as_deref().unwrap_or_default();
            Row {
                label: question.field.label.clone().into_owned(),
                hers: question.words(hers).to_owned(),
                programs: question.words(program).to_owned(),
                same: hers == program,
                why,
            }
        };
        let urgency = answers
            .questions
            .last()
            .and_then(|it| it.field.value.as_deref());
        let hers: Option<Urgency> = urgency.and_then(|code| code.parse().ok());
        Self {
            rows: both.map(row).collect(),
            waits_longer: waits_longer(hers, judged.urgency()),
        }
    }

    pub(super) fn done(&self) -> Done {
        let same = self.rows.iter().filter(|row| row.same).count();
        Done {
            same: u8::try_from(same).unwrap_or_default(),
            urgency_same: self.rows.last().is_some_and(|row| row.same),
        }
    }

    /// “4 of 6 answers are the same. Look again at the back and how sure.”
    pub(super) fn sentence(&self) -> String {
        let same = self.rows.iter().filter(|row| row.same).count();
        let other = self.rows.iter().filter(|row| !row.same);
        let other: Vec<String> = other.map(|row| format!("“{}”", row.label)).collect();
        let count = format!("{same} of {} answers are the same.", self.rows.len());
        match other.split_last() {
            None => format!("{count} You and the program agree."),
            Some((last, [])) => format!("{count} Look again at {last}."),
            Some((last, before)) => {
                format!("{count} Look again at {} and {last}.", before.join(", "))
            }
        }
    }

    /// Said where the difference could have hurt her.
    pub(super) fn warning(&self) -> Option<&'static str> {
        self.waits_longer
            .then_some("With your answer she would have waited longer than with the program’s.")
    }
}

/// An urgency that is less pressing than the other, or none.
fn waits_longer(hers: Option<Urgency>, programs: Option<Urgency>) -> bool {
    match (hers, programs) {
        (_, None) => false,
        (None, Some(_)) => true,
        (Some(hers), Some(programs)) => hers > programs,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_the_less_pressing_answer_is_warned_of() {
        use Urgency::{Now, Recheck, Soon};
        assert!(waits_longer(None, Some(Recheck)) && waits_longer(Some(Soon), Some(Now)));
        assert!(!waits_longer(Some(Now), Some(Soon)) && !waits_longer(Some(Soon), Some(Soon)));
        assert!(!waits_longer(Some(Recheck), None) && !waits_longer(None, None));
    }
}
