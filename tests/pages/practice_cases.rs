//! The invented cases: told without their answer, answered beside the program, counted for one sitting.

use crate::harness::Post;
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
        let page = nurse.submit(&case, &CASE_4);
        assert_eq!(page.count("table.register tbody tr"), 6, "{number}");
        for row in page.all("table.register tbody td[data-label=Compared]") {
            let why = row.text().collect::<String>();
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
    let agreed = nurse.submit(&nurse.get("/practice/cases/4"), &CASE_4);
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
    let differs = nurse.submit(&across, &with(&CASE_4, &[("urgency", "recheck")]));
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
    let page = nurse.submit(&case, &[("lie", "oblique"), ("urgency", "none")]);
    assert_eq!(page.status, 422);
    assert_eq!(page.count("main p.wrong"), 4);
    assert!(page.find("#lie-oblique").attr("checked").is_some());
    assert!(page.find("#urgency-no").attr("checked").is_some());
    assert_eq!(
        page.find("main input[name=done]").attr("value"),
        Some("1.6y")
    );
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
