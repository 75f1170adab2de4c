//! The six questions of a case, and what the learner chose.

use crate::clinical::{Assessment, Back, Certainty, Lie, Presentation, Urgency};
use crate::web::form::{Faults, Field, Opt, Typed};

/// One question, as asked and as answered.
pub(super) struct Question {
    pub(super) field: Field<String>,
    pub(super) options: Vec<Opt>,
}

/// The six of a case, in the order of the hands.
pub(super) struct Answers {
    pub(super) questions: [Question; 6],
}

/// What the program answers to each question, in codes.
pub(super) fn of_the_program(assessment: &Assessment) -> [&'static str; 6] {
    let hands = assessment.palpation.as_ref();
    [
        hands.map_or("unknown", |it| it.lie.code()),
        hands.map_or("unknown", |it| it.presentation.code()),
        hands.map_or("unknown", |it| it.back.code()),
        match hands.and_then(|it| it.engaged) {
            Some(true) => "true",
            Some(false) => "false",
            None => "unknown",
        },
        hands.map_or("insufficient", |it| it.certainty.code()),
        assessment.urgency().map_or("none", |it| it.code()),
    ]
}

impl Question {
    fn read(typed: &Typed, name: &'static str, label: &'static str, options: Vec<Opt>) -> Self {
        let chosen = |text: &str| Ok::<_, &str>(text.to_owned());
        let field = Field::choice(typed, name, label, &options, chosen)
            .needed("choose one; where nothing can be said, that is an answer too");
        Self { field, options }
    }

    pub(super) fn words(&self, code: &str) -> &str {
        let option = self.options.iter().find(|it| it.code == code);
        option.map_or("–", |it| it.words.as_str())
    }
}

impl Answers {
    /// Nothing chosen, and nothing missing yet.
    pub(super) fn blank() -> Self {
        Self::read(&Typed::default())
    }

    /// Out of the address; what is no answer is a fault beside its question.
    pub(super) fn read(typed: &Typed) -> Self {
        let ask = |name, label, options| Question::read(typed, name, label, options);
        Self {
            questions: [
                ask("lie", "Lie", Opt::every::<Lie>()),
                ask(
                    "presentation",
                    "What comes first",
                    Opt::every::<Presentation>(),
                ),
                ask("back", "The back", backs()),
                ask("engaged", "Head engaged?", engaged()),
                ask("certainty", "How sure", certainties()),
                ask("urgency", "What to do", urgencies()),
            ],
        }
    }

    /// In the order of the questions.
    pub(super) fn faults(&self) -> Faults {
        let fields = self.questions.iter().map(|it| Faults::of(&[&it.field]));
        fields.fold(Faults::default(), Faults::and)
    }
}

fn backs() -> Vec<Opt> {
    let words = |back: &Back| match back {
        Back::Left => "On her left",
        Back::Right => "On her right",
        Back::Unknown => "Not known",
    };
    Back::ALL
        .iter()
        .map(|it| Opt::new(it.code(), words(it)))
        .collect()
}

fn engaged() -> Vec<Opt> {
    vec![
        Opt::new("true", "Yes"),
        Opt::new("false", "No"),
        Opt::new("unknown", "Cannot be said"),
    ]
}

fn certainties() -> Vec<Opt> {
    let says = |certainty: &Certainty| match certainty {
        Certainty::Clear => "both ends found, and they fit",
        Certainty::Probable => "one end found, or a guess in it",
        Certainty::Conflicting => "the findings contradict each other",
        Certainty::Insufficient => "no end that decides",
    };
    let option = |(option, it): (Opt, &Certainty)| option.saying(says(it));
    let options = Opt::every::<Certainty>();
    options
        .into_iter()
        .zip(Certainty::ALL)
        .map(option)
        .collect()
}

fn urgencies() -> Vec<Opt> {
    let says = |urgency: &Urgency| match urgency {
        Urgency::Now => "transfer at once",
        Urgency::Soon => "book before labour, within days",
        Urgency::Review => "the midwife in charge decides",
        Urgency::Recheck => "feel or measure again at a named time",
    };
    let option = |(option, it): (Opt, &Urgency)| option.saying(says(it));
    let options = Opt::every::<Urgency>();
    let mut options: Vec<_> = options.into_iter().zip(Urgency::ALL).map(option).collect();
    options.push(Opt::new("none", "The next visit").saying("nothing found that asks for more"));
    options
}
