//! Signing in and out, guessing, and when a session ends.

use chrono::TimeDelta;

use crate::district::PASSWORD;
use crate::harness::Post;

#[test]
fn a_wrong_password_and_an_unknown_name_read_the_same() {
    let post = Post::of_the_demo();
    let stranger = post.stranger();
    let wrong = |name: &str, password: &str| {
        let page = stranger.submit(
            &stranger.get("/sign-in"),
            &[("name", name), ("password", password)],
        );
        assert_eq!(page.status, 422);
        assert_eq!(
            page.find("#name").attr("value"),
            Some(name),
            "the name is kept"
        );
        assert_eq!(
            page.find("#password").attr("value"),
            None,
            "the password is not"
        );
        page.text("main .errors")
    };
    assert_eq!(
        wrong("nurse", "not the password"),
        wrong("nobody", PASSWORD)
    );
    assert_eq!(stranger.ask("/account").status, 303);
}

#[test]
fn names_are_found_in_any_case_and_passwords_are_not() {
    let post = Post::of_the_demo();
    let stranger = post.stranger();
    let page = stranger.submit(
        &stranger.get("/sign-in"),
        &[("name", "Nurse"), ("password", &PASSWORD.to_uppercase())],
    );
    assert_eq!(page.status, 422);
    let page = stranger.post(&page, &[("name", " NURSE "), ("password", PASSWORD)]);
    assert_eq!((page.status, page.header("location")), (303, "/"));
}

#[test]
fn empty_answers_are_asked_for() {
    let post = Post::of_the_demo();
    let stranger = post.stranger();
    let page = stranger.submit(&stranger.get("/sign-in"), &[("name", ""), ("password", "")]);
    assert_eq!((page.status, page.count("main .errors li")), (422, 2));
}

#[test]
fn guessing_is_slowed_down_for_the_guesser_and_for_nobody_else_at_the_post() {
    let post = Post::of_the_demo();
    let guesser = post.stranger();
    for _ in 0..6 {
        let page = guesser.submit(
            &guesser.get("/sign-in"),
            &[("name", "nurse"), ("password", "a guess at it")],
        );
        assert_eq!(page.status, 422);
    }
    let page = guesser.submit(
        &guesser.get("/sign-in"),
        &[("name", "nurse"), ("password", PASSWORD)],
    );
    assert_eq!(page.status, 429, "even the right password waits");
    assert!(
        page.words().contains("try again in 2 seconds"),
        "{}",
        page.words()
    );
    post.sign_in("midwife");
    post.later(TimeDelta::seconds(2));
    post.sign_in("nurse");
    let trail = post.sign_in("keeper").get("/trail?what=sign-in+refused");
    assert_eq!(trail.count("tbody tr[id]"), 1);
    assert!(trail.words().contains("nurse: 5 wrong passwords"));
}

#[test]
fn a_session_ends_after_twelve_idle_hours_and_not_while_it_is_used() {
    let post = Post::of_the_demo();
    let nurse = post.sign_in("nurse");
    for _ in 0..3 {
        post.later(TimeDelta::hours(11));
        assert_eq!(nurse.ask("/account").status, 200);
    }
    post.later(TimeDelta::hours(12));
    let page = nurse.ask("/account");
    assert_eq!(
        (page.status, page.header("location")),
        (303, "/sign-in?then=/account")
    );
}

#[test]
fn signing_out_ends_the_session_and_says_so_once() {
    let post = Post::of_the_demo();
    let nurse = post.sign_in("nurse");
    let form = nurse.get("/account");
    let token = form
        .find("nav input[name=token]")
        .attr("value")
        .unwrap()
        .to_owned();
    let page = nurse.send_form("/sign-out", format!("token={token}").as_bytes());
    assert_eq!((page.status, page.header("location")), (303, "/sign-in"));
    assert_eq!(nurse.get("/sign-in").text("p.flash"), "You are signed out.");
    assert!(!nurse.get("/sign-in").has("p.flash"), "said once");
    assert_eq!(nurse.ask("/account").status, 303);
}

#[test]
fn a_stolen_cookie_of_before_signing_in_is_worth_nothing_after() {
    let post = Post::of_the_demo();
    let nurse = post.stranger();
    let before = nurse.ask("/sign-in");
    let key = before
        .header("set-cookie")
        .split(';')
        .next()
        .unwrap()
        .to_owned();
    let page = nurse.get("/sign-in");
    nurse
        .submit(&page, &[("name", "nurse"), ("password", PASSWORD)])
        .status
        .to_string();
    let thief = post.stranger();
    assert_eq!(
        thief
            .send("GET", "/account", &[("cookie", &key)], b"")
            .status,
        303
    );
}
