//! Referrals: decided, followed step by step, answered; the letter.

use chrono::TimeDelta;

use crate::harness::{Post, Visitor};
use crate::page::Page;

/// A woman in labour with a breech: a flag says refer now, so the nurse decides.
fn referred(post: &Post) -> (Visitor, Page) {
    let oriel = post.mother("Oriel Zemirov");
    post.breech(oriel, 120);
    post.labour(oriel, 60, 5);
    let nurse = post.sign_in("nurse");
    let form = nurse.get(&format!("/referrals/new?mother={}", oriel.mother));
    let page = nurse.submit(
        &form,
        &[
            ("decided_time", "15:10"),
            ("escort", "Dario Pelsane, nurse"),
        ],
    );
    (nurse, page)
}

fn address(page: &Page) -> String {
    page.at
        .split_once(' ')
        .map(|(_, path)| path.to_owned())
        .unwrap()
}

#[test]
fn an_empty_list_says_what_would_fill_it() {
    let post = Post::of_the_demo();
    let nurse = post.sign_in("nurse");
    for (path, words) in [
        ("/referrals", "No referral waits."),
        ("/referrals?show=answered", "No referral is answered yet."),
        ("/referrals?show=ended", "None ended without hospital."),
        ("/referrals?show=all", "Nobody was ever referred from here."),
    ] {
        assert_eq!(nurse.get(path).text("p.empty strong"), words, "{path}");
    }
}

#[test]
fn a_nurse_decides_at_once_to_the_nearest_hospital_that_can_operate() {
    let post = Post::of_the_demo();
    let (nurse, page) = referred(&post);
    assert_eq!(page.text("h1"), "Referral of Oriel Zemirov");
    assert!(
        page.text("div.who").contains("Amberholt hospital"),
        "40 minutes nearer, but cannot operate"
    );
    assert!(page.text("div.who").contains("Refer now"));
    assert!(
        page.text("section.do h2")
            .contains("Phone Amberholt hospital")
    );
    assert!(page.text("ol.times").contains("15:10"));
    let list = nurse.get("/referrals");
    assert_eq!(list.text("table.waits tbody th a"), "Oriel Zemirov");
    let waiting = post.sign_in("midwife").get("/review");
    assert!(
        waiting.words().contains("Oriel Zemirov"),
        "the midwife confirms the flag afterwards"
    );
}

#[test]
fn a_nurse_without_a_flag_that_says_now_is_told_who_decides() {
    let post = Post::of_the_demo();
    let ruta = post.mother("Ruta Belisande");
    post.breech(ruta, 60);
    let page = post
        .sign_in("nurse")
        .get(&format!("/referrals/new?mother={}", ruta.mother));
    assert!(
        page.text("p.empty")
            .contains("The midwife in charge decides this one")
    );
    assert!(!page.has("form#refer"));
}

#[test]
fn the_midwife_refers_freely_and_every_fault_comes_back_at_once() {
    let post = Post::of_the_demo();
    let ada = post.mother("Ada Marren");
    let midwife = post.sign_in("midwife");
    let form = midwife.get(&format!("/referrals/new?mother={}", ada.mother));
    let answers = [
        ("decided_time", "16:30"),
        ("planned_for", "2026-11-01"),
        ("given_note", "Iron\u{7}"),
        ("asked", "Please scan."),
    ];
    let back = midwife.post(&form, &answers);
    assert_eq!(back.status, 422);
    assert_eq!(back.count(".errors li"), 3);
    assert_eq!(back.text("#asked"), "Please scan.");
    let unnamed = midwife.post(&form, &[("asked", "Please scan.")]);
    assert_eq!(unnamed.status, 422);
    assert!(unnamed.text(".errors").contains("Say how urgent it is"));
    let named = [
        ("urgency", "soon"),
        ("category", "unknown-dates"),
        ("planned_for", "2026-11-27"),
        ("given", "line"),
    ];
    let page = midwife.submit(&form, &named);
    assert_eq!(
        page.text("p.flash"),
        "The referral is decided. Phone the hospital, then print the letter."
    );
    assert!(page.text("div.who").contains("27 Nov 2026"));
    assert!(page.words().contains("intravenous line"));
}

