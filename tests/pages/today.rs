//! Today answers each role: what must I do next?

use crate::harness::Post;

#[test]
fn a_quiet_post_says_that_nothing_waits() {
    let post = Post::of_the_demo();
    let page = post.sign_in("nurse").get("/");
    assert_eq!(page.text("#next"), "Nothing waits at Quern Ford.");
    assert!(page.has("main form[role=search]") && page.has("main a[href='/mothers/new']"));
    assert!(!page.has("main .tally"), "noughts are counted");
    let midwife = post.sign_in("midwife").get("/");
    assert_eq!(midwife.text("#next"), "Nothing waits for you.");
    assert_eq!(
        midwife.text(".eyebrow"),
        "Wednesday 25 Nov 2026, 15:30 · Quern Ford health post"
    );
}

#[test]
fn a_birth_that_nobody_recorded_is_asked_after() {
    let post = Post::of_the_demo();
    let nurse = post.sign_in("nurse");
    let answers = [
        ("name", "Naima Lirasol"),
        ("age_years", "24"),
        ("lmp", "2026-02-10"),
        ("village", "Low Pennel"),
    ];
    let _ = nurse.submit(&nurse.get("/mothers/new"), &answers);
    let page = nurse.get("/");
    let line = page.text("section[aria-labelledby=births] .entry");
    for part in [
        "Naima Lirasol",
        "QF 0001 · 41w+1d",
        "8 days past",
        "Was due 17 Nov, not seen yet. Low Pennel.",
    ] {
        assert!(line.contains(part), "{line}");
    }
    assert!(page.has("section[aria-labelledby=births] a[href^='/births/new?pregnancy=']"));
}

#[test]
fn the_district_sees_posts_and_months_and_no_name() {
    let post = Post::of_the_demo();
    let nurse = post.sign_in("nurse");
    let _ = nurse.submit(
        &nurse.get("/mothers/new"),
        &[("name", "Naima Lirasol"), ("age_years", "24")],
    );
    let page = post.sign_in("district").get("/");
    assert_eq!(page.count("table.seals tbody tr"), 2);
    assert_eq!(page.count("table.seals tbody tr:first-child td"), 12);
    assert!(!page.words().contains("Naima"), "a mother is named");
}

#[test]
fn the_keeper_reads_honestly_what_is_safe() {
    let post = Post::of_the_demo();
    let page = post.sign_in("keeper").get("/");
    let states = page.text("dl.states");
    assert!(
        states.contains("none known") && states.contains("hold together"),
        "{states}"
    );
    assert!(
        page.text("main .tally").contains('6'),
        "six accounts are open"
    );
}
