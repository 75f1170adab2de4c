//! Births: the lists, recording one with every baby, one record, amending.

mod baby_form;
mod edit;
mod error;
mod form;
mod list;
mod show;

pub(in crate::web) use edit::{amend, ask_amend, ask_new, record};
pub(in crate::web) use error::{ask as ask_error, mark as mark_error};
pub(in crate::web) use list::list;
pub(in crate::web) use show::show;
