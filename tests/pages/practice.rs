//! Findings without a mother: judged and shown as those of a visit, and never kept.

use diesel::RunQueryDsl as _;

use crate::harness::{Post, Visitor};
use crate::page::Page;
use crate::practice_cases::{CASE_4, compared};

const FINDINGS: &str = "/practice/findings";

/// A breech at 36w+2d by an early scan, one birth before.
const BREECH: [(&str, &str); 10] = [
    ("weeks", "36"),
    ("days", "2"),
    ("early_scan", "true"),
    ("births_before", "1"),
    ("fundus", "hard-round"),
    ("left", "long-smooth"),
    ("right", "small-lumps"),
    ("front", "nothing"),
    ("lower", "soft-irregular"),
    ("fundal_height_cm", "34,5"),
];

pub(crate) fn with<'a>(
    all: &[(&'a str, &'a str)],
    more: &[(&'a str, &'a str)],
) -> Vec<(&'a str, &'a str)> {
    let mut all = all.to_vec();
    all.retain(|(name, _)| !more.iter().any(|(other, _)| other == name));
    all.extend(more);
    all
}

fn tried(visitor: &Visitor, answers: &[(&str, &str)]) -> Page {
    visitor.submit(&visitor.get(FINDINGS), answers)
}

#[derive(diesel::QueryableByName)]
struct Named {
    #[diesel(sql_type = diesel::sql_types::Text)]
    name: String,
}

#[derive(diesel::QueryableByName)]
struct Count {
    #[diesel(sql_type = diesel::sql_types::BigInt)]
    count: i64,
}

/// Rows of every table of the register.
fn rows(post: &Post) -> Vec<(String, i64)> {
    let counted = post.registry.read(|db| {
        let tables: Vec<Named> = diesel::sql_query(
            "SELECT name FROM sqlite_master WHERE type = 'table' AND name NOT LIKE 'sqlite_%' ORDER BY name",
        )
        .load(db)?;
        let count = |table: Named| {
            let sql = format!("SELECT count(*) AS count FROM \"{}\"", table.name);
            let found: Count = diesel::sql_query(sql).get_result(db)?;
            Ok((table.name, found.count))
        };
        tables.into_iter().map(count).collect()
    });
    counted.unwrap()
}

#[test]
fn findings_without_a_mother_are_spoken_as_those_of_a_visit_are() {
    let post = Post::of_the_demo();
    let page = tried(&post.sign_in("nurse"), &BREECH);
    assert_eq!(page.status, 200, "{}", page.words());
    let flag = page.text("article.flag.soon");
    for said in [
        "Breech near term. Refer soon: she is 36w+2d.",
        "NG235",
        "Never at the post",
        "Follow your local protocol",
    ] {
        assert!(flag.contains(said), "{said}: {flag}");
    }
    let described = page.text("svg.pic-abdomen > desc");
    assert!(described.contains("breech first: clear"), "{described}");
    assert!(page.has("svg.pic-height circle.p-last"));
    let words = page.words();
    for said in [
        "34.5 cm at 36w+2d: centile",
        "Nothing of this page is kept",
        "Judged as at Quern Ford, without staff skilled",
        "Births before 1",
    ] {
        assert!(words.contains(said), "{said}: {words}");
    }
    assert!(
        !page.has("main a[href^='/referrals']"),
        "nothing is decided"
    );
}

#[test]
fn the_form_is_drawn_or_a_list_as_the_person_has_it_and_says_that_nothing_is_kept() {
    let post = Post::of_the_demo();
    let nurse = post.sign_in("nurse");
    let drawn = nurse.get(FINDINGS);
    assert!(drawn.has("form.pad svg.belly") && !drawn.has("select[name=fundus]"));
    let listed = nurse.get("/practice/findings?form=list&done=3.5y");
    assert!(listed.has("select[name=fundus]") && !listed.has("svg.belly"));
    for page in [&drawn, &listed] {
        assert!(page.words().contains("Nothing of it is kept"));
        assert!(
            !page.has("[name=next_visit], [name=note]"),
            "nothing is agreed with nobody"
        );
        assert_eq!(page.text("main form .actions button"), "What does it mean?");
        assert_eq!(
            page.count("main input[checked]"),
            0,
            "nothing is chosen beforehand"
        );
    }
    let told = [
        ("weeks", "42"),
        ("days", "0"),
        ("early_scan", "true"),
        ("turn", "drawing"),
    ];
    let turned = nurse.submit(&listed, &told);
    assert!(turned.has("form.pad") && turned.has("input[name=early_scan][checked]"));
    assert_eq!(turned.find("input[name=weeks]").attr("value"), Some("42"));
    assert_eq!(turned.find("input[name=done]").attr("value"), Some("3.5y"));
    let page = nurse.submit(&listed, &BREECH);
    assert!(page.has("article.flag.soon"), "{}", page.words());
    assert!(
        page.has("main a[href='/practice?done=3.5y']"),
        "the tally goes along"
    );
}

