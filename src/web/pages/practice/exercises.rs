//! The invented cases of `seed-demo/practice.json`, read once.
//!
//! A case holds what `assess` reads and no answer: the answer is judged each time. What the file expects is there for the
//! tests, which hold it against the judgement.

use std::sync::LazyLock;

use serde::Deserialize;

use crate::clinical::wire::read_case;
use crate::clinical::{Case, Visit};

/// How much a case asks for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Deserialize)]
#[serde(rename_all = "lowercase")]
pub(super) enum Level {
    Easy,
    Middle,
    Hard,
}

impl Level {
    pub(super) const ALL: [Self; 3] = [Self::Easy, Self::Middle, Self::Hard];

    pub(super) fn words(self) -> &'static str {
        match self {
            Self::Easy => "To begin with",
            Self::Middle => "Look twice",
            Self::Hard => "Everything at once",
        }
    }
}

/// One case as it is shown.
#[derive(Debug, Clone)]
pub(super) struct Exercise {
    /// From 1, in the order of the file.
    pub(super) number: u8,
    pub(super) title: String,
    pub(super) level: Level,
    /// What is told of her beside the figures.
    pub(super) background: String,
    pub(super) case: Case,
    pub(super) learn: String,
    pub(super) source: String,
    #[cfg(test)]
    pub(super) expected: Expected,
}

/// What the file says that the program will say.
#[cfg(test)]
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Expected {
    pub(super) lie: String,
    pub(super) presentation: String,
    pub(super) back: String,
    pub(super) engaged: Option<bool>,
    pub(super) certainty: String,
    pub(super) urgency: String,
    pub(super) rules: Vec<String>,
}

#[derive(Deserialize)]
struct Written {
    title: String,
    level: Level,
    background: String,
    case: serde_json::Map<String, serde_json::Value>,
    learn: String,
    source: String,
    #[cfg(test)]
    expected: Expected,
}

impl Written {
    /// A case is read as `assess` reads it, with its title for a name.
    fn read(mut self, number: u8) -> Result<Exercise, String> {
        self.case
            .insert("case".to_owned(), self.title.clone().into());
        let line = serde_json::Value::Object(self.case).to_string();
        let told = read_case(line.as_bytes()).map_err(|refused| format!("{number}: {refused}"))?;
        Ok(Exercise {
            number,
            title: self.title,
            level: self.level,
            background: self.background,
            case: told.case,
            learn: self.learn,
            source: self.source,
            #[cfg(test)]
            expected: self.expected,
        })
    }
}

static EXERCISES: LazyLock<Vec<Exercise>> = LazyLock::new(|| {
    // A file that cannot be read leaves the page without cases; a test does not let it come that far.
    read(include_str!("../../../../seed-demo/practice.json")).unwrap_or_default()
});

pub(super) fn read(text: &str) -> Result<Vec<Exercise>, String> {
    let written: Vec<Written> = serde_json::from_str(text).map_err(|why| why.to_string())?;
    (1..)
        .zip(written)
        .map(|(number, it)| it.read(number))
        .collect()
}

/// All of them, from easy to hard.
pub(super) fn all() -> &'static [Exercise] {
    &EXERCISES
}

impl Exercise {
    /// The case of an address.
    pub(super) fn numbered(text: &str) -> Option<&'static Self> {
        all().iter().find(|it| it.number.to_string() == text)
    }

    /// The visit that is asked about: the last.
    pub(super) fn visit(&self) -> Option<&Visit> {
        self.case.visits.iter().max_by_key(|visit| visit.at)
    }

    /// Visits before it, the oldest first.
    pub(super) fn earlier(&self) -> Vec<&Visit> {
        let last = self.visit().map(|visit| visit.at);
        let mut earlier: Vec<&Visit> = self.case.visits.iter().collect();
        earlier.retain(|visit| Some(visit.at) != last);
        earlier.sort_by_key(|visit| visit.at);
        earlier
    }

    pub(super) fn here(&self) -> String {
        format!("/practice/cases/{}", self.number)
    }
}
