//! The strokes a picture is made of: few kinds, each with a class of the sheet `pics.css`.

use std::borrow::Cow;
use std::fmt;

use askama::filters::HtmlSafe;

use super::geometry::{Point, Unit, n};

/// Numbers and path commands that this room computed: nothing in them needs escaping.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct PathData(String);

impl fmt::Display for PathData {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

impl From<String> for PathData {
    fn from(d: String) -> Self {
        Self(d)
    }
}

impl PathData {
    #[cfg(test)]
    pub(super) fn as_str(&self) -> &str {
        &self.0
    }
}

impl HtmlSafe for PathData {}
impl HtmlSafe for Unit {}

/// One drawn thing.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Mark {
    Path {
        class: &'static str,
        d: PathData,
    },
    Circle {
        class: &'static str,
        at: Point,
        r: Unit,
    },
    Ellipse {
        class: &'static str,
        at: Point,
        rx: Unit,
        ry: Unit,
    },
    Rect {
        class: &'static str,
        at: Point,
        w: Unit,
        h: Unit,
        rx: Unit,
    },
    Text {
        class: &'static str,
        at: Point,
        anchor: &'static str,
        words: String,
    },
}

impl Mark {
    pub(super) fn path(class: &'static str, d: impl Into<String>) -> Self {
        Self::Path {
            class,
            d: PathData(d.into()),
        }
    }

    pub(super) fn line(class: &'static str, from: Point, to: Point) -> Self {
        Self::path(class, format!("M{from}L{to}"))
    }

    pub(super) fn circle(class: &'static str, at: Point, r: f64) -> Self {
        Self::Circle { class, at, r: n(r) }
    }

    pub(super) fn ellipse(class: &'static str, at: Point, rx: f64, ry: f64) -> Self {
        Self::Ellipse {
            class,
            at,
            rx: n(rx),
            ry: n(ry),
        }
    }

    pub(super) fn rect(class: &'static str, at: Point, w: f64, h: f64, rx: f64) -> Self {
        Self::Rect {
            class,
            at,
            w: n(w),
            h: n(h),
            rx: n(rx),
        }
    }

    pub(super) fn text(
        class: &'static str,
        at: Point,
        anchor: &'static str,
        words: impl Into<String>,
    ) -> Self {
        Self::Text {
            class,
            at,
            anchor,
            words: words.into(),
        }
    }
}

/// A named group. Of a picture the name (`p-ab-baby`) is for tests and has no rule in the sheet; of the pad
/// (`felt fundus-empty`) it is what the sheet shows the group by.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Layer {
    pub(super) name: Cow<'static, str>,
    pub(super) marks: Vec<Mark>,
}

impl Layer {
    pub(super) fn new(name: impl Into<Cow<'static, str>>, marks: Vec<Mark>) -> Self {
        Self {
            name: name.into(),
            marks,
        }
    }
}

/// Everything a template needs for one picture; `id` is unique on the page.
#[derive(Debug)]
pub(super) struct Frame<'a> {
    pub(super) id: &'a str,
    pub(super) title: &'static str,
    pub(super) desc: String,
}
