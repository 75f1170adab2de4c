//! A keeper adds an account that is refused first, changes a post, and reads the trail.

use crate::driver::Driver;
use crate::harness::Post;
use crate::screen::{DESK, PHONE, Screen, Scripts};

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_keeper_keeps_posts_and_staff_and_reads_the_trail() {
    let Some(driver) = Driver::start() else {
        return;
    };
    let post = Post::of_the_demo();
    for (width, name) in [(PHONE, "pia"), (DESK, "pavel")] {
        let keeper = Screen::at(&driver, &post.base, width, Scripts::On).await;
        keeper.sign_in("keeper").await;
        keeps_staff(&keeper, name).await;
        keeps_posts(&keeper).await;
        keeper.go("Trail").await;
        assert!(keeper.text("main").await.contains(name));
        keeper.leave().await;
    }
}

async fn keeps_staff(keeper: &Screen<'_>, name: &str) {
    keeper.go("Staff").await;
    keeper
        .press("main form[action='/staff'] .actions button")
        .await;
    keeper.find(".errors").await;
    keeper.write("sign_in", name).await;
    keeper.write("full_name", "Pia Undermoor").await;
    keeper.choose("role", "district").await;
    keeper.write("password", "told by voice, 12 signs").await;
    keeper
        .press("main form[action='/staff'] .actions button")
        .await;
    assert!(keeper.text("main").await.contains(name));
}

async fn keeps_posts(keeper: &Screen<'_>) {
    keeper.go("Posts").await;
    let words = "//main//a[normalize-space()='Quern Ford']";
    let link = keeper.client.find(fantoccini::Locator::XPath(words)).await;
    let before = keeper.find("html").await;
    link.unwrap().click().await.unwrap();
    keeper.until_gone(&before).await;
    keeper.look().await;
    keeper.write("name", "").await;
    keeper.press("main form .actions button").await;
    keeper.is_told_what_is_wrong("name").await;
    keeper.write("name", "Quern Ford").await;
    keeper.write("reason", "The name was read again.").await;
    keeper.press("main form .actions button").await;
    assert_eq!(keeper.count(".errors").await, 0);
}
