//! What every answer carries, and what the cookies are like.

use std::io::Read as _;

use brimline::registry::passwords::PasswordCost;
use brimline::settings::Settings;
use flate2::read::GzDecoder;

use crate::district::PASSWORD;
use crate::harness::Post;

#[test]
fn every_page_keeps_scripts_frames_and_caches_out() {
    let post = Post::of_the_demo();
    let nurse = post.sign_in("nurse");
    for path in ["/sign-in", "/account", "/nowhere", "/trail", "/health"] {
        let page = nurse.ask(path);
        let policy = page.header("content-security-policy").to_owned();
        for part in [
            "default-src 'none'",
            "form-action 'self'",
            "base-uri 'none'",
            "frame-ancestors 'none'",
        ] {
            assert!(policy.contains(part), "{path}: {policy}");
        }
        assert!(
            !policy.contains("unsafe") && !policy.contains("data:"),
            "{path}: {policy}"
        );
        assert_eq!(page.header("x-content-type-options"), "nosniff", "{path}");
        assert_eq!(page.header("referrer-policy"), "same-origin", "{path}");
        assert_eq!(page.header("cache-control"), "no-store", "{path}");
    }
}

#[test]
fn sheets_and_icon_may_be_kept_for_a_year_and_come_from_here() {
    let post = Post::of_the_demo();
    let stranger = post.stranger();
    let page = stranger.get("/sign-in");
    for selector in ["link[rel=stylesheet]", "link[rel=icon]"] {
        let address = page.find(selector).attr("href").unwrap().to_owned();
        let asset = stranger.ask(&address);
        assert_eq!(asset.status, 200, "{address}");
        assert!(
            asset.header("cache-control").contains("immutable"),
            "{address}"
        );
        assert!(
            !asset.body.contains("http://") || address.ends_with("svg"),
            "{address} leads away"
        );
    }
}

/// The longest page too: at most 20 KB on the wire, the first one with its sheet at most 60 KB.
#[test]
fn pages_travel_packed_for_whoever_can_unpack() {
    let post = Post::of_the_demo();
    let nurse = post.sign_in("nurse");
    let first = nurse.get("/");
    let sheet = first.find("link[rel=stylesheet]").attr("href");
    let sheet = sheet.unwrap().to_owned();
    for (path, most) in [("/rules", 20_000), ("/mothers", 20_000), (&*sheet, 60_000)] {
        let plain = nurse.send("GET", path, &[("accept-encoding", "identity")], b"");
        assert_eq!(plain.header("content-encoding"), "");
        assert_eq!(plain.header("vary"), "accept-encoding");
        let packed = nurse.answer("GET", path, &[("accept-encoding", "br, gzip;q=0.5")], b"");
        assert_eq!(packed.headers()["content-encoding"], "gzip", "{path}");
        let packed = packed.into_body();
        assert!(packed.len() < most, "{path}: {} bytes", packed.len());
        let mut read = String::new();
        GzDecoder::new(&*packed).read_to_string(&mut read).unwrap();
        assert!(!read.is_empty() && read.len() == plain.body.len(), "{path}");
    }
    for refused in ["gzip;q=0", "br", "identity, gzip;q=0.1", ";;,=\u{e9}"] {
        let page = nurse.answer("GET", "/rules", &[("accept-encoding", refused)], b"");
        assert_eq!(page.status(), 200);
        assert!(
            !page.headers().contains_key("content-encoding"),
            "{refused}"
        );
    }
}

#[test]
fn cookies_are_out_of_reach_of_scripts_and_other_sites_and_kept_to_tls_under_tls() {
    for secure in [false, true] {
        let post = Post::with(Settings {
            secure_cookies: secure,
            password_cost: PasswordCost::PRACTICE,
            ..Settings::default()
        });
        let page = post.stranger().ask("/sign-in");
        let cookies = page.every_header("set-cookie");
        assert_eq!(cookies.len(), 1);
        for cookie in cookies {
            assert!(
                cookie.contains("HttpOnly")
                    && cookie.contains("SameSite=Lax")
                    && cookie.contains("Path=/"),
                "{cookie}"
            );
            assert_eq!(cookie.contains("Secure"), secure, "{cookie}");
        }
    }
}

#[test]
fn only_the_practice_register_says_practice_and_lists_accounts() {
    let practice = Post::of_the_demo();
    let page = practice.stranger().get("/sign-in");
    assert!(page.text("p.practice").starts_with("Practice. Invented"));
    assert_eq!(page.count("main table tbody tr"), 4);
    let care = Post::with(Settings {
        password_cost: PasswordCost::PRACTICE,
        ..Settings::default()
    });
    let page = care.stranger().get("/sign-in");
    assert!(!page.has("p.practice") && !page.has("main table") && !page.body.contains(PASSWORD));
}

#[test]
fn health_answers_without_a_name() {
    let post = Post::of_the_demo();
    let page = post.stranger().ask("/health");
    assert_eq!(
        (page.status, page.body.as_str()),
        (200, r#"{"status":"ok"}"#)
    );
    assert!(page.every_header("set-cookie").is_empty());
}
