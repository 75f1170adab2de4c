//! The outermost layer: a number and one log line for every request, the headers, and the one place that makes error pages.
//!
//! The log holds the route's pattern, never the path or the query: those may hold ids, names and villages.

mod packed;
mod page;

use std::time::Instant;

use actix_web::body::{BoxBody, MessageBody};
use actix_web::dev::{ServiceRequest, ServiceResponse};
use actix_web::middleware::Next;
use actix_web::{Error, HttpMessage as _};
use tracing::{Instrument as _, error, info, info_span};

pub(crate) use self::packed::packed;
use crate::web::flash;
use crate::web::security;
use crate::web::shell::Shown;
use crate::web::state::House;

/// Six letters that person and log both know a request by.
#[derive(Debug, Clone)]
struct RequestId(String);

impl RequestId {
    fn made() -> Self {
        let mut bytes = [0_u8; 3];
        // Without random bits all requests are 000000: the log is poorer, the page still comes.
        let _ = getrandom::fill(&mut bytes);
        let [a, b, c] = bytes;
        Self(format!("{a:02X}{b:02X}{c:02X}"))
    }
}

/// Wraps every request.
///
/// # Errors
/// None of its own; whatever fails inside has been made a response.
pub(crate) async fn at_the_edge(
    req: ServiceRequest,
    next: Next<impl MessageBody + 'static>,
) -> Result<ServiceResponse<BoxBody>, Error> {
    let id = RequestId::made();
    let began = Instant::now();
    let span = info_span!("request", id = id.0);
    let mut answer = next.call(req).instrument(span.clone()).await?;
    let inside = span.enter();
    let status = answer.status();
    info!(
        status = status.as_u16(),
        method = %answer.request().method(),
        route = answer.request().match_pattern(),
        ms = began.elapsed().as_millis(),
        "answered"
    );
    let mut answer = match answer.response().error() {
        Some(failure) if !status.is_redirection() => {
            if status.is_server_error() {
                error!(error = ?failure, "failed");
            }
            let page = page::of(answer.request(), status, failure, &id.0);
            answer.into_response(page)
        }
        _ => {
            // A page has shown what was said: the next one is silent.
            if answer.request().extensions().contains::<Shown>() {
                let secure =
                    House::of(answer.request()).is_ok_and(|house| house.settings().secure_cookies);
                let _ = answer.response_mut().add_cookie(&flash::unsay(secure));
            }
            answer.map_into_boxed_body()
        }
    };
    drop(inside);
    security::protect(answer.response_mut().headers_mut());
    Ok(answer)
}
