//! A midwife in charge reviews a flag, decides the referral, and types the hospital's answer in.

use crate::driver::Driver;
use crate::harness::Post;
use crate::paper;
use crate::screen::{DESK, PHONE, Screen, Scripts};

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_midwife_reviews_refers_and_writes_the_answer_down_on_a_phone() {
    walk(PHONE).await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_midwife_reviews_refers_and_writes_the_answer_down_on_a_desk() {
    walk(DESK).await;
}

async fn walk(width: u32) {
    let Some(driver) = Driver::start() else {
        return;
    };
    let post = Post::of_the_demo();
    post.breech(post.mother("Ruta Belisande"), 300);
    post.breech(post.mother("Oriel Zemirov"), 600);
    let midwife = Screen::at(&driver, &post.base, width, Scripts::On).await;
    midwife.sign_in("midwife").await;
    reviews(&midwife).await;
    refers(&midwife).await;
    follows(&midwife).await;
    writes_the_answer_down(&midwife).await;
    assert!(midwife.looked_at() >= 14, "{} pages", midwife.looked_at());
    midwife.leave().await;
}

async fn reviews(midwife: &Screen<'_>) {
    midwife.press("main section.do .actions a").await;
    assert_eq!(midwife.path().await, "/review");
    midwife.press("article.flag .actions button").await;
    midwife.find(".errors").await;
    midwife.choose("decision", "refer").await;
    midwife.write("reason", "Felt by me too.").await;
    midwife.press("article.flag .actions button").await;
    assert_eq!(midwife.path().await, "/referrals/new");
}

async fn refers(midwife: &Screen<'_>) {
    midwife
        .write("asked", "Please scan and plan the birth.")
        .await;
    midwife.press("form#refer .actions button").await;
    midwife.press("main a[href$='/letter']").await;
    let letter = midwife.text("article.letter").await;
    assert!(
        letter.contains("Please scan and plan the birth."),
        "{letter}"
    );
    assert_eq!(paper::sheets(midwife).await, 1, "sheets of the letter");
    midwife.press("main a[href^='/referrals/']").await;
}

async fn follows(midwife: &Screen<'_>) {
    midwife.press("main a[href$='/told']").await;
    midwife.write("who", "duty nurse").await;
    midwife.press("main form .actions button").await;
    midwife.press("main a.button[href$='/left']").await;
    midwife.choose("means", "ambulance").await;
    midwife.press("main form .actions button").await;
    assert!(!midwife.text(".flash").await.is_empty());
    assert!(midwife.text("ol.times").await.contains("expected"));
}

async fn writes_the_answer_down(midwife: &Screen<'_>) {
    midwife.press("main a.button[href$='/answer']").await;
    midwife.press("main form .actions button").await;
    midwife.find(".errors").await;
    midwife.choose("way", "paper").await;
    midwife.choose("came", "true").await;
    midwife.write("diagnosis", "Breech, extended legs.").await;
    midwife.write("mother_outcome", "Well.").await;
    midwife.press("main form .actions button").await;
    assert!(!midwife.text(".flash").await.is_empty());
    let page = midwife.text("main").await;
    assert!(page.contains("Breech, extended legs."), "{page}");
    midwife.go("Review").await;
    let waiting = midwife.count("main .entries > li").await;
    assert_eq!(waiting, 1, "the other one waits");
}
