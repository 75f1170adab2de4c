//! The invented cases: told without their answer, answered beside the program, counted for one sitting.

use crate::harness::{Post, Visitor, encoded};
use crate::page::{Page, values_already_in};
use crate::practice::with;

/// As the program answers case 4, a breech near term.
pub(crate) const CASE_4: [(&str, &str); 6] = [
    ("lie", "longitudinal"),
    ("presentation", "breech"),
    ("back", "left"),
    ("engaged", "unknown"),
    ("certainty", "clear"),
    ("urgency", "soon"),
];

/// Answers a case as a browser does: everything chosen stands in the address.
#[track_caller]
pub(crate) fn compared(visitor: &Visitor, case: &Page, answers: &[(&str, &str)]) -> Page {
    let form = case.find("main form[method=get]");
    let mut filled = values_already_in(&form);
    filled.retain(|(name, _)| !answers.iter().any(|(other, _)| other == name));
    let chosen = answers.iter().copied();
    filled.extend(chosen.map(|(name, code)| (name.to_owned(), code.to_owned())));
    let action = form.attr("action").unwrap();
    let asked = String::from_utf8(encoded(&filled)).unwrap();
    visitor.get(&format!("{action}?{asked}"))
}

/// Why the program answered as it did: lie, first part, back, engaged, how sure, what to do.
fn whys(page: &Page) -> Vec<String> {
    let whys = page.all("table.register tbody td[data-label=Compared]");
    whys.map(|it| it.text().collect()).collect()
}

#[test]
fn every_case_is_told_without_its_answer_and_answered_with_its_reasons() {
    let post = Post::of_the_demo();
    let nurse = post.sign_in("nurse");
    let list = nurse.get("/practice");
    assert_eq!(
        list.count("main ul.lines li a[href^='/practice/cases/']"),
        24
    );
    assert!(!list.has("ul.tally"), "nothing was answered yet");
    for number in 1..=24 {
        let case = nurse.get(&format!("/practice/cases/{number}"));
        assert!(
            !case.has("svg.pic-abdomen, article.flag"),
            "{number}: the picture would tell"
        );
        assert_eq!(case.count("main fieldset.group"), 6, "{number}");
        assert_eq!(case.count("main input[checked]"), 0, "{number}");
        assert!(
            case.words().contains("Day of the case 10 Sep 2026, 09:00"),
            "{number}: “check again” names a day"
        );
        let page = compared(&nurse, &case, &CASE_4);
        assert_eq!(page.count("table.register tbody tr"), 6, "{number}");
        for why in whys(&page) {
            assert!(why.trim().len() > 20, "{number}: no reason in {why}");
        }
        assert!(page.has("svg.pic-abdomen"), "{number}");
        assert!(page.has("article.flag") || page.words().contains("No rule speaks"));
    }
    for nowhere in ["0", "25", "04", "x", "-1"] {
        assert_eq!(
            nurse.ask(&format!("/practice/cases/{nowhere}")).status,
            404,
            "{nowhere}"
        );
    }
}

#[test]
fn her_answers_stand_beside_the_programs_and_the_sitting_is_counted() {
    let post = Post::of_the_demo();
    let nurse = post.sign_in("nurse");
    let agreed = compared(&nurse, &nurse.get("/practice/cases/4"), &CASE_4);
    assert!(
        agreed
            .text("section.do .said")
            .contains("6 of 6 answers are the same")
    );
    assert_eq!(agreed.count("table.register .tag.done"), 6);
    let next = agreed
        .find("section.do a.button")
        .attr("href")
        .unwrap()
        .to_owned();
    assert_eq!(next, "/practice/cases/5?done=4.6y");

    let across = nurse.get(&next);
    let differs = compared(&nurse, &across, &with(&CASE_4, &[("urgency", "recheck")]));
    let said = differs.text("section.do");
    assert!(
        said.contains("2 of 6 answers are the same") && said.contains("waited longer"),
        "{said}"
    );
    let list = nurse.get(
        differs
            .find("main a[href^='/practice?done=']")
            .attr("href")
            .unwrap(),
    );
    let tally = list.text("ul.tally");
    assert!(
        tally.contains("2cases") || tally.contains("2 cases"),
        "{tally}"
    );
    assert!(
        tally.contains("8 of 12") && tally.contains("1 of 2"),
        "{tally}"
    );
    assert_eq!(list.count("li.line .tag.done"), 2);
    assert!(
        list.find("main a.button")
            .attr("href")
            .unwrap()
            .starts_with("/practice/cases/1?")
    );
}

