//! Who receives what at every address: each role, a stranger, and a colleague of another post. A route without a line here fails.

use brimline::web::routes;

use crate::harness::Post;

/// Method, address, and who may open it: anyone, or letters of nurse, midwife, district, keeper.
pub(crate) const ACCESS: &[(&str, &str, &str)] = &[
    ("GET", "/health", "anyone"),
    ("GET", "/static/{name}", "anyone"),
    ("GET", "/sign-in", "anyone"),
    ("POST", "/sign-in", "anyone"),
    ("POST", "/sign-out", "nmdk"),
    ("GET", "/rules", "nmdk"),
    ("GET", "/practice", "nmdk"),
    ("GET", "/practice/findings", "nmdk"),
    ("POST", "/practice/findings", "nmdk"),
    ("GET", "/practice/cases/{number}", "nmdk"),
    ("GET", "/account", "nmdk"),
    ("POST", "/account/password", "nmdk"),
    ("POST", "/account/visit-form", "nmdk"),
    ("POST", "/account/sessions", "nmdk"),
    ("GET", "/months", "nmd"),
    ("GET", "/months/{month}", "nmd"),
    ("GET", "/months/{month}/print", "nmd"),
    ("GET", "/months/{month}/files/{name}", "nmd"),
    ("POST", "/months/{month}/sign", "m"),
    ("GET", "/mothers/{id}/visits/new", "nm"),
    ("POST", "/mothers/{id}/visits/new", "nm"),
    ("GET", "/visits/{id}", "nm"),
    ("GET", "/visits/{id}/revisions/{number}", "nm"),
    ("GET", "/visits/{id}/amend", "nm"),
    ("POST", "/visits/{id}/amend", "nm"),
    ("GET", "/labour", "nm"),
    ("GET", "/labour/new", "nm"),
    ("POST", "/labour/new", "nm"),
    ("GET", "/labour/{id}", "nm"),
    ("POST", "/labour/{id}/rows", "nm"),
    ("GET", "/labour/{id}/rows/{row}", "nm"),
    ("POST", "/labour/{id}/rows/{row}", "nm"),
    ("GET", "/labour/{id}/close", "nm"),
    ("POST", "/labour/{id}/close", "nm"),
    ("GET", "/review", "m"),
    ("POST", "/review/{flag}", "m"),
    ("GET", "/referrals", "nm"),
    ("GET", "/referrals/new", "nm"),
    ("POST", "/referrals/new", "nm"),
    ("GET", "/referrals/{id}", "nm"),
    ("GET", "/referrals/{id}/letter", "nm"),
    ("GET", "/referrals/{id}/answer", "nm"),
    ("POST", "/referrals/{id}/answer", "nm"),
    ("GET", "/referrals/{id}/error", "m"),
    ("POST", "/referrals/{id}/error", "m"),
    ("GET", "/referrals/{id}/steps/{step}", "nm"),
    ("POST", "/referrals/{id}/steps/{step}", "nm"),
    ("GET", "/referrals/{id}/told", "nm"),
    ("POST", "/referrals/{id}/told", "nm"),
    ("GET", "/referrals/{id}/left", "nm"),
    ("POST", "/referrals/{id}/left", "nm"),
    ("GET", "/referrals/{id}/arrived", "nm"),
    ("POST", "/referrals/{id}/arrived", "nm"),
    ("GET", "/referrals/{id}/seen", "nm"),
    ("POST", "/referrals/{id}/seen", "nm"),
    ("GET", "/referrals/{id}/declined", "nm"),
    ("POST", "/referrals/{id}/declined", "nm"),
    ("GET", "/referrals/{id}/not-arrived", "nm"),
    ("POST", "/referrals/{id}/not-arrived", "nm"),
    ("GET", "/referrals/{id}/stand-down", "m"),
    ("POST", "/referrals/{id}/stand-down", "m"),
    ("GET", "/births", "nm"),
    ("GET", "/births/new", "nm"),
    ("POST", "/births/new", "nm"),
    ("GET", "/births/{id}", "nm"),
    ("GET", "/births/{id}/amend", "nm"),
    ("POST", "/births/{id}/amend", "nm"),
    ("GET", "/births/{id}/error", "m"),
    ("POST", "/births/{id}/error", "m"),
    ("GET", "/posts", "k"),
    ("GET", "/posts/new", "k"),
    ("POST", "/posts/new", "k"),
    ("GET", "/posts/hospitals/new", "k"),
    ("POST", "/posts/hospitals/new", "k"),
    ("GET", "/posts/hospitals/{id}", "k"),
    ("POST", "/posts/hospitals/{id}", "k"),
    ("GET", "/posts/{id}", "k"),
    ("POST", "/posts/{id}", "k"),
    ("POST", "/posts/{id}/try", "k"),
    ("GET", "/staff", "k"),
    ("POST", "/staff", "k"),
    ("GET", "/staff/{id}", "k"),
    ("POST", "/staff/{id}/reset", "k"),
    ("POST", "/staff/{id}/sessions", "k"),
    ("POST", "/staff/{id}/stop", "k"),
    ("GET", "/trail", "k"),
    ("POST", "/trail/check", "k"),
    ("GET", "/", "nmdk"),
    ("GET", "/mothers", "nm"),
    ("GET", "/mothers/new", "nm"),
    ("POST", "/mothers/new", "nm"),
    ("GET", "/mothers/{id}", "nm"),
    ("GET", "/mothers/{id}/amend", "nm"),
    ("POST", "/mothers/{id}/amend", "nm"),
    ("GET", "/mothers/{id}/pregnancies/new", "nm"),
    ("POST", "/mothers/{id}/pregnancies/new", "nm"),
    ("GET", "/pregnancies/{id}/amend", "nm"),
    ("POST", "/pregnancies/{id}/amend", "nm"),
    ("GET", "/pregnancies/{id}/end", "nm"),
    ("POST", "/pregnancies/{id}/end", "nm"),
];

