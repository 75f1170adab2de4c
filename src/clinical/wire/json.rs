//! Strict JSON into a small tree that borrows from its line and keeps numbers as they were written.

use super::read::Fault;
use std::borrow::Cow;
use std::collections::HashSet;

/// Deeper nesting is no case.
const DEEPEST: usize = 128;
/// Up to so many keys a scan is quicker than a set.
const FEW_KEYS: usize = 24;

/// One JSON value.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Node<'a> {
    Null,
    Bool(bool),
    /// As written: `5.0` is not `5`.
    Number(&'a str),
    Text(Cow<'a, str>),
    List(Vec<Node<'a>>),
    /// In the order of the line, no key twice.
    Object(Vec<(Cow<'a, str>, Node<'a>)>),
}

/// Why a line is no JSON.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Broken {
    /// At a byte.
    NotJson(usize, &'static str),
    /// One object holds a key twice.
    Twice(String),
}

impl From<Broken> for Fault {
    fn from(broken: Broken) -> Self {
        match broken {
            Broken::NotJson(at, what) => {
                Self::new("line", format!("not JSON: {what} at byte {}", at + 1))
            }
            Broken::Twice(key) => Self::new(key, "the same key twice"),
        }
    }
}

/// Reads a whole line.
pub(super) fn parse(text: &str) -> Result<Node<'_>, Broken> {
    let mut parser = Parser { text, at: 0 };
    parser.space();
    let node = parser.value(0)?;
    parser.space();
    if parser.at < text.len() {
        return Err(parser.broken("more after the end"));
    }
    Ok(node)
}

struct Parser<'a> {
    text: &'a str,
    at: usize,
}

impl<'a> Parser<'a> {
    fn broken(&self, what: &'static str) -> Broken {
        Broken::NotJson(self.at, what)
    }

    fn peek(&self) -> Option<u8> {
        self.text.as_bytes().get(self.at).copied()
    }

    fn space(&mut self) {
        while matches!(self.peek(), Some(b' ' | b'\t' | b'\n' | b'\r')) {
            self.at += 1;
        }
    }

