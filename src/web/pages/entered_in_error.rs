//! The form that takes an entry out of every list and count: what was wrong, and the revision that was seen.

use crate::registry::RegistryError;
use crate::web::error::PageError;
use crate::web::form::{Asked, Faults, Field, Form, Sense, Typed, parse};

/// As the registry takes a reason.
const MOST_REASON: usize = 1_000;

/// The reason, and the revision that was seen.
pub(crate) struct ErrorForm {
    pub(super) reason: Field<String>,
    pub(super) revision: Field<i32>,
}

impl Form for ErrorForm {
    fn read(typed: &Typed, _: &Sense) -> Self {
        Self {
            reason: Field::read(typed, "reason", "What was wrong", parse::lines(MOST_REASON))
                .needed("say what was wrong"),
            revision: Field::read(typed, "revision", "Revision", parse::whole(1..=i32::MAX)),
        }
    }

    fn faults(&self) -> Faults {
        let asked: [&dyn Asked; 1] = [&self.reason];
        Faults::of(&asked)
    }
}

impl ErrorForm {
    /// Without a word, for an entry that stands at this revision.
    pub(super) fn blank(revision: i32, sense: &Sense) -> Self {
        Self::read(&Typed::default(), sense).seen(revision)
    }

    /// For the page that is shown again: the revision that stands by now.
    pub(super) fn seen(mut self, revision: i32) -> Self {
        self.revision = self.revision.holding(revision);
        self
    }

    /// What was said, and of which revision; absent when either is missing.
    pub(super) fn said(&self) -> Option<(String, i32)> {
        Some((self.reason.value.clone()?, self.revision.value?))
    }

    /// Puts a refusal beside the reason. Whether somebody else changed the entry meanwhile; every other error goes on.
    pub(super) fn refused(&mut self, error: PageError) -> Result<bool, PageError> {
        match error {
            PageError::Registry(RegistryError::Stale { .. }) => Ok(true),
            PageError::Registry(
                RegistryError::RefusedField { why, .. } | RegistryError::Refused(why),
            ) => {
                self.reason.refuse(why);
                Ok(false)
            }
            other => Err(other),
        }
    }
}
