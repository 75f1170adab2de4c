//! The main paths walked in a real browser, on a phone and on a desk, every page read by an accessibility checker.
//!
//! Tried here is what the text of a page cannot show: that nothing is wider than the screen, that contrast, names and sizes
//! hold in the light and in the dark, that the summary of faults takes the focus, that paper is one sheet, how many taps a
//! visit costs, and that all of it works by keys alone and with scripts switched off. A machine without chromium and chromedriver skips these
//! tests and says so; with `BRIMLINE_CI=1` a missing browser is a failure.
#![allow(clippy::unwrap_used, reason = "a test stops at the first surprise")]

#[path = "../pages/district.rs"]
mod district;
#[path = "../pages/flow.rs"]
mod flow;
#[path = "../pages/harness.rs"]
#[expect(dead_code, reason = "shared with the tests of the pages")]
mod harness;
#[path = "../pages/page.rs"]
#[expect(dead_code, reason = "shared with the tests of the pages")]
mod page;

mod driver;
mod every_page;
mod eye;
mod keeper;
mod keys;
mod midwife;
mod nurse;
mod officer;
mod pad;
mod paper;
mod screen;
