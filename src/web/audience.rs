//! Who may open a page, as a type. A handler's first parameter is its audience; only the extractor makes one.

use std::future::{Ready, ready};
use std::marker::PhantomData;
use std::ops::Deref;

use actix_web::dev::Payload;
use actix_web::http::StatusCode;
use actix_web::http::header::LOCATION;
use actix_web::{FromRequest, HttpRequest, HttpResponse, ResponseError};

use crate::registry::{By, Role};
use crate::web::error::PageError;
use crate::web::form::escaped;
use crate::web::session::{Person, Seat, Visitor};

/// Somebody whom a page is for.
pub(crate) trait Audience: FromRequest + 'static {
    /// The roles that may open it; empty for everyone, signed in or not.
    const ROLES: &'static [Role];
}

/// Everyone, signed in or not.
pub(crate) struct Anyone;

/// A signed-in person whose role is one of `K`'s. Reads as the [`Person`].
pub(crate) struct Only<K: Kind> {
    person: Person,
    /// The post: always there for [`Carer`] and [`Midwife`].
    pub(crate) post: K::Post,
    kind: PhantomData<K>,
}

/// Which roles, and whether they belong to a post.
pub(crate) trait Kind: 'static {
    const ROLES: &'static [Role];
    type Post: 'static;
    fn post(seat: Option<&Seat>) -> Result<Self::Post, PageError>;
}

/// Kind of [`SignedIn`].
pub(crate) enum Every {}
/// Kind of [`Carer`].
pub(crate) enum OfCare {}
/// Kind of [`Midwife`].
pub(crate) enum InCharge {}
/// Kind of [`Reporter`].
pub(crate) enum OfReports {}
/// Kind of [`Keeper`].
pub(crate) enum OfTheKeys {}

/// Everyone with an account.
pub(crate) type SignedIn = Only<Every>;
/// Nurse or midwife, at her post.
pub(crate) type Carer = Only<OfCare>;
/// The midwife in charge, at her post.
pub(crate) type Midwife = Only<InCharge>;
/// Nurse or midwife at her post, or the district officer without one.
pub(crate) type Reporter = Only<OfReports>;
/// The keeper.
pub(crate) type Keeper = Only<OfTheKeys>;

macro_rules! kinds {
    ($($kind:ident: $roles:expr, $post:ty, $seat:ident => $found:expr;)+) => { $(
        impl Kind for $kind {
            const ROLES: &'static [Role] = $roles;
            type Post = $post;
            fn post($seat: Option<&Seat>) -> Result<$post, PageError> { $found }
        }
    )+ };
}

kinds! {
    Every: &[Role::Nurse, Role::Midwife, Role::District, Role::Keeper], Option<Seat>, seat => Ok(seat.cloned());
    OfCare: &[Role::Nurse, Role::Midwife], Seat, seat => seat.cloned().ok_or(PageError::NoPost);
    InCharge: &[Role::Midwife], Seat, seat => seat.cloned().ok_or(PageError::NoPost);
    OfReports: &[Role::Nurse, Role::Midwife, Role::District], Option<Seat>, seat => Ok(seat.cloned());
    OfTheKeys: &[Role::Keeper], Option<Seat>, seat => Ok(seat.cloned());
}

impl<K: Kind> Deref for Only<K> {
    type Target = Person;
    fn deref(&self) -> &Person {
        &self.person
    }
}

impl<K: Kind> From<&Only<K>> for By {
    fn from(only: &Only<K>) -> Self {
        only.person.by()
    }
}

impl<K: Kind> Audience for Only<K> {
    const ROLES: &'static [Role] = K::ROLES;
}

impl Audience for Anyone {
    const ROLES: &'static [Role] = &[];
}

impl<K: Kind> FromRequest for Only<K> {
    type Error = actix_web::Error;
    type Future = Ready<Result<Self, actix_web::Error>>;

    fn from_request(req: &HttpRequest, _: &mut Payload) -> Self::Future {
        ready(admit(req))
    }
}

fn admit<K: Kind>(req: &HttpRequest) -> Result<Only<K>, actix_web::Error> {
    let visitor = Visitor::of(req);
    let Some(person) = visitor.person() else {
        return Err(SignInFirst::from(req).into());
    };
    if !K::ROLES.contains(&person.role) {
        return Err(PageError::NotYourRole(K::ROLES).into());
    }
    // A nurse whose account names a post that is gone sees no other post's people.
    let misplaced = matches!(person.role, Role::Nurse | Role::Midwife) && person.post.is_none();
    let post = if misplaced && !K::ROLES.contains(&Role::Keeper) {
        return Err(PageError::NoPost.into());
    } else {
        K::post(person.post.as_ref())?
    };
    Ok(Only {
        person: person.clone(),
        post,
        kind: PhantomData,
    })
}

impl FromRequest for Anyone {
    type Error = std::convert::Infallible;
    type Future = Ready<Result<Self, Self::Error>>;

    fn from_request(_: &HttpRequest, _: &mut Payload) -> Self::Future {
        ready(Ok(Self))
    }
}

/// Not a failure: the way to the sign-in page, and from there back here.
#[derive(Debug, thiserror::Error)]
#[error("sign in first")]
struct SignInFirst {
    then: Option<String>,
}

impl SignInFirst {
    fn from(req: &HttpRequest) -> Self {
        let wanted = req.method().is_safe() && req.path() != "/";
        let then = wanted.then(|| req.uri().path_and_query().map_or("/", |it| it.as_str()));
        Self {
            then: then.map(|then| escaped(then).into_owned()),
        }
    }
}

impl ResponseError for SignInFirst {
    fn status_code(&self) -> StatusCode {
        StatusCode::SEE_OTHER
    }

    fn error_response(&self) -> HttpResponse {
        let at = match &self.then {
            Some(then) => format!("/sign-in?then={then}"),
            None => "/sign-in".to_owned(),
        };
        HttpResponse::SeeOther()
            .insert_header((LOCATION, at))
            .finish()
    }
}

/// The parameters of a handler whose first is its audience.
pub(crate) trait StartsWith<A> {}

macro_rules! starts_with {
    ($($more:ident)*) => { impl<A, $($more),*> StartsWith<A> for (A, $($more),*) {} };
}
starts_with!();
starts_with!(B);
starts_with!(B C);
starts_with!(B C D);
starts_with!(B C D E);
starts_with!(B C D E F);
starts_with!(B C D E F G);
starts_with!(B C D E F G H);
