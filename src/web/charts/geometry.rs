//! Numbers, scales, circles and the frame of the baby. Nothing here knows medicine.

use std::fmt::{self, Write};

/// Picture units: CSS px when the picture is 320 px wide.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Point {
    pub(super) x: f64,
    pub(super) y: f64,
}

pub(super) const fn at(x: f64, y: f64) -> Point {
    Point { x, y }
}

impl Point {
    pub(super) const fn moved(self, dx: f64, dy: f64) -> Self {
        at(self.x + dx, self.y + dy)
    }

    /// x as it is written.
    pub(super) fn across(&self) -> Unit {
        n(self.x)
    }

    /// y as it is written.
    pub(super) fn down(&self) -> Unit {
        n(self.y)
    }
}

impl fmt::Display for Point {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} {}", self.across(), self.down())
    }
}

/// A length with at most one decimal and no trailing zero: a picture needs no more, and stays small.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Unit(i64);

#[expect(
    clippy::cast_possible_truncation,
    reason = "pictures are a few hundred units wide; a cast of anything else saturates"
)]
pub(super) fn n(value: f64) -> Unit {
    Unit((value * 10.0).round() as i64)
}

impl fmt::Display for Unit {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (whole, tenth) = (self.0.abs() / 10, self.0.abs() % 10);
        let sign = if self.0 < 0 { "-" } else { "" };
        if tenth == 0 {
            write!(f, "{sign}{whole}")
        } else {
            write!(f, "{sign}{whole}.{tenth}")
        }
    }
}

/// Takes a value to its place: `from` of the data to `to` of the picture.
#[derive(Debug, Clone, Copy)]
pub(super) struct Scale {
    pub(super) from: (f64, f64),
    pub(super) to: (f64, f64),
}

impl Scale {
    pub(super) fn place(&self, value: f64) -> f64 {
        self.to.0 + (value - self.from.0) * (self.to.1 - self.to.0) / (self.from.1 - self.from.0)
    }
}

/// A path through points.
pub(super) fn poly(points: impl IntoIterator<Item = Point>) -> String {
    let mut d = String::new();
    for (index, point) in points.into_iter().enumerate() {
        d.push(if index == 0 { 'M' } else { 'L' });
        d.push_str(&point.to_string());
    }
    d
}

/// Half the length of a circle's chord at distance `d` from its centre.
pub(super) fn chord(r: f64, d: f64) -> f64 {
    (r * r - d * d).max(0.0).sqrt()
}

/// A circle cut by the horizontal at `y`: the part above it, the part below it.
pub(super) fn arcs_at(centre: Point, r: f64, y: f64) -> (Option<String>, Option<String>) {
    if y >= centre.y + r {
        return (Some(full_circle(centre, r)), None);
    }
    if y <= centre.y - r {
        return (None, Some(full_circle(centre, r)));
    }
    let half = chord(r, y - centre.y);
    let (left, right) = (at(centre.x - half, y), at(centre.x + half, y));
    let big = u8::from(y > centre.y);
    let r = n(r);
    (
        Some(format!("M{left}A{r} {r} 0 {big} 1 {right}")),
        Some(format!("M{right}A{r} {r} 0 {} 1 {left}", 1 - big)),
    )
}

fn full_circle(centre: Point, r: f64) -> String {
    let (left, right, r) = (centre.moved(-r, 0.0), centre.moved(r, 0.0), n(r));
    format!("M{left}A{r} {r} 0 1 1 {right}A{r} {r} 0 1 1 {left}")
}

/// Diagonal strokes that fill an ellipse without an outline: the hand found nothing. `lean` is 1 or −1.
pub(super) fn hatch(centre: Point, rx: f64, ry: f64, step: f64, lean: f64) -> String {
    let r = f64::midpoint(rx, ry);
    let root = std::f64::consts::SQRT_2;
    let mut strokes = String::new();
    for k in -12_i32..=12 {
        let d = f64::from(k) * step / r;
        if d.abs() >= 1.0 {
            continue;
        }
        let half = chord(1.0, d);
        let end = |u: f64, v: f64| centre.moved(lean * rx * u / root, ry * v / root);
        let (from, to) = (end(d - half, d + half), end(d + half, d - half));
        let _ = write!(strokes, "M{from}L{to}");
    }
    strokes
}

/// Pushes labels apart until neighbours are `gap` away from each other; the order stays.
pub(super) fn spread_labels(places: &[f64], gap: f64) -> Vec<f64> {
    let mut out = places.to_vec();
    for _ in 0..60 {
        for i in 1..out.len() {
            let short = gap - (out[i] - out[i - 1]);
            if short > 0.0 {
                out[i - 1] -= short / 2.0;
                out[i] += short / 2.0;
            }
        }
    }
    out
}

/// The baby's own frame: y runs from its head (0) to its breech (140), x to its back.
///
/// Shapes are written once in it, as absolute M, L, C and Z, and mapped point by point: y is stretched to the distance
/// of the two poles, x squeezed a little when they are close and never widened.
#[derive(Debug, Clone, Copy)]
pub(super) struct BodyFrame {
    origin: Point,
    x: Point,
    y: Point,
    kx: f64,
    ky: f64,
}

const LENGTH: f64 = 140.0;

impl BodyFrame {
    /// From head to breech, stretched; `back` says to which side x points.
    pub(super) fn stretched(head: Point, breech: Point, back: Point) -> Self {
        let ky = (breech.x - head.x).hypot(breech.y - head.y) / LENGTH;
        Self {
            ky,
            kx: ky.clamp(0.8, 1.0),
            ..Self::rigid(head, breech, back)
        }
    }

    /// The same directions at natural size: for a face, for a breech.
    pub(super) fn rigid(head: Point, towards: Point, back: Point) -> Self {
        let (dx, dy) = (towards.x - head.x, towards.y - head.y);
        let distance = dx.hypot(dy).max(1.0);
        let y = at(dx / distance, dy / distance);
        let turn = if y.x * back.y - y.y * back.x < 0.0 {
            -1.0
        } else {
            1.0
        };
        let x = at(-y.y * turn, y.x * turn);
        Self {
            origin: head,
            x,
            y,
            kx: 1.0,
            ky: 1.0,
        }
    }

    fn place(&self, x: f64, y: f64) -> Point {
        let (x, y) = (x * self.kx, y * self.ky);
        self.origin
            .moved(x * self.x.x + y * self.y.x, x * self.x.y + y * self.y.y)
    }

    pub(super) fn draw(&self, d: &str) -> String {
        self.draw_wide(d, 1.0)
    }

    /// With x multiplied by `sx`: −1 is the other limb.
    pub(super) fn draw_wide(&self, d: &str, sx: f64) -> String {
        let mut out = String::with_capacity(d.len());
        let mut pending = None;
        for token in d.split_ascii_whitespace() {
            let Ok(value) = token.parse::<f64>() else {
                out.push_str(token);
                continue;
            };
            match pending.take() {
                None => pending = Some(value),
                Some(x) => {
                    // writing into a String cannot fail
                    let _ = write!(out, "{} ", self.place(x * sx, value));
                }
            }
        }
        out.truncate(out.trim_end().len());
        out
    }
}
