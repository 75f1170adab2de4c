//! Review: the midwife in charge decides about the flags that wait.

use crate::harness::{Post, Visitor};
use crate::page::Page;

fn opened(midwife: &Visitor, name: &str) -> Page {
    let list = midwife.get("/review");
    let link = list
        .all("main li.entry a")
        .find(|it| it.text().collect::<String>() == name)
        .unwrap();
    let href = link
        .attr("href")
        .unwrap()
        .split('#')
        .next()
        .unwrap()
        .to_owned();
    midwife.get(&href)
}

#[test]
fn nobody_waits_at_first() {
    let post = Post::of_the_demo();
    let page = post.sign_in("midwife").get("/review");
    assert!(page.text("p.empty").contains("Nobody waits for a review"));
    assert_eq!(post.sign_in("nurse").ask("/review").status, 403);
}

#[test]
fn a_flag_opens_in_place_and_is_confirmed_with_its_plan() {
    let post = Post::of_the_demo();
    let ruta = post.mother("Ruta Belisande");
    post.breech(ruta, 60);
    let midwife = post.sign_in("midwife");
    let page = opened(&midwife, "Ruta Belisande");
    assert!(page.has("li.open-here article.flag.soon"));
    assert!(
        page.text("article.flag")
            .contains("Support for trained staff")
    );
    let empty = midwife.post(&page, &[("decision", "confirm"), ("reason", "")]);
    assert_eq!(empty.status, 422);
    assert!(empty.has("#decision-confirm[checked]"));
    let undecided = midwife.post(&page, &[("reason", "hm")]);
    assert_eq!(
        (undecided.status, undecided.text("#reason").as_str()),
        (422, "hm")
    );
    let saved = midwife.submit(
        &page,
        &[("decision", "confirm"), ("reason", "Seen again on Monday")],
    );
    assert_eq!(saved.text("p.flash"), "The flag is confirmed.");
    assert!(saved.has("p.empty"));
    let decided = midwife.get("/review?show=decided");
    assert!(decided.text("ul.entries").contains("confirmed"));
    assert!(decided.text("ul.entries").contains("Seen again on Monday"));
}

#[test]
fn a_dismissed_flag_is_gone_and_a_later_visit_brings_it_back() {
    let post = Post::of_the_demo();
    let ruta = post.mother("Ruta Belisande");
    post.breech(ruta, 60);
    let midwife = post.sign_in("midwife");
    let page = opened(&midwife, "Ruta Belisande");
    let saved = midwife.submit(
        &page,
        &[
            ("decision", "dismiss"),
            ("reason", "Head down by my own hands"),
        ],
    );
    assert!(saved.has("p.empty"));
    post.later(chrono::TimeDelta::hours(2));
    post.breech(ruta, -60);
    assert!(midwife.get("/review").words().contains("Ruta Belisande"));
}

#[test]
fn refer_confirms_and_leads_to_the_referral_with_its_reason() {
    let post = Post::of_the_demo();
    post.breech(post.mother("Ruta Belisande"), 60);
    let midwife = post.sign_in("midwife");
    let page = opened(&midwife, "Ruta Belisande");
    let next = midwife.submit(
        &page,
        &[
            ("decision", "refer"),
            ("reason", "Ask whether to turn & wait"),
        ],
    );
    assert_eq!(next.text("h1"), "Refer Ruta Belisande");
    assert!(next.has("input[name=flag][checked]"));
    assert!(next.text("#asked").ends_with("Ask whether to turn & wait"));
    let referral = midwife.submit(&next, &[]);
    assert!(referral.text("p.eyebrow").contains("QF-2026-001"));
}

#[test]
fn a_flag_that_changed_meanwhile_is_shown_as_it_stands_with_what_was_written() {
    let post = Post::of_the_demo();
    post.breech(post.mother("Ruta Belisande"), 60);
    let midwife = post.sign_in("midwife");
    let page = opened(&midwife, "Ruta Belisande");
    let once = midwife.submit(&page, &[("decision", "confirm"), ("reason", "first")]);
    assert!(once.has("p.flash"));
    let stale = midwife.post(&page, &[("decision", "dismiss"), ("reason", "second")]);
    assert_eq!(stale.status, 409);
    assert!(
        stale.text("article.flag").contains("first"),
        "{}",
        stale.words()
    );
}

#[test]
fn another_post_has_no_such_flag() {
    let post = Post::of_the_demo();
    post.breech(post.mother("Ruta Belisande"), 60);
    let list = post.sign_in("midwife").get("/review");
    let href = list
        .find("main li.entry a")
        .attr("href")
        .unwrap()
        .split('#')
        .next()
        .unwrap()
        .to_owned();
    assert_eq!(post.sign_in("bettina").ask(&href).status, 404);
}
