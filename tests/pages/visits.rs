//! A visit from the empty form to its meaning, put right, and two at once.

use brimline::clinical::{Dating, Day};
use brimline::registry::mothers::{self, Born, NewMother, Person};
use brimline::registry::pregnancies::Facts;
use brimline::registry::{MotherId, staff};

use crate::district::now;
use crate::harness::{Post, Visitor};
use crate::page::Page;

/// Ayla Brennoch, 36w+2d by a certain period, one birth before; registered by the nurse of Quern Ford.
pub(crate) fn ayla(post: &Post) -> MotherId {
    registered(post, Day::from_ymd_opt(2026, 3, 16))
}

fn registered(post: &Post, lmp: Option<Day>) -> MotherId {
    let nurse = post
        .registry
        .read(|db| staff::named(db, "nurse"))
        .unwrap()
        .by();
    let new = NewMother {
        person: Person {
            name: "Ayla Brennoch".to_owned(),
            village: Some("Upper Ford".to_owned()),
            phone: None,
            may_phone: None,
            born: Born::Year(2000),
        },
        facts: Facts {
            dating: Dating {
                lmp,
                lmp_certain: lmp.map(|_| true),
                scans: Vec::new(),
            },
            births_before: Some(1),
            ..Facts::default()
        },
        request_key: None,
    };
    let entered = post
        .registry
        .write(&nurse, now(), |change| mothers::register(change, &new));
    entered.unwrap().mother
}

pub(crate) fn form_of(mother: MotherId) -> String {
    format!("/mothers/{mother}/visits/new")
}

pub(crate) const BREECH: [(&str, &str); 6] = [
    ("fundus", "hard-round"),
    ("left", "long-smooth"),
    ("right", "small-lumps"),
    ("front", "nothing"),
    ("lower", "soft-irregular"),
    ("fundal_height_cm", "34,5"),
];

pub(crate) fn with<'a>(more: &[(&'a str, &'a str)]) -> Vec<(&'a str, &'a str)> {
    let mut all: Vec<(&str, &str)> = BREECH.to_vec();
    all.retain(|(name, _)| !more.iter().any(|(other, _)| other == name));
    all.extend(more);
    all
}

pub(crate) fn saved(visitor: &Visitor, mother: MotherId, answers: &[(&str, &str)]) -> Page {
    let page = visitor.submit(&visitor.get(&form_of(mother)), answers);
    assert!(
        page.at.starts_with("GET /visits/"),
        "{}: {}",
        page.at,
        page.words()
    );
    page
}

pub(crate) fn here(page: &Page) -> String {
    page.at.trim_start_matches("GET ").to_owned()
}

#[test]
fn a_breech_near_term_is_spoken_with_its_evidence_its_picture_and_the_caution() {
    let post = Post::of_the_demo();
    let (nurse, mother) = (post.sign_in("nurse"), ayla(&post));
    let page = saved(
        &nurse,
        mother,
        &with(&[("asked", "all-clear"), ("next_visit", "2026-12-02")]),
    );
    let flag = page.text("article.flag.soon");
    assert!(
        flag.contains("Breech") && flag.contains("Refer soon: she is 36w+2d"),
        "{flag}"
    );
    assert!(flag.contains("Follow your local protocol"), "{flag}");
    assert!(
        page.text("svg.pic-abdomen > title")
            .contains("seen from the front")
    );
    let described = page.text("svg.pic-abdomen > desc");
    assert!(
        described.contains("breech first: clear") && described.contains("Back to her left"),
        "{described}"
    );
    assert_eq!(
        page.count("svg.pic-height .p-hc-lines path"),
        5,
        "five centile lines"
    );
    assert_eq!(page.count("svg.pic-height circle.p-last"), 1);
    let words = page.words();
    assert!(
        words.contains("34.5 cm at 36w+2d: centile") && words.contains("Wednesday 2 Dec 2026"),
        "{words}"
    );
    assert!(page.text("p.flash").contains("saved"));
}

#[test]
fn an_empty_form_is_a_visit_and_says_what_was_left_out() {
    let post = Post::of_the_demo();
    let (nurse, mother) = (post.sign_in("nurse"), ayla(&post));
    let page = saved(&nurse, mother, &[("fundus", "")]);
    let words = page.words();
    assert!(
        words.contains("Nothing was palpated") && words.contains("Not examined"),
        "{words}"
    );
    for left in [
        "Fundus",
        "Lower pole",
        "Fundal height",
        "Fetal heart",
        "Systolic",
        "Movements",
        "Danger signs",
    ] {
        assert!(words.contains(left), "{left} is missing in {words}");
    }
    assert!(!page.has("article.flag.soon") && words.contains("local protocol"));
}

