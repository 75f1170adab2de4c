//! The page that stands where another should have been: what happened, what to do, where to go on.

use actix_web::http::StatusCode;
use actix_web::http::header::ContentType;
use actix_web::{Error, HttpRequest, HttpResponse};
use askama::Template;

use crate::registry::{RegistryError, Role};
use crate::web::error::{PageError, said};
use crate::web::session::Visitor;
use crate::web::shell::Shell;

#[derive(Template)]
#[template(path = "error.html")]
struct ErrorPage {
    shell: Shell,
    eyebrow: String,
    heading: String,
    sentences: Vec<String>,
    may_open: String,
    reference: Option<String>,
    finds_mothers: bool,
    signed_in: bool,
    sign_in_as_other: bool,
}

/// Makes the page of an error.
pub(super) fn of(req: &HttpRequest, status: StatusCode, failure: &Error, id: &str) -> HttpResponse {
    let visitor = Visitor::of(req);
    let role = visitor.person().map(|person| person.role);
    let error = failure.as_error::<PageError>();
    let may_open = match error {
        Some(PageError::NotYourRole(roles)) => said(roles),
        _ => String::new(),
    };
    let (place, heading, mut sentences) = words(status, error);
    if let (Some(PageError::NotYourRole(_)), Some(person)) = (error, visitor.person()) {
        sentences.push(format!("You are signed in as {}.", person.introduced()));
    }
    let page = ErrorPage {
        shell: Shell::of(req),
        eyebrow: format!("{place} · {}", status.as_u16()),
        heading,
        sentences,
        reference: status.is_server_error().then(|| id.to_owned()),
        finds_mothers: status == StatusCode::NOT_FOUND
            && matches!(role, Some(Role::Nurse | Role::Midwife)),
        signed_in: role.is_some(),
        sign_in_as_other: !may_open.is_empty(),
        may_open,
    };
    let body = page
        .render()
        .unwrap_or_else(|_| format!("{} {id}", page.heading));
    HttpResponse::build(status)
        .content_type(ContentType::html())
        .body(body)
}

type Words = (&'static str, String, Vec<String>);

/// Place, heading and sentences. Those that say what this person did come first, the fixed ones follow.
fn words(status: StatusCode, error: Option<&PageError>) -> Words {
    let owned = |heading: &str| heading.to_owned();
    match error {
        Some(PageError::NotYourRole(roles)) => (
            "Not open to you",
            format!("This page is for the {}", said(roles)),
            Vec::new(),
        ),
        Some(PageError::Unreadable(Some(why))) => (
            "Not taken",
            owned("The form could not be read"),
            vec![
                sentence(why),
                owned("Nothing was saved. Go back, open the page again and send it once more."),
            ],
        ),
        Some(PageError::Registry(error @ RegistryError::AlreadyThere(_))) => (
            "Not saved",
            owned("It is there already"),
            vec![sentence(&error.to_string())],
        ),
        Some(PageError::Registry(
            RegistryError::Refused(why) | RegistryError::RefusedField { why, .. },
        )) => (
            "Not saved",
            owned("This cannot be saved"),
            vec![
                sentence(why),
                owned("Nothing was saved. Go back and look again."),
            ],
        ),
        other => {
            let (place, heading, sentences) = fixed(status, other);
            let sentences = sentences.iter().map(|it| (*it).to_owned()).collect();
            (place, owned(heading), sentences)
        }
    }
}

type Fixed = (&'static str, &'static str, &'static [&'static str]);

const BUSY: Fixed = (
    "Just now",
    "The register is busy",
    &[
        "What you sent was not saved. Wait a moment and send it again: a second try is safe, the same entry is never written twice.",
    ],
);
const FAILED: Fixed = (
    "The program could not go on",
    "Something failed on our side",
    &[
        "What you sent was not saved. Go back and send it again: a second try is safe, the same entry is never written twice.",
    ],
);
const NO_SUCH_PAGE: Fixed = (
    "Not found",
    "There is no such page here",
    &[
        "The address may be old, or the line was moved when the register was put in order. Nothing is lost.",
    ],
);

fn fixed(status: StatusCode, error: Option<&PageError>) -> Fixed {
    match error {
        Some(PageError::NoPost) => (
            "Not open to you",
            "Your account belongs to no post",
            &[
                "The register opens at a post. The keeper of the district can say which post is yours.",
            ],
        ),
        Some(PageError::Forged) => (
            "Not taken",
            "This form was not taken",
            &[
                "It was opened before you signed in here, or it did not come from a page of this register. Nothing was saved.",
                "Open the form again, so that it belongs to this session, and send it once more.",
            ],
        ),
        Some(PageError::WrongMethod) => (
            "Not taken",
            "This address does not take that",
            &["Nothing was saved. Open the page anew and go on from there."],
        ),
        Some(PageError::WrongKind) => (
            "Not taken",
            "Only forms are taken here",
            &["What was sent is no form of this register. Nothing was saved."],
        ),
        Some(PageError::TooLarge) => (
            "Not taken",
            "The form is too long",
            &[
                "More was sent than any page here asks for. Nothing was saved. Go back and shorten what you wrote.",
            ],
        ),
        Some(PageError::Unreadable(_)) => (
            "Not taken",
            "The form could not be read",
            &["Nothing was saved. Go back, open the page again and send it once more."],
        ),
        Some(PageError::Registry(RegistryError::Stale { .. })) => (
            "Not saved",
            "Somebody else changed this",
            &[
                "It was changed after you opened it, so nothing was saved. Open it again and look at what stands there now.",
            ],
        ),
        Some(PageError::Missing | PageError::Registry(RegistryError::Missing(_))) => NO_SUCH_PAGE,
        Some(PageError::Stopping | PageError::Registry(RegistryError::Busy(_))) => BUSY,
        // An error of the framework: an address that is no text, for example.
        None if status.is_client_error() => NO_SUCH_PAGE,
        Some(
            PageError::NotYourRole(_)
            | PageError::Registry(
                RegistryError::AlreadyThere(_)
                | RegistryError::Refused(_)
                | RegistryError::RefusedField { .. }
                | RegistryError::Broken(_),
            )
            | PageError::Render(_)
            | PageError::Failed(_),
        )
        | None => FAILED,
    }
}

/// With a large first letter and a full stop.
fn sentence(words: &str) -> String {
    let mut rest = words.chars();
    let first = rest.next().into_iter().flat_map(char::to_uppercase);
    let mut sentence: String = first.chain(rest).collect();
    if !sentence.ends_with(['.', '!', '?']) {
        sentence.push('.');
    }
    sentence
}
