//! Texts travel packed by gzip, at the level that pays on a slow line: actix's own middleware packs at its fastest level, which
//! left the pages here a quarter to a half longer.

use std::io::{self, Write as _};

use actix_web::body::{BoxBody, MessageBody};
use actix_web::dev::{ServiceRequest, ServiceResponse};
use actix_web::http::StatusCode;
use actix_web::http::header::{
    AcceptEncoding, CONTENT_ENCODING, CONTENT_TYPE, ContentEncoding, Encoding, HeaderMap,
    HeaderValue, VARY,
};
use actix_web::middleware::Next;
use actix_web::{Error, HttpMessage as _};
use flate2::Compression;
use flate2::write::GzEncoder;

/// Below this a packed text is hardly shorter and fits one packet anyway, bytes.
const WORTH_PACKING: usize = 600;

/// Packs what is worth it, for whoever says that it can unpack.
///
/// # Errors
/// Those of what it wraps.
pub(crate) async fn packed(
    req: ServiceRequest,
    next: Next<impl MessageBody + 'static>,
) -> Result<ServiceResponse<BoxBody>, Error> {
    let offered = [Encoding::gzip(), Encoding::identity()];
    let wanted = req.get_header::<AcceptEncoding>();
    let wanted = wanted.and_then(|it| it.negotiate(offered.iter()));
    let (answered, mut answer) = next.call(req).await?.into_parts();
    let text = is_text(answer.headers());
    if text {
        let vary = HeaderValue::from_static("accept-encoding");
        answer.headers_mut().append(VARY, vary);
    }
    let whole = answer.status() != StatusCode::PARTIAL_CONTENT
        && !answer.headers().contains_key(CONTENT_ENCODING);
    if !(text && whole && wanted == Some(Encoding::gzip())) {
        return Ok(ServiceResponse::new(answered, answer.map_into_boxed_body()));
    }
    let (mut head, body) = answer.into_parts();
    let body = match body.try_into_bytes() {
        Ok(body) if body.len() < WORTH_PACKING => BoxBody::new(body),
        Ok(body) => {
            let gzip = ContentEncoding::Gzip.to_header_value();
            head.headers_mut().insert(CONTENT_ENCODING, gzip);
            BoxBody::new(pack(&body)?)
        }
        Err(body) => body.boxed(),
    };
    Ok(ServiceResponse::new(answered, head.set_body(body)))
}

fn is_text(headers: &HeaderMap) -> bool {
    let kind = headers.get(CONTENT_TYPE);
    let kind = kind.and_then(|it| it.to_str().ok()).unwrap_or_default();
    let kind = kind.split(';').next().unwrap_or_default();
    kind.starts_with("text/") || matches!(kind, "application/json" | "image/svg+xml")
}

/// On the thread that answers: a page of 160 KB takes it a few milliseconds.
fn pack(text: &[u8]) -> io::Result<Vec<u8>> {
    let mut packer = GzEncoder::new(Vec::new(), Compression::default());
    packer.write_all(text)?;
    packer.finish()
}
