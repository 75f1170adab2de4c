//! Visits: the form, drawn or as a list; what a visit means; amending it.

pub(in crate::web) mod amend;
mod form;
mod ground;
mod meaning;
pub(in crate::web) mod new;
#[cfg(test)]
mod pad_tests;
mod seen;
mod sheet;
pub(in crate::web) mod show;
mod stale;
mod subject;
pub(in crate::web::pages) mod tapes;
mod words;
