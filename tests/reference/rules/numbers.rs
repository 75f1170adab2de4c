//! Numbers as the texts of the table write them.

#[test]
fn numbers_are_read_out_of_words_with_their_units() {
    use Number::{Centile, Fifths, Figure, Gestation, Plus, Pressure, Span};
    for (words, found) in [
        (
            "from 36w+0d to 42 weeks",
            vec![Gestation(252), Gestation(294)],
        ),
        (
            "8 cm 2 h 30 min, 9 cm 2 h",
            vec![Figure(80, "cm"), Span(9000), Figure(90, "cm"), Span(7200)],
        ),
        (
            "10 h and a second, 28 days and a minute",
            vec![Span(36_001), Span(28 * 86_400 + 60)],
        ),
        (
            "140/89 with 2+, head 4/5",
            vec![Pressure(140, 89), Plus(2), Fifths(4)],
        ),
        (
            "33.0 to 32.9 cm, 38.0 °C.",
            vec![Figure(330, ""), Figure(329, "cm"), Figure(380, "°C")],
        ),
        (
            "6 in 10 min over 10 min, 19 s",
            vec![Figure(60, "in 10 min"), Span(600), Span(19)],
        ),
        (
            "below the 3rd (centile 2.7)",
            vec![Centile(3), Figure(27, "centile")],
        ),
        (
            "Pulse 110, systolic under 90",
            vec![Figure(1100, "pulse"), Figure(900, "")],
        ),
    ] {
        assert_eq!(numbers(words), found, "{words}");
    }
    assert!(Figure(1400, "").is_said_by(Pressure(140, 89)));
    assert!(!Figure(50, "cm").is_said_by(Figure(50, "in 10 min")));
    assert!(!Span(36_000).is_said_by(Span(36_001)));
    let strict = |words| {
        limits(words)
            .iter()
            .map(|limit| limit.strict)
            .collect::<Vec<_>>()
    };
    assert_eq!(
        strict("Under 110, or 160 and over; more than 2 h, from 36w+0d"),
        [true, false, true, false]
    );
}

/// A number as the table's texts write it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Number {
    /// Days: `36w+0d`, `37 weeks`.
    Gestation(i64),
    /// Seconds: `2 h 30 min`, `28 days`, `10 h and a second`.
    Span(i64),
    /// `4/5`.
    Fifths(i64),
    /// `140/89`.
    Pressure(i64, i64),
    /// `2+`.
    Plus(i64),
    /// `97th`.
    Centile(i64),
    /// Tenths, with the unit behind or the name before: `33.0 cm`, `pulse 110`, `15`.
    Figure(i64, &'static str),
}

const UNITS: [&str; 3] = ["cm", "°C", "in 10 min"];
const NAMES: [&str; 9] = [
    "pulse",
    "systolic",
    "diastolic",
    "heart",
    "hearts",
    "moulding",
    "caput",
    "meconium",
    "centile",
];

/// Words that leave their number outside.
const STRICT: [&str; 4] = ["under", "over", "than", "before"];

impl Number {
    /// A figure without a unit may be said with any; all else is said as it is.
    pub(super) fn is_said_by(self, other: Self) -> bool {
        match (self, other) {
            (Self::Figure(tenths, unit), Self::Pressure(systolic, diastolic)) => {
                (tenths == systolic * 10 && matches!(unit, "" | "systolic"))
                    || (tenths == diastolic * 10 && matches!(unit, "" | "diastolic"))
            }
            (Self::Figure(tenths, ""), Self::Figure(told, _)) => tenths == told,
            (Self::Figure(tenths, unit), Self::Figure(told, "")) if NAMES.contains(&unit) => {
                tenths == told
            }
            _ => self == other,
        }
    }
}

const DAY: i64 = 86_400;

impl Number {
    /// By the smallest step that is written down: a day, a minute, a millimetre of the tape, a centimetre of dilatation, one.
    pub(super) fn is_one_step_from(self, other: Self) -> bool {
        let apart = |one: i64, other: i64, step: i64| (1..=step).contains(&(one - other).abs());
        match (self, other) {
            (Self::Gestation(one), Self::Gestation(other))
            | (Self::Fifths(one), Self::Fifths(other))
            | (Self::Plus(one), Self::Plus(other)) => apart(one, other, 1),
            (Self::Span(one), Self::Span(other)) => {
                let in_days = one % DAY == 0 && other % DAY == 0;
                apart(one, other, if in_days { DAY } else { 60 })
            }
            (Self::Pressure(one, low), Self::Pressure(other, under)) => {
                (one - other).abs() + (low - under).abs() == 1
            }
            (Self::Figure(one, unit), Self::Figure(other, _)) => {
                let by_tenths = unit == "°C" || (unit == "cm" && one.max(other) > 100);
                apart(one, other, if by_tenths { 1 } else { 10 })
            }
            _ => false,
        }
    }
}

