//! Reads a page: nothing wider than the screen, and no violation of WCAG 2.0 to 2.2, levels A and AA.

use serde_json::{Value, json};

use crate::driver::Driver;
use crate::screen::{DESK, PHONE, Screen, Scripts};

/// Released axe-core; its licence stands beside it.
const AXE: &str = include_str!("axe-core/axe-4.14.1.min.js");
const EYE: &str = include_str!("eye.js");

const EVERYTHING: [&str; 5] = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"];
/// All that the dark changes.
const CONTRAST: [&str; 1] = ["color-contrast"];

impl Screen<'_> {
    /// Everything that is wrong with the page as it is shown.
    pub(crate) async fn faults(&self) -> Vec<String> {
        if self.scripts == Scripts::Off {
            // Where pages run no script no timer ever rings, and the checker waits for some.
            let at_once = "window.setTimeout = (run) => { Promise.resolve().then(run); return 0 }";
            self.client.execute(at_once, vec![]).await.unwrap();
        }
        self.client.execute(AXE, vec![]).await.unwrap();
        let mut faults = self.read(json!(EVERYTHING), true).await;
        // Colours depend on no width: the phone tells for the desk.
        if self.width == PHONE && self.scripts == Scripts::On {
            self.darken(true).await;
            let dark = self.read(json!(CONTRAST), false).await;
            faults.extend(
                dark.into_iter()
                    .map(|fault| format!("in the dark: {fault}")),
            );
            self.darken(false).await;
        }
        faults
    }

    async fn read(&self, what: Value, measured: bool) -> Vec<String> {
        let told = self.client.execute_async(EYE, vec![what, json!(measured)]);
        serde_json::from_value(told.await.unwrap()).unwrap()
    }

    async fn darken(&self, dark: bool) {
        let scheme = if dark { "dark" } else { "light" };
        let features = json!([{ "name": "prefers-color-scheme", "value": scheme }]);
        let order = json!({ "features": features });
        self.order("Emulation.setEmulatedMedia", order).await;
    }
}

/// White on white in the dark, grey on white by day, a button without a name, and a bar wider than any screen.
const BAD: &str = "data:text/html,<!doctype html><html lang=en><meta name=viewport content='width=device-width,initial-scale=1'>\
    <title>Brimline</title><style>@media(prefers-color-scheme:dark){p{background:white;color:white}}</style>\
    <main><h1>Bad</h1><h2 style='color:%23ccc;background:white'>pale</h2><p>gone at night</p><button></button>\
    <details><summary>more</summary><div style='width:2000px'>wide</div></details></main>";

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_page_that_is_pale_nameless_and_wide_does_not_pass() {
    let Some(driver) = Driver::start() else {
        return;
    };
    for width in [PHONE, DESK] {
        let screen = Screen::at(&driver, "http://127.0.0.1:9", width, Scripts::On).await;
        screen.client.goto(BAD).await.unwrap();
        let faults = screen.faults().await.join("\n");
        for expected in [
            "wider than the screen with its folds open: ",
            "\ncolor-contrast",
            "\nbutton-name",
        ] {
            assert!(
                faults.contains(expected),
                "{width}: no {expected:?} in\n{faults}"
            );
        }
        let dark = faults.contains("in the dark: color-contrast");
        assert_eq!(dark, width == PHONE, "{width}:\n{faults}");
        screen.leave().await;
    }
}
