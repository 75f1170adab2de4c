//! What can keep a page from being made, and the status that says so. The edge makes the page of it.

use actix_web::http::StatusCode;
use actix_web::{HttpResponse, ResponseError};

use crate::clinical::Vocabulary;
use crate::registry::{RegistryError, Role};

/// Why there is no page.
#[derive(Debug, thiserror::Error)]
pub(crate) enum PageError {
    /// Signed in, but in none of these roles.
    #[error("this page is for {}", said(.0))]
    NotYourRole(&'static [Role]),
    /// A nurse or midwife whose account names no post.
    #[error("this account belongs to no post")]
    NoPost,
    /// Without its token, with an old one, or from another site.
    #[error("the form did not come from a page of this session")]
    Forged,
    /// No such page or entry, or none that this person may know of.
    #[error("there is no such page")]
    Missing,
    /// The address is right, the method is not.
    #[error("this address does not take that")]
    WrongMethod,
    /// Not what a form sends.
    #[error("only forms are taken here")]
    WrongKind,
    /// Longer than any form of ours.
    #[error("the form is too long")]
    TooLarge,
    /// No browser sends this.
    #[error("the form could not be read")]
    Unreadable(Option<String>),
    /// The registry says no.
    #[error(transparent)]
    Registry(#[from] RegistryError),
    /// The server is going down.
    #[error("the program is stopping")]
    Stopping,
    /// A template failed.
    #[error("the page could not be made")]
    Render(#[from] askama::Error),
    /// Another part failed.
    #[error("a part failed")]
    Failed(#[source] Box<dyn std::error::Error + Send + Sync>),
}

impl PageError {
    /// A failure of ours that no other variant names.
    pub(crate) fn failed(error: impl std::error::Error + Send + Sync + 'static) -> Self {
        Self::Failed(Box::new(error))
    }

    /// Field and sentence, where the registry refused one field of a form; else the error itself.
    pub(crate) fn beside_a_field(self) -> Result<(&'static str, String), Self> {
        match self {
            Self::Registry(RegistryError::RefusedField { field, why }) => Ok((field, why)),
            other => Err(other),
        }
    }
}

/// Roles in words: “nurse or midwife in charge”.
pub(crate) fn said(roles: &[Role]) -> String {
    let words: Vec<_> = roles.iter().map(|role| Vocabulary::words(*role)).collect();
    match words.split_last() {
        None => String::new(),
        Some((only, [])) => (*only).to_owned(),
        Some((last, others)) => format!("{} or {last}", others.join(", ")),
    }
}

impl ResponseError for PageError {
    fn status_code(&self) -> StatusCode {
        match self {
            Self::NotYourRole(_) | Self::NoPost | Self::Forged => StatusCode::FORBIDDEN,
            Self::Missing | Self::Registry(RegistryError::Missing(_)) => StatusCode::NOT_FOUND,
            Self::WrongMethod => StatusCode::METHOD_NOT_ALLOWED,
            Self::WrongKind => StatusCode::UNSUPPORTED_MEDIA_TYPE,
            Self::TooLarge => StatusCode::PAYLOAD_TOO_LARGE,
            Self::Unreadable(_) => StatusCode::BAD_REQUEST,
            Self::Registry(RegistryError::Stale { .. } | RegistryError::AlreadyThere(_)) => {
                StatusCode::CONFLICT
            }
            Self::Registry(RegistryError::Refused(_) | RegistryError::RefusedField { .. }) => {
                StatusCode::UNPROCESSABLE_ENTITY
            }
            Self::Stopping | Self::Registry(RegistryError::Busy(_)) => {
                StatusCode::SERVICE_UNAVAILABLE
            }
            Self::Registry(RegistryError::Broken(_)) | Self::Render(_) | Self::Failed(_) => {
                StatusCode::INTERNAL_SERVER_ERROR
            }
        }
    }

    /// Only the status: the edge, which knows person and reference number, writes the page.
    fn error_response(&self) -> HttpResponse {
        HttpResponse::new(self.status_code())
    }
}
