//! Work that waits: off the async threads, in the span of its request.

use actix_web::web;
use tracing::Span;

use crate::registry;
use crate::web::error::PageError;

/// Does `work` on a thread that may wait.
#[expect(
    clippy::disallowed_methods,
    reason = "the one place that may call `web::block`"
)]
pub(crate) async fn blocking<T: Send + 'static>(
    work: impl FnOnce() -> registry::Result<T> + Send + 'static,
) -> Result<T, PageError> {
    let span = Span::current();
    let done = web::block(move || span.in_scope(work)).await;
    Ok(done.map_err(|_| PageError::Stopping)??)
}
