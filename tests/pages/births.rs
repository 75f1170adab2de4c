//! Births: recorded with every baby, amended, listed.

use crate::harness::{Post, Visitor};
use crate::page::Page;

const A_GIRL: &[(&str, &str)] = &[
    ("onset", "spontaneous"),
    ("mother", "well"),
    ("b1_state", "alive"),
    ("b1_sex", "girl"),
    ("b1_place", "here"),
    ("b1_mode", "vaginal"),
    ("b1_presentation", "cephalic"),
    ("b1_weight", "3180"),
    ("b1_time", "14:20"),
];

fn form(post: &Post, name: &str) -> (Visitor, Page) {
    let woman = post.mother(name);
    let nurse = post.sign_in("nurse");
    let page = nurse.get(&format!("/births/new?mother={}", woman.mother));
    (nurse, page)
}

#[test]
fn empty_lists_say_what_would_fill_them() {
    let post = Post::of_the_demo();
    let nurse = post.sign_in("nurse");
    for path in [
        "/births",
        "/births?show=missing",
        "/births?show=not-recorded",
        "/births?month=2026-10",
        "/births?month=nonsense",
    ] {
        assert!(nurse.get(path).has("p.empty strong"), "{path}");
    }
}

#[test]
fn a_birth_ends_the_pregnancy_and_stands_in_its_month() {
    let post = Post::of_the_demo();
    let (nurse, page) = form(&post, "Lena Halvane");
    let saved = nurse.submit(&page, A_GIRL);
    assert_eq!(
        saved.text("p.flash"),
        "The birth is saved. Her pregnancy has ended."
    );
    assert!(saved.words().contains("girl, 3180 g, alive"));
    assert!(saved.words().contains("38w+2d"));
    let list = nurse.get("/births");
    assert_eq!(list.text("tbody th a"), "Lena Halvane");
    assert!(list.text("tbody tr").contains("complete"));
    assert!(nurse.get("/births?month=2026-10").has("p.empty"));
}

#[test]
fn another_baby_keeps_everything_and_saves_nothing() {
    let post = Post::of_the_demo();
    let (nurse, page) = form(&post, "Lena Halvane");
    let mut answers = A_GIRL.to_vec();
    answers.push(("b1_apgar_1", "seven"));
    let mut sent = answers.clone();
    sent.push(("add", "baby"));
    let grown = nurse.post(&page, &sent);
    assert_eq!(grown.status, 200);
    assert!(grown.text("p.flash").contains("Nothing is saved yet"));
    assert_eq!(grown.count("fieldset.baby"), 2);
    assert_eq!(grown.find("#b1_weight").attr("value"), Some("3180"));
    assert_eq!(grown.find("#b1_apgar_1").attr("value"), Some("seven"));
    assert!(grown.has("#b1_state-alive[checked]") && grown.has("#onset-spontaneous[checked]"));
    assert!(nurse.get("/births").has("p.empty"));

    let twins = [
        ("b1_apgar_1", "7"),
        ("b2_state", "stillborn-fresh"),
        ("b2_place", "here"),
        ("b2_mode", "vaginal"),
        ("b2_presentation", "breech"),
        ("b2_time", "14:40"),
    ];
    let saved = nurse.submit(&grown, &twins);
    assert!(saved.words().contains("Baby 2"), "{}", saved.words());
    assert!(saved.words().contains("stillborn, fresh"));
}

#[test]
fn a_part_is_removed_and_the_others_close_up() {
    let post = Post::of_the_demo();
    let (nurse, page) = form(&post, "Lena Halvane");
    let two = nurse.post(&page, &[("b1_weight", "2500"), ("add", "baby")]);
    let three = nurse.post(&two, &[("b2_weight", "2600"), ("add", "baby")]);
    assert_eq!(three.count("fieldset.baby"), 3);
    let back = nurse.post(&three, &[("b3_weight", "2700"), ("remove", "2")]);
    assert_eq!(back.count("fieldset.baby"), 2);
    assert_eq!(back.find("#b1_weight").attr("value"), Some("2500"));
    assert_eq!(back.find("#b2_weight").attr("value"), Some("2700"));
}

