//! Ids out of an address. What is no id is a page that does not exist.

use std::future::{Ready, ready};
use std::str::FromStr;

use actix_web::dev::Payload;
use actix_web::{FromRequest, HttpRequest};

use crate::web::error::PageError;

/// The first part in braces of the address: `Key(id): Key<MotherId>` of `/mothers/{id}`.
pub(crate) struct Key<T>(pub(crate) T);

/// The first two parts in braces.
pub(crate) struct Keys<A, B>(pub(crate) A, pub(crate) B);

fn part<T: FromStr>(req: &HttpRequest, place: usize) -> Result<T, PageError> {
    let text = req.match_info().iter().nth(place).map(|(_, text)| text);
    text.and_then(|text| text.parse().ok())
        .ok_or(PageError::Missing)
}

impl<T: FromStr> FromRequest for Key<T> {
    type Error = PageError;
    type Future = Ready<Result<Self, PageError>>;

    fn from_request(req: &HttpRequest, _: &mut Payload) -> Self::Future {
        ready(part(req, 0).map(Self))
    }
}

impl<A: FromStr, B: FromStr> FromRequest for Keys<A, B> {
    type Error = PageError;
    type Future = Ready<Result<Self, PageError>>;

    fn from_request(req: &HttpRequest, _: &mut Payload) -> Self::Future {
        ready(part(req, 0).and_then(|first| Ok(Self(first, part(req, 1)?))))
    }
}
