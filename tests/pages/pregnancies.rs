//! A pregnancy's facts are amended with a reason; it ends; a further one is opened.

use crate::harness::{Post, Visitor};
use crate::page::Page;

fn hers(nurse: &Visitor) -> Page {
    let answers = [
        ("name", "Ruta Belisande"),
        ("age_years", "29"),
        ("lmp", "2026-03-16"),
        ("births_before", "2"),
    ];
    nurse.submit(&nurse.get("/mothers/new"), &answers)
}

fn way(page: &Page, end: &str) -> String {
    page.find(&format!("main a[href$='{end}']"))
        .attr("href")
        .unwrap()
        .to_owned()
}

#[test]
fn a_scan_is_added_and_the_page_says_which_date_counts() {
    let post = Post::of_the_demo();
    let nurse = post.sign_in("nurse");
    let page = hers(&nurse);
    let amend = page
        .all("main a[href^='/pregnancies/'][href$='/amend']")
        .next()
        .unwrap()
        .attr("href")
        .unwrap()
        .to_owned();
    let form = nurse.get(&amend);
    let missing = nurse.submit(
        &form,
        &[
            ("scan_on", "2026-05-26"),
            ("scan_weeks", "8"),
            ("scan_days", "0"),
        ],
    );
    assert_eq!(missing.status, 422, "no reason was asked for");
    let saved = nurse.submit(
        &form,
        &[
            ("scan_on", "2026-05-26"),
            ("scan_weeks", "8"),
            ("scan_days", "0"),
            ("reason", "scan report came in"),
        ],
    );
    assert_eq!(
        saved.text(".flash"),
        "Dates and history are saved, and her flags are judged anew."
    );
    assert!(
        saved
            .words()
            .contains("differed by 15 days, more than 7: the scan counts"),
        "{}",
        saved.words()
    );
    let again = nurse.get(&amend);
    assert_eq!(
        again.find("[name=scan_on]").attr("value"),
        Some("2026-05-26")
    );
    assert!(again.has("[name=scan_on_2]"), "no room for a second scan");
}

#[test]
fn a_scan_before_the_period_is_refused_beside_its_day() {
    let post = Post::of_the_demo();
    let nurse = post.sign_in("nurse");
    let page = hers(&nurse);
    let amend = page
        .all("main a[href^='/pregnancies/'][href$='/amend']")
        .next()
        .unwrap()
        .attr("href")
        .unwrap()
        .to_owned();
    let refused = nurse.submit(
        &nurse.get(&amend),
        &[
            ("scan_on", "2026-03-01"),
            ("scan_weeks", "8"),
            ("reason", "x"),
        ],
    );
    assert_eq!(refused.status, 422);
    assert!(
        refused
            .text("#scan_on-wrong")
            .contains("before her last period"),
        "{}",
        refused.text("#scan_on-wrong")
    );
}

#[test]
fn after_a_loss_a_further_pregnancy_can_be_opened_and_both_are_told() {
    let post = Post::of_the_demo();
    let nurse = post.sign_in("nurse");
    let page = hers(&nurse);
    let mother = page.at.trim_start_matches("GET ").to_owned();
    assert_eq!(
        nurse.ask(&format!("{mother}/pregnancies/new")).status,
        303,
        "a second one while the first lasts"
    );
    let end = nurse.get(&way(&page, "/end"));
    let unsaid = nurse.submit(&end, &[("ended_on", "2026-11-26")]);
    assert_eq!(unsaid.status, 422);
    assert_eq!(
        unsaid.count("main .errors li"),
        2,
        "how, and a day that has not come"
    );
    let ended = nurse.submit(&end, &[("ending", "loss"), ("ended_on", "2026-11-20")]);
    assert_eq!(
        ended.text(".flash"),
        "The pregnancy has ended; its flags are closed."
    );
    let next = nurse.submit(
        &nurse.get(&way(&ended, "/pregnancies/new")),
        &[("lmp", "2026-11-01")],
    );
    assert_eq!(next.text(".flash"), "The pregnancy is open.");
    assert!(next.text(".who").contains("3w+3d"), "{}", next.text(".who"));
    assert!(
        next.has("main details.volume"),
        "the earlier pregnancy is gone"
    );
}
