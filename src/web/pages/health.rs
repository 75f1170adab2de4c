//! Whether the program and its database answer. Knows nobody and says nothing else.

use actix_web::HttpResponse;
use actix_web::http::StatusCode;
use actix_web::http::header::ContentType;

use crate::web::audience::Anyone;
use crate::web::state::House;

/// `GET /health`: 200, or 503 when the database does not answer.
pub(crate) async fn show(_: Anyone, house: House) -> HttpResponse {
    let answers = house.read(|_| Ok(())).await.is_ok();
    let (status, body) = if answers {
        (StatusCode::OK, r#"{"status":"ok"}"#)
    } else {
        (
            StatusCode::SERVICE_UNAVAILABLE,
            r#"{"status":"no database"}"#,
        )
    };
    HttpResponse::build(status)
        .content_type(ContentType::json())
        .body(body)
}
