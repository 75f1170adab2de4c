//! The visit form as a drawing and as a list: the same questions, and from one to the other with all that was answered.

use crate::harness::Post;
use crate::page::Page;
use crate::visits::{ayla, form_of, with};

#[test]
fn the_form_turns_into_its_other_shape_with_all_that_was_answered() {
    let post = Post::of_the_demo();
    let (nurse, mother) = (post.sign_in("nurse"), ayla(&post));
    let drawn = nurse.get(&form_of(mother));
    let answers = with(&[
        ("asked", "all-clear"),
        ("note", "Sore back"),
        ("turn", "list"),
    ]);
    let listed = nurse.submit(&drawn, &answers);
    assert_eq!(listed.status, 200, "{}", listed.words());
    assert!(!listed.has("svg.belly"));
    for (name, code) in [
        ("fundus", "hard-round"),
        ("movements", "normal"),
        ("waters", "intact"),
    ] {
        let chosen = listed.find(&format!("select[name={name}] option[selected]"));
        assert_eq!(chosen.attr("value"), Some(code), "{name}");
    }
    let height = listed.find("input[name=fundal_height_cm]");
    assert_eq!(height.attr("value"), Some("34.5"));
    assert_eq!(listed.text("textarea[name=note]").trim(), "Sore back");
    let again = nurse.submit(&listed, &[("turn", "drawing")]);
    assert!(again.has("svg.belly"));
    for id in [
        "fundus-hard-round",
        "asked-each",
        "movements-normal",
        "waters-intact",
    ] {
        assert!(again.has(&format!("input#{id}[checked]")), "{id}");
    }
    let hers = nurse.get(&format!("/mothers/{mother}"));
    assert!(!hers.has("a[href^='/visits/']"), "nothing is saved yet");
    let page = nurse.submit(&again, &[]);
    assert!(page.at.starts_with("GET /visits/"), "{}", page.words());
    let wrong = nurse.submit(&drawn, &[("fundal_height_cm", "345"), ("turn", "list")]);
    assert_eq!(wrong.status, 422, "first what is wrong is mended");
}

#[test]
fn nothing_is_chosen_beforehand_in_either_shape() {
    let post = Post::of_the_demo();
    let (nurse, mother) = (post.sign_in("nurse"), ayla(&post));
    let drawn = nurse.get(&form_of(mother));
    assert!(drawn.has("form.pad") && drawn.has("svg.belly"));
    assert_eq!(drawn.count("form [checked]"), 0);
    let listed = nurse.get(&format!("{}?form=list", form_of(mother)));
    assert!(listed.has("form.visit") && !listed.has("svg.belly"));
    assert_eq!(listed.count("form [checked], form [selected]"), 0);
    let names = |page: &Page| -> std::collections::BTreeSet<String> {
        let asked =
            page.all("main form input[name], main form select[name], main form textarea[name]");
        asked
            .map(|it| it.attr("name").unwrap().to_owned())
            .collect()
    };
    let mut differ: Vec<_> = names(&drawn)
        .symmetric_difference(&names(&listed))
        .cloned()
        .collect();
    differ.sort();
    assert_eq!(
        differ,
        ["asked"],
        "the list asks each of the four by itself"
    );
}

#[test]
fn turning_the_form_says_nothing_that_nobody_said() {
    let post = Post::of_the_demo();
    let (nurse, mother) = (post.sign_in("nurse"), ayla(&post));
    let listed = nurse.get(&format!("{}?form=list", form_of(mother)));
    let drawn = nurse.submit(&listed, &[("danger_signs", "none"), ("turn", "drawing")]);
    assert!(drawn.has("input#danger_signs-no[checked], input[value=none][checked]"));
    assert!(
        !drawn.has("input[name=in_labour][value=false][checked]"),
        "nobody said that she is not in labour"
    );
    let drawn = nurse.submit(&listed, &[("in_labour", "false"), ("turn", "drawing")]);
    assert!(drawn.has("input[name=in_labour][value=false][checked]"));
    assert!(
        drawn.has("input#asked-each[checked]"),
        "what she said is open"
    );
    assert!(
        drawn.has("form[data-held]"),
        "leaving it would lose something"
    );
    assert!(!listed.has("form[data-held]"));
    let nonsense = nurse.submit(&listed, &[("in_labour", "false"), ("turn", "x")]);
    assert!(nonsense.has("select[name=fundus]"), "nothing is saved");
}

#[test]
fn all_that_a_full_form_holds_comes_through_two_turns() {
    let post = Post::of_the_demo();
    let (nurse, mother) = (post.sign_in("nurse"), ayla(&post));
    let listed = nurse.get(&format!("{}?form=list", form_of(mother)));
    let answers = with(&[
        ("bladder_empty", "true"),
        ("fundal_height_cm", "34.5"),
        ("lower", "hard-round"),
        ("fundus", "soft-irregular"),
        ("fifths", "4"),
        ("head", "mobile"),
        ("many_small_parts", "true"),
        ("fetal_hearts", "140"),
        ("systolic", "118"),
        ("diastolic", "76"),
        ("pulse", "84"),
        ("temperature_c", "36.8"),
        ("urine_protein", "trace"),
        ("movements", "reduced"),
        ("waters", "broken"),
        ("waters_broke_date", "2026-11-25"),
        ("waters_broke_time", "05:10"),
        ("danger_signs", "bleeding"),
        ("in_labour", "true"),
        ("labour_began_date", "2026-11-25"),
        ("labour_began_time", "07:30"),
        ("next_visit_on", "2026-12-02"),
        ("note", "Sore back"),
        ("turn", "drawing"),
    ]);
    let drawn = nurse.submit(&listed, &answers);
    assert_eq!(drawn.status, 200, "{}", drawn.words());
    let again = nurse.submit(&drawn, &[("turn", "list")]);
    let held = |page: &Page, name: &str| -> Option<String> {
        let boxes = format!("main [name={name}]");
        let mut given = page.all(&boxes).filter_map(|it| match it.value().name() {
            "select" => it
                .child_elements()
                .find(|option| option.attr("selected").is_some())
                .and_then(|option| option.attr("value").map(str::to_owned)),
            "textarea" => Some(it.text().collect()),
            _ if matches!(it.attr("type"), Some("radio" | "checkbox")) => it
                .attr("checked")
                .and_then(|_| it.attr("value").map(str::to_owned)),
            _ => it.attr("value").map(str::to_owned),
        });
        given.find(|text| !text.is_empty())
    };
    for (name, value) in answers {
        if name != "turn" {
            assert_eq!(held(&drawn, name).as_deref(), Some(value), "drawn: {name}");
            assert_eq!(held(&again, name).as_deref(), Some(value), "again: {name}");
        }
    }
}
