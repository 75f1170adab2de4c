//! Forms: pairs of text in; typed values, or every fault at once with all that was typed.
//!
//! No serde: it stops at the first fault and loses what was typed. A form is a struct of [`Field`],
//! [`Choices`] and [`When`] that implements [`Form`]; a handler takes [`CheckedForm`] of it.

mod checked;
mod choices;
mod fault;
mod field;
mod origin;
pub(crate) mod parse;
mod request;
mod typed;
mod when;

pub(crate) use checked::{CheckedForm, Form, Query};
pub(crate) use choices::{Choices, Opt, Vocabulary};
pub(crate) use fault::{Asked, Fault, Faults};
pub(crate) use field::Field;
pub(crate) use request::{REQUEST, request_key, request_of};
pub(crate) use typed::{BadBody, Typed, escaped};
pub(crate) use when::{Sense, When};

/// The id of one choice of a question, as the drawn form and the summary's links know it.
pub(crate) fn choice_id(name: &str, code: &str) -> String {
    match code {
        "" => format!("{name}-none"),
        "none" => format!("{name}-no"),
        code => format!("{name}-{}", code.replace('+', "")),
    }
}

#[cfg(test)]
mod specimen_tests;
