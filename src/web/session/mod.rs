//! Who asks. A random key in a cookie; the registry keeps only its hash, with the person and when she was last seen.
//!
//! The anti-forgery token is made from the key, so a page of one session is of no use in another, and a stranger
//! has one for the sign-in form before any row is written.

mod key;
mod person;
mod recognise;
mod visitor;

pub(crate) use key::SessionKey;
pub(crate) use person::{Person, Seat};
pub(crate) use recognise::{idle, recognise};
pub(crate) use visitor::{Seen, Visitor, expired_cookie, session_cookie};
