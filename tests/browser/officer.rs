//! A district officer opens a month and loads its files down; none of it names a mother.

use crate::driver::Driver;
use crate::harness::Post;
use crate::screen::{DESK, PHONE, Screen, Scripts};

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn an_officer_loads_a_month_down_on_a_phone() {
    walk(PHONE).await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn an_officer_loads_a_month_down_on_a_desk() {
    walk(DESK).await;
}

async fn walk(width: u32) {
    let Some(driver) = Driver::start() else {
        return;
    };
    let post = Post::of_the_demo();
    post.breech(post.mother("Ruta Belisande"), 300);
    let officer = Screen::at(&driver, &post.base, width, Scripts::On).await;
    officer.sign_in("district").await;
    officer.go("Months").await;
    officer
        .find("#post option[value=QF]")
        .await
        .click()
        .await
        .unwrap();
    officer
        .find("#month option[value='2026-10']")
        .await
        .click()
        .await
        .unwrap();
    officer.press("main form.sift button").await;
    assert_eq!(officer.text("h1").await, "October 2026");
    officer.press("nav.turn a[href^='/months/2026-11']").await;
    assert_eq!(officer.text("h1").await, "November 2026");
    let page = officer.text("main").await;
    assert!(
        page.contains("Quern Ford") && !page.contains("Belisande"),
        "{page}"
    );
    takes_the_files(&officer).await;
    officer.press("main .actions a[href*='/print']").await;
    assert!(officer.looked_at() >= 5, "{} pages", officer.looked_at());
    officer.leave().await;
}

async fn takes_the_files(officer: &Screen<'_>) {
    for part in ["tables.xlsx", "flags.csv"] {
        let link = officer
            .find(&format!("main .files a[href*='/{part}']"))
            .await;
        link.click().await.unwrap();
    }
    let workbook = officer.file("QF-2026-11-tables.xlsx").await;
    assert!(workbook.starts_with(b"PK"), "no workbook");
    let flags = String::from_utf8(officer.file("QF-2026-11-flags.csv").await).unwrap();
    assert!(
        flags.contains("breech") && !flags.contains("Belisande"),
        "{flags}"
    );
}
