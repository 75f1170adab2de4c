//! Lists by key, fifty a page: the last line's key is in the address of the next page, so that a page deep in a list costs
//! no more than the first, and a line that comes or goes meanwhile neither repeats nor hides another.

use crate::web::form::escaped;

/// Lines a page.
pub(crate) const LINES: usize = 50;

/// One page of a list, and whether more follows.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Paged<T> {
    /// At most [`LINES`].
    pub(crate) lines: Vec<T>,
    /// Whether there is a next page.
    pub(crate) more: bool,
}

impl<T> Paged<T> {
    /// One line more than a page is asked of the registry: [`asked_for`]. Its presence is the next page.
    pub(crate) fn of(mut lines: Vec<T>) -> Self {
        let more = lines.len() > LINES;
        lines.truncate(LINES);
        Self { lines, more }
    }
}

/// How many lines to ask for, so that [`Paged::of`] knows whether more follows.
pub(crate) const fn asked_for() -> i64 {
    51
}

/// An address with what is asked behind the question mark; empty answers are left out.
pub(crate) fn address(path: &str, asked: &[(&str, &str)]) -> String {
    let pairs: Vec<_> = asked
        .iter()
        .filter(|(_, text)| !text.is_empty())
        .map(|(name, text)| format!("{name}={}", escaped(text)))
        .collect();
    if pairs.is_empty() {
        path.to_owned()
    } else {
        format!("{path}?{}", pairs.join("&"))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_line_more_than_a_page_is_asked_for() {
        assert_eq!(usize::try_from(asked_for()), Ok(LINES + 1));
    }

    #[test]
    fn one_line_too_many_is_the_next_page() {
        assert_eq!(
            Paged::of(vec![0; LINES]),
            Paged {
                lines: vec![0; LINES],
                more: false
            }
        );
        assert_eq!(
            Paged::of(vec![0; LINES + 1]),
            Paged {
                lines: vec![0; LINES],
                more: true
            }
        );
    }

    #[test]
    fn an_address_holds_what_was_asked_and_nothing_empty() {
        assert_eq!(
            address("/trail", &[("who", ""), ("about", "QF 0148")]),
            "/trail?about=QF%200148"
        );
        assert_eq!(address("/trail", &[("who", "")]), "/trail");
    }
}
