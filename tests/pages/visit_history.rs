//! A visit as time goes on: what it raised then, what was amended, and who was slower.

use chrono::TimeDelta;

use crate::harness::Post;
use crate::visits::{BREECH, ayla, form_of, here, saved};

#[test]
fn a_visit_shows_what_it_raised_then_and_not_what_came_later() {
    let post = Post::of_the_demo();
    let (nurse, mother) = (post.sign_in("nurse"), ayla(&post));
    let raised = |systolic| {
        let form = nurse.get(&form_of(mother));
        nurse.submit(&form, &[("systolic", systolic), ("diastolic", "88")])
    };
    let first = raised("142");
    assert!(first.text("article.flag").contains("142/88"));
    post.later(TimeDelta::hours(1));
    let second = raised("151");
    assert!(second.text("article.flag").contains("151/88"));
    post.later(TimeDelta::hours(1));
    let form = nurse.get(&form_of(mother));
    let third = nurse.submit(&form, &[("bladder_empty", "true")]);
    let then = nurse.get(&here(&first));
    let card = then.text("article.flag");
    assert!(
        card.contains("142/88") && !card.contains("151/88"),
        "{card}"
    );
    let now = nurse.get(&here(&second)).words();
    assert!(now.contains("151/88") && !now.contains("142/88"), "{now}");
    let story = nurse.get(&format!("/mothers/{mother}")).text(".story");
    assert!(
        story.contains("142/88") && story.contains("151/88"),
        "{story}"
    );
    assert!(!then.words().contains("Still open from before"));
    assert!(third.words().contains("pressure"), "still open from before");
}

#[test]
fn an_amended_visit_keeps_its_first_revision_and_judges_again() {
    let post = Post::of_the_demo();
    let (nurse, mother) = (post.sign_in("nurse"), ayla(&post));
    let visit = here(&saved(&nurse, mother, &BREECH));
    let asked = nurse.get(&format!("{visit}/amend"));
    let without = nurse.submit(&asked, &[("lower", "hard-round")]);
    assert_eq!(without.status, 422, "a reason is needed");
    let amended = nurse.submit(
        &without,
        &[
            ("fundus", "soft-irregular"),
            ("lower", "hard-round"),
            ("reason", "felt again"),
        ],
    );
    assert_eq!(here(&amended), visit, "{}", amended.words());
    assert!(
        amended
            .text("svg.pic-abdomen > desc")
            .contains("head first: clear")
    );
    assert!(
        amended
            .words()
            .contains("Revision 2, written by Imke Torvalo")
    );
    let first = nurse.get(&format!("{visit}/revisions/1"));
    assert!(
        first
            .text("svg.pic-abdomen > desc")
            .contains("breech first: clear")
    );
    assert!(first.words().contains("a later one stands"));
    assert_eq!(nurse.ask(&format!("{visit}/revisions/3")).status, 404);
}

#[test]
fn who_was_slower_sees_both_versions_and_chooses_for_each_entry() {
    let post = Post::of_the_demo();
    let (nurse, midwife, mother) = (post.sign_in("nurse"), post.sign_in("midwife"), ayla(&post));
    let visit = here(&saved(&nurse, mother, &BREECH));
    let amend = format!("{visit}/amend");
    let (hers, slower) = (midwife.get(&amend), nurse.get(&amend));
    let _ = midwife.submit(
        &hers,
        &[
            ("lower", "unsure"),
            ("fundal_height_cm", "34"),
            ("reason", "felt again"),
        ],
    );
    let both = nurse.submit(
        &slower,
        &[("lower", "empty"), ("pulse", "88"), ("reason", "mine")],
    );
    assert_eq!(both.status, 409);
    assert_eq!(
        both.count("fieldset input[value=mine]"),
        3,
        "{}",
        both.words()
    );
    assert!(both.words().contains("Sarai Bekende amended this visit"));

    let incomplete = nurse.submit(&both, &[("keep_lower", "saved")]);
    assert_eq!(incomplete.status, 409);
    assert!(
        incomplete
            .find("#keep_lower-saved")
            .attr("checked")
            .is_some()
    );
    let done = nurse.submit(
        &incomplete,
        &[
            ("keep_lower", "saved"),
            ("keep_fundal_height_cm", "saved"),
            ("keep_pulse", "mine"),
        ],
    );
    assert_eq!(here(&done), visit, "{}", done.words());
    let words = done.words();
    assert!(
        words.contains("Revision 3") && words.contains("88 / min") && words.contains("34.0 cm"),
        "{words}"
    );
}