#[test]
fn a_refused_form_keeps_everything_and_names_each_fault_twice_in_the_same_words() {
    let post = Post::of_the_demo();
    let (nurse, mother) = (post.sign_in("nurse"), ayla(&post));
    for shape in ["drawing", "list"] {
        let asked = nurse.get(&format!("{}?form={shape}", form_of(mother)));
        let answers = with(&[
            ("fifths", "3"),
            ("systolic", "118"),
            ("diastolic", "181"),
            ("temperature_c", "368"),
            ("note", "two\nlines <b>"),
            ("danger_signs", "bleeding"),
        ]);
        let page = nurse.submit(&asked, &answers);
        assert_eq!(
            (page.status, page.count(".errors li")),
            (422, 3),
            "{}",
            page.words()
        );
        for wrong in page.all("main p.wrong") {
            let said: String = wrong.text().collect();
            assert!(
                page.text(".errors").contains(&said.replace('\u{a0}', " ")),
                "{said}"
            );
        }
        assert_eq!(page.find("#fundal_height_cm").attr("value"), Some("34,5"));
        assert_eq!(page.find("#temperature_c").attr("value"), Some("368"));
        assert!(page.text("#note").contains("lines <b>"));
        assert!(
            page.find("#danger_signs-bleeding")
                .attr("checked")
                .is_some()
        );
        let kept = if shape == "list" {
            "#left option[selected]"
        } else {
            "#left-long-smooth[checked]"
        };
        assert_eq!(page.count(kept), 1, "{shape}");
        let mended = nurse.submit(
            &page,
            &[
                ("fifths", ""),
                ("diastolic", "76"),
                ("temperature_c", "36.8"),
            ],
        );
        assert!(mended.at.starts_with("GET /visits/"), "{}", mended.words());
    }
}

#[test]
fn a_visit_before_her_last_period_or_after_now_is_refused() {
    let post = Post::of_the_demo();
    let (nurse, mother) = (post.sign_in("nurse"), ayla(&post));
    for (day, why) in [
        ("2026-03-15", "before her last period"),
        ("2026-11-26", "has not come yet"),
    ] {
        let page = nurse.submit(&nurse.get(&form_of(mother)), &with(&[("at_date", day)]));
        assert_eq!(page.status, 422);
        assert!(
            page.text(".errors").contains(why),
            "{}",
            page.text(".errors")
        );
    }
}

#[test]
fn the_same_form_sent_twice_is_one_visit() {
    let post = Post::of_the_demo();
    let (nurse, mother) = (post.sign_in("nurse"), ayla(&post));
    let asked = nurse.get(&form_of(mother));
    let first = nurse.submit(&asked, &BREECH);
    let again = nurse.submit(&asked, &BREECH);
    assert_eq!(first.at, again.at);
    let other = nurse.submit(&asked, &with(&[("lower", "empty")]));
    assert_eq!(first.at, other.at);
    assert!(
        other.text("p.flash").contains("saved before"),
        "{}",
        other.text("p.flash")
    );
}

/// Back after saving: the browser asks for the form anew and puts the same answers into it.
#[test]
fn the_same_answers_in_a_form_asked_for_anew_are_no_second_visit() {
    let post = Post::of_the_demo();
    let (nurse, mother) = (post.sign_in("nurse"), ayla(&post));
    let first = nurse.submit(&nurse.get(&form_of(mother)), &BREECH);
    let again = nurse.submit(&nurse.get(&form_of(mother)), &BREECH);
    assert_eq!(first.at, again.at);
    let other = nurse.submit(&nurse.get(&form_of(mother)), &with(&[("fifths", "")]));
    assert_eq!(first.at, other.at, "not counted is not typed");
    let other = nurse.submit(&nurse.get(&form_of(mother)), &with(&[("lower", "empty")]));
    assert_ne!(
        first.at, other.at,
        "other findings of the same minute are another visit"
    );
}

#[test]
fn the_last_visit_stands_beside_the_next_form_and_broken_waters_are_asked_again() {
    let post = Post::of_the_demo();
    let (nurse, mother) = (post.sign_in("nurse"), ayla(&post));
    let _ = saved(
        &nurse,
        mother,
        &with(&[("at_time", "08:00"), ("waters", "broken"), ("pulse", "84")]),
    );
    let next = nurse.get(&form_of(mother));
    assert!(next.text("#fundus .last").contains("hard, round"));
    assert!(
        next.words()
            .contains("Her waters were broken on 25 Nov 2026")
    );
    assert!(
        !next.has("#asked-all-clear"),
        "one tap must not close the waters"
    );
    let page = nurse.submit(&next, &[("asked", "all-clear")]);
    assert_eq!(page.status, 422);
}

#[test]
fn another_posts_visits_are_as_if_they_were_not() {
    let post = Post::of_the_demo();
    let (nurse, mother) = (post.sign_in("nurse"), ayla(&post));
    let visit = here(&saved(&nurse, mother, &BREECH));
    let colleague = post.sign_in("colleague");
    for path in [
        form_of(mother),
        visit.clone(),
        format!("{visit}/amend"),
        format!("{visit}/revisions/1"),
    ] {
        assert_eq!(colleague.ask(&path).status, 404, "{path}");
    }
}
