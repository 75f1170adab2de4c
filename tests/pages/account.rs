//! One's own account: password, sessions, visit form.

use crate::district::PASSWORD;
use crate::harness::Post;

const NEW: &str = "a quiet ferry at dawn";

#[test]
fn changing_the_password_ends_every_other_session_at_once() {
    let post = Post::of_the_demo();
    let (phone, laptop) = (post.sign_in("nurse"), post.sign_in("nurse"));
    let answers = [("current", PASSWORD), ("password", NEW), ("again", NEW)];
    let page = phone.submit(&phone.get("/account"), &answers);
    assert_eq!(
        (page.status, page.text("p.flash").as_str()),
        (
            200,
            "The password is changed. Your other sessions have ended."
        )
    );
    assert_eq!(laptop.ask("/account").status, 303, "the laptop is out");
    assert_eq!(phone.ask("/account").status, 200, "the phone goes on");
    let stranger = post.stranger();
    let old = stranger.submit(
        &stranger.get("/sign-in"),
        &[("name", "nurse"), ("password", PASSWORD)],
    );
    assert_eq!(old.status, 422);
    let new = stranger.post(&old, &[("name", "nurse"), ("password", NEW)]);
    assert_eq!(new.status, 303);
}

#[test]
fn a_password_is_changed_only_by_whoever_knows_it_and_to_a_good_one() {
    let post = Post::of_the_demo();
    let nurse = post.sign_in("nurse");
    for (current, new, again, says) in [
        (
            "not the password",
            NEW,
            NEW,
            "this is not the password you have now",
        ),
        (PASSWORD, "short", "short", "at least 12 characters"),
        (PASSWORD, NEW, "another one here", "is not the same"),
        (
            PASSWORD,
            "aaaaaaaaaaaaaaaa",
            "aaaaaaaaaaaaaaaa",
            "different characters",
        ),
        ("", NEW, NEW, "write the password you have now"),
    ] {
        let answers = [("current", current), ("password", new), ("again", again)];
        let page = nurse.submit(&nurse.get("/account"), &answers);
        assert_eq!(page.status, 422, "{says}");
        assert!(
            page.text("main .errors").contains(says),
            "{says}: {}",
            page.text("main .errors")
        );
        assert!(
            !page.has("input[type=password][value]"),
            "{says}: a password was sent back"
        );
    }
}

#[test]
fn sessions_are_listed_and_ended_one_by_one_or_all_others() {
    let post = Post::of_the_demo();
    let here = post.sign_in("nurse");
    let others = [post.sign_in("nurse"), post.sign_in("nurse")];
    let page = here.get("/account");
    assert_eq!(page.count("form[action='/account/sessions'] tbody tr"), 3);
    assert_eq!(
        page.count("form[action='/account/sessions'] .tag"),
        1,
        "this one is marked"
    );
    let one = page
        .find("button[name=session]:not(.danger)")
        .attr("value")
        .unwrap()
        .to_owned();
    let page = here.submit(&page, &[("session", &one)]);
    assert_eq!(page.count("form[action='/account/sessions'] tbody tr"), 2);
    let page = here.submit(&page, &[("session", "others")]);
    assert_eq!(page.count("form[action='/account/sessions'] tbody tr"), 1);
    assert!(others.iter().all(|it| it.ask("/account").status == 303));
}

#[test]
fn nobody_ends_the_session_of_somebody_else() {
    let post = Post::of_the_demo();
    let (nurse, midwife) = (post.sign_in("nurse"), post.sign_in("midwife"));
    let _second = post.sign_in("midwife");
    let hers = midwife.get("/account");
    let id = hers
        .find("button[name=session]:not(.danger)")
        .attr("value")
        .unwrap()
        .to_owned();
    let body = format!("token={}&session={id}", nurse.token());
    assert_eq!(
        nurse.send_form("/account/sessions", body.as_bytes()).status,
        404
    );
    assert_eq!(
        midwife
            .get("/account")
            .count("form[action='/account/sessions'] tbody tr"),
        2
    );
}

#[test]
fn a_nurse_chooses_her_visit_form_and_the_keeper_has_none() {
    let post = Post::of_the_demo();
    let nurse = post.sign_in("nurse");
    let page = nurse.get("/account");
    assert!(page.has("#visit_form-drawing[checked]"));
    let page = nurse.submit(&page, &[("visit_form", "list")]);
    assert!(page.has("#visit_form-list[checked]") && page.has("p.flash"));
    let body = format!("token={}&visit_form=poem", nurse.token());
    assert_eq!(
        nurse
            .send_form("/account/visit-form", body.as_bytes())
            .status,
        422
    );
    assert!(
        !post
            .sign_in("keeper")
            .get("/account")
            .has("[name=visit_form]")
    );
}
