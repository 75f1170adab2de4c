//! Ids: UUID version 7, made here, kept as text.
//!
//! Those made later in one process sort later, even within a second: lists that end in the id keep the order of entry.

use std::fmt;
use std::str::FromStr;
use std::sync::Mutex;

use uuid::{ContextV7, Timestamp, Uuid};

use crate::clinical::Moment;

static ORDER: Mutex<ContextV7> = Mutex::new(ContextV7::new());

/// The text is no id.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
#[error("this is not the id of any entry")]
pub struct BadId;

/// Thirty-six letters of a UUID; `Copy`, and readable in place.
type Letters = [u8; uuid::fmt::Hyphenated::LENGTH];

fn letters(id: Uuid) -> Letters {
    let mut letters = [0; uuid::fmt::Hyphenated::LENGTH];
    id.hyphenated().encode_lower(&mut letters);
    letters
}

fn made(now: Moment) -> Letters {
    let seconds = u64::try_from(now.and_utc().timestamp()).unwrap_or_default();
    letters(Uuid::new_v7(Timestamp::from_unix(&ORDER, seconds, 0)))
}

macro_rules! ids {
    ($($(#[$doc:meta])* $name:ident)+) => { $(
        $(#[$doc])*
        #[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub struct $name(Letters);
        impl $name {
            /// A new one; `now` gives its leading part.
            #[must_use]
            pub fn made(now: Moment) -> Self { Self(made(now)) }
            /// As stored and as it stands in addresses: 36 small letters.
            #[must_use]
            pub fn code(&self) -> &str { std::str::from_utf8(&self.0).unwrap_or_default() }
        }
        impl FromStr for $name {
            type Err = BadId;
            fn from_str(text: &str) -> Result<Self, BadId> {
                Uuid::try_parse(text).map(|id| Self(letters(id))).map_err(|_| BadId)
            }
        }
        impl fmt::Display for $name {
            fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result { out.write_str(self.code()) }
        }
        impl fmt::Debug for $name {
            fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result { write!(out, concat!(stringify!($name), "({})"), self.code()) }
        }
    )+ };
}

ids! {
    /// Of a receiving hospital.
    HospitalId
    /// Of a post.
    PostId
    /// Of a person who signs in.
    StaffId
    /// Of a session, as the account page names it; the key itself is never stored.
    SessionId
    /// Of a mother.
    MotherId
    /// Of a pregnancy.
    PregnancyId
    /// Of a scan.
    ScanId
    /// Of a visit.
    VisitId
    /// Of a labour.
    LabourId
    /// Of a row of a labour record.
    LabourRowId
    /// Of a flag.
    FlagId
    /// Of a referral.
    ReferralId
    /// Of a step of a referral.
    ReferralStepId
    /// Of a hospital's answer.
    AnswerId
    /// Of a birth.
    BirthId
    /// Of a month's signature.
    MonthSignatureId
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_id_reads_back_and_nothing_else_is_one() {
        let now = Moment::default();
        let id = MotherId::made(now);
        assert_eq!(id.to_string().parse(), Ok(id));
        for text in [
            "",
            "1",
            "0199-x",
            "’",
            "0193b2c4-0000-7000-8000-00000000000",
        ] {
            assert_eq!(text.parse::<MotherId>(), Err(BadId), "{text}");
        }
    }

    #[test]
    fn ids_of_one_second_sort_in_the_order_in_which_they_were_made() {
        let made: Vec<_> = (0..1000)
            .map(|_| VisitId::made(Moment::default()))
            .collect();
        assert!(made.is_sorted());
    }
}
