//! Labour: who is in labour now, one record with its rows, opening, amending, closing.

mod amend;
mod close;
mod open;
mod row_form;
mod row_options;
mod show;
mod ward;
pub(in crate::web::pages) mod words;

pub(in crate::web) use amend::{ask as ask_row, save as amend_row};
pub(in crate::web) use close::{ask as ask_close, close};
pub(in crate::web) use open::{ask as ask_new, open};
pub(in crate::web) use show::{add_row, show};
pub(in crate::web) use ward::list;
