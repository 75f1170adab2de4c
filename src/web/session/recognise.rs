//! Looks at the cookie of every request and says who asks.

use std::rc::Rc;

use actix_web::body::{BoxBody, MessageBody};
use actix_web::dev::{ServiceRequest, ServiceResponse};
use actix_web::middleware::Next;
use actix_web::{Error, HttpMessage as _};
use chrono::TimeDelta;
use chrono_tz::Tz;
use tracing::warn;

use super::visitor::COOKIE;
use super::{Person, Seat, SessionKey, Visitor, session_cookie};
use crate::clinical::Moment;
use crate::registry::posts::{self, Post};
use crate::registry::{self, Db, sessions, staff};
use crate::web::blocking::blocking;
use crate::web::error::PageError;
use crate::web::state::House;

/// A session ends after so long without a request.
pub(crate) const fn idle() -> TimeDelta {
    TimeDelta::hours(12)
}

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

/// The person of an open session, and a note that it is used.
async fn person(key: &SessionKey, house: &House) -> Result<Option<Person>, PageError> {
    let (registry, now, key) = (house.registry().clone(), house.now(), key.text().to_owned());
    let district = house.settings().district.clone().unwrap_or_default();
    blocking(move || {
        let known = registry.read(|db| known(db, &key, now, district))?;
        if known.is_some()
            && let Err(error) = sessions::touch(&registry, &key, now, idle())
        {
            // A full disk must not keep her from reading.
            warn!(?error, "the session could not be moved along");
        }
        Ok(known)
    })
    .await
}

fn known(
    db: &mut Db,
    key: &str,
    now: Moment,
    district: String,
) -> registry::Result<Option<Person>> {
    let session = sessions::load(db, key, now)?;
    let Some(id) = session.and_then(|session| session.staff) else {
        return Ok(None);
    };
    let staff = staff::find(db, id)?;
    let post = staff
        .post_id
        .map(|id| posts::find(db, id))
        .transpose()?
        .map(seat);
    let zone = match &post {
        Some(seat) => seat.zone,
        // District and keeper read the clock of the district's first open post.
        None => posts::list(db)?
            .into_iter()
            .find(|post| post.stopped_at.is_none())
            .map_or(Tz::UTC, |post| seat(post).zone),
    };
    Ok(Some(Person {
        id: staff.id,
        sign_in: staff.sign_in,
        name: staff.name,
        role: staff.role,
        visit_form: staff.visit_form,
        post,
        zone,
        district,
    }))
}

fn seat(post: Post) -> Seat {
    Seat {
        // The registry takes only zones that are in the table.
        zone: post.time_zone.parse().unwrap_or(Tz::UTC),
        id: post.id,
        code: post.code,
        name: post.name,
    }
}
