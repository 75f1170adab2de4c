//! Mothers: registered, found, amended, and the page of one.

use crate::harness::{Post, Visitor};
use crate::page::Page;

const PERIOD: &str = "2026-03-16"; // 36w+2d on the day of the tests

fn answers<'a>(name: &'a str, more: &[(&'a str, &'a str)]) -> Vec<(&'a str, &'a str)> {
    let mut answers = vec![
        ("name", name),
        ("birth_year", "1998"),
        ("village", "Upper Kelm"),
        ("lmp", PERIOD),
        ("lmp_certain", "true"),
        ("births_before", "1"),
        ("previous_caesareans", "0"),
    ];
    answers.retain(|(field, _)| !more.iter().any(|(other, _)| other == field));
    answers.extend(more);
    answers
}

#[track_caller]
fn registered(nurse: &Visitor, name: &str, more: &[(&str, &str)]) -> Page {
    let page = nurse.submit(&nurse.get("/mothers/new"), &answers(name, more));
    assert_eq!(page.text("h1"), name, "{}: {}", page.at, page.words());
    page
}

fn faults(page: &Page) -> Vec<String> {
    page.all("main .errors li a")
        .map(|it| it.text().collect::<String>().replace('\u{a0}', " "))
        .collect()
}

#[test]
fn a_mother_is_registered_and_her_page_says_so() {
    let post = Post::of_the_demo();
    let nurse = post.sign_in("nurse");
    let page = registered(
        &nurse,
        "Nela Asturo",
        &[("phone", "0555 0172 (sister)"), ("may_phone", "true")],
    );
    assert_eq!(page.text(".flash"), "She is in the register.");
    let strip = page.text(".who");
    for part in ["36w+2d", "21 Dec 2026", "0555 0172 (sister)", "Upper Kelm"] {
        assert!(strip.contains(part), "{strip}");
    }
    assert_eq!(page.text(".eyebrow"), "Mothers · QF 0001");
    assert!(
        page.text(".story").contains("Last period 16 Mar 2026"),
        "{}",
        page.text(".story")
    );
    assert!(page.has("main a[href$='/visits/new']"));
}

#[test]
fn everything_wrong_is_said_at_once_and_nothing_typed_is_lost() {
    let post = Post::of_the_demo();
    let nurse = post.sign_in("nurse");
    let page = nurse.submit(
        &nurse.get("/mothers/new"),
        &[
            ("name", ""),
            ("birth_year", "1898"),
            ("village", "Upper <b>Kelm</b>"),
            ("lmp", "2026-12-12"),
            ("scan_on", "2026-08-03"),
            ("scan_weeks", "54"),
            ("babies_on_scan", "12"),
            ("births_before", "2"),
            ("previous_caesareans", "3"),
        ],
    );
    assert_eq!(page.status, 422);
    assert_eq!(
        faults(&page),
        [
            "Full name: write the name she goes by",
            "Year of birth: 1898 makes her 128 years old; write four figures, or give an age instead",
            "First day of the last period: 12 Dec 2026 has not come yet",
            "Weeks at the scan: 54 is outside 5 to 42",
            "Babies seen: 12 is outside 1 to 6",
            "Of these, caesareans: 3 are more than the 2 births before",
        ]
    );
    for (field, typed) in [
        ("village", "Upper <b>Kelm</b>"),
        ("lmp", "2026-12-12"),
        ("scan_weeks", "54"),
        ("birth_year", "1898"),
    ] {
        assert_eq!(
            page.find(&format!("main [name={field}]")).attr("value"),
            Some(typed),
            "{field}"
        );
    }
    assert!(!page.has("main b"), "typed markup became markup");
}

#[test]
fn a_period_over_44_weeks_back_is_asked_about_and_kept() {
    let post = Post::of_the_demo();
    let nurse = post.sign_in("nurse");
    let asked = nurse.submit(
        &nurse.get("/mothers/new"),
        &answers("Nela Asturo", &[("lmp", "2026-01-10")]),
    );
    assert_eq!(asked.status, 422);
    assert!(
        faults(&asked)[0].contains("45w+4d today"),
        "{:?}",
        faults(&asked)
    );
    let kept = nurse.submit(&asked, &[("lmp_kept", "2026-01-10")]);
    assert_eq!(
        (kept.status, kept.text("h1")),
        (200, "Nela Asturo".to_owned())
    );
    assert!(
        kept.words().contains("over 44 weeks by her dates"),
        "{}",
        kept.words()
    );
}

#[test]
fn somebody_alike_is_shown_before_saving_and_may_be_saved() {
    let post = Post::of_the_demo();
    let nurse = post.sign_in("nurse");
    let first = registered(&nurse, "Solveig Wenlove", &[]);
    let asked = nurse.submit(
        &nurse.get("/mothers/new"),
        &answers("solveig  WENLOVE", &[("then", "page")]),
    );
    assert_eq!(asked.text("h1"), "Is she already in the register?");
    assert_eq!(asked.status, 200);
    assert!(asked.has("main table a[href^='/mothers/']"));
    let unanswered = nurse.submit(&asked, &[]);
    assert_eq!(unanswered.status, 422);
    let back = nurse.submit(&asked, &[("double", "back")]);
    assert_eq!(
        back.find("[name=village]").attr("value"),
        Some("Upper Kelm")
    );
    let id = asked
        .find("main [name=double]")
        .attr("value")
        .unwrap()
        .to_owned();
    let same = nurse.submit(&asked, &[("double", &id)]);
    assert_eq!(
        same.text(".eyebrow"),
        first.text(".eyebrow"),
        "she was written twice"
    );
    let other = nurse.submit(&asked, &[("double", "other")]);
    assert_eq!(other.text(".eyebrow"), "Mothers · QF 0002");
}

