//! How practice goes in this sitting: carried in the address from page to page, kept nowhere.
//!
//! Whoever changes it changes her own figures on her own page and nothing else.

use std::collections::BTreeMap;
use std::fmt::Write as _;

/// More cases than were ever invented.
const MOST: u8 = 99;

/// One case answered: how many answers were the program's, and whether “what to do” was.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Done {
    pub(super) same: u8,
    pub(super) urgency_same: bool,
}

/// The cases answered in this sitting, each with its last answer.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(super) struct Tally(BTreeMap<u8, Done>);

impl Tally {
    /// Questions of each case.
    pub(super) const QUESTIONS: u8 = 6;

    /// Reads `3.5y-12.4n`: case 3 with five answers the same and the same urgency, case 12 with four. The rest is left out.
    pub(super) fn read(text: &str) -> Self {
        let one = |part: &str| {
            let (number, done) = part.split_once('.')?;
            let (same, urgency_same) = match done.strip_suffix('y') {
                Some(same) => (same, true),
                None => (done.strip_suffix('n')?, false),
            };
            let number: u8 = number.parse().ok().filter(|it| (1..=MOST).contains(it))?;
            let same: u8 = same.parse().ok().filter(|it| *it <= Self::QUESTIONS)?;
            Some((number, Done { same, urgency_same }))
        };
        Self(text.split('-').take(200).filter_map(one).collect())
    }

    /// As it stands in an address.
    pub(super) fn code(&self) -> String {
        let mut code = String::new();
        for (number, done) in &self.0 {
            let parted = if code.is_empty() { "" } else { "-" };
            let urgency = if done.urgency_same { 'y' } else { 'n' };
            // Writing into a text cannot fail.
            let _ = write!(code, "{parted}{number}.{}{urgency}", done.same);
        }
        code
    }

    /// A path with the tally behind it.
    pub(super) fn on(&self, path: &str) -> String {
        if self.is_empty() {
            path.to_owned()
        } else {
            format!("{path}?done={}", self.code())
        }
    }

    /// With one more case answered, or answered again.
    #[must_use]
    pub(super) fn with(mut self, number: u8, done: Done) -> Self {
        self.0.insert(number, done);
        self
    }

    pub(super) fn of(&self, number: u8) -> Option<Done> {
        self.0.get(&number).copied()
    }

    pub(super) fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    pub(super) fn cases(&self) -> usize {
        self.0.len()
    }

    /// Answers that were the program's, and all answers.
    pub(super) fn same(&self) -> (usize, usize) {
        let same = self.0.values().map(|done| usize::from(done.same)).sum();
        (same, self.0.len() * usize::from(Self::QUESTIONS))
    }

    /// Cases in which “what to do” was another.
    pub(super) fn urgency_differs(&self) -> usize {
        let other = self.0.values().filter(|done| !done.urgency_same);
        other.count()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_tally_comes_back_from_the_address_as_it_went_in() {
        let done = |same, urgency_same| Done { same, urgency_same };
        let tally = Tally::default()
            .with(12, done(4, false))
            .with(3, done(5, true));
        assert_eq!(tally.code(), "3.5y-12.4n");
        assert_eq!(Tally::read(&tally.code()), tally);
        assert_eq!((tally.same(), tally.urgency_differs()), ((9, 12), 1));
        assert_eq!(tally.on("/practice"), "/practice?done=3.5y-12.4n");
    }

    #[test]
    fn what_nobody_of_ours_wrote_into_the_address_is_left_out() {
        for text in [
            "", "-", "0.1y", "100.1y", "3.7y", "3.5", "3.5x", "x.1y", "3.-1y", "\"><b>", "3..y",
        ] {
            assert_eq!(Tally::read(text), Tally::default(), "{text}");
        }
        assert_eq!(
            Tally::read("3.5y-3.2n").code(),
            "3.2n",
            "a case counts once"
        );
        let long = "7.6y-".repeat(5000);
        assert_eq!(Tally::read(&long).cases(), 1);
    }
}
