//! One request's visitor: the key, and the person if it belongs to a session.

use std::cell::Cell;
use std::future::{Ready, ready};
use std::rc::Rc;

use actix_web::cookie::time::Duration;
use actix_web::cookie::{Cookie, SameSite};
use actix_web::dev::Payload;
use actix_web::{FromRequest, HttpMessage as _, HttpRequest};
use chrono_tz::Tz;

use super::{Person, SessionKey};

pub(super) const COOKIE: &str = "session";

/// Who sent a request.
pub(crate) struct Visitor {
    pub(super) key: Option<SessionKey>,
    /// Whether the browser does not have the key yet.
    pub(super) fresh: bool,
    /// Whether the page holds a form, so that the browser will need the key.
    pub(super) needs_key: Cell<bool>,
    person: Option<Person>,
}

impl Visitor {
    pub(super) fn new(key: Option<SessionKey>, fresh: bool, person: Option<Person>) -> Self {
        Self {
            key,
            fresh,
            needs_key: Cell::new(false),
            person,
        }
    }

    /// Of a request that was looked at by `recognise`; of any other a stranger.
    pub(crate) fn of(req: &HttpRequest) -> Rc<Self> {
        let known = req.extensions().get::<Rc<Self>>().cloned();
        known.unwrap_or_else(|| Rc::new(Self::new(None, false, None)))
    }

    /// Who is signed in.
    pub(crate) fn person(&self) -> Option<&Person> {
        self.person.as_ref()
    }

    /// By whose clock times are told.
    pub(crate) fn zone(&self) -> Tz {
        self.person.as_ref().map_or(Tz::UTC, |person| person.zone)
    }

    /// The token for the forms of a page; the browser gets the key with that page, if it has none.
    pub(crate) fn token(&self) -> String {
        self.needs_key.set(true);
        self.key.as_ref().map(SessionKey::token).unwrap_or_default()
    }

    /// Whether a form brought this session's token.
    pub(crate) fn token_is(&self, token: &str) -> bool {
        !self.fresh && self.key.as_ref().is_some_and(|key| key.token_is(token))
    }

    /// The key that the browser sent, for whoever lists or ends sessions; empty without one.
    pub(crate) fn key(&self) -> &str {
        self.key.as_ref().map(SessionKey::text).unwrap_or_default()
    }
}

/// A handler takes it as `visitor: Seen`.
pub(crate) struct Seen(pub(crate) Rc<Visitor>);

impl FromRequest for Seen {
    type Error = std::convert::Infallible;
    type Future = Ready<Result<Self, Self::Error>>;

    fn from_request(req: &HttpRequest, _: &mut Payload) -> Self::Future {
        ready(Ok(Self(Visitor::of(req))))
    }
}

/// Carries the key until the browser is closed or the session ends.
pub(crate) fn session_cookie(key: &SessionKey, secure: bool) -> Cookie<'static> {
    cookie(key.text().to_owned(), secure).finish()
}

/// Takes the key away.
pub(crate) fn expired_cookie(secure: bool) -> Cookie<'static> {
    cookie(String::new(), secure)
        .max_age(Duration::ZERO)
        .finish()
}

fn cookie(value: String, secure: bool) -> actix_web::cookie::CookieBuilder<'static> {
    Cookie::build(COOKIE, value)
        .path("/")
        .http_only(true)
        .same_site(SameSite::Lax)
        .secure(secure)
}