const ROLES: [&str; 4] = ["nurse", "midwife", "district", "keeper"];
pub(crate) const NOBODYS_ID: &str = "00000000-0000-7000-8000-000000000000";

fn filled(path: &str) -> String {
    let parts = path.split('/').map(|part| match part {
        "{month}" => "2026-10",
        id if id.starts_with('{') => NOBODYS_ID,
        fixed => fixed,
    });
    parts.collect::<Vec<_>>().join("/")
}

#[test]
fn every_route_has_a_line_here_and_every_line_a_route() {
    let routed: Vec<_> = routes()
        .iter()
        .map(|it| format!("{} {}", it.method, it.path))
        .collect();
    let listed: Vec<_> = ACCESS
        .iter()
        .map(|(method, path, _)| format!("{method} {path}"))
        .collect();
    for route in &routed {
        assert!(
            listed.contains(route),
            "{route}: say in tests/pages/access.rs who may open it"
        );
    }
    for line in &listed {
        assert!(routed.contains(line), "{line}: there is no such route");
    }
    assert_eq!(routed.len(), listed.len(), "an address stands twice");
}

#[test]
fn a_stranger_is_sent_to_sign_in_and_every_role_sees_its_own_pages_alone() {
    let post = Post::of_the_demo();
    let stranger = post.stranger();
    let inside = ROLES.map(|role| (role, post.sign_in(role)));
    for (method, path, who) in ACCESS {
        let at = filled(path);
        // Not the kind of body that a form is: whoever may come in hears of that (415), everybody else is stopped before.
        let headers = [("content-type", "application/json")];
        let send = |visitor: &crate::harness::Visitor| visitor.send(method, &at, &headers, b"");
        let page = send(&stranger);
        if *who == "anyone" {
            assert!(
                ![401, 403].contains(&page.status) && page.status != 303,
                "a stranger at {method} {path}: {}",
                page.status
            );
        } else {
            let to = page.header("location").to_owned();
            assert!(
                page.status == 303 && to.starts_with("/sign-in"),
                "a stranger at {method} {path}: {} {to}",
                page.status
            );
        }
        for (role, visitor) in &inside {
            let may = *who == "anyone" || who.contains(&role[..1]);
            // Signing out would end the walk.
            if may && *path == "/sign-out" {
                continue;
            }
            let page = send(visitor);
            if may {
                let expected: &[u16] = if *method == "POST" {
                    &[415]
                } else {
                    &[200, 404]
                };
                assert!(
                    expected.contains(&page.status),
                    "{role} at {method} {path}: {}",
                    page.status
                );
            } else {
                assert_eq!(page.status, 403, "{role} at {method} {path}");
                assert!(
                    page.has("main dl.facts dd"),
                    "{role} at {method} {path}: the page does not say who may"
                );
            }
        }
    }
}

#[test]
fn who_may_not_reads_who_may_and_has_a_way_on() {
    let nurse = Post::of_the_demo();
    let nurse = (nurse.sign_in("nurse"), nurse);
    let page = nurse.0.ask("/trail");
    assert_eq!(page.text("h1"), "This page is for the keeper");
    assert_eq!(page.text("main dl.facts dd"), "keeper");
    assert!(page.words().contains("Imke Torvalo, nurse · Quern Ford"));
    assert!(page.has("main a[href='/']"));
}

#[test]
fn the_sign_in_page_leads_back_to_where_one_wanted_to_go() {
    let post = Post::of_the_demo();
    let keeper = post.stranger();
    let asked = keeper.get("/trail?what=signed+in");
    assert_eq!(asked.text("h1"), "Sign in");
    let page = keeper.submit(
        &asked,
        &[("name", "keeper"), ("password", crate::district::PASSWORD)],
    );
    assert_eq!(page.at, "GET /trail?what=signed+in");
}
