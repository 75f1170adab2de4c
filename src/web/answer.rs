//! What a handler gives back: a page, the same page with faults, or the way to the next one.

use actix_web::HttpResponse;
use actix_web::http::StatusCode;
use actix_web::http::header::{ContentType, LOCATION};
use askama::Template;

use crate::web::error::PageError;
use crate::web::flash::{self, Said};
use crate::web::state::House;

/// A response, or why there is none.
pub(crate) type Answer = Result<HttpResponse, PageError>;

/// The page, 200.
pub(crate) fn page(page: &impl Template) -> Answer {
    with(StatusCode::OK, page)
}

/// The same page with what was typed and what is wrong with it, 422.
pub(crate) fn refused(page: &impl Template) -> Answer {
    with(StatusCode::UNPROCESSABLE_ENTITY, page)
}

/// Somebody else was faster: both versions, 409.
pub(crate) fn stale(page: &impl Template) -> Answer {
    with(StatusCode::CONFLICT, page)
}

/// A page with another status.
pub(crate) fn with(status: StatusCode, page: &impl Template) -> Answer {
    let body = page.render()?;
    Ok(HttpResponse::build(status)
        .content_type(ContentType::html())
        .body(body))
}

/// On to another page of ours, 303.
#[expect(
    clippy::unnecessary_wraps,
    reason = "as its neighbours, so that a handler may end in any of them"
)]
pub(crate) fn go(path: impl AsRef<str>) -> Answer {
    Ok(HttpResponse::SeeOther()
        .insert_header((LOCATION, path.as_ref()))
        .finish())
}

/// On to another page of ours, which says what was done.
#[expect(
    clippy::unnecessary_wraps,
    reason = "as its neighbours, so that a handler may end in any of them"
)]
pub(crate) fn go_and_say(house: &House, path: impl AsRef<str>, said: Said) -> Answer {
    Ok(HttpResponse::SeeOther()
        .insert_header((LOCATION, path.as_ref()))
        .cookie(flash::say(said, house.settings().secure_cookies))
        .finish())
}
