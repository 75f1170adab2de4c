//! One question with one answer: what was typed, what it came to, what is wrong with it.

use std::borrow::Cow;
use std::fmt::Display;

use super::fault::{Asked, Fault};
use super::{Opt, Typed, Vocabulary, choice_id};

/// One question. An empty answer is no value and no fault; see [`Field::needed`].
#[derive(Debug, Clone)]
pub(crate) struct Field<T> {
    /// As sent by the form.
    pub(crate) name: Cow<'static, str>,
    /// As asked on the page and named in the summary.
    pub(crate) label: Cow<'static, str>,
    /// As typed, or as filled in beforehand.
    pub(crate) typed: String,
    /// What it came to.
    pub(crate) value: Option<T>,
    /// What is wrong, for the person; beside the field and in the summary.
    pub(crate) fault: Option<String>,
    anchor: Option<String>,
    asked: bool,
}

impl<T> Field<T> {
    /// Not answered yet.
    pub(crate) fn blank(
        name: impl Into<Cow<'static, str>>,
        label: impl Into<Cow<'static, str>>,
    ) -> Self {
        Self {
            name: name.into(),
            label: label.into(),
            typed: String::new(),
            value: None,
            fault: None,
            anchor: None,
            asked: false,
        }
    }

    /// Reads and judges the answer. Sent twice, unreadable or with hidden signs is a fault.
    pub(crate) fn read<E: Display>(
        typed: &Typed,
        name: impl Into<Cow<'static, str>>,
        label: impl Into<Cow<'static, str>>,
        parse: impl FnOnce(&str) -> Result<T, E>,
    ) -> Self {
        let mut field = Self::blank(name, label);
        field.asked = typed.was_sent();
        let text = typed.last(&field.name).to_owned();
        if typed.all(&field.name).count() > 1 {
            field.fault = Some("was sent twice; give one answer".to_owned());
        } else if let Some(why) = typed.spoiled(&field.name) {
            field.fault = Some(why.to_owned());
        } else if !text.trim().is_empty() {
            match parse(text.trim()) {
                Ok(value) => field.value = Some(value),
                Err(why) => field.fault = Some(why.to_string()),
            }
        }
        field.typed = text;
        field
    }

    /// With an answer already in the box.
    #[must_use]
    pub(crate) fn holding(mut self, typed: impl Display) -> Self {
        self.typed = typed.to_string();
        self
    }

    /// An empty answer is a fault, once the form was sent: the sentence says what to write.
    #[must_use]
    pub(crate) fn needed(self, why: &str) -> Self {
        if self.asked && self.value.is_none() && self.fault.is_none() {
            self.refused(why)
        } else {
            self
        }
    }

    /// A fault, found when the answers were looked at together.
    #[must_use]
    pub(crate) fn refused(mut self, why: impl Into<String>) -> Self {
        self.refuse(why);
        self
    }

    /// As [`Field::refused`], in place. The first fault stands.
    pub(crate) fn refuse(&mut self, why: impl Into<String>) {
        self.value = None;
        self.fault.get_or_insert_with(|| why.into());
    }

    /// Whether this choice is the one that was made.
    pub(crate) fn is(&self, code: &str) -> bool {
        self.typed == code
    }

    /// Whether the form was sent, so that an empty answer is one.
    pub(super) fn was_asked(&self) -> bool {
        self.asked
    }

    /// Where the summary's link lands.
    pub(crate) fn anchor(&self) -> &str {
        self.anchor.as_deref().unwrap_or(&self.name)
    }

    /// Ids of message and hint, in the order in which they are read out; empty without either.
    pub(crate) fn described_by(&self, hint: &str) -> String {
        let mut ids = Vec::new();
        if self.fault.is_some() {
            ids.push(format!("{}-wrong", self.name));
        }
        if !hint.is_empty() {
            ids.push(format!("{}-hint", self.name));
        }
        ids.join(" ")
    }
}

impl Field<String> {
    /// Reads a password: nothing trimmed, and never sent back to the page.
    pub(crate) fn secret(
        typed: &Typed,
        name: impl Into<Cow<'static, str>>,
        label: impl Into<Cow<'static, str>>,
        most: usize,
    ) -> Self {
        let mut field = Self::blank(name, label);
        field.asked = typed.was_sent();
        let text = typed.last(&field.name);
        if let Some(why) = typed.spoiled(&field.name) {
            field.fault = Some(why.to_owned());
        } else if text.chars().count() > most {
            field.fault = Some(format!("is longer than {most} letters"));
        } else if !text.is_empty() {
            field.value = Some(text.to_owned());
        }
        field
    }
}

impl<T> Field<T> {
    /// Reads one choice out of several that are no vocabulary: `options` are the codes in the order shown.
    pub(crate) fn choice<E: Display>(
        typed: &Typed,
        name: impl Into<Cow<'static, str>>,
        label: impl Into<Cow<'static, str>>,
        options: &[Opt],
        parse: impl FnOnce(&str) -> Result<T, E>,
    ) -> Self {
        let known = |text: &str| options.iter().any(|option| option.code == text);
        let mut field = Self::read(typed, name, label, |text| {
            if known(text) {
                parse(text).map_err(|why| why.to_string())
            } else {
                Err("choose one of the answers".to_owned())
            }
        });
        let shown = options.iter().find(|option| option.code == field.typed);
        if let Some(option) = shown.or_else(|| options.first()) {
            field.anchor = Some(choice_id(&field.name, &option.code));
        }
        field
    }

    /// Shown as a list that drops down: the summary's link lands on the list itself.
    #[must_use]
    pub(crate) fn in_list(mut self) -> Self {
        self.anchor = None;
        self
    }

    /// Of radios not answered yet: the summary's link lands on the first.
    #[must_use]
    pub(crate) fn first_choice(mut self, code: &str) -> Self {
        self.anchor = Some(choice_id(&self.name, code));
        self
    }
}

impl<T: Vocabulary> Field<T> {
    /// Reads one code of a vocabulary, shown as radios or a list.
    pub(crate) fn code(
        typed: &Typed,
        name: impl Into<Cow<'static, str>>,
        label: impl Into<Cow<'static, str>>,
    ) -> Self {
        Self::choice(typed, name, label, &Opt::every::<T>(), str::parse)
    }

    /// The same question with this answer already chosen.
    #[must_use]
    pub(crate) fn chosen(mut self, value: Option<T>) -> Self {
        value
            .map(T::code)
            .unwrap_or_default()
            .clone_into(&mut self.typed);
        self.value = value;
        self
    }
}

impl<T> Asked for Field<T> {
    fn faults(&self) -> Vec<Fault> {
        let fault = |why: &String| Fault {
            anchor: self.anchor().to_owned(),
            label: self.label.clone().into_owned(),
            why: why.clone(),
        };
        self.fault.iter().map(fault).collect()
    }
}
