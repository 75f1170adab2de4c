//! The whole form without a mouse or a finger: Tab, arrows, Space and Enter alone.

use fantoccini::elements::Element;
use fantoccini::key::Key;

use crate::driver::Driver;
use crate::harness::Post;
use crate::pad::{MEASURED, NORMAL};
use crate::screen::{DESK, PHONE, Screen, Scripts};

/// More stops than any page here has.
const FAR: usize = 150;

struct Keys<'a>(&'a Screen<'a>);

impl Keys<'_> {
    async fn focused(&self) -> Element {
        self.0.client.active_element().await.unwrap()
    }

    async fn press(&self, key: Key) {
        let keys = char::from(key).to_string();
        self.focused().await.send_keys(&keys).await.unwrap();
    }

    /// Tab by Tab to the field of that name, each stop seen.
    async fn reach(&self, name: &str) -> Element {
        for _ in 0..FAR {
            self.press(Key::Tab).await;
            let focused = self.focused().await;
            self.is_seen(name).await;
            if focused.attr("name").await.unwrap().as_deref() == Some(name) {
                return focused;
            }
        }
        panic!("{}: no Tab leads to {name}", self.0.place().await);
    }

    /// A ring around what has the focus, or around the label beside it that stands for it.
    async fn is_seen(&self, on_the_way_to: &str) {
        let ring = "[document.activeElement, document.activeElement.nextElementSibling].some(it => it
            && getComputedStyle(it).outlineStyle !== 'none' && parseFloat(getComputedStyle(it).outlineWidth) >= 2
            && it.getBoundingClientRect().width > 10) ? 1 : 0";
        let seen = self.0.number(ring).await;
        let name = self.focused().await.html(false).await.unwrap();
        let place = self.0.place().await;
        assert!(
            seen > 0.5,
            "{place}: on the way to {on_the_way_to} no ring around {name}"
        );
    }

    /// Space on the first of a group, arrows to the others.
    async fn choose(&self, name: &str, value: &str) {
        let mut at = self.reach(name).await;
        self.press(Key::Space).await;
        for _ in 0..FAR {
            if at.attr("value").await.unwrap().as_deref() == Some(value) {
                let chosen = format!("[name='{name}'][value='{value}']:checked");
                self.0.find(&chosen).await;
                return;
            }
            self.press(Key::Down).await;
            at = self.focused().await;
        }
        panic!("{}: no arrow leads to {value}", self.0.place().await);
    }
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_visit_is_logged_by_keyboard_alone_with_and_without_script() {
    let Some(driver) = Driver::start() else {
        return;
    };
    let post = Post::of_the_demo();
    let mother = post.mother("Ada Marren").mother;
    for (width, scripts) in [(DESK, Scripts::On), (PHONE, Scripts::Off)] {
        let nurse = Screen::at(&driver, &post.base, width, scripts).await;
        nurse.sign_in("nurse").await;
        nurse.open(&format!("/mothers/{mother}/visits/new")).await;
        let keys = Keys(&nurse);
        // What stands last on the pad of a thumb comes after the measures here.
        let felt = NORMAL.iter().filter(|(name, _)| *name != "asked");
        for (name, value) in felt.chain(&[("head", "mobile")]) {
            keys.choose(name, value).await;
        }
        for (name, figures) in MEASURED {
            keys.reach(name).await.send_keys(figures).await.unwrap();
        }
        keys.choose("urine_protein", "trace").await;
        keys.choose("asked", "all-clear").await;
        let note = keys.reach("note").await;
        note.send_keys("By keys alone.").await.unwrap();
        keys.press(Key::Tab).await;
        keys.is_seen("the button that saves").await;
        let before = nurse.find("html").await;
        keys.press(Key::Enter).await;
        nurse.until_gone(&before).await;
        assert!(nurse.path().await.starts_with("/visits/"));
        let page = nurse.text("main").await;
        for part in ["37.0 cm", "140 / min", "112 / 70 mmhg", "4/5", "mobile"] {
            assert!(
                page.to_lowercase().contains(part),
                "{}: no {part} in {page}",
                nurse.place().await
            );
        }
        nurse.leave().await;
    }
}
