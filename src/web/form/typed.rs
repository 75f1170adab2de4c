//! What a form sent, read strictly from bytes and kept as it was typed.

use std::borrow::Cow;
use std::fmt::Write as _;

/// More pairs than the longest form of ours could send (twelve babies, all their questions).
const MOST_PAIRS: usize = 1000;

/// The body is no form that a browser would send.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub(crate) enum BadBody {
    #[error("the form could not be read: a percent sign stands alone in it")]
    Percent,
    #[error("the form could not be read: it has too many fields")]
    TooMany,
}

#[derive(Debug, Clone, PartialEq, Eq)]
struct Pair {
    name: String,
    text: String,
    readable: bool,
}

/// Pairs of name and text in the order sent; bytes that are no text are kept as replacement signs and remembered.
///
/// `Typed::default()` and pairs that were collected were never sent: they fill a form in beforehand, and nothing in it
/// is missing yet.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(crate) struct Typed {
    pairs: Vec<Pair>,
    sent: bool,
}

impl Typed {
    /// Reads `application/x-www-form-urlencoded`. Only what no browser sends is refused whole.
    pub(crate) fn from_body(body: &[u8]) -> Result<Self, BadBody> {
        let mut pairs = Vec::new();
        for part in body
            .split(|byte| *byte == b'&')
            .filter(|part| !part.is_empty())
        {
            if pairs.len() == MOST_PAIRS {
                return Err(BadBody::TooMany);
            }
            let at = part.iter().position(|byte| *byte == b'=');
            let (name, text) = part.split_at(at.unwrap_or(part.len()));
            let name = decoded(name)?;
            let text = decoded(text.strip_prefix(b"=").unwrap_or_default())?;
            let readable = std::str::from_utf8(&text).is_ok();
            pairs.push(Pair {
                name: String::from_utf8_lossy(&name).into_owned(),
                text: lossy(text),
                readable,
            });
        }
        Ok(Self { pairs, sent: true })
    }

    /// Reads the part of an address behind the question mark; what cannot be read is left out.
    pub(crate) fn from_query(query: &str) -> Self {
        let readable = query
            .split('&')
            .filter_map(|part| Self::from_body(part.as_bytes()).ok())
            .flat_map(|typed| typed.pairs)
            .take(MOST_PAIRS);
        Self {
            pairs: readable.collect(),
            sent: true,
        }
    }

    /// Whether somebody sent this, so that an empty answer is one.
    pub(super) fn was_sent(&self) -> bool {
        self.sent
    }

    /// As if these had been sent.
    #[must_use]
    pub(crate) fn sent_now(mut self) -> Self {
        self.sent = true;
        self
    }

    /// Everything sent under this name, in the order sent.
    pub(crate) fn all<'a>(&'a self, name: &'a str) -> impl DoubleEndedIterator<Item = &'a str> {
        self.named(name).map(|pair| pair.text.as_str())
    }

    /// The last text under this name, or empty.
    pub(crate) fn last<'a>(&'a self, name: &'a str) -> &'a str {
        self.all(name).next_back().unwrap_or_default()
    }

    /// Everything sent, in the order sent: for a page that asks one more thing and keeps the rest in hidden fields.
    pub(crate) fn everything(&self) -> impl Iterator<Item = (&str, &str)> {
        self.pairs
            .iter()
            .map(|pair| (pair.name.as_str(), pair.text.as_str()))
    }

    /// Whether anything was sent under this name.
    pub(crate) fn has(&self, name: &str) -> bool {
        self.named(name).next().is_some()
    }

    /// What no answer to any question may hold, said to the person.
    pub(super) fn spoiled(&self, name: &str) -> Option<&'static str> {
        self.named(name).find_map(|pair| {
            if !pair.readable {
                Some("has signs in it that cannot be read; type it again")
            } else if pair.text.chars().any(is_hidden) {
                Some("has hidden signs in it; type it again")
            } else {
                None
            }
        })
    }

    fn named<'a>(&'a self, name: &'a str) -> impl DoubleEndedIterator<Item = &'a Pair> {
        self.pairs.iter().filter(move |pair| pair.name == name)
    }
}

impl<N: Into<String>, T: Into<String>> FromIterator<(N, T)> for Typed {
    fn from_iter<I: IntoIterator<Item = (N, T)>>(pairs: I) -> Self {
        let pair = |(name, text): (N, T)| Pair {
            name: name.into(),
            text: text.into(),
            readable: true,
        };
        Self {
            pairs: pairs.into_iter().map(pair).collect(),
            sent: false,
        }
    }
}

/// Control characters, and the marks that turn the direction of writing and so can disguise a name.
fn is_hidden(sign: char) -> bool {
    let lines = matches!(sign, '\n' | '\r' | '\t');
    let turns = matches!(sign, '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}');
    (sign.is_control() && !lines) || turns
}

fn lossy(bytes: Vec<u8>) -> String {
    String::from_utf8(bytes)
        .unwrap_or_else(|error| String::from_utf8_lossy(error.as_bytes()).into_owned())
}

fn decoded(raw: &[u8]) -> Result<Vec<u8>, BadBody> {
    let mut bytes = Vec::with_capacity(raw.len());
    let mut rest = raw.iter().copied();
    while let Some(byte) = rest.next() {
        bytes.push(match byte {
            b'+' => b' ',
            b'%' => {
                let high = hex(rest.next())?;
                let low = hex(rest.next())?;
                high * 16 + low
            }
            other => other,
        });
    }
    Ok(bytes)
}

fn hex(digit: Option<u8>) -> Result<u8, BadBody> {
    let value = digit.and_then(|digit| char::from(digit).to_digit(16));
    value
        .and_then(|value| u8::try_from(value).ok())
        .ok_or(BadBody::Percent)
}

/// Text as it may stand in an address behind the question mark.
pub(crate) fn escaped(text: &str) -> Cow<'_, str> {
    let plain = |byte: u8| byte.is_ascii_alphanumeric() || b"-_.~/".contains(&byte);
    if text.bytes().all(plain) {
        return Cow::Borrowed(text);
    }
    let mut out = String::with_capacity(text.len() * 2);
    for byte in text.bytes() {
        if plain(byte) {
            out.push(char::from(byte));
        } else {
            let _ = write!(out, "%{byte:02X}");
        }
    }
    Cow::Owned(out)
}

#[cfg(test)]
#[path = "typed_tests.rs"]
mod tests;
