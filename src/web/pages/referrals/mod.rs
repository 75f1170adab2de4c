//! Referrals: the lists, one referral, deciding, every step, the answer, the letter.

pub(in crate::web) mod answer;
pub(in crate::web) mod error;
pub(in crate::web) mod letter;
mod list;
mod new;
mod new_form;
mod show;
pub(in crate::web) mod step;
mod step_form;

pub(in crate::web) use list::list;
pub(in crate::web) use new::{ask as ask_new, decide};
pub(in crate::web) use show::show;
pub(in crate::web) use step::{ask_better, save_better};