#[test]
fn what_cannot_be_is_refused_beside_its_field_and_all_that_was_typed_stays() {
    let post = Post::of_the_demo();
    let nurse = post.sign_in("nurse");
    for (more, field, says) in [
        (("weeks", "47"), "weeks", "outside 4 to 46"),
        (("weeks", ""), "weeks", "days alone are not enough"),
        (("days", "7"), "days", "outside 0 to 6"),
        (("lmp", "2026-03-16"), "lmp", "not both"),
        (
            ("previous_caesareans", "2"),
            "previous_caesareans",
            "more than the 1 births before",
        ),
        (("age_years", "7"), "age_years", "outside 8 to 60"),
        (("babies_on_scan", "0"), "babies_on_scan", "outside 1 to 6"),
        (("history", "luck"), "history", "choose among the answers"),
        (
            ("fundal_height_cm", "345"),
            "fundal_height_cm",
            "A point may be missing",
        ),
        (("fifths", "2"), "fifths", "describes a head"),
    ] {
        let page = tried(&nurse, &with(&BREECH, &[more]));
        assert_eq!(page.status, 422, "{more:?}");
        let beside = page.text(&format!("#{field}-wrong"));
        assert!(beside.contains(says), "{more:?}: {beside}");
        assert!(page.find("#fundus-hard-round").attr("checked").is_some());
        assert!(page.find("#early_scan-true").attr("checked").is_some());
        assert_eq!(page.find("#births_before").attr("value"), Some("1"));
        assert!(page.text("title").contains("needs another look"));
    }
    let scan_of_nothing = [("early_scan", "true"), ("fundus", "hard-round")];
    let page = tried(&nurse, &scan_of_nothing);
    assert!(
        page.text("#early_scan-wrong")
            .contains("agrees with nothing")
    );
    assert!(
        page.has("details.fold[open] #early_scan-true"),
        "what is wrong is in sight"
    );
}

#[test]
fn one_finding_can_be_changed_and_the_rest_is_still_there() {
    let post = Post::of_the_demo();
    let nurse = post.sign_in("nurse");
    let page = nurse.submit(&tried(&nurse, &BREECH), &[]);
    assert_eq!(
        (page.status, page.at.as_str()),
        (200, "POST /practice/findings")
    );
    assert_eq!(page.find("#fundal_height_cm").attr("value"), Some("34,5"));
    let page = nurse.submit(
        &page,
        &[
            ("days", "2"),
            ("weeks", "35"),
            ("early_scan", "true"),
            ("lower", "soft-irregular"),
        ],
    );
    assert!(
        page.text("article.flag.recheck").contains("35w+2d"),
        "{}",
        page.words()
    );
}

#[test]
fn background_counts_dates_twins_scar_and_age() {
    let post = Post::of_the_demo();
    let nurse = post.sign_in("nurse");
    let vertex = [
        ("fundus", "soft-irregular"),
        ("left", "long-smooth"),
        ("lower", "hard-round"),
    ];
    for (more, says) in [
        (&[][..], "Unknown dates"),
        (
            &[("weeks", "41"), ("days", "2"), ("early_scan", "true")],
            "Refer soon: she is 41w+2d",
        ),
        (
            &[("weeks", "41"), ("days", "2")],
            "Midwife to review: she is 41w+2d",
        ),
        (
            &[("lmp", "2026-03-18"), ("babies_on_scan", "2")],
            "Suspected twins",
        ),
        (
            &[
                ("weeks", "36"),
                ("births_before", "1"),
                ("previous_caesareans", "1"),
            ],
            "Scarred uterus",
        ),
        (&[("weeks", "30"), ("age_years", "41")], "Place of birth"),
        (
            &[("weeks", "30"), ("history", "convulsions")],
            "Place of birth",
        ),
    ] {
        let page = tried(&nurse, &with(&vertex, more));
        assert!(page.words().contains(says), "{says}: {}", page.words());
    }
    let quiet = tried(
        &nurse,
        &with(&vertex, &[("weeks", "30"), ("births_before", "1")]),
    );
    assert!(
        quiet.words().contains("No rule speaks"),
        "{}",
        quiet.words()
    );
}

#[test]
fn nothing_of_practice_reaches_the_register_whoever_practises() {
    let post = Post::of_the_demo();
    for role in ["nurse", "midwife", "district", "keeper"] {
        let visitor = post.sign_in(role);
        let before = rows(&post);
        assert!(before.len() > 20, "{before:?}");
        let page = tried(&visitor, &BREECH);
        assert!(page.has("article.flag.soon"), "{role}: {}", page.words());
        let case = visitor.get("/practice/cases/4");
        assert_eq!(compared(&visitor, &case, &CASE_4).status, 200);
        assert_eq!(compared(&visitor, &case, &[("lie", "x")]).status, 422);
        assert_eq!(rows(&post), before, "{role}");
        assert!(page.every_header("set-cookie").is_empty(), "{role}");
        assert!(
            visitor.get("/").has("nav.pages a[href='/practice']"),
            "{role}"
        );
    }
}
