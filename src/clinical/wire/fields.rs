//! Values of one kind: each is checked, each error names its path.

use super::instant;
use super::json::Node;
use super::read::Fault;
use crate::clinical::{Day, Moment, UnknownCode};
use std::borrow::Cow;
use std::fmt;
use std::str::FromStr;

/// Where a value stands; made into text only for an error.
#[derive(Debug, Clone, Copy)]
pub(super) enum Path<'p> {
    Top,
    Key(&'p Path<'p>, &'p str),
    Index(&'p Path<'p>, usize),
}

impl<'p> Path<'p> {
    pub(super) fn key(&'p self, key: &'p str) -> Self {
        Self::Key(self, key)
    }

    pub(super) fn index(&'p self, at: usize) -> Self {
        Self::Index(self, at)
    }

    pub(super) fn fault(&self, what: impl Into<String>) -> Fault {
        Fault::new(self.to_string(), what)
    }
}

impl fmt::Display for Path<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Top => Ok(()),
            Self::Key(Self::Top, key) => f.write_str(key),
            Self::Key(parent, key) => write!(f, "{parent}.{key}"),
            Self::Index(parent, at) => write!(f, "{parent}[{at}]"),
        }
    }
}

/// The entries of an object; null is absent.
pub(super) fn object<'n, 'a>(
    node: &'n Node<'a>,
    path: &Path<'_>,
) -> Result<&'n [(Cow<'a, str>, Node<'a>)], Fault> {
    match node {
        Node::Object(entries) => Ok(entries),
        Node::Null => Ok(&[]),
        _ => Err(path.fault("must be an object")),
    }
}

/// The entries of a list; null is absent.
pub(super) fn list<'n, 'a>(
    node: &'n Node<'a>,
    path: &Path<'_>,
) -> Result<Option<&'n [Node<'a>]>, Fault> {
    match node {
        Node::List(entries) => Ok(Some(entries)),
        Node::Null => Ok(None),
        _ => Err(path.fault("must be a list")),
    }
}

/// A whole number written with digits only, both ends allowed.
pub(super) fn whole<T: TryFrom<u64> + Into<u64> + Copy>(
    node: &Node<'_>,
    path: &Path<'_>,
    least: T,
    most: T,
) -> Result<Option<T>, Fault> {
    let refused = || {
        path.fault(format!(
            "must be a whole number from {} to {}",
            least.into(),
            most.into()
        ))
    };
    let digits = match node {
        Node::Null => return Ok(None),
        Node::Number(digits) => *digits,
        _ => return Err(refused()),
    };
    if !digits.bytes().all(|byte| byte.is_ascii_digit()) {
        return Err(refused());
    }
    digits
        .parse::<u64>()
        .ok()
        .filter(|number| (least.into()..=most.into()).contains(number))
        .and_then(|number| T::try_from(number).ok())
        .map(Some)
        .ok_or_else(refused)
}

/// A number with at most one decimal, kept as tenths; `least` and `most` are tenths too.
pub(super) fn tenths(
    node: &Node<'_>,
    path: &Path<'_>,
    least: u16,
    most: u16,
) -> Result<Option<u16>, Fault> {
    let refused = || {
        path.fault(format!(
            "must be a number from {:.1} to {:.1} with at most one decimal",
            f64::from(least) / 10.0,
            f64::from(most) / 10.0
        ))
    };
    let written = match node {
        Node::Null => return Ok(None),
        Node::Number(written) => *written,
        _ => return Err(refused()),
    };
    let times_ten = written.parse::<f64>().map_err(|_| refused())? * 10.0;
    let nearest = times_ten.round();
    let kept = (times_ten - nearest).abs() <= 1e-6
        && nearest >= f64::from(least)
        && nearest <= f64::from(most);
    if !kept {
        return Err(refused());
    }
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "between two u16"
    )]
    Ok(Some(nearest as u16))
}

pub(super) fn truth(node: &Node<'_>, path: &Path<'_>) -> Result<Option<bool>, Fault> {
    match node {
        Node::Null => Ok(None),
        Node::Bool(truth) => Ok(Some(*truth)),
        _ => Err(path.fault("must be true or false")),
    }
}

fn text<'n>(
    node: &'n Node<'_>,
    path: &Path<'_>,
    what: &'static str,
) -> Result<Option<&'n str>, Fault> {
    match node {
        Node::Null => Ok(None),
        Node::Text(text) => Ok(Some(text)),
        _ => Err(path.fault(what)),
    }
}

/// One of the words of a vocabulary, case counts.
pub(super) fn code<T: FromStr<Err = UnknownCode>>(
    node: &Node<'_>,
    path: &Path<'_>,
) -> Result<Option<T>, Fault> {
    text(node, path, "must be one of the words, as text")?
        .map(|word| {
            word.parse()
                .map_err(|error: UnknownCode| path.fault(error.to_string()))
        })
        .transpose()
}

/// A list of words, each once.
pub(super) fn codes<T: FromStr<Err = UnknownCode> + PartialEq>(
    node: &Node<'_>,
    path: &Path<'_>,
) -> Result<Vec<T>, Fault> {
    let mut found = Vec::new();
    for (at, entry) in list(node, path)?.unwrap_or_default().iter().enumerate() {
        let here = path.index(at);
        let word = code(entry, &here)?.ok_or_else(|| here.fault("null inside a list"))?;
        if !found.contains(&word) {
            found.push(word);
        }
    }
    Ok(found)
}

pub(super) fn moment(node: &Node<'_>, path: &Path<'_>) -> Result<Option<Moment>, Fault> {
    const WHAT: &str =
        "must be an instant such as 2026-09-10T09:00:00Z, a real one of 1900 to 2199";
    text(node, path, WHAT)?
        .map(|written| instant::instant(written).ok_or_else(|| path.fault(WHAT)))
        .transpose()
}

pub(super) fn day(node: &Node<'_>, path: &Path<'_>) -> Result<Option<Day>, Fault> {
    const WHAT: &str = "must be a date such as 2026-09-10, a real one of 1900 to 2199";
    text(node, path, WHAT)?
        .map(|written| instant::date(written).ok_or_else(|| path.fault(WHAT)))
        .transpose()
}

pub(super) fn unknown(path: &Path<'_>) -> Fault {
    path.fault("unknown key")
}

pub(super) fn required(path: &Path<'_>) -> Fault {
    path.fault("is required")
}
