//! The pages: handler, page struct and form of each side by side; templates mirror these files.

pub(in crate::web) mod account;
pub(in crate::web) mod births;
mod entered_in_error;
pub(in crate::web) mod health;
mod hers;
pub(in crate::web) mod labours;
pub(in crate::web) mod months;
pub(in crate::web) mod mothers;
pub(in crate::web) mod posts;
pub(in crate::web) mod practice;
pub(in crate::web) mod pregnancies;
pub(in crate::web) mod referrals;
pub(in crate::web) mod review;
pub(in crate::web) mod rules;
pub(in crate::web) mod sign_in;
pub(in crate::web) mod staff;
mod tally;
pub(in crate::web) mod today;
pub(in crate::web) mod trail;
pub(in crate::web) mod visits;
