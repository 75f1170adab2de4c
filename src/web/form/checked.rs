//! The way in for every form: its kind, its origin, its size and its anti-forgery token are proved before a field is read.

use std::future::Future;
use std::pin::Pin;

use actix_web::body::{BodyStream, to_bytes_limited};
use actix_web::dev::Payload;
use actix_web::http::header::{CONTENT_LENGTH, CONTENT_TYPE};
use actix_web::{FromRequest, HttpRequest, web};

use super::origin::is_ours;
use super::{BadBody, Faults, Sense, Typed};
use crate::web::error::PageError;
use crate::web::session::Visitor;
use crate::web::state::House;

/// No form of ours is half as long.
const MOST_BYTES: usize = 64 * 1024;
/// So much is read, though refused, so that the browser shows the answer and not a broken line.
const MOST_IGNORED: usize = 1024 * 1024;

/// A form that can be read from what was typed.
pub(crate) trait Form: Sized + 'static {
    /// Reads every question; faults stay beside their fields.
    fn read(typed: &Typed, sense: &Sense) -> Self;
    /// Everything that is wrong, in the order of the page.
    fn faults(&self) -> Faults;
}

impl Form for Typed {
    fn read(typed: &Typed, _: &Sense) -> Self {
        typed.clone()
    }
    fn faults(&self) -> Faults {
        Faults::default()
    }
}

/// A form with nothing in it but its token.
impl Form for () {
    fn read(_: &Typed, _: &Sense) -> Self {}
    fn faults(&self) -> Faults {
        Faults::default()
    }
}

/// A form whose token and origin are proved. Take it last: `CheckedForm(form): CheckedForm<VisitForm>`.
pub(crate) struct CheckedForm<F>(pub(crate) F);

impl<F: Form> FromRequest for CheckedForm<F> {
    type Error = PageError;
    type Future = Pin<Box<dyn Future<Output = Result<Self, PageError>>>>;

    fn from_request(req: &HttpRequest, payload: &mut Payload) -> Self::Future {
        let (req, payload) = (req.clone(), payload.take());
        Box::pin(async move {
            if !is_a_form(&req) {
                return Err(PageError::WrongKind);
            }
            if !is_ours(req.headers()) {
                return Err(PageError::Forged);
            }
            let typed = Typed::from_body(&body(&req, payload).await?)?;
            let visitor = Visitor::of(&req);
            let mut tokens = typed.all("token");
            match (tokens.next(), tokens.next()) {
                (Some(token), None) if visitor.token_is(token) => {}
                _ => return Err(PageError::Forged),
            }
            drop(tokens);
            Ok(Self(F::read(&typed, &sense(&req, &visitor)?)))
        })
    }
}

/// The part of an address behind the question mark. Never fails: what cannot be read is left out.
pub(crate) struct Query(pub(crate) Typed);

impl FromRequest for Query {
    type Error = std::convert::Infallible;
    type Future = std::future::Ready<Result<Self, Self::Error>>;

    fn from_request(req: &HttpRequest, _: &mut Payload) -> Self::Future {
        std::future::ready(Ok(Self(Typed::from_query(req.query_string()))))
    }
}

impl FromRequest for Sense {
    type Error = PageError;
    type Future = std::future::Ready<Result<Self, PageError>>;

    fn from_request(req: &HttpRequest, _: &mut Payload) -> Self::Future {
        std::future::ready(sense(req, &Visitor::of(req)))
    }
}

fn sense(req: &HttpRequest, visitor: &Visitor) -> Result<Sense, PageError> {
    Ok(Sense {
        now: House::of(req)?.now(),
        zone: visitor.zone(),
    })
}

fn is_a_form(req: &HttpRequest) -> bool {
    let kind = req
        .headers()
        .get(CONTENT_TYPE)
        .and_then(|it| it.to_str().ok());
    let kind = kind
        .unwrap_or_default()
        .split(';')
        .next()
        .unwrap_or_default();
    kind.trim()
        .eq_ignore_ascii_case("application/x-www-form-urlencoded")
}

async fn body(req: &HttpRequest, payload: Payload) -> Result<web::Bytes, PageError> {
    let told = req.headers().get(CONTENT_LENGTH);
    let told: Option<usize> = told.and_then(|it| it.to_str().ok()?.parse().ok());
    if told.is_some_and(|told| told > MOST_IGNORED) {
        return Err(PageError::TooLarge);
    }
    let unreadable = || PageError::Unreadable(None);
    let mut payload = payload;
    let stream = web::Payload::from_request(req, &mut payload)
        .await
        .map_err(|_| unreadable())?;
    let bytes = to_bytes_limited(BodyStream::new(stream), MOST_IGNORED)
        .await
        .map_err(|_| PageError::TooLarge)?
        .map_err(|_| unreadable())?;
    if bytes.len() > MOST_BYTES {
        return Err(PageError::TooLarge);
    }
    Ok(bytes)
}

impl From<BadBody> for PageError {
    fn from(why: BadBody) -> Self {
        Self::Unreadable(Some(why.to_string()))
    }
}
