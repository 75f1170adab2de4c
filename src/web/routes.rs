//! Every address, who may open it, and what answers. The only place where access is given.
//!
//! A line compiles only when the handler's first parameter is the audience that the line names.

use std::collections::BTreeMap;

use actix_web::guard::{Any, Get, Head};
use actix_web::http::Method;
use actix_web::web::ServiceConfig;
use actix_web::{FromRequest, Handler, Responder, web};

use crate::registry::Role;
use crate::web::assets;
use crate::web::audience::{
    Anyone, Audience, Carer, Keeper, Midwife, Reporter, SignedIn, StartsWith,
};
use crate::web::error::PageError;
use crate::web::pages::{
    account, births, health, labours, months, mothers, posts, practice, pregnancies, referrals,
    review, rules, sign_in, staff, today, trail, visits,
};

/// The table.
#[must_use]
pub fn routes() -> Vec<Route> {
    vec![
        Anyone::get("/health", health::show),
        Anyone::get("/static/{name}", assets::send),
        Anyone::get("/sign-in", sign_in::show),
        Anyone::post("/sign-in", sign_in::enter),
        SignedIn::post("/sign-out", sign_in::leave),
        SignedIn::get("/account", account::show),
        SignedIn::post("/account/password", account::change_password),
        SignedIn::post("/account/visit-form", account::choose_visit_form),
        SignedIn::post("/account/sessions", account::end_sessions),
        SignedIn::get("/rules", rules::show),
        SignedIn::get("/practice", practice::list::show),
        SignedIn::get("/practice/findings", visits::tried::ask),
        SignedIn::post("/practice/findings", visits::tried::judge),
        SignedIn::get("/practice/cases/{number}", practice::case::show),
        SignedIn::get("/", today::show),
        Carer::get("/mothers/{id}/visits/new", visits::new::ask),
        Carer::post("/mothers/{id}/visits/new", visits::new::record),
        Carer::get("/mothers", mothers::list::list),
        Carer::get("/mothers/new", mothers::new::ask),
        Carer::post("/mothers/new", mothers::new::register),
        Carer::get("/mothers/{id}", mothers::show::show),
        Carer::get("/mothers/{id}/amend", mothers::amend::ask),
        Carer::post("/mothers/{id}/amend", mothers::amend::amend),
        Carer::get("/mothers/{id}/pregnancies/new", pregnancies::new::ask),
        Carer::post("/mothers/{id}/pregnancies/new", pregnancies::new::open),
        Carer::get("/pregnancies/{id}/amend", pregnancies::amend::ask),
        Carer::post("/pregnancies/{id}/amend", pregnancies::amend::amend),
        Carer::get("/pregnancies/{id}/end", pregnancies::end::ask),
        Carer::post("/pregnancies/{id}/end", pregnancies::end::end),
        Carer::get("/visits/{id}", visits::show::show),
        Carer::get("/visits/{id}/revisions/{number}", visits::show::revision),
        Carer::get("/visits/{id}/amend", visits::amend::ask),
        Carer::post("/visits/{id}/amend", visits::amend::amend),
        Carer::get("/labour", labours::list),
        Carer::get("/labour/new", labours::ask_new),
        Carer::post("/labour/new", labours::open),
        Carer::get("/labour/{id}", labours::show),
        Carer::post("/labour/{id}/rows", labours::add_row),
        Carer::get("/labour/{id}/rows/{row}", labours::ask_row),
        Carer::post("/labour/{id}/rows/{row}", labours::amend_row),
        Carer::get("/labour/{id}/close", labours::ask_close),
        Carer::post("/labour/{id}/close", labours::close),
        Midwife::get("/review", review::list),
        Midwife::post("/review/{flag}", review::decide),
        Carer::get("/referrals", referrals::list),
        Carer::get("/referrals/new", referrals::ask_new),
        Carer::post("/referrals/new", referrals::decide),
        Carer::get("/referrals/{id}", referrals::show),
        Carer::get("/referrals/{id}/letter", referrals::letter::show),
        Carer::get("/referrals/{id}/answer", referrals::answer::ask),
        Carer::post("/referrals/{id}/answer", referrals::answer::save),
        Midwife::get("/referrals/{id}/error", referrals::error::ask),
        Midwife::post("/referrals/{id}/error", referrals::error::save),
        Carer::get("/referrals/{id}/steps/{step}", referrals::ask_better),
        Carer::post("/referrals/{id}/steps/{step}", referrals::save_better),
        Carer::get("/referrals/{id}/told", referrals::step::told::ask),
        Carer::post("/referrals/{id}/told", referrals::step::told::save),
        Carer::get("/referrals/{id}/left", referrals::step::left::ask),
        Carer::post("/referrals/{id}/left", referrals::step::left::save),
        Carer::get("/referrals/{id}/arrived", referrals::step::arrived::ask),
        Carer::post("/referrals/{id}/arrived", referrals::step::arrived::save),
        Carer::get("/referrals/{id}/seen", referrals::step::seen::ask),
        Carer::post("/referrals/{id}/seen", referrals::step::seen::save),
        Carer::get("/referrals/{id}/declined", referrals::step::declined::ask),
        Carer::post("/referrals/{id}/declined", referrals::step::declined::save),
        Carer::get(
            "/referrals/{id}/not-arrived",
            referrals::step::never_came::ask,
        ),
        Carer::post(
            "/referrals/{id}/not-arrived",
            referrals::step::never_came::save,
        ),
        Midwife::get(
            "/referrals/{id}/stand-down",
            referrals::step::stood_down::ask,
        ),
        Midwife::post(
            "/referrals/{id}/stand-down",
            referrals::step::stood_down::save,
        ),
        Carer::get("/births", births::list),
        Carer::get("/births/new", births::ask_new),
        Carer::post("/births/new", births::record),
        Carer::get("/births/{id}", births::show),
        Carer::get("/births/{id}/amend", births::ask_amend),
        Carer::post("/births/{id}/amend", births::amend),
        Midwife::get("/births/{id}/error", births::ask_error),
        Midwife::post("/births/{id}/error", births::mark_error),
        Reporter::get("/months", months::list),
        Reporter::get("/months/{month}", months::show),
        Reporter::get("/months/{month}/print", months::print),
        Reporter::get("/months/{month}/files/{name}", months::download),
        Midwife::post("/months/{month}/sign", months::sign),
        Keeper::get("/posts", posts::list),
        Keeper::get("/posts/new", posts::ask_new),
        Keeper::post("/posts/new", posts::add),
        Keeper::get("/posts/hospitals/new", posts::new_hospital),
        Keeper::post("/posts/hospitals/new", posts::add_hospital),
        Keeper::get("/posts/hospitals/{id}", posts::show_hospital),
        Keeper::post("/posts/hospitals/{id}", posts::amend_hospital),
        Keeper::get("/posts/{id}", posts::show),
        Keeper::post("/posts/{id}", posts::amend),
        Keeper::post("/posts/{id}/try", posts::try_out),
        Keeper::get("/staff", staff::list),
        Keeper::post("/staff", staff::add),
        Keeper::get("/staff/{id}", staff::show),
        Keeper::post("/staff/{id}/reset", staff::reset),
        Keeper::post("/staff/{id}/sessions", staff::end_sessions),
        Keeper::post("/staff/{id}/stop", staff::stop),
        Keeper::get("/trail", trail::show),
        Keeper::post("/trail/check", trail::check),
    ]
}

