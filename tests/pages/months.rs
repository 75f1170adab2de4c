//! The months: who sees which, signing one, and its files.

use brimline::clinical::Moment;
use brimline::registry::mothers::{self, Born, NewMother, Person};
use brimline::registry::pregnancies::Facts;
use brimline::registry::staff;

use crate::harness::Post;

/// A woman whose name must stand in no report.
const NAME: &str = "Nela Asturo";

impl Post {
    /// A woman registered by a nurse at that moment.
    fn registers(&self, nurse: &str, when: &str) {
        let when = Moment::parse_from_str(when, "%Y-%m-%d %H:%M").unwrap();
        let by = self
            .registry
            .read(|db| staff::named(db, nurse))
            .unwrap()
            .by();
        let new = NewMother {
            person: Person {
                name: NAME.to_owned(),
                village: Some("Nether Withy".to_owned()),
                phone: Some("000 555 0199".to_owned()),
                may_phone: Some(true),
                born: Born::Year(1999),
            },
            facts: Facts::default(),
            request_key: None,
        };
        self.registry
            .write(&by, when, |change| mothers::register(change, &new))
            .unwrap();
    }

    /// Two posts; the first woman of Quern Ford came in September, one of Lorn Saltings in October.
    fn with_two_months() -> Self {
        let post = Self::of_the_demo();
        post.registers("nurse", "2026-09-10 08:00");
        post.registers("nurse", "2026-10-12 08:00");
        post.registers("colleague", "2026-10-13 08:00");
        post
    }
}

#[test]
fn a_post_sees_its_newest_month_that_is_over_and_not_signed() {
    let post = Post::with_two_months();
    let nurse = post.sign_in("nurse");
    let page = nurse.get("/months");
    assert_eq!(
        (page.status, page.text("h1").as_str()),
        (200, "October 2026")
    );
    assert_eq!(
        page.text("#activity tbody td[data-label='Mothers registered']"),
        "1"
    );
    assert!(
        page.text(".do .small")
            .starts_with("was due on 10 Nov 2026, 15 days ago")
    );
    assert!(!page.has("main form[method=post]"), "a nurse signs nothing");
}

#[test]
fn the_midwife_signs_a_month_once_she_has_looked_at_it() {
    let post = Post::with_two_months();
    let midwife = post.sign_in("midwife");
    let page = midwife.get("/months/2026-10");
    let refused = midwife.post(&page, &[]);
    assert_eq!(refused.status, 422);
    assert_eq!(refused.text("main p.wrong"), "tick it once you have");
    let signed = midwife.submit(&page, &[("seen", "true")]);
    assert_eq!(
        (signed.status, signed.at.as_str()),
        (200, "GET /months/2026-10")
    );
    assert_eq!(
        signed.text(".flash"),
        "The month is signed. Its figures are kept as they stood."
    );
    assert_eq!(signed.text(".do .tag"), "Signed");
    assert!(signed.text(".do .small").contains("Sarai Bekende"));
    assert_eq!(
        midwife.get("/months").text("h1"),
        "September 2026",
        "the next one to sign"
    );
}

#[test]
fn a_later_entry_shows_as_a_change_of_the_signed_month() {
    let post = Post::with_two_months();
    let midwife = post.sign_in("midwife");
    let page = midwife.get("/months/2026-10");
    assert!(midwife.submit(&page, &[("seen", "true")]).has(".tag.done"));
    post.registers("nurse", "2026-10-30 08:00");
    let changed = midwife.get("/months/2026-10");
    assert_eq!(changed.text(".do .tag"), "Changed since signing");
    let rows: Vec<String> = changed
        .all("#changed tbody tr")
        .map(|row| {
            row.text()
                .collect::<Vec<_>>()
                .join(" ")
                .split_whitespace()
                .collect::<Vec<_>>()
                .join(" ")
        })
        .collect();
    assert!(
        rows.contains(&"Activity Mothers registered 1 2".to_owned()),
        "{rows:?}"
    );
}

