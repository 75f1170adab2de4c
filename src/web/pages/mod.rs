//! The pages: handler, page struct and form of each side by side; templates mirror these files.

pub(in crate::web) mod health;