#[test]
fn steps_are_written_each_on_its_page_until_the_answer() {
    let post = Post::of_the_demo();
    let (nurse, page) = referred(&post);
    let id = address(&page);
    let told = nurse.submit(&nurse.get(&format!("{id}/told")), &[("who", "duty nurse")]);
    assert!(told.text("ol.times").contains("duty nurse"));
    let left = nurse.submit(
        &nurse.get(&format!("{id}/left")),
        &[("at_time", "15:20"), ("means", "ambulance")],
    );
    assert_eq!(left.text("p.flash"), "She is on her way.");
    assert!(
        left.text("ol.times").contains("expected"),
        "{}",
        left.text("ol.times")
    );
    post.later(TimeDelta::hours(2));
    let early = nurse.post(
        &nurse.get(&format!("{id}/arrived")),
        &[("at_time", "15:19")],
    );
    assert_eq!(early.status, 422);
    assert!(
        early
            .text(".errors")
            .contains("The arrival cannot be before the departure")
    );
    let arrived = nurse.submit(&nurse.get(&format!("{id}/arrived")), &[("unknown", "true")]);
    assert!(arrived.text("ol.times").contains("time not known"));
    let form = nurse.get(&format!("{id}/answer"));
    let empty = nurse.post(&form, &[("way", "phone"), ("came", "true")]);
    assert_eq!(empty.status, 422);
    assert!(empty.has("#way-phone[checked]"));
    let answers = [
        ("way", "phone"),
        ("came", "true"),
        ("arrived_date", "2026-11-25"),
        ("arrived_time", "16:50"),
        ("treatment", "Caesarean 17:10"),
        ("baby_outcome", "Girl, alive, 3060 g"),
    ];
    let answered = nurse.submit(&form, &answers);
    assert!(
        answered.text("ol.times").contains("16:50"),
        "the answer fills the arrival"
    );
    assert!(answered.words().contains("Girl, alive, 3060 g"));
    assert!(answered.has("main a[href^='/births/new?pregnancy=']"));
    assert_eq!(
        nurse.get("/referrals").text("p.empty strong"),
        "No referral waits."
    );
    assert_eq!(nurse.get("/referrals?show=answered").count("tbody tr"), 1);
}

#[test]
fn a_step_that_has_no_place_says_where_the_referral_stands() {
    let post = Post::of_the_demo();
    let (nurse, page) = referred(&post);
    let id = address(&page);
    let seen = nurse.get(&format!("{id}/seen"));
    assert!(seen.text(".errors").contains("arrival first"));
    assert_eq!(nurse.post(&seen, &[]).status, 422);
}

#[test]
fn a_stale_page_shows_what_was_written_meanwhile_and_keeps_what_was_typed() {
    let post = Post::of_the_demo();
    let (nurse, page) = referred(&post);
    let id = address(&page);
    let old = nurse.get(&format!("{id}/left"));
    let told = nurse.submit(&nurse.get(&format!("{id}/told")), &[("who", "duty nurse")]);
    assert!(told.has("p.flash"));
    let stale = nurse.post(&old, &[("at_time", "15:25"), ("who", "her sister")]);
    assert_eq!(stale.status, 409);
    assert!(stale.text("section.do").contains("Hospital told"));
    assert_eq!(stale.find("#who").attr("value"), Some("her sister"));
    let saved = nurse.submit(&stale, &[]);
    assert_eq!(saved.text("p.flash"), "She is on her way.");
}

#[test]
fn she_declines_and_news_after_closing_put_the_step_right() {
    let post = Post::of_the_demo();
    let (nurse, page) = referred(&post);
    let id = address(&page);
    let form = nurse.get(&format!("{id}/declined"));
    assert_eq!(nurse.post(&form, &[("reason", "the road")]).status, 422);
    let declined = nurse.submit(&form, &[("advised", "Signs to come at once")]);
    assert!(declined.text("section.do").contains("She declined"));
    let link = declined
        .all("ol.times a")
        .last()
        .unwrap()
        .attr("href")
        .unwrap()
        .to_owned();
    let right = nurse.submit(
        &nurse.get(&link),
        &[("becomes", "left"), ("correction", "she changed her mind")],
    );
    assert_eq!(
        right.text("p.flash"),
        "The step is put right; the old version stays readable."
    );
    assert!(right.text("details.fold").contains("she changed her mind"));
}

#[test]
fn the_midwife_alone_stands_a_referral_down_or_marks_it_as_an_error() {
    let post = Post::of_the_demo();
    let (nurse, page) = referred(&post);
    let id = address(&page);
    assert_eq!(nurse.ask(&format!("{id}/stand-down")).status, 403);
    assert_eq!(nurse.ask(&format!("{id}/error")).status, 403);
    let midwife = post.sign_in("midwife");
    let down = midwife.get(&format!("{id}/stand-down"));
    assert_eq!(midwife.post(&down, &[]).status, 422);
    let stood = midwife.submit(&down, &[("stand_down", "birth-here")]);
    assert!(stood.text("section.do").contains("birth happened here"));
    let wrong = midwife.submit(
        &midwife.get(&format!("{id}/error")),
        &[("reason", "wrong woman")],
    );
    assert!(wrong.text("section.do").contains("entered in error"));
    assert_eq!(midwife.ask(&format!("{id}/letter")).status, 422);
}

#[test]
fn a_referral_stood_down_by_mistake_goes_to_the_nearest_again() {
    let post = Post::of_the_demo();
    let (_, page) = referred(&post);
    let midwife = post.sign_in("midwife");
    let down = midwife.get(&format!("{}/stand-down", address(&page)));
    let stood = midwife.submit(&down, &[("stand_down", "misjudged")]);
    let again = stood.find("section.do a[href*='follows=']");
    let form = midwife.get(again.attr("href").unwrap());
    let chosen = form.text("label:has(input[name=hospital][checked])");
    assert!(
        chosen.contains("Amberholt") && chosen.contains("Proposed"),
        "{chosen}"
    );
}

