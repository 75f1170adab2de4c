//! A nurse signs in, finds or registers a mother, logs a visit on the pad, reads what it means, refers, and has the letter.

use crate::driver::Driver;
use crate::harness::Post;
use crate::paper;
use crate::screen::{DESK, PHONE, Screen, Scripts};

/// Breech first, felt clearly; in labour, so that it says refer now and she decides herself.
const FELT: [(&str, &str); 9] = [
    ("fundus", "hard-round"),
    ("right", "small-lumps"),
    ("left", "long-smooth"),
    ("front", "nothing"),
    ("lower", "soft-irregular"),
    ("asked", "each"),
    ("movements", "normal"),
    ("waters", "intact"),
    ("in_labour", "true"),
];

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_nurse_registers_a_mother_on_a_phone_and_refers_her_at_once() {
    walk(PHONE, Scripts::On).await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn the_same_forms_work_on_a_phone_that_runs_no_script() {
    walk(PHONE, Scripts::Off).await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_nurse_finds_a_mother_on_a_desk_and_refers_her_at_once() {
    walk(DESK, Scripts::On).await;
}

async fn walk(width: u32, scripts: Scripts) {
    let Some(driver) = Driver::start() else {
        return;
    };
    let post = Post::of_the_demo();
    post.mother("Ada Marren");
    let nurse = Screen::at(&driver, &post.base, width, scripts).await;
    nurse.sign_in("nurse").await;
    if width == DESK {
        finds(&nurse, "Ada Marren").await;
    } else {
        registers(&nurse, "Nela Asturo").await;
    }
    logs_a_breech(&nurse).await;
    refers(&nurse).await;
    nurse.go("Referrals").await;
    assert_eq!(nurse.count("table.waits tbody tr").await, 1);
    assert!(nurse.looked_at() >= 9, "{} pages", nurse.looked_at());
    nurse.leave().await;
}

async fn finds(nurse: &Screen<'_>, name: &str) {
    // An accent too many, small letters, half a name.
    nurse.write("q", "áda marr").await;
    nurse.press("main .search button").await;
    assert_eq!(nurse.text("tbody th a").await, name);
    nurse.press("tbody th a").await;
    assert_eq!(nurse.text("h1").await, name);
    nurse.press("main a[href$='/visits/new']").await;
}

async fn registers(nurse: &Screen<'_>, name: &str) {
    nurse.write("q", name).await;
    nurse.press("main .search button").await;
    nurse
        .press("main a.button[href^='/mothers/new?name=']")
        .await;
    assert_eq!(nurse.held("name").await, name);
    nurse.write("name", "").await;
    nurse.write("village", "Upper Ford").await;
    nurse.press("main button[name=then][value=visit]").await;
    nurse.is_told_what_is_wrong("name").await;
    assert_eq!(nurse.held("village").await, "Upper Ford");
    nurse.write("name", name).await;
    nurse.write("birth_year", "1999").await;
    nurse.write("lmp", "2026-03-16").await;
    nurse.choose("lmp_certain", "true").await;
    nurse.write("births_before", "1").await;
    nurse.write("previous_caesareans", "0").await;
    nurse.press("main button[name=then][value=visit]").await;
    assert_eq!(nurse.text("h1").await, name);
    let strip = nurse.text(".who").await;
    assert!(strip.contains("36w+2d"), "{strip}");
    assert!(!nurse.text(".flash").await.is_empty(), "is she registered?");
}

async fn logs_a_breech(nurse: &Screen<'_>) {
    nurse.find("form.pad").await;
    for (question, found) in FELT {
        nurse.choose(question, found).await;
    }
    nurse.write("fundal_height_cm", "345").await;
    nurse.look().await;
    nurse.press("form.pad .actions button").await;
    nurse.is_told_what_is_wrong("fundal_height_cm").await;
    for (question, found) in FELT {
        let kept = format!("[name={question}][value='{found}']:checked");
        nurse.find(&kept).await;
    }
    nurse.write("fundal_height_cm", "34,5").await;
    nurse.press("form.pad .actions button").await;
    assert!(nurse.path().await.starts_with("/visits/"));
    let flag = nurse.text("article.flag.now").await;
    assert!(
        flag.contains("Breech") && flag.contains("Refer now"),
        "{flag}"
    );
    assert!(flag.contains("the person at the bedside decides"), "{flag}");
    assert!(nurse.text("main").await.contains("34.5 cm"));
    nurse.find("svg.pic-abdomen > title").await;
    nurse.find("svg.pic-height > title").await;
}

async fn refers(nurse: &Screen<'_>) {
    nurse
        .press("article.flag a.button[href^='/referrals/new']")
        .await;
    nurse.choose("means", "ambulance").await;
    nurse.write("escort", "Dario Pelsane, nurse").await;
    nurse.choose("given", "line").await;
    nurse.press("form#refer .actions button").await;
    assert!(nurse.path().await.starts_with("/referrals/"));
    let said = nurse.text(".flash").await;
    assert!(said.contains("decided"), "{said}");
    nurse.press("main a[href$='/letter']").await;
    let letter = nurse.text("article.letter").await;
    assert!(letter.contains("Amberholt hospital"), "{letter}");
    assert!(letter.contains("Dario Pelsane"), "{letter}");
    assert_eq!(paper::sheets(nurse).await, 1, "sheets of the letter");
    nurse.press("main a[href^='/referrals/']").await;
}