#[test]
fn an_answer_that_is_missing_is_asked_for_and_the_others_stay() {
    let post = Post::of_the_demo();
    let nurse = post.sign_in("nurse");
    let case = nurse.get("/practice/cases/4?done=1.6y");
    let page = compared(&nurse, &case, &[("lie", "oblique"), ("urgency", "none")]);
    assert_eq!(page.status, 422);
    assert_eq!(page.count("main p.wrong"), 4);
    assert!(page.find("#lie-oblique").attr("checked").is_some());
    assert!(page.find("#urgency-no").attr("checked").is_some());
    assert_eq!(
        page.find("main input[name=done]").attr("value"),
        Some("1.6y")
    );
    let untouched = compared(&nurse, &case, &[]);
    assert_eq!(untouched.status, 422);
    assert_eq!(untouched.count("main p.wrong"), 6);
}

#[test]
fn answers_that_somebody_wrote_into_the_address_do_no_harm() {
    let post = Post::of_the_demo();
    let nurse = post.sign_in("nurse");
    for (asked, status, wrong) in [
        ("lie=oblique&urgency=now", 200, 0),
        ("compare", 422, 6),
        ("compare=1&lie=%22%3E%3Cb%3E&back=%FF&engaged=%00", 422, 6),
        ("compare=1&lie=oblique&lie=transverse&back=left", 422, 5),
    ] {
        let page = nurse.ask(&format!("/practice/cases/4?{asked}"));
        assert_eq!(page.status, status, "{asked}");
        assert_eq!(page.count("main p.wrong"), wrong, "{asked}");
        assert!(!page.has("table.register"), "{asked}: nothing to compare");
    }
}

#[test]
fn a_compared_case_is_a_plain_page_that_one_can_come_back_to() {
    let post = Post::of_the_demo();
    let nurse = post.sign_in("nurse");
    let case = nurse.get("/practice/cases/4?done=1.6y");
    assert!(!case.has("main form[method=post], main input[name=token]"));
    let page = compared(&nurse, &case, &CASE_4);
    let address = page.at.strip_prefix("GET ").unwrap();
    for _ in 0..2 {
        let again = nurse.ask(address);
        assert_eq!(again.status, 200);
        assert!(again.text("section.do .said").contains("6 of 6"));
        assert!(again.has("section.do a[href='/practice/cases/5?done=1.6y-4.6y']"));
    }
    let names = page.find("main a[href='/rules']");
    assert_eq!(names.attr("target"), Some("_blank"));
    assert!(names.text().collect::<String>().contains("opens beside"));
    let posted = nurse.send_form("/practice/cases/4", b"lie=oblique");
    assert_eq!(posted.status, 405);
}

#[test]
fn the_reasons_are_true_of_a_deep_head_and_of_a_fixed_one() {
    let post = Post::of_the_demo();
    let nurse = post.sign_in("nurse");
    let reasons = |number: u8| {
        let case = nurse.get(&format!("/practice/cases/{number}"));
        whys(&compared(&nurse, &case, &CASE_4))
    };
    let deep = reasons(9);
    assert!(deep[0].contains("deep in the pelvis"), "{}", deep[0]);
    assert!(deep[1].contains("gone down"), "{}", deep[1]);
    assert!(deep[4].contains("0/5 says where"), "{}", deep[4]);
    let of_hands = deep[..5].join(" ");
    assert!(
        !of_hands.contains("Hard") && !of_hands.contains("both felt"),
        "no hand felt that head: {of_hands}"
    );
    for number in [2, 17, 23] {
        let fixed = reasons(number);
        assert!(fixed[1].contains("Hard, round and fixed"), "{}", fixed[1]);
        assert!(fixed[4].contains("both felt"), "{}", fixed[4]);
    }
    assert!(reasons(1)[1].contains("Hard, round and mobile"));
}

#[test]
fn a_tally_that_somebody_wrote_by_hand_does_no_harm() {
    let post = Post::of_the_demo();
    let nurse = post.sign_in("nurse");
    for done in [
        "%22%3E%3Cb%3E",
        "4.9y",
        "99.6y-98.6y",
        "4.6y-4.6y",
        "%FF",
        "4.6y%00",
    ] {
        let list = nurse.get(&format!("/practice?done={done}"));
        assert_eq!(list.status, 200, "{done}");
        assert!(
            !list.has("main ul.tally b b") && list.count("main ul.lines li") == 24,
            "{done}"
        );
        assert_eq!(
            nurse.get(&format!("/practice/cases/4?done={done}")).status,
            200,
            "{done}"
        );
    }
}
