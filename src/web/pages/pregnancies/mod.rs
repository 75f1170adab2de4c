//! A pregnancy's facts: asked, amended, and its end without a birth.

pub(in crate::web) mod amend;
mod difference;
pub(in crate::web) mod end;
mod form;
mod letter_form;
pub(in crate::web) mod new;
mod scan_form;

pub(crate) use difference::Difference;
pub(in crate::web::pages) use form::more_than_births;
pub(crate) use form::{Days, PregnancyForm};
pub(crate) use letter_form::phone;

#[cfg(test)]
mod form_tests;
