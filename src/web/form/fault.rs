//! Everything that is wrong with a form, for the summary on top of its page.

/// A fault and the input that it is about.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Fault {
    /// The id of an input.
    pub(crate) anchor: String,
    /// The question.
    pub(crate) label: String,
    /// The same words as beside the field.
    pub(crate) why: String,
}

/// A question that may be at fault.
pub(crate) trait Asked {
    /// Its faults, in the order of its inputs.
    fn faults(&self) -> Vec<Fault>;
}

/// The faults of a whole form, in the order of its questions.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(crate) struct Faults(pub(crate) Vec<Fault>);

const UP_TO_TEN: [&str; 11] = [
    "Nothing", "One", "Two", "Three", "Four", "Five", "Six", "Seven", "Eight", "Nine", "Ten",
];

impl Faults {
    /// Of these questions.
    pub(crate) fn of(questions: &[&dyn Asked]) -> Self {
        Self(questions.iter().flat_map(|asked| asked.faults()).collect())
    }

    /// Whether there is none.
    pub(crate) fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// Those of a further part of the form, behind these.
    #[must_use]
    pub(crate) fn and(mut self, more: Self) -> Self {
        self.0.extend(more.0);
        self
    }

    /// The summary's heading: “Two things need another look”.
    pub(crate) fn heading(&self) -> String {
        let count = self.0.len();
        let number = UP_TO_TEN
            .get(count)
            .map_or_else(|| count.to_string(), |it| (*it).to_owned());
        if count == 1 {
            format!("{number} thing needs another look")
        } else {
            format!("{number} things need another look")
        }
    }
}
