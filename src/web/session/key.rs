//! The secret in the cookie, and what is made from it.

use std::fmt::Write as _;

use sha2::{Digest, Sha256};
use subtle::ConstantTimeEq as _;

use crate::web::error::PageError;

/// 256 random bits in hexadecimal. Neither stored nor logged: no `Debug`.
#[derive(Clone, PartialEq, Eq)]
pub(crate) struct SessionKey(String);

impl SessionKey {
    /// A new one.
    pub(crate) fn made() -> Result<Self, PageError> {
        let mut bytes = [0_u8; 32];
        getrandom::fill(&mut bytes).map_err(PageError::failed)?;
        Ok(Self(hexadecimal(&bytes)))
    }

    /// Out of a cookie; anything else than one of ours is none.
    pub(super) fn read(cookie: &str) -> Option<Self> {
        let ours = cookie.len() == 64
            && cookie
                .bytes()
                .all(|it| matches!(it, b'0'..=b'9' | b'a'..=b'f'));
        ours.then(|| Self(cookie.to_owned()))
    }

    /// For the cookie, and for the registry, which keeps only its hash.
    pub(crate) fn text(&self) -> &str {
        &self.0
    }

    /// For the forms of this session.
    pub(crate) fn token(&self) -> String {
        hexadecimal(&Sha256::digest(format!("anti-forgery token {}", self.0)))
    }

    /// Compares without telling by its time how much was right.
    pub(super) fn token_is(&self, token: &str) -> bool {
        self.token().as_bytes().ct_eq(token.as_bytes()).into()
    }
}

fn hexadecimal(bytes: &[u8]) -> String {
    bytes.iter().fold(String::new(), |mut text, byte| {
        let _ = write!(text, "{byte:02x}");
        text
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_token_belongs_to_its_key_alone_and_does_not_give_the_key_away() {
        let (one, other) = (SessionKey::made().unwrap(), SessionKey::made().unwrap());
        assert!(one.token_is(&one.token()));
        assert!(!other.token_is(&one.token()));
        assert!(!one.token_is("") && !one.token_is(one.text()));
    }

    #[test]
    fn only_a_key_of_ours_is_read_from_a_cookie() {
        let key = SessionKey::made().unwrap();
        assert!(SessionKey::read(key.text()) == Some(key));
        for text in ["", "abc", &"G".repeat(64), &"a".repeat(65)] {
            assert!(SessionKey::read(text).is_none(), "{text}");
        }
    }
}