pub(super) fn numbers(text: &str) -> Vec<Number> {
    limits(text).iter().map(|limit| limit.number).collect()
}

/// A number with what stands before it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Limit {
    pub(super) number: Number,
    /// `under 90`, `more than 12 h`: the number itself is on the silent side.
    pub(super) strict: bool,
}

pub(super) fn limits(text: &str) -> Vec<Limit> {
    let mut found = Vec::new();
    let mut rest = text;
    while let Some(at) = rest.find(|letter: char| letter.is_ascii_digit()) {
        let before = rest[..at].trim_end().rsplit([' ', '(']).next();
        let is_before = |word: &&&str| before.is_some_and(|it| it.eq_ignore_ascii_case(word));
        let name = NAMES.iter().find(is_before).copied().unwrap_or_default();
        let (number, behind) = one(&rest[at..], name);
        let strict = STRICT.iter().any(|word| is_before(&word));
        found.push(Limit { number, strict });
        rest = behind;
    }
    found
}

/// The number that a text begins with, and what stands behind it.
fn one<'t>(text: &'t str, name: &'static str) -> (Number, &'t str) {
    let (whole, rest) = digits(text);
    if let Some(rest) = rest.strip_prefix("w+") {
        let (days, rest) = digits(rest);
        return (Number::Gestation(whole * 7 + days), &rest[1..]);
    }
    if let Some((second, rest)) = rest.strip_prefix('/').map(digits) {
        return match (whole, second) {
            (0..=5, 5) => (Number::Fifths(whole), rest),
            _ => (Number::Pressure(whole, second), rest),
        };
    }
    if let Some(rest) = rest.strip_prefix('+') {
        return (Number::Plus(whole), rest);
    }
    if let Some(rest) = rest.strip_prefix("rd").or(rest.strip_prefix("th")) {
        return (Number::Centile(whole), rest);
    }
    if let Some(rest) = word(rest, "weeks") {
        return (Number::Gestation(whole * 7), rest);
    }
    if let Some((seconds, rest)) = span(whole, rest) {
        return (Number::Span(seconds), rest);
    }
    let tenth = |rest: &'t str| {
        let behind = rest.strip_prefix('.')?;
        behind
            .starts_with(|letter: char| letter.is_ascii_digit())
            .then(|| digits(behind))
    };
    let (tenth, rest) = tenth(rest).unwrap_or((0, rest));
    let unit = UNITS
        .iter()
        .find_map(|unit| Some((*unit, word(rest, unit)?)));
    let (unit, rest) = unit.unwrap_or((name, rest));
    (Number::Figure(whole * 10 + tenth, unit), rest)
}

fn digits(text: &str) -> (i64, &str) {
    let end = text
        .find(|letter: char| !letter.is_ascii_digit())
        .unwrap_or(text.len());
    (text[..end].parse().unwrap(), &text[end..])
}

/// What stands behind a space and a whole word.
fn word<'t>(text: &'t str, word: &str) -> Option<&'t str> {
    let rest = text.strip_prefix(' ')?.strip_prefix(word)?;
    (!rest.starts_with(char::is_alphanumeric)).then_some(rest)
}

fn span(number: i64, rest: &str) -> Option<(i64, &str)> {
    let units = [("h", 3600), ("min", 60), ("s", 1), ("days", 86_400)];
    let (seconds, mut rest) = units
        .iter()
        .find_map(|(unit, each)| Some((number * each, word(rest, unit)?)))?;
    let mut all = seconds;
    let behind = rest.strip_prefix(' ').unwrap_or_default();
    if seconds % 3600 == 0 && behind.starts_with(|letter: char| letter.is_ascii_digit()) {
        let (minutes, behind) = digits(behind);
        if let Some(behind) = word(behind, "min") {
            (all, rest) = (all + minutes * 60, behind);
        }
    }
    for (more, words) in [(1, "and a second"), (60, "and a minute")] {
        if let Some(behind) = word(rest, words) {
            (all, rest) = (all + more, behind);
        }
    }
    Some((all, rest))
}
