//! What can go wrong with the registry, said once.

use diesel::result::{DatabaseErrorKind, Error as Database};

/// Why the registry did not do what was asked. Nothing was written.
#[derive(Debug, thiserror::Error)]
pub enum RegistryError {
    /// No such entry, or none that this person's post may see.
    #[error("there is no such {0}")]
    Missing(&'static str),
    /// Somebody else wrote a newer revision.
    #[error("somebody else changed this since you opened it")]
    Stale {
        /// The revision that stands now.
        current_revision: i32,
    },
    /// A rule of the register forbids it; the sentence is for the person.
    #[error("{0}")]
    Refused(String),
    /// As `Refused`, and one field of the form is at fault.
    #[error("{why}")]
    RefusedField {
        /// The form's name of the field.
        field: &'static str,
        /// The sentence beside it.
        why: String,
    },
    /// A name or code that must be unique is taken.
    #[error("there is already a {0} of this name")]
    AlreadyThere(&'static str),
    /// Another program holds the database; trying again is worth it.
    #[error("the registry is busy")]
    Busy(#[source] Database),
    /// The database failed, or holds what it must not hold.
    #[error("the registry failed")]
    Broken(#[source] Box<dyn std::error::Error + Send + Sync>),
}

/// What every verb of the registry gives.
pub type Result<T> = std::result::Result<T, RegistryError>;

impl RegistryError {
    /// Refuses with a sentence for the person.
    pub fn refused(why: impl Into<String>) -> Self {
        Self::Refused(why.into())
    }

    /// Refuses with a sentence that stands beside a field of the form.
    pub fn field(field: &'static str, why: impl Into<String>) -> Self {
        Self::RefusedField {
            field,
            why: why.into(),
        }
    }

    /// A stored row that no code of ours could have written.
    pub(in crate::registry) fn corrupt(what: impl Into<String>) -> Self {
        Self::Broken(what.into().into())
    }
}

impl From<Database> for RegistryError {
    fn from(error: Database) -> Self {
        let busy = matches!(&error, Database::DatabaseError(kind, told)
            if matches!(kind, DatabaseErrorKind::SerializationFailure)
                || told.message().contains("database is locked")
                || told.message().contains("database table is locked"));
        if busy {
            Self::Busy(error)
        } else {
            Self::Broken(error.into())
        }
    }
}
