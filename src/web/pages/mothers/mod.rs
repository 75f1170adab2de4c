//! The mothers of a post: found, registered, amended, and the page of one.

pub(in crate::web) mod amend;
mod double;
mod facts;
mod form;
mod known;
mod line;
pub(in crate::web) mod list;
mod more;
pub(in crate::web) mod new;
mod next;
pub(in crate::web) mod show;
mod story;
mod words;

#[cfg(test)]
mod form_tests;
#[cfg(test)]
mod words_tests;
