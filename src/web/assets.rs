//! Sheets, script and icon: embedded, with a hash in the address, so that a browser may keep them for a year.

use std::fmt::Write as _;
use std::sync::LazyLock;

use actix_web::HttpResponse;
use actix_web::http::header::{CACHE_CONTROL, CONTENT_TYPE};
use sha2::{Digest, Sha256};

use crate::web::audience::Anyone;
use crate::web::error::PageError;
use crate::web::path::Key;

/// One sheet, in this order; later parts refine earlier ones.
const SHEET: &str = concat!(
    include_str!("../../static/brimline.css"),
    include_str!("../../static/care.css"),
    include_str!("../../static/months.css"),
    include_str!("../../static/pics.css"),
);

struct Asset {
    address: String,
    kind: &'static str,
    text: &'static str,
}

impl Asset {
    fn new(name: &str, ending: &str, kind: &'static str, text: &'static str) -> Self {
        let hash = Sha256::digest(text);
        let hash = hash.iter().take(6).fold(String::new(), |mut hash, byte| {
            let _ = write!(hash, "{byte:02x}");
            hash
        });
        Self {
            address: format!("/static/{name}-{hash}.{ending}"),
            kind,
            text,
        }
    }
}

static SHEETS: LazyLock<Asset> =
    LazyLock::new(|| Asset::new("brimline", "css", "text/css; charset=utf-8", SHEET));
static ICON: LazyLock<Asset> = LazyLock::new(|| {
    Asset::new(
        "icon",
        "svg",
        "image/svg+xml",
        include_str!("../../static/icon.svg"),
    )
});
static SCRIPT: LazyLock<Asset> = LazyLock::new(|| {
    let text = include_str!("../../static/visit-pad.js");
    Asset::new("visit-pad", "js", "text/javascript; charset=utf-8", text)
});

/// Address of the one sheet.
pub(crate) fn sheet() -> &'static str {
    &SHEETS.address
}

/// Address of the icon.
pub(crate) fn icon() -> &'static str {
    &ICON.address
}

/// Address of the script that helps with long forms; nothing needs it.
pub(crate) fn script() -> &'static str {
    &SCRIPT.address
}

/// `/static/{name}`.
pub(crate) async fn send(_: Anyone, Key(name): Key<String>) -> Result<HttpResponse, PageError> {
    let asked = format!("/static/{name}");
    let found = [&*SHEETS, &*ICON, &*SCRIPT]
        .into_iter()
        .find(|it| it.address == asked);
    let asset = found.ok_or(PageError::Missing)?;
    Ok(HttpResponse::Ok()
        .insert_header((CONTENT_TYPE, asset.kind))
        .insert_header((CACHE_CONTROL, "public, max-age=31536000, immutable"))
        .body(asset.text))
}
