//! Labour: the ward, opening a record, rows, amending, closing.

use crate::harness::Post;

#[test]
fn a_ward_with_nobody_says_what_would_fill_it() {
    let post = Post::of_the_demo();
    let page = post.sign_in("nurse").get("/labour");
    assert!(
        page.text("p.empty")
            .contains("Nobody is in labour at Quern Ford")
    );
    assert!(page.has("main a[href='/labour/new']"));
}

#[test]
fn a_nurse_opens_a_labour_and_adds_a_row() {
    let post = Post::of_the_demo();
    let woman = post.mother("Oluna Vessarin");
    let nurse = post.sign_in("nurse");
    let form = nurse.get(&format!("/labour/new?mother={}", woman.mother));
    assert_eq!(form.text("h1"), "Oluna Vessarin: open a labour");
    let opened = nurse.submit(
        &form,
        &[
            ("waters", "intact"),
            ("dilatation_cm", "5"),
            ("fetal_heart", "138"),
        ],
    );
    assert_eq!(opened.text("p.flash"), "The labour record is open.");
    assert_eq!(opened.text("h1"), "Oluna Vessarin");
    assert_eq!(opened.count("table.register tbody tr"), 1);
    let saved = nurse.submit(
        &opened,
        &[("fetal_heart", "142"), ("contractions_in_10_min", "4")],
    );
    assert_eq!(saved.text("p.flash"), "The row is saved.");
    assert_eq!(saved.count("table.register tbody tr"), 2);
    let ward = nurse.get("/labour");
    assert_eq!(ward.text("table.ward tbody th a"), "Oluna Vessarin");
    assert!(
        ward.text("table.ward tbody tr").contains("5 cm at 15:30"),
        "{}",
        ward.words()
    );
}

#[test]
fn every_fault_of_a_row_comes_back_at_once_with_what_was_typed() {
    let post = Post::of_the_demo();
    let woman = post.mother("Oluna Vessarin");
    let id = post.labour(woman, 60, 5);
    let nurse = post.sign_in("nurse");
    let page = nurse.get(&format!("/labour/{id}"));
    let answers = [
        ("fetal_heart", "14"),
        ("systolic", "80"),
        ("diastolic", "90"),
        ("temperature_c", "37,55"),
        ("at_time", "16:00"),
        ("dilatation_cm", "11"),
        ("note", "tired"),
    ];
    let back = nurse.post(&page, &answers);
    assert_eq!(back.status, 422);
    assert_eq!(back.count(".errors li"), 5);
    assert!(
        back.text(".errors")
            .contains("Fetal heart: 14 is outside 30 to 250")
    );
    assert_eq!(back.find("#fetal_heart").attr("value"), Some("14"));
    assert_eq!(back.text("#note"), "tired");
    assert!(
        back.has("details[open] #systolic"),
        "a fault is never folded away"
    );
}

#[test]
fn a_row_of_nothing_is_not_saved() {
    let post = Post::of_the_demo();
    let id = post.labour(post.mother("Oluna Vessarin"), 60, 5);
    let nurse = post.sign_in("nurse");
    let back = nurse.post(&nurse.get(&format!("/labour/{id}")), &[("fetal_heart", "")]);
    assert_eq!(back.status, 422);
    assert!(back.text(".errors").contains("at least one thing"));
}

#[test]
fn the_most_urgent_stands_first_and_a_limit_that_passed_unseen_is_raised() {
    let post = Post::of_the_demo();
    post.labour(post.mother("Marisol Brezhan"), 30, 5);
    // Labour care guide: 8 cm for 2 h 30 min (clinical reference 4.2).
    let late = post.mother("Keziah Horvinec");
    post.labour(late, 160, 8);
    let ward = post.sign_in("nurse").get("/labour");
    assert_eq!(ward.text("table.ward tbody th a"), "Keziah Horvinec");
    assert!(ward.has("section.do.now a.button"));
    assert!(ward.text("section.do.now").contains("Keziah Horvinec"));
    let review = post.sign_in("midwife").get("/review");
    assert!(
        review.words().contains("Keziah Horvinec"),
        "the flag stands in Review too"
    );
}

#[test]
fn an_amended_row_keeps_the_old_one_and_a_page_that_grew_old_shows_both() {
    let post = Post::of_the_demo();
    let id = post.labour(post.mother("Oluna Vessarin"), 60, 9);
    let nurse = post.sign_in("nurse");
    let page = nurse.get(&format!("/labour/{id}"));
    let link = page
        .find("table.register tbody th a")
        .attr("href")
        .unwrap()
        .to_owned();
    let form = nurse.get(&link);
    assert!(form.has("#dilatation_cm-9[checked]"));
    let unreasoned = nurse.post(&form, &[("dilatation_cm", "5")]);
    assert_eq!(unreasoned.status, 422);
    assert!(unreasoned.has("#dilatation_cm-5[checked]"));
    let saved = nurse.submit(&form, &[("dilatation_cm", "5"), ("reason", "misread")]);
    assert_eq!(saved.count("table.register tbody tr"), 1);
    assert!(saved.text("#amended ul.lines").contains("9 cm"));
    let stale = nurse.post(
        &form,
        &[
            ("dilatation_cm", "6"),
            ("reason", "felt again"),
            ("request", "another"),
        ],
    );
    assert_eq!(stale.status, 409);
    assert!(stale.text("section.do").contains("5 cm") && stale.has("#dilatation_cm-6[checked]"));
}

#[test]
fn not_in_labour_after_all_closes_the_record() {
    let post = Post::of_the_demo();
    let id = post.labour(post.mother("Oluna Vessarin"), 60, 2);
    let nurse = post.sign_in("nurse");
    let form = nurse.get(&format!("/labour/{id}/close"));
    assert_eq!(nurse.post(&form, &[("note", "stopped")]).status, 422);
    let closed = nurse.submit(&form, &[("ending", "not-in-labour"), ("note", "stopped")]);
    assert!(
        closed
            .text("section.do")
            .contains("not in labour after all")
    );
    assert!(!closed.has("form#add"));
    assert!(nurse.get("/labour").has("p.empty"));
}

#[test]
fn a_colleague_of_another_post_finds_nothing_here() {
    let post = Post::of_the_demo();
    let woman = post.mother("Oluna Vessarin");
    let id = post.labour(woman, 60, 5);
    let colleague = post.sign_in("colleague");
    for path in [
        format!("/labour/{id}"),
        format!("/labour/{id}/close"),
        format!("/labour/new?mother={}", woman.mother),
        format!("/labour/new?pregnancy={}", woman.pregnancy),
    ] {
        assert_eq!(colleague.ask(&path).status, 404, "{path}");
    }
    assert!(!colleague.get("/labour").words().contains("Oluna"));
}