/// One line of the table.
pub struct Route {
    /// GET or POST; an address that takes GET takes HEAD too.
    pub method: Method,
    /// The address, with its ids in braces.
    pub path: &'static str,
    /// Who may open it; empty for everyone, signed in or not.
    pub roles: &'static [Role],
    answers: actix_web::Route,
}

/// Lines of the table, for an audience.
trait Lines: Audience {
    fn get<F, Args>(path: &'static str, handler: F) -> Route
    where
        F: Handler<Args>,
        Args: FromRequest + StartsWith<Self> + 'static,
        F::Output: Responder + 'static,
    {
        Route {
            method: Method::GET,
            path,
            roles: Self::ROLES,
            answers: web::route().guard(Any(Get()).or(Head())).to(handler),
        }
    }

    fn post<F, Args>(path: &'static str, handler: F) -> Route
    where
        F: Handler<Args>,
        Args: FromRequest + StartsWith<Self> + 'static,
        F::Output: Responder + 'static,
    {
        Route {
            method: Method::POST,
            path,
            roles: Self::ROLES,
            answers: web::post().to(handler),
        }
    }
}

impl<A: Audience> Lines for A {}

/// Puts the table into a server: one resource an address, so that a wrong method is told from a wrong address.
pub(crate) fn put_into(config: &mut ServiceConfig) {
    let mut resources = BTreeMap::new();
    let mut order = Vec::new();
    for Route { path, answers, .. } in routes() {
        let resource = resources.remove(path).unwrap_or_else(|| {
            order.push(path);
            web::resource(path).default_service(web::to(wrong_method))
        });
        resources.insert(path, resource.route(answers));
    }
    // In the order of the table: `/mothers/new` before `/mothers/{id}`.
    for path in order {
        if let Some(resource) = resources.remove(path) {
            config.service(resource);
        }
    }
    config.default_service(web::to(missing));
}

async fn wrong_method(_: Anyone) -> Result<&'static str, PageError> {
    Err(PageError::WrongMethod)
}

async fn missing(_: Anyone) -> Result<&'static str, PageError> {
    Err(PageError::Missing)
}
