//! Visits: the form, drawn or as a list; what a visit means; amending it; the same form without a mother.

pub(in crate::web) mod amend;
mod form;
mod ground;
pub(in crate::web::pages) mod meaning;
pub(in crate::web) mod new;
#[cfg(test)]
mod pad_tests;
pub(in crate::web::pages) mod seen;
mod sheet;
pub(in crate::web) mod show;
mod stale;
mod subject;
pub(in crate::web::pages) mod tapes;
pub(in crate::web) mod tried;
pub(in crate::web::pages) mod words;
