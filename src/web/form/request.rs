//! The key of a form: sent twice, it is the same entry.

use std::fmt::Write as _;

use super::Typed;
use crate::web::error::PageError;

/// The hidden field that carries it.
pub(crate) const REQUEST: &str = "request";
const LETTERS: usize = 32;

/// A new key for a form that is about to be shown.
pub(crate) fn request_key() -> Result<String, PageError> {
    let mut bytes = [0_u8; LETTERS / 2];
    getrandom::fill(&mut bytes).map_err(PageError::failed)?;
    Ok(bytes.iter().fold(String::new(), |mut key, byte| {
        let _ = write!(key, "{byte:02x}");
        key
    }))
}

/// The key that was sent; anything that is none of ours is no key.
pub(crate) fn request_of(typed: &Typed) -> Option<String> {
    let key = typed.last(REQUEST);
    let ours = key.len() == LETTERS && key.bytes().all(|it| it.is_ascii_hexdigit());
    ours.then(|| key.to_owned())
}