#[test]
fn a_month_that_goes_on_is_not_signed_and_one_to_come_does_not_exist() {
    let post = Post::with_two_months();
    let midwife = post.sign_in("midwife");
    let running = midwife.get("/months/2026-11");
    assert_eq!(running.text(".do .tag"), "Not over yet");
    assert!(!running.has("main form[method=post]"));
    for nothing in [
        "/months/2026-12",
        "/months/2026-13",
        "/months/x",
        "/months?month=2026-13",
        "/months/2026-12/print",
    ] {
        assert_eq!(midwife.get(nothing).status, 404, "{nothing}");
    }
    let token = midwife.token();
    let early = midwife.send_form(
        "/months/2026-11/sign",
        format!("token={token}&seen=true").as_bytes(),
    );
    assert_eq!(early.status, 422, "{}", early.words());
}

#[test]
fn another_post_s_month_is_a_page_that_does_not_exist() {
    let post = Post::with_two_months();
    let nurse = post.sign_in("nurse");
    for other in [
        "/months/2026-10?post=LS",
        "/months/2026-10?post=all",
        "/months?post=LS",
        "/months/2026-10/files/flags.csv?post=LS",
        "/months/2026-10/print?post=LS",
    ] {
        assert_eq!(nurse.get(other).status, 404, "{other}");
    }
    assert_eq!(nurse.get("/months/2026-10?post=QF").status, 200);
}

#[test]
fn the_district_chooses_among_posts_and_all_posts_and_never_sees_a_name() {
    let post = Post::with_two_months();
    let officer = post.sign_in("district");
    let posts = officer.get("/months");
    let names: Vec<String> = posts
        .all(".seals tbody th")
        .map(|row| row.text().collect::<String>().trim().to_owned())
        .collect();
    assert_eq!(names, ["Lorn Saltings 1 late", "Quern Ford 2 late"]);
    assert_eq!(posts.count(".seals tbody tr:first-child td"), 12);
    let registered = |page: &str| {
        officer
            .get(page)
            .text("#activity tbody td[data-label='Mothers registered']")
    };
    assert_eq!(registered("/months/2026-10"), "2");
    assert_eq!(registered("/months/2026-10?post=all"), "2");
    assert_eq!(registered("/months/2026-10?post=LS"), "1");
    let chosen = officer.ask("/months?post=LS&month=2026-10");
    assert_eq!(chosen.header("location"), "/months/2026-10?post=LS");
    assert_eq!(officer.get("/months/2026-10?post=XX").status, 404);
    for page in [
        "/months",
        "/months/2026-10",
        "/months/2026-10?post=QF",
        "/months/2026-10/print",
        "/months/2026-10/files/tables.json",
    ] {
        let body = officer.get(page).body;
        for secret in ["Nela", "Asturo", "0199", "Withy"] {
            assert!(!body.contains(secret), "{page} holds {secret}");
        }
    }
}

#[test]
fn every_file_that_the_page_offers_is_there() {
    let post = Post::with_two_months();
    let officer = post.sign_in("district");
    let page = officer.get("/months/2026-10?post=QF");
    let files: Vec<String> = page
        .all("#files .files a")
        .map(|link| link.attr("href").unwrap_or_default().to_owned())
        .collect();
    assert_eq!(
        files.len(),
        13,
        "eleven tables, the workbook and the document"
    );
    for file in &files {
        if file.contains(".xlsx") {
            continue; // no text; its bytes are read where it is written
        }
        let sent = officer.ask(file);
        assert_eq!(sent.status, 200, "{file}");
        assert!(
            sent.header("content-disposition")
                .starts_with("attachment; filename=\"QF-2026-10-"),
            "{file}"
        );
    }
    let activity = officer.ask("/months/2026-10/files/activity.csv?post=QF");
    assert!(
        activity
            .body
            .starts_with("mothers_registered,pregnancies_opened,")
    );
    assert!(activity.body.contains("\r\n1,1,0,"), "{}", activity.body);
    for nothing in [
        "/months/2026-10/files/none.csv",
        "/months/2026-10/files/flags",
        "/months/2026-10/files/..csv",
    ] {
        assert_eq!(officer.ask(nothing).status, 404, "{nothing}");
    }
}

#[test]
fn the_paper_has_every_table_and_room_for_two_names() {
    let post = Post::with_two_months();
    let page = post.sign_in("midwife").get("/months/2026-10/print");
    assert_eq!(page.text("h1"), "Quern Ford, October 2026");
    assert_eq!(page.count("main table"), 11);
    assert_eq!(page.count(".pen-line"), 2);
}
