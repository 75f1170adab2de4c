//! One question with several answers, and what may be chosen.

use std::borrow::Cow;

use super::fault::{Asked, Fault};
use super::{Typed, choice_id};
pub(crate) use crate::clinical::Vocabulary;

/// One choice as it stands on the page.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Opt {
    /// As sent.
    pub(crate) code: String,
    /// As read.
    pub(crate) words: String,
    /// Small words below, or empty.
    pub(crate) says: String,
}

impl Opt {
    /// A choice without small words.
    pub(crate) fn new(code: impl Into<String>, words: impl Into<String>) -> Self {
        Self {
            code: code.into(),
            words: words.into(),
            says: String::new(),
        }
    }

    /// With small words below.
    #[must_use]
    pub(crate) fn saying(mut self, says: impl Into<String>) -> Self {
        self.says = says.into();
        self
    }

    /// Every code of a vocabulary with its words, in the vocabulary's order, words beginning large.
    pub(crate) fn every<T: Vocabulary>() -> Vec<Self> {
        Self::these(T::ALL)
    }

    /// These codes of a vocabulary.
    pub(crate) fn these<T: Vocabulary>(values: &[T]) -> Vec<Self> {
        let option = |value: &T| Self::new(value.code(), beginning_large(value.words()));
        values.iter().map(option).collect()
    }

    /// Yes and no, as `true` and `false`.
    pub(crate) fn yes_no() -> Vec<Self> {
        vec![Self::new("true", "Yes"), Self::new("false", "No")]
    }

    /// The id of its input under a question's name.
    pub(crate) fn id(&self, name: &str) -> String {
        choice_id(name, &self.code)
    }
}

fn beginning_large(words: &str) -> String {
    let mut rest = words.chars();
    let first = rest.next().into_iter().flat_map(char::to_uppercase);
    first.chain(rest).collect()
}

/// One question with several answers, as ticks.
#[derive(Debug, Clone)]
pub(crate) struct Choices<T> {
    /// As sent by the form.
    pub(crate) name: Cow<'static, str>,
    /// As asked on the page and named in the summary.
    pub(crate) label: Cow<'static, str>,
    /// As ticked.
    pub(crate) typed: Vec<String>,
    /// What they came to; empty when one is at fault.
    pub(crate) values: Vec<T>,
    /// What is wrong, for the person.
    pub(crate) fault: Option<String>,
    anchor: String,
}

impl<T: Vocabulary> Choices<T> {
    /// Nothing ticked.
    pub(crate) fn blank(
        name: impl Into<Cow<'static, str>>,
        label: impl Into<Cow<'static, str>>,
    ) -> Self {
        let name = name.into();
        let first = T::ALL.first().map(|value| value.code()).unwrap_or_default();
        Self {
            anchor: choice_id(&name, first),
            name,
            label: label.into(),
            typed: Vec::new(),
            values: Vec::new(),
            fault: None,
        }
    }

    /// Reads the ticks; the same tick twice counts once, and empty ones not at all.
    pub(crate) fn read(
        typed: &Typed,
        name: impl Into<Cow<'static, str>>,
        label: impl Into<Cow<'static, str>>,
    ) -> Self {
        let mut asked = Self::blank(name, label);
        for text in typed.all(&asked.name).filter(|text| !text.is_empty()) {
            match T::from_str(text) {
                Ok(value) if !asked.values.contains(&value) => asked.values.push(value),
                Ok(_) => {}
                Err(_) => asked.fault = Some("choose among the answers".to_owned()),
            }
            asked.typed.push(text.to_owned());
        }
        if let Some(why) = typed.spoiled(&asked.name) {
            asked.fault = Some(why.to_owned());
        }
        if asked.fault.is_some() {
            asked.values.clear();
        }
        asked
    }

    /// A fault, found when the answers were looked at together. The first stands.
    pub(crate) fn refuse(&mut self, why: impl Into<String>) {
        self.values.clear();
        self.fault.get_or_insert_with(|| why.into());
    }
}

impl<T> Choices<T> {
    /// Whether this one is ticked.
    pub(crate) fn has(&self, code: &str) -> bool {
        self.typed.iter().any(|text| text == code)
    }
}

impl<T> Asked for Choices<T> {
    fn faults(&self) -> Vec<Fault> {
        let fault = |why: &String| Fault {
            anchor: self.anchor.clone(),
            label: self.label.clone().into_owned(),
            why: why.clone(),
        };
        self.fault.iter().map(fault).collect()
    }
}
