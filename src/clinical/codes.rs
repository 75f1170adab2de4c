//! Vocabularies: a code that never changes and words that may.

/// The text is none of the codes of this vocabulary.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("“{text}” is not one of the choices")]
pub struct UnknownCode {
    /// What was given instead of a code.
    pub text: String,
}

/// A vocabulary, for code that serves all of them: forms, lists of choices, tests.
pub trait Vocabulary:
    Copy + Eq + std::fmt::Debug + std::str::FromStr<Err = UnknownCode> + 'static
{
    /// Every value, in the order of the reference.
    const ALL: &'static [Self];
    /// As stored, exported and typed on the command line; never changes.
    fn code(self) -> &'static str;
    /// As read aloud on a page; may be reworded.
    fn words(self) -> &'static str;
}

/// An enum whose variants have a code (stored, exported, typed) and words (read aloud on a page).
macro_rules! codes {
    ($($(#[$doc:meta])* $name:ident { $($variant:ident = $code:literal, $words:literal;)+ })+) => { $(
        $(#[$doc])*
        #[allow(unreachable_pub, reason = "a vocabulary may stand in a private room")]
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum $name {
            $(#[doc = $words] $variant),+
        }
        #[allow(unreachable_pub, reason = "a vocabulary may stand in a private room")]
        impl $name {
            /// Every value, in the order of the reference.
            pub const ALL: &'static [Self] = &[$(Self::$variant),+];
            /// As stored, exported and typed on the command line; never changes.
            #[must_use]
            pub const fn code(self) -> &'static str { match self { $(Self::$variant => $code),+ } }
            /// As read aloud on a page; may be reworded.
            #[must_use]
            pub const fn words(self) -> &'static str { match self { $(Self::$variant => $words),+ } }
        }
        impl $crate::clinical::Vocabulary for $name {
            const ALL: &'static [Self] = Self::ALL;
            fn code(self) -> &'static str { Self::code(self) }
            fn words(self) -> &'static str { Self::words(self) }
        }
        impl std::str::FromStr for $name {
            type Err = $crate::clinical::UnknownCode;
            fn from_str(text: &str) -> Result<Self, Self::Err> {
                match text { $($code => Ok(Self::$variant),)+ _ => Err($crate::clinical::UnknownCode { text: text.to_owned() }) }
            }
        }
    )+ };
}
pub(crate) use codes;
