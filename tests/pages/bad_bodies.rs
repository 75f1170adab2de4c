//! Bodies that no page of ours would send: each refused with a clear answer, none a failure of ours.

use crate::district::PASSWORD;
use crate::harness::{Post, Visitor};

const AT: &str = "/posts/hospitals/new";

fn keeper() -> (Post, Visitor) {
    let post = Post::of_the_demo();
    let keeper = post.sign_in("keeper");
    (post, keeper)
}

fn with_token(keeper: &Visitor, rest: &[u8]) -> Vec<u8> {
    let mut body = format!("token={}&", keeper.token()).into_bytes();
    body.extend_from_slice(rest);
    body
}

#[test]
fn what_cannot_be_read_is_refused_beside_its_field_or_as_a_whole() {
    let (_post, keeper) = keeper();
    for (body, status, says) in [
        (&b"name=%"[..], 400, "percent sign"),
        (b"name=%zz", 400, "percent sign"),
        (b"=&=&&&", 422, "write the name"),
        (b"name=\xff\xfeHill", 422, "cannot be read"),
        (b"name=%FFHill", 422, "cannot be read"),
        (b"name=Hill%00", 422, "hidden signs"),
        (b"name=Hill%1B%5B2J", 422, "hidden signs"),
        (b"name=%E2%80%AEllaH", 422, "hidden signs"),
        (b"name=Hill&name=Dale", 422, "sent twice"),
        (b"name=one%0D%0Atwo", 422, "more than one line"),
        (b"name=Hill&can_operate=perhaps", 422, "yes or no"),
        (b"phone=1", 422, "write the name"),
        (b"", 422, "write the name"),
    ] {
        let page = keeper.send_form(AT, &with_token(&keeper, body));
        let shown = String::from_utf8_lossy(body);
        assert_eq!(page.status, status, "{shown}: {}", page.words());
        assert!(page.words().contains(says), "{shown}: {}", page.words());
    }
    let long = format!("name={}", "x".repeat(61));
    let page = keeper.send_form(AT, &with_token(&keeper, long.as_bytes()));
    assert!(
        page.status == 422
            && page
                .words()
                .contains("has 61 letters; there is room for 60")
    );
    assert_eq!(
        page.find("#name").attr("value").unwrap().len(),
        61,
        "what was typed is kept"
    );
}

#[test]
fn what_was_typed_stays_and_is_never_markup() {
    let (_post, keeper) = keeper();
    let typed = "\"><b>Upper</b> & Lower'";
    let page = keeper.submit(&keeper.get(AT), &[("name", ""), ("phone", typed)]);
    assert_eq!(page.status, 422);
    assert_eq!(page.find("#phone").attr("value"), Some(typed));
    assert!(!page.has("main b"));
    assert_eq!(page.find("#name").attr("aria-invalid"), Some("true"));
}

#[test]
fn a_body_over_64_kib_is_too_long() {
    let (_post, keeper) = keeper();
    for size in [65_537, 70_000, 900_000] {
        let page = keeper.send_form(AT, &vec![b'a'; size]);
        assert_eq!(
            (page.status, page.text("h1").as_str()),
            (413, "The form is too long"),
            "{size}"
        );
    }
    let fits = keeper.send_form(
        AT,
        &with_token(&keeper, format!("name={}", "x".repeat(60_000)).as_bytes()),
    );
    assert_eq!(fits.status, 422);
}

#[test]
fn only_forms_are_taken() {
    let (post, keeper) = keeper();
    for kind in [
        "application/json",
        "multipart/form-data; boundary=x",
        "text/plain",
        "",
    ] {
        let headers = [("content-type", kind), ("origin", post.base.as_str())];
        let page = keeper.send("POST", AT, &headers, b"{}");
        assert_eq!(page.status, 415, "{kind}");
        assert!(page.has("main a"), "{kind}: no way on");
    }
    let kind = "application/x-www-form-urlencoded; charset=UTF-8";
    let headers = [("content-type", kind), ("origin", post.base.as_str())];
    let page = keeper.send("POST", AT, &headers, &with_token(&keeper, b"name="));
    assert_eq!(page.status, 422);
}

#[test]
fn a_form_without_its_token_or_from_elsewhere_is_not_taken() {
    let (post, keeper) = keeper();
    let other = post.sign_in("keeper");
    let token = keeper.token();
    for body in [
        "name=Hill".to_owned(),
        "name=Hill&token=".to_owned(),
        format!("name=Hill&token={}", "0".repeat(64)),
        format!("name=Hill&token={}", other.token()),
        format!("name=Hill&token={token}&token={token}"),
    ] {
        let page = keeper.send_form(AT, body.as_bytes());
        assert_eq!(
            (page.status, page.text("h1").as_str()),
            (403, "This form was not taken"),
            "{body}"
        );
    }
    let body = with_token(&keeper, b"name=Hill&receives=true");
    let kind = ("content-type", "application/x-www-form-urlencoded");
    for origin in ["http://elsewhere.example", "null", "http://127.0.0.1:1"] {
        let page = keeper.send("POST", AT, &[kind, ("origin", origin)], &body);
        assert_eq!(page.status, 403, "{origin}");
    }
    let page = keeper.send(
        "POST",
        AT,
        &[kind, ("referer", "http://elsewhere.example/page")],
        &body,
    );
    assert_eq!(page.status, 403);
    assert!(
        !keeper.get("/posts").words().contains("Hill"),
        "nothing was saved"
    );
    assert_eq!(
        keeper.send_form(AT, &body).status,
        303,
        "the same body from our own page is taken"
    );
}

#[test]
fn the_sign_in_form_has_its_token_before_anybody_is_signed_in() {
    let post = Post::of_the_demo();
    let stranger = post.stranger();
    let right = format!(
        "name=nurse&password={}",
        PASSWORD.replace(' ', "+").replace(',', "%2C")
    );
    assert_eq!(stranger.send_form("/sign-in", right.as_bytes()).status, 403);
    let token = stranger.token();
    let another = post.stranger();
    let body = format!("{right}&token={token}");
    assert_eq!(
        another.send_form("/sign-in", body.as_bytes()).status,
        403,
        "a token of another browser"
    );
    assert_eq!(stranger.send_form("/sign-in", body.as_bytes()).status, 303);
}

#[test]
fn addresses_that_lead_nowhere_are_a_page_with_ways_on() {
    let (_post, keeper) = keeper();
    for path in [
        "/nowhere",
        "/posts/00000000-0000-7000-8000-000000000000",
        "/posts/%ff",
        "/posts/x",
        "/staff/../../etc/passwd",
        "/posts/",
        "/static/none.css",
        "/%00",
    ] {
        let page = keeper.ask(path);
        assert_eq!(page.status, 404, "{path}");
        assert_eq!(page.text("h1"), "There is no such page here", "{path}");
        assert!(page.has("main a"), "{path}: no way on");
    }
    for (method, path) in [
        ("POST", "/trail"),
        ("DELETE", "/posts"),
        ("PUT", "/sign-in"),
    ] {
        assert_eq!(
            keeper.send(method, path, &[], b"").status,
            405,
            "{method} {path}"
        );
    }
    assert_eq!(keeper.send("HEAD", "/posts", &[], b"").status, 200);
}