#[test]
fn a_form_sent_twice_is_one_mother() {
    let post = Post::of_the_demo();
    let nurse = post.sign_in("nurse");
    let form = nurse.get("/mothers/new");
    let first = nurse.submit(&form, &answers("Nela Asturo", &[]));
    let again = nurse.submit(&form, &answers("Nela Asturo", &[]));
    assert_eq!(first.text(".eyebrow"), "Mothers · QF 0001");
    assert_eq!(again.text(".eyebrow"), "Mothers · QF 0001");
    let list = nurse.get("/mothers");
    assert_eq!(list.all("main tbody tr").count(), 1);
}

#[test]
fn she_is_found_by_name_number_phone_and_village_whatever_the_case() {
    let post = Post::of_the_demo();
    let nurse = post.sign_in("nurse");
    let _ = registered(&nurse, "Åse Bjørnemyr", &[("phone", "0555 0172")]);
    let _ = registered(
        &nurse,
        "Ruta Belisande",
        &[("village", "Marrow Hill"), ("birth_year", "1990")],
    );
    for (asked, wanted) in [
        ("ase", "Åse Bjørnemyr"),
        ("BELIS", "Ruta Belisande"),
        ("qf 0002", "Ruta Belisande"),
        ("05550172", "Åse Bjørnemyr"),
        ("marrow", "Ruta Belisande"),
    ] {
        let page = nurse.get(&format!("/mothers?q={}", asked.replace(' ', "+")));
        let names: Vec<_> = page
            .all("main tbody th a")
            .map(|it| it.text().collect::<String>())
            .collect();
        assert_eq!(names, [wanted], "{asked}");
    }
    let nobody = nurse.get("/mothers?q=Solvay+Wenn");
    assert_eq!(nobody.text("main h2"), "Nobody found for “Solvay Wenn”");
    assert!(
        nobody.has("main a[href='/mothers/new?name=Solvay%20Wenn']"),
        "{}",
        nobody.body
    );
    assert_eq!(
        nurse
            .get("/mothers/new?name=Solvay%20Wenn")
            .find("[name=name]")
            .attr("value"),
        Some("Solvay Wenn")
    );
}

#[test]
fn an_empty_list_says_what_would_fill_it() {
    let post = Post::of_the_demo();
    let nurse = post.sign_in("nurse");
    for show in ["pregnant", "after", "flagged", "all"] {
        let page = nurse.get(&format!("/mothers?show={show}"));
        assert!(
            page.text("main .empty").contains("stands here"),
            "{show}: {}",
            page.text("main .empty")
        );
    }
}

#[test]
fn a_long_list_goes_on_from_its_last_line() {
    let post = Post::of_the_demo();
    let nurse = post.sign_in("nurse");
    for number in 0..53 {
        let _ = registered(&nurse, &format!("Mother N{number:03}"), &[]);
    }
    let first = nurse.get("/mothers");
    assert_eq!(first.count("main tbody tr"), 50);
    let next = first
        .all("nav.turn a")
        .last()
        .and_then(|it| it.attr("href").map(str::to_owned))
        .unwrap();
    let second = nurse.get(&next);
    let names: Vec<_> = second
        .all("main tbody th a")
        .map(|it| it.text().collect::<String>())
        .collect();
    assert_eq!(names, ["Mother N050", "Mother N051", "Mother N052"]);
    assert_eq!(second.count("nav.turn a"), 1, "a way back and no way on");
}

#[test]
fn a_colleague_of_another_post_finds_nobody() {
    let post = Post::of_the_demo();
    let (nurse, colleague) = (post.sign_in("nurse"), post.sign_in("colleague"));
    let hers = registered(&nurse, "Nela Asturo", &[]);
    let id = hers.at.trim_start_matches("GET ").to_owned();
    let pregnancy = hers
        .find("main a[href^='/pregnancies/'][href$='/amend']")
        .attr("href")
        .unwrap()
        .to_owned();
    for at in [
        id.clone(),
        format!("{id}/amend"),
        format!("{id}/pregnancies/new"),
        pregnancy.clone(),
        pregnancy.replace("/amend", "/end"),
    ] {
        let unknown = colleague.ask(&at.replace(|it: char| it.is_ascii_digit(), "0"));
        let page = colleague.ask(&at);
        assert_eq!(page.status, 404, "{at}");
        assert_eq!(page.text("h1"), unknown.text("h1"), "{at}");
    }
    assert!(colleague.get("/mothers?q=Nela").has("main .empty"));
}

#[test]
fn a_stale_amendment_shows_both_versions_and_saves_neither() {
    let post = Post::of_the_demo();
    let (nurse, midwife) = (post.sign_in("nurse"), post.sign_in("midwife"));
    let hers = registered(&nurse, "Nela Asturo", &[]);
    let amend = format!("{}/amend", hers.at.trim_start_matches("GET "));
    let stale = nurse.get(&amend);
    let saved = midwife.submit(&midwife.get(&amend), &[("village", "Stennet")]);
    assert_eq!(saved.text(".flash"), "What is told of her is saved.");
    let both = nurse.submit(&stale, &[("village", "Oldersey")]);
    assert_eq!(both.status, 409);
    let row = both.text("main table tbody tr");
    assert!(row.contains("Oldersey") && row.contains("Stennet"), "{row}");
    let again = nurse.submit(&both, &[("village", "Oldersey")]);
    assert!(again.text(".who").contains("Oldersey"));
}