    fn value(&mut self, depth: usize) -> Result<Node<'a>, Broken> {
        if depth > DEEPEST {
            return Err(self.broken("nested too deep"));
        }
        match self.peek() {
            Some(b'{') => self.object(depth),
            Some(b'[') => self.list(depth),
            Some(b'"') => Ok(Node::Text(self.string()?)),
            Some(b'-' | b'0'..=b'9') => self.number(),
            Some(b't') => self.word("true", Node::Bool(true)),
            Some(b'f') => self.word("false", Node::Bool(false)),
            Some(b'n') => self.word("null", Node::Null),
            Some(_) => Err(self.broken("no value")),
            None => Err(self.broken("the line ends too early")),
        }
    }

    fn word(&mut self, word: &str, node: Node<'a>) -> Result<Node<'a>, Broken> {
        if self.text[self.at..].starts_with(word) {
            self.at += word.len();
            Ok(node)
        } else {
            Err(self.broken("no value"))
        }
    }

    /// Whether another entry follows; `close` ends them.
    fn more(&mut self, close: u8) -> Result<bool, Broken> {
        self.space();
        match self.peek() {
            Some(b',') => {
                self.at += 1;
                self.space();
                Ok(true)
            }
            Some(byte) if byte == close => {
                self.at += 1;
                Ok(false)
            }
            _ => Err(self.broken("a comma or an end is missing")),
        }
    }

    /// Steps over the opening; true when the closing follows at once.
    fn opens_empty(&mut self, close: u8) -> bool {
        self.at += 1;
        self.space();
        let empty = self.peek() == Some(close);
        self.at += usize::from(empty);
        empty
    }

    fn list(&mut self, depth: usize) -> Result<Node<'a>, Broken> {
        let mut entries = Vec::new();
        if !self.opens_empty(b']') {
            loop {
                entries.push(self.value(depth + 1)?);
                if !self.more(b']')? {
                    break;
                }
            }
        }
        Ok(Node::List(entries))
    }

    fn object(&mut self, depth: usize) -> Result<Node<'a>, Broken> {
        let mut entries = Vec::new();
        if !self.opens_empty(b'}') {
            entries.reserve(8);
            loop {
                if self.peek() != Some(b'"') {
                    return Err(self.broken("a key is missing"));
                }
                let key = self.string()?;
                self.space();
                if self.peek() != Some(b':') {
                    return Err(self.broken("a colon is missing"));
                }
                self.at += 1;
                self.space();
                let value = self.value(depth + 1)?;
                entries.push((key, value));
                if !self.more(b'}')? {
                    break;
                }
            }
        }
        match twice(&entries) {
            Some(key) => Err(Broken::Twice(key.to_owned())),
            None => Ok(Node::Object(entries)),
        }
    }

    /// A number by the grammar of JSON, kept as written.
    fn number(&mut self) -> Result<Node<'a>, Broken> {
        let from = self.at;
        self.at += usize::from(self.peek() == Some(b'-'));
        match self.peek() {
            Some(b'0') => self.at += 1,
            Some(b'1'..=b'9') => self.digits(),
            _ => return Err(self.broken("no number")),
        }
        if self.peek() == Some(b'.') {
            self.at += 1;
            self.some_digits()?;
        }
        if matches!(self.peek(), Some(b'e' | b'E')) {
            self.at += 1;
            self.at += usize::from(matches!(self.peek(), Some(b'+' | b'-')));
            self.some_digits()?;
        }
        Ok(Node::Number(&self.text[from..self.at]))
    }

    fn digits(&mut self) {
        while matches!(self.peek(), Some(b'0'..=b'9')) {
            self.at += 1;
        }
    }

    fn some_digits(&mut self) -> Result<(), Broken> {
        let from = self.at;
        self.digits();
        if self.at == from {
            return Err(self.broken("a digit is missing"));
        }
        Ok(())
    }

    fn string(&mut self) -> Result<Cow<'a, str>, Broken> {
        self.at += 1;
        let from = self.at;
        loop {
            match self.peek() {
                Some(b'"') => {
                    let plain = &self.text[from..self.at];
                    self.at += 1;
                    return Ok(Cow::Borrowed(plain));
                }
                Some(b'\\') => break,
                Some(0..0x20) => return Err(self.broken("a control character in a text")),
                Some(_) => self.at += 1,
                None => return Err(self.broken("a text does not end")),
            }
        }
        let mut text = self.text[from..self.at].to_owned();
        loop {
            let from = self.at;
            match self.peek() {
                Some(b'"') => {
                    self.at += 1;
                    return Ok(Cow::Owned(text));
                }
                Some(b'\\') => {
                    self.at += 1;
                    text.push(self.escaped()?);
                }
                Some(0..0x20) => return Err(self.broken("a control character in a text")),
                Some(_) => {
                    while !matches!(self.peek(), None | Some(b'"' | b'\\' | 0..0x20)) {
                        self.at += 1;
                    }
                    text.push_str(&self.text[from..self.at]);
                }
                None => return Err(self.broken("a text does not end")),
            }
        }
    }

    fn escaped(&mut self) -> Result<char, Broken> {
        let byte = self.peek();
        self.at += 1;
        Ok(match byte {
            Some(byte @ (b'"' | b'\\' | b'/')) => char::from(byte),
            Some(b'b') => '\u{8}',
            Some(b'f') => '\u{c}',
            Some(b'n') => '\n',
            Some(b'r') => '\r',
            Some(b't') => '\t',
            Some(b'u') => return self.unicode(),
            _ => return Err(self.broken("an unknown escape")),
        })
    }

    /// `\u` was read; a pair of surrogates is one character, a lone one is none.
    fn unicode(&mut self) -> Result<char, Broken> {
        let first = self.four_hex()?;
        let code = match first {
            0xD800..=0xDBFF => {
                if !self.text[self.at..].starts_with("\\u") {
                    return Err(self.broken("a lone surrogate"));
                }
                self.at += 2;
                match self.four_hex()? {
                    second @ 0xDC00..=0xDFFF => {
                        0x10000 + ((first - 0xD800) << 10) + (second - 0xDC00)
                    }
                    _ => return Err(self.broken("a lone surrogate")),
                }
            }
            other => other,
        };
        char::from_u32(code).ok_or_else(|| self.broken("a lone surrogate"))
    }

    fn four_hex(&mut self) -> Result<u32, Broken> {
        let digits = self
            .text
            .get(self.at..self.at + 4)
            .filter(|digits| digits.bytes().all(|byte| byte.is_ascii_hexdigit()))
            .ok_or_else(|| self.broken("four hex digits are missing"))?;
        self.at += 4;
        u32::from_str_radix(digits, 16).map_err(|_| self.broken("four hex digits are missing"))
    }
}

fn twice<'e>(entries: &'e [(Cow<'_, str>, Node<'_>)]) -> Option<&'e str> {
    if entries.len() <= FEW_KEYS {
        return entries.iter().enumerate().find_map(|(at, (key, _))| {
            entries[..at]
                .iter()
                .any(|(before, _)| before == key)
                .then_some(&**key)
        });
    }
    let mut known = HashSet::with_capacity(entries.len());
    entries
        .iter()
        .find(|(key, _)| !known.insert(&**key))
        .map(|(key, _)| &**key)
}