#[test]
fn a_referral_to_another_hospital_takes_over_from_the_one_before() {
    let post = Post::of_the_demo();
    let (_, page) = referred(&post);
    let id = address(&page);
    let midwife = post.sign_in("midwife");
    let down = midwife.get(&format!("{id}/stand-down"));
    let stood = midwife.submit(&down, &[("stand_down", "other-hospital")]);
    let again = stood.find("section.do a[href*='follows=']");
    let form = midwife.get(again.attr("href").unwrap());
    // The only one that can operate is the one she was to go to no longer.
    assert!(!form.has("input[name=hospital][checked], #hospital .tag"));
    assert_eq!(midwife.post(&form, &[]).status, 422, "she chooses one");
    let other = form.find("input[name=hospital]");
    let hospital = other.attr("value").unwrap().to_owned();
    let next = midwife.submit(&form, &[("hospital", &hospital)]);
    assert!(
        next.has(&format!("div.who a[href='{id}']")),
        "{}",
        next.words()
    );
    let first = midwife.get(&id);
    assert!(first.has(&format!("section.do a[href='{}']", address(&next))));
    assert!(!first.has("a[href*='follows=']"), "once is enough");
    let late = midwife.get(again.attr("href").unwrap());
    let twice = midwife.post(&late, &[("hospital", &hospital)]);
    assert_eq!(twice.status, 422, "{}", twice.words());
    let eyebrow = first.text("p.eyebrow");
    let number = eyebrow.split(" · ").nth(1).unwrap();
    let trail = post
        .sign_in("keeper")
        .get(&format!("/trail?number={number}"));
    for verb in ["referral decided", "referral step"] {
        assert!(trail.text("table.trail").contains(verb), "{verb}");
    }
    let other = post.mother("Ada Marren");
    let strange = id.trim_start_matches("/referrals/");
    let asked = format!("/referrals/new?mother={}&follows={strange}", other.mother);
    let named = [("urgency", "soon"), ("category", "unknown-dates")];
    let form = midwife.get(&asked);
    assert_eq!(midwife.post(&form, &named).status, 404, "another woman's");
}

#[test]
fn the_letter_follows_sbar_and_never_leaves_a_blank() {
    let post = Post::of_the_demo();
    let (nurse, page) = referred(&post);
    let letter = nurse.get(&format!("{}/letter", address(&page)));
    let heads: Vec<_> = letter
        .all("article.letter section h2")
        .map(|it| it.text().collect::<String>())
        .collect();
    assert_eq!(
        heads[..4],
        [
            "S · Situation",
            "B · Background",
            "A · Assessment",
            "R · Recommendation"
        ]
    );
    assert!(letter.text("p.urge").starts_with("REFER NOW."));
    let words = letter.text("article.letter");
    for said in [
        "QF-2026-001",
        "Oriel Zemirov",
        "QF 0001",
        "38w+2d",
        "lie lengthwise",
        "5 cm",
        "Imke Torvalo, nurse",
        "Amberholt hospital",
        "not recorded",
        "Support for trained staff",
    ] {
        assert!(words.contains(said), "{said}: {words}");
    }
    for item in letter.all("article.letter dd") {
        assert!(
            !item.text().collect::<String>().trim().is_empty(),
            "a blank could be read as normal"
        );
    }
    let code = letter.body.contains("reply code") || letter.body.contains("/reply");
    assert!(!code, "the code waits for the page that takes it");
}

#[test]
fn a_letter_printed_again_says_what_was_known_when_she_left() {
    let post = Post::of_the_demo();
    let (nurse, page) = referred(&post);
    let mother = nurse.get("/mothers?q=Oriel");
    let mother = mother.find("main a[href^='/mothers/0']").attr("href");
    let mother = mother.unwrap().to_owned();
    let measured = |systolic| {
        let form = nurse.get(&format!("{mother}/visits/new"));
        let visit = nurse.submit(&form, &[("systolic", systolic), ("diastolic", "96")]);
        assert!(visit.text("article.flag").contains(systolic));
    };
    measured("150");
    let left = nurse.get(&format!("{}/left", address(&page)));
    let left = nurse.submit(&left, &[("means", "ambulance")]);
    assert_eq!(left.text("p.flash"), "She is on her way.");
    let letter = format!("{}/letter", address(&page));
    let went = nurse.get(&letter).text("article.letter .beside");
    assert!(went.contains("Pressure 150/96"), "{went}");
    // She came back, and the same flag is raised again in other words.
    post.later(TimeDelta::hours(3));
    measured("152");
    assert_eq!(nurse.get(&letter).text("article.letter .beside"), went);
}

#[test]
fn a_colleague_of_another_post_finds_nothing_here() {
    let post = Post::of_the_demo();
    let (_, page) = referred(&post);
    let id = address(&page);
    let colleague = post.sign_in("colleague");
    for path in ["", "/letter", "/left", "/answer"] {
        assert_eq!(colleague.ask(&format!("{id}{path}")).status, 404, "{path}");
    }
    assert!(colleague.get("/referrals?show=all").has("p.empty"));
}