#[test]
fn every_fault_of_a_birth_comes_back_at_once() {
    let post = Post::of_the_demo();
    let (nurse, page) = form(&post, "Lena Halvane");
    let answers = [
        ("b1_state", "stillborn-macerated"),
        ("b1_apgar_1", "8"),
        ("b1_weight", "99"),
        ("b1_day", "2026-11-26"),
        ("b1_place", "here"),
        ("mother", "well"),
        ("note", "long night"),
    ];
    let back = nurse.post(&page, &answers);
    assert_eq!(back.status, 422);
    let faults = back.text(".errors");
    for said in [
        "Labour began",
        "99 is outside 300 to 6500",
        "This day has not come yet",
        "“Stillborn” and an Apgar above 0",
        "How: choose one",
        "What came first: choose one",
    ] {
        assert!(faults.contains(said), "{said}: {faults}");
    }
    assert_eq!(back.text("#note"), "long night");
    assert!(back.has("#b1_state-stillborn-macerated[checked]"));
}

#[test]
fn twelve_babies_are_refused() {
    let post = Post::of_the_demo();
    let (nurse, page) = form(&post, "Lena Halvane");
    let mut answers = A_GIRL.to_vec();
    answers.push(("babies", "12"));
    let back = nurse.post(&page, &answers);
    assert_eq!(back.status, 422);
    assert!(back.text(".errors").contains("12 is outside 1 to 6"));
}

#[test]
fn an_amended_birth_keeps_its_old_version() {
    let post = Post::of_the_demo();
    let (nurse, page) = form(&post, "Lena Halvane");
    let saved = nurse.submit(&page, A_GIRL);
    let link = saved
        .find("main a[href$='/amend']")
        .attr("href")
        .unwrap()
        .to_owned();
    let form = nurse.get(&link);
    assert!(form.has("#b1_state-alive[checked]"));
    assert_eq!(nurse.post(&form, &[("b1_weight", "3080")]).status, 422);
    let amended = nurse.submit(&form, &[("b1_weight", "3080"), ("reason", "weighed again")]);
    assert!(amended.words().contains("3080 g"));
    assert!(amended.text("details.fold").contains("3180 g"));
    let stale = nurse.post(&form, &[("b1_weight", "3000"), ("reason", "third scale")]);
    assert_eq!(stale.status, 409);
    assert!(stale.text("section.do").contains("3080 g"));
    assert_eq!(stale.find("#b1_weight").attr("value"), Some("3000"));
}

#[test]
fn a_birth_in_error_opens_the_pregnancy_again() {
    let post = Post::of_the_demo();
    let (nurse, page) = form(&post, "Lena Halvane");
    let saved = nurse.submit(&page, A_GIRL);
    let id = saved.at.split_once(' ').unwrap().1.to_owned();
    assert_eq!(nurse.ask(&format!("{id}/error")).status, 403);
    let midwife = post.sign_in("midwife");
    let marked = midwife.submit(
        &midwife.get(&format!("{id}/error")),
        &[("reason", "wrong woman")],
    );
    assert!(marked.text("section.do").contains("entered in error"));
    assert!(midwife.get("/births").has("p.empty"));
}

#[test]
fn a_colleague_of_another_post_finds_nothing_here() {
    let post = Post::of_the_demo();
    let woman = post.mother("Lena Halvane");
    let nurse = post.sign_in("nurse");
    let saved = nurse.submit(
        &nurse.get(&format!("/births/new?mother={}", woman.mother)),
        A_GIRL,
    );
    let id = saved.at.split_once(' ').unwrap().1.to_owned();
    let colleague = post.sign_in("colleague");
    for path in [
        id.clone(),
        format!("{id}/amend"),
        format!("/births/new?mother={}", woman.mother),
    ] {
        assert_eq!(colleague.ask(&path).status, 404, "{path}");
    }
}
